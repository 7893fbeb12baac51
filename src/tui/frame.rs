//! The screens of the header, in the order of their keys, and what the frame asks of a screen.
//!
//! A screen is added by its line in [`SCREENS`]. That line needs: a [`Place`] (with its name),
//! a command `Show…` in `action.rs`, a key for it in `keymap/`, and a folder in `screens/`
//! with a type that is a [`Screen`] for each of its places. Header, mouse, `Esc`, filter and the quick ways to other
//! screens then work. Its own keys stand in zones of its own in `keymap/`; where the user
//! stands in it is kept in [`Screens`](super::app::Screens) (what survives a change of the
//! filter is named in `steps.rs`); what it shows comes through `effect.rs` and `answers.rs`.

use ratatui::Frame;
use ratatui::layout::{Position, Size};

use super::action::Command;
use super::app::{App, Place};
use super::command_line::CommandLine;
use super::effect::Effect;
use super::keymap::Zone;
use super::line_edit::LineEdit;
use super::narrower::Narrower;
use super::screens::{findings, import, records, resample};
use super::text;

/// A screen of the header.
pub(crate) struct Tab {
    /// The key that leads there.
    pub(crate) key: char,
    pub(crate) name: &'static str,
    pub(crate) command: Command,
    /// Where it begins, then the places that lie within it.
    pub(crate) places: &'static [Place],
    /// What the frame asks, place by place; the first five screens are asked by name.
    pub(crate) screens: &'static [&'static dyn Screen],
}

const fn tab(
    key: char,
    name: &'static str,
    command: Command,
    places: &'static [Place],
    screens: &'static [&'static dyn Screen],
) -> Tab {
    Tab {
        key,
        name,
        command,
        places,
        screens,
    }
}

/// Every screen.
pub(crate) const SCREENS: &[Tab] = {
    use Command as C;
    use Place as P;
    &[
        tab('1', "Share", C::ShowShare, &[P::Share], &[]),
        tab('2', "Draws", C::ShowDraws, &[P::Draws, P::Opened], &[]),
        tab('3', "People", C::ShowPeople, &[P::People], &[]),
        tab('4', "Points", C::ShowPoints, &[P::Points], &[]),
        tab('5', "Topics", C::ShowTopics, &[P::Topics], &[]),
        tab(
            '6',
            "Findings",
            C::ShowFindings,
            &[P::Findings],
            &[&findings::Findings],
        ),
        tab(
            '7',
            "Records",
            C::ShowRecords,
            &[P::Records, P::Import],
            &[&records::Records, &import::Import],
        ),
        tab(
            '8',
            "Resample",
            C::ShowResample,
            &[P::Resample],
            &[&resample::Resample],
        ),
    ]
};

/// What the frame asks of a screen.
pub(crate) trait Screen: Sync {
    /// The keys that hold where the user stands.
    fn zone(&self, app: &App) -> Zone;

    /// The commands that are worth a hint there, most useful first.
    fn hinted(&self, zone: Zone) -> &'static [Command];

    /// What a command is called there in the line of hints, where its own word does not fit.
    fn hint(&self, _zone: Zone, _command: Command) -> Option<&'static str> {
        None
    }

    /// Whether a command would do something at this moment; `None` leaves it to the frame. One
    /// that would not is no hint.
    fn works(&self, _app: &App, _command: Command) -> Option<bool> {
        None
    }

    /// Draws the body.
    fn view(&self, app: &App, frame: &mut Frame<'_>);

    /// Asks for what is still lacking; called after every action while the screen is in view.
    fn ask(&self, app: &mut App, effects: &mut Vec<Effect>);

    /// Deals with a command; `false` leaves it to the frame: the screens' own keys, filter,
    /// reload, one step back, and [`step`](Self::step) for the rest.
    fn obey(&self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> bool;

    /// Takes typed or pasted text in, where a line of text stands in the place itself.
    fn insert(&self, _app: &mut App, _text: &str) {}

    /// The line of text that stands in the filter's place, if any, and what is before it.
    fn line<'a>(&self, _app: &'a App) -> Option<(&'static str, &'a LineEdit)> {
        None
    }

    /// Moves in the list the keys act on.
    fn step(&self, app: &mut App, command: Command);

    /// Chooses a row, from 0, in the list the keys act on; titles of a list are not counted.
    fn choose(&self, app: &mut App, row: usize);

    /// What the chosen line narrows to, for `f`.
    fn narrower(&self, _app: &App) -> Option<Narrower> {
        None
    }

    /// The command line that tells what is on screen.
    fn command_line(&self, _app: &App) -> Option<CommandLine> {
        None
    }

    /// A click in the body.
    fn click(&self, app: &mut App, at: Position) -> Option<Command>;

    /// The wheel was turned in the body.
    fn wheel(&self, app: &mut App, at: Position, by: isize);

    /// Brings every place into its list, after a list or the size has changed.
    fn settle(&self, app: &mut App);
}

/// The screen in which a place lies, where the frame asks it.
pub(crate) fn screen(place: Place) -> Option<&'static dyn Screen> {
    let tab = tab_of(place)?;
    let at = tab.places.iter().position(|own| *own == place)?;
    tab.screens.get(at).copied()
}

/// The screen of the header in which a place lies.
pub(crate) fn tab_of(place: Place) -> Option<&'static Tab> {
    SCREENS.iter().find(|tab| tab.places.contains(&place))
}

/// Where a command leads, if it asks for a screen.
pub(crate) fn place_of(command: Command) -> Option<Place> {
    let tab = SCREENS.iter().find(|tab| tab.command == command)?;
    tab.places.first().copied()
}

/// The screens as the header has room for them.
pub(crate) struct Header {
    /// Whether the name of the program stands before them.
    pub(crate) brand: bool,
    /// Where each begins, what is written, and where it leads.
    pub(crate) tabs: Vec<(u16, String, Command)>,
}

/// What stands before the screens where there is room.
pub(crate) const BRAND: &str = " fairdraw  ";

/// The programme's name is given at least this many cells before names are shortened.
const TITLE: usize = 9;

/// Names with room around them; else names close together without the program's name; else
/// the name of the present screen and the keys of the others.
pub(crate) fn header(size: Size, current: Option<Command>) -> Header {
    let width = usize::from(size.width);
    let shapes: [(bool, bool, bool); 3] = [
        (true, true, true),
        (false, false, true),
        (false, false, false),
    ];
    let mut built = None;
    for (at, (brand, padded, named)) in shapes.into_iter().enumerate() {
        let mut x = if brand { text::width(BRAND) } else { 1 };
        let mut tabs = Vec::new();
        for tab in SCREENS {
            let label = match named || current == Some(tab.command) {
                true => format!("{} {}", tab.key, tab.name),
                false => tab.key.to_string(),
            };
            let label = if padded { format!(" {label} ") } else { label };
            let wide = text::width(&label);
            tabs.push((x as u16, label, tab.command));
            x += wide + usize::from(!padded);
        }
        let room = if at == 0 { TITLE } else { 0 };
        let fits = x + room <= width;
        built = Some(Header { brand, tabs });
        if fits {
            break;
        }
    }
    built.expect("there is at least one shape")
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn every_screen_has_its_own_key_name_and_place() {
        for (at, tab) in SCREENS.iter().enumerate() {
            for other in &SCREENS[at + 1..] {
                assert!(tab.key < other.key && tab.name != other.name);
                assert!(tab.command != other.command);
                assert!(!tab.places.iter().any(|place| other.places.contains(place)));
            }
            assert_eq!(place_of(tab.command), tab.places.first().copied());
        }
    }

    #[test]
    fn the_header_fits_from_the_least_width_on() {
        for width in super::super::layout::LEAST.width..250 {
            for tab in SCREENS {
                let size = Size { width, height: 24 };
                let header = header(size, Some(tab.command));
                let (last, label, _) = header.tabs.last().unwrap();
                assert!(
                    usize::from(*last) + label.len() <= usize::from(width),
                    "{width}"
                );
                let named = |(_, label, command): &(u16, String, Command)| {
                    *command == tab.command && label.contains(tab.name)
                };
                assert!(header.tabs.iter().any(named));
            }
        }
    }
}

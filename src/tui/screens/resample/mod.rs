//! Resample: the compartments whose latest sample can't be trusted, most urgent first, and
//! beside them the chosen one: where and how to draw, and what to do differently.

pub(crate) mod beside;
pub(crate) mod view;

use ratatui::Frame;
use ratatui::layout::{Position, Rect};

use crate::analysis::FilterKey;
use crate::analysis::resample::Resample as Found;
use crate::tui::action::Command;
use crate::tui::app::{App, Place};
use crate::tui::command_line::CommandLine;
use crate::tui::decide::ResampleFigures;
use crate::tui::effect::{Effect, Fetch};
use crate::tui::frame::Screen;
use crate::tui::keymap::Zone;
use crate::tui::layout;
use crate::tui::list::ListPlace;
use crate::tui::narrower::Narrower;
use crate::tui::update::narrow_within;
use crate::tui::{forms, moves};

/// What the list can be sorted by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum By {
    /// What rides on it.
    #[default]
    Urgency,
    Days,
    Compartment,
    Site,
}

impl By {
    pub(crate) const ALL: [By; 4] = [By::Urgency, By::Days, By::Compartment, By::Site];
}

/// Where the user stands.
#[derive(Clone, Debug, Default)]
pub(crate) struct ResampleState {
    pub(crate) list: ListPlace,
    /// Whether doubtful samples count as ones that can't be trusted.
    pub(crate) strict: bool,
    pub(crate) by: By,
    pub(crate) descending: bool,
    /// Whether the chosen compartment is opened.
    pub(crate) opened: bool,
    /// The first line of the chosen compartment on screen.
    pub(crate) scroll: usize,
}

/// The figures, once those of this filter are known.
pub(crate) fn figures(app: &App) -> Option<&ResampleFigures> {
    let (of, strict, figures) = app.figures.resample.as_ref()?;
    let is_asked = *of == app.turn && *strict == app.screens.resample.strict;
    is_asked.then_some(figures)
}

/// The compartments in the order of the list.
pub(crate) fn lines(app: &App) -> Vec<&Found> {
    let (Some(figures), Some(assessed)) = (figures(app), &app.data) else {
        return Vec::new();
    };
    let mut lines: Vec<&Found> = figures.to_resample.found.list.iter().collect();
    let state = &app.screens.resample;
    let point = |found: &Found| &assessed.points[found.point];
    match state.by {
        By::Urgency => {}
        By::Days => lines.sort_by_key(|found| std::cmp::Reverse(found.standing.since.seconds)),
        By::Compartment => {
            lines.sort_by(|one, other| point(one).compartment.cmp(&point(other).compartment));
        }
        // Those without a site last.
        By::Site => lines.sort_by(|one, other| {
            let (one, other) = (&point(one).site, &point(other).site);
            (one.is_none(), one).cmp(&(other.is_none(), other))
        }),
    }
    if state.descending {
        lines.reverse();
    }
    lines
}

pub(crate) fn chosen(app: &App) -> Option<&Found> {
    lines(app).get(app.screens.resample.list.cursor).copied()
}

/// Where the list and the chosen compartment stand; a narrow screen shows an opened one alone.
pub(crate) struct Panes {
    pub(crate) list: Option<Rect>,
    pub(crate) beside: Rect,
}

/// Below the line that says how many there are.
pub(crate) fn panes(app: &App) -> Panes {
    let body = layout::body(app.size);
    let above = 1 + u16::from(view::days_left_out(app).is_some());
    let below = Rect {
        y: body.y + above,
        height: body.height.saturating_sub(above),
        ..body
    };
    if app.screens.resample.opened && below.width < layout::SIDE_BY_SIDE {
        return Panes {
            list: None,
            beside: below,
        };
    }
    let pair = layout::pair_of(below, 56, 76);
    Panes {
        list: Some(pair.list),
        beside: pair.beside,
    }
}

fn list_size(app: &App) -> (usize, usize) {
    let height = panes(app).list.map_or(1, layout::rows_of);
    (lines(app).len(), height)
}

/// Moves in the list; another compartment is shown from its beginning.
fn step_list(app: &mut App, by: isize) {
    let (len, height) = list_size(app);
    let state = &mut app.screens.resample;
    let was = state.list.cursor;
    state.list.step(by, len, height);
    if state.list.cursor != was {
        state.scroll = 0;
    }
}

fn scroll(app: &mut App, by: isize) {
    let (lines, height) = beside::size(app);
    let state = &mut app.screens.resample;
    let scroll = state.scroll.saturating_add_signed(by);
    state.scroll = scroll.min(lines.saturating_sub(height));
}

fn to_top(app: &mut App) {
    let state = &mut app.screens.resample;
    state.list = ListPlace::default();
    state.scroll = 0;
}

fn set_aside(app: &mut App) {
    let told = chosen(app).and_then(|found| {
        let to_resample = &figures(app)?.to_resample;
        let is_aside = to_resample.set_aside.contains_key(&found.row);
        Some((to_resample.latest(found).to_owned(), is_aside))
    });
    if let Some((draw, is_aside)) = told {
        forms::set_aside(app, &draw, is_aside);
    }
}

fn works(app: &App, command: Command) -> Option<bool> {
    use Command as C;
    let state = &app.screens.resample;
    let len = lines(app).len();
    Some(match command {
        C::Open | C::AddTerm => len > 0,
        C::Back if state.opened => true,
        C::CompartmentNext => state.list.cursor + 1 < len,
        C::CompartmentBack => state.list.cursor > 0,
        C::SetAside => len > 0 && !app.read_only,
        C::Sheets => len > 0,
        C::SortNext | C::SortTurn => len > 1,
        C::PageDown if state.opened => {
            let (lines, height) = beside::size(app);
            state.scroll + height < lines
        }
        _ => return None,
    })
}

/// Asks what is to be sampled again, where that is not known.
pub(crate) fn ask_for_list(app: &mut App, effects: &mut Vec<Effect>) {
    if figures(app).is_none() && !app.waiting.resample && !app.unreadable {
        app.waiting.resample = true;
        effects.push(Effect::Fetch(Fetch::Resample {
            turn: app.turn,
            selection: app.of_any_day.clone(),
            strict: app.screens.resample.strict,
        }));
    }
}

/// The Resample screen.
pub(crate) struct Resample;

impl Screen for Resample {
    fn zone(&self, app: &App) -> Zone {
        if app.screens.resample.opened {
            Zone::Compartment
        } else {
            Zone::Resample
        }
    }

    fn hinted(&self, zone: Zone) -> &'static [Command] {
        use Command as C;
        match zone {
            Zone::Compartment => &[
                C::Back,
                C::CompartmentNext,
                C::CompartmentBack,
                C::Open,
                C::SetAside,
                C::Sheets,
                C::PageDown,
            ],
            _ => &[
                C::Open,
                C::Sheets,
                C::EditFilter,
                C::SetAside,
                C::Strict,
                C::SortNext,
                C::AddTerm,
                C::Back,
            ],
        }
    }

    fn hint(&self, zone: Zone, command: Command) -> Option<&'static str> {
        match (zone, command) {
            (Zone::Compartment, Command::Back) => Some("to the list"),
            (Zone::Compartment, Command::Open) => Some("its draws"),
            _ => None,
        }
    }

    fn works(&self, app: &App, command: Command) -> Option<bool> {
        works(app, command)
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>) {
        view::view(app, frame);
    }

    fn ask(&self, app: &mut App, effects: &mut Vec<Effect>) {
        ask_for_list(app, effects);
        if app.unreadable || figures(app).is_none() {
            return;
        }
        let row = chosen(app).map(|found| found.row);
        let known = app.opened.as_ref().map(|(row, _)| *row);
        if let Some(row) = row
            && known != Some(row)
            && !app.waiting.draw
        {
            app.waiting.draw = true;
            effects.push(Effect::Fetch(Fetch::Draw(row)));
        }
    }

    fn obey(&self, app: &mut App, command: Command, _effects: &mut Vec<Effect>) -> bool {
        let is_opened = app.screens.resample.opened;
        match command {
            Command::Open if is_opened => {
                // Its draws of all days, as the list is of all days.
                if let Some(narrower) = self.narrower(app) {
                    let filter = app.filter.without_days();
                    narrow_within(app, &filter, &narrower, Place::Draws);
                }
            }
            Command::Open => {
                app.screens.resample.opened = chosen(app).is_some();
                app.screens.resample.scroll = 0;
            }
            Command::Back if is_opened => app.screens.resample.opened = false,
            Command::CompartmentNext => step_list(app, 1),
            Command::CompartmentBack => step_list(app, -1),
            Command::SetAside => set_aside(app),
            Command::Sheets => forms::sheets(app),
            Command::Strict => {
                app.screens.resample.strict ^= true;
                to_top(app);
            }
            Command::SortNext => {
                let state = &mut app.screens.resample;
                let at = By::ALL.iter().position(|by| *by == state.by);
                state.by = By::ALL[(at.unwrap_or(0) + 1) % By::ALL.len()];
                state.descending = false;
                to_top(app);
            }
            Command::SortTurn => {
                app.screens.resample.descending ^= true;
                to_top(app);
            }
            _ => return false,
        }
        true
    }

    fn step(&self, app: &mut App, command: Command) {
        if app.screens.resample.opened {
            let (_, height) = beside::size(app);
            if let Some(by) = moves::distance(command, height) {
                scroll(app, by);
            }
            return;
        }
        let (_, height) = list_size(app);
        if let Some(by) = moves::distance(command, height) {
            step_list(app, by);
        }
    }

    fn choose(&self, app: &mut App, row: usize) {
        let (len, height) = list_size(app);
        app.screens.resample.list.choose(row, len, height);
        app.screens.resample.scroll = 0;
    }

    fn narrower(&self, app: &App) -> Option<Narrower> {
        let point = &app.data.as_ref()?.points[chosen(app)?.point];
        Some(Narrower::one(FilterKey::Compartment, &point.compartment))
    }

    fn command_line(&self, app: &App) -> Option<CommandLine> {
        let words = match app.screens.resample.strict {
            true => "resample --strict",
            false => "resample",
        };
        Some(CommandLine::of(words).on(&app.filter.without_days()))
    }

    fn click(&self, app: &mut App, at: Position) -> Option<Command> {
        let panes = panes(app);
        let area = panes.list?;
        if panes.beside.contains(at) {
            app.screens.resample.opened = chosen(app).is_some();
            return None;
        }
        if area.contains(at) {
            app.screens.resample.opened = false;
        }
        if at.y == area.y {
            if let Some(by) = view::heading_at(app, area, at.x) {
                let state = &mut app.screens.resample;
                state.descending = state.by == by && !state.descending;
                state.by = by;
                to_top(app);
            }
            return None;
        }
        let (len, height) = list_size(app);
        let state = &mut app.screens.resample;
        let was = state.list.cursor;
        let opens = state.list.click(area, (at.x, at.y), len, height);
        if state.list.cursor != was {
            state.scroll = 0;
        }
        opens
    }

    fn wheel(&self, app: &mut App, at: Position, by: isize) {
        if panes(app).beside.contains(at) {
            return scroll(app, by);
        }
        let (len, height) = list_size(app);
        app.screens.resample.list.scroll(by, len, height);
    }

    fn settle(&self, app: &mut App) {
        if figures(app).is_none() {
            return;
        }
        let (len, height) = list_size(app);
        app.screens.resample.list.settle(len, height);
        app.screens.resample.opened &= len > 0;
        scroll(app, 0);
    }
}

//! Where a screen has nothing to show since no draw is in view: what that means, and the one
//! key to go on.

use ratatui::Frame;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::action::Command;
use super::app::{App, Place};
use super::{keymap, layout, text};
use crate::analysis::filter::UnknownValue;

/// Why no draw is in view.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Empty {
    /// Nothing was taken in yet, or no draws.
    Programme,
    /// There are draws, and the filter lets none pass.
    Filtered,
}

/// Why the place has nothing to show, if it is one that shows the draws in view.
pub(crate) fn of(app: &App) -> Option<Empty> {
    let shows_draws = matches!(
        app.place,
        Place::Share
            | Place::Draws
            | Place::Opened
            | Place::People
            | Place::Points
            | Place::Topics
            | Place::Resample
    );
    // What is to be sampled again does not hang on the days of the filter.
    let selection = match app.place {
        Place::Resample => &app.of_any_day,
        _ => &app.selection,
    };
    let is_counted = app.selected_turn == app.turn && selection.is_empty();
    let assessed = app.data.as_ref().filter(|_| shows_draws && is_counted)?;
    Some(if assessed.judged.is_empty() {
        Empty::Programme
    } else {
        Empty::Filtered
    })
}

/// The keys that lead on, the first before all others.
pub(crate) const fn hinted(empty: Empty) -> &'static [Command] {
    match empty {
        Empty::Programme => &[Command::Import, Command::Back],
        Empty::Filtered => &[Command::DropTerm, Command::EditFilter, Command::Back],
    }
}

/// What will stand in the place once there are draws.
pub(crate) const fn will_show(place: Place) -> &'static str {
    match place {
        Place::Share => "how many samples can't be trusted, month by month, and why",
        Place::People => "technicians and crews, each beside what an average one would have had",
        Place::Points => "sample points, each with its physics and with what breaks there",
        Place::Topics => "whom to train in what, and what came of trainings",
        Place::Resample => "what to sample again, most urgent first",
        _ => "every draw with its verdict and the reasons for it",
    }
}

/// Values of the filter that nothing in the programme is called, each with what may be meant.
fn unknown_values(app: &App) -> Vec<UnknownValue> {
    let assessed = app.data.as_ref();
    assessed.map_or_else(Vec::new, |assessed| app.filter.unknown_values(assessed))
}

/// Draws it in place of the screen.
pub(crate) fn view(app: &App, empty: Empty, frame: &mut Frame<'_>) {
    let theme = app.theme;
    let body = layout::body(app.size);
    let width = usize::from(body.width).saturating_sub(2).min(92);
    let mut lines = Vec::new();
    let mut say = |words: &str, style: Style| {
        let wrapped = text::wrap(words, width).into_iter();
        lines.extend(wrapped.map(|part| Line::from(Span::styled(part, style))));
    };
    let key = |command| {
        let unicode = theme.pick("u", "a") == "u";
        keymap::label(app.place_zone(), command, unicode).unwrap_or_default()
    };
    match empty {
        Empty::Programme => {
            say("No draws yet", theme.title());
            say(
                &format!("Here will stand {}.", will_show(app.place)),
                theme.plain(),
            );
            say("", theme.plain());
            let words = format!("{}  takes your tables in", key(Command::Import));
            say(&words, theme.strong());
        }
        Empty::Filtered => {
            say("No draw passes the filter", theme.title());
            say(&app.filter.to_string(), theme.strong());
            for unknown in unknown_values(app) {
                say(&text::sentence(&unknown.to_string()), theme.warning());
            }
            say("", theme.plain());
            let terms = app.filter.terms().len();
            let words = match terms {
                1 => "takes it away".to_owned(),
                _ => format!("takes its last term away, of {terms}"),
            };
            say(
                &format!("{}  {words}", key(Command::DropTerm)),
                theme.strong(),
            );
        }
    }
    frame.render_widget(Paragraph::new(lines), layout::a_quarter_down(body));
}

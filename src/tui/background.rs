//! What runs in the background: it is seen on every screen, at the end of the rule below the
//! header.

use ratatui::text::Span;

use super::app::{App, Loading, Over, Place};
use super::text;
use super::widgets::progress_bar;

/// What is being done, and how far it has come. Of several the one that the user asked for
/// last.
fn under_way(app: &App) -> Option<(&'static str, Loading)> {
    app.data.as_ref()?;
    if app.waiting.plans {
        return Some(("writing plans", app.writing));
    }
    if app.is_writing_sheets() {
        return Some(("writing sheets", app.writing));
    }
    if app.is_writing() {
        return Some(("keeping it", app.writing));
    }
    if app.waiting.reload {
        return Some(("reading the programme", app.loading));
    }
    if let Some(packing) = &app.packing {
        let words = if packing.stopping {
            "stopping the pack"
        } else {
            "writing the pack"
        };
        return Some((words, packing.progress));
    }
    // The screen of the tables shows it in full.
    if app.is_taking_in() && app.place != Place::Import {
        return Some(("at the tables", app.import.progress));
    }
    if app.is_examining() && app.place != Place::Records {
        return Some(("looking through the records", app.examined.progress));
    }
    None
}

/// The rule below the header, as wide as the screen; what runs in the background stands at its
/// end.
pub(crate) fn rule(app: &App, width: usize) -> Vec<Span<'static>> {
    let theme = app.theme;
    let dashes = |count: usize| Span::styled(theme.pick("─", "-").repeat(count), theme.line());
    let Some((words, loading)) = under_way(app) else {
        return vec![dashes(width)];
    };
    let bar = progress_bar::short(theme, loading);
    let used = text::width(words) + bar.iter().map(Span::width).sum::<usize>() + 4;
    let mut spans = vec![
        dashes(width.saturating_sub(used)),
        Span::styled(format!(" {words} "), theme.strong()),
    ];
    spans.extend(bar);
    spans.push(Span::raw(" "));
    spans.push(dashes(1));
    spans
}

impl App {
    /// Whether sheets to print are being written.
    #[must_use]
    pub(crate) fn is_writing_sheets(&self) -> bool {
        matches!(&self.over, Some(Over::Form(form)) if form.sent && !form.purpose.decides())
    }

    /// Whether plans or sheets are being written, or a decision, and how far that has come is to
    /// be shown.
    #[must_use]
    pub fn is_writing(&self) -> bool {
        self.waiting.plans || matches!(&self.over, Some(Over::Form(form)) if form.sent)
    }
}

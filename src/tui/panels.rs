//! The lines in which text is edited, and what stands below them meanwhile.

use ratatui::Frame;
use ratatui::layout::{Position, Rect, Size};
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Clear, Paragraph};

use super::app::App;
use super::folder_line::FolderEdit;
use super::line_edit::LineEdit;
use super::text;
use super::theme::Theme;
use super::view::line;
use crate::model::printable::printable;

/// Cells before a line of text in the filter's place.
const TITLE: u16 = 10;

/// The part of a line of text that is on screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct LineWindow {
    /// The first byte on screen.
    start: usize,
    /// Cells for the text.
    room: usize,
}

impl LineWindow {
    /// The part around the cursor on a screen this wide: as much before it as fits.
    pub(crate) fn of(edit: &LineEdit, width: u16) -> Self {
        let room = usize::from(width).saturating_sub(12);
        let before = edit.before_cursor();
        let mut start = 0;
        while text::width(&before[start..]) > room {
            start += before[start..].chars().next().map_or(1, char::len_utf8);
        }
        LineWindow { start, room }
    }

    /// The cell at which the text from this byte on stands, if it is on screen.
    pub(crate) fn cell_of(self, edit: &LineEdit, byte: usize) -> Option<u16> {
        let before = edit.text().get(self.start..byte)?;
        let cells = text::width(&printable(before));
        (cells <= self.room).then_some(TITLE + cells as u16)
    }
}

/// A line of text in the filter's place, with the cursor in it.
pub(crate) fn line_edit(app: &App, title: &'static str, edit: &LineEdit, frame: &mut Frame<'_>) {
    line_edit_on(app.theme, app.size, title, edit, frame);
}

/// The same where no programme is open.
pub(crate) fn line_edit_on(
    theme: Theme,
    size: Size,
    title: &'static str,
    edit: &LineEdit,
    frame: &mut Frame<'_>,
) {
    let window = LineWindow::of(edit, size.width);
    let shown_before = text::cut(&edit.before_cursor()[window.start..], window.room);
    let cursor = TITLE + text::width(&shown_before) as u16;
    let rest = window.room.saturating_sub(text::width(&shown_before));
    let spans = vec![
        Span::styled(title, theme.title()),
        Span::raw(shown_before),
        Span::raw(text::cut(edit.after_cursor(), rest)),
    ];
    line(frame, 1, spans);
    frame.set_cursor_position(Position { x: cursor, y: 1 });
}

/// Below the folder while it is edited: whose plans they are, and what went wrong.
pub(crate) fn folder(app: &App, edit: &FolderEdit, frame: &mut Frame<'_>, body: Rect) {
    let theme = app.theme;
    let width = usize::from(body.width).saturating_sub(2);
    let ids: Vec<&str> = app.ticked.iter().map(String::as_str).collect();
    let count = text::plural(ids.len() as u64, "plan", "plans");
    let whose = format!("{count}, of the draws in view: {}", ids.join(" "));
    let mut parts: Vec<(String, Style)> = text::wrap(&whose, width)
        .into_iter()
        .take(3)
        .map(|part| (part, theme.strong()))
        .collect();
    match &edit.said {
        Some(words) => {
            let wrapped = text::wrap(words, width).into_iter().take(4);
            parts.extend(wrapped.map(|part| (part, theme.warning())));
        }
        None => parts.push((
            "Enter writes a page for each. A file that is there already is never overwritten."
                .to_owned(),
            theme.faint(),
        )),
    }
    let mut lines: Vec<Line<'static>> = parts
        .into_iter()
        .map(|(part, style)| Line::from(Span::styled(format!(" {part}"), style)))
        .collect();
    below(app, &mut lines, theme.line(), frame, body);
}

/// Lines below a line of text that is being written, over the body, closed off by a rule.
pub(crate) fn below(
    app: &App,
    lines: &mut Vec<Line<'static>>,
    rule: Style,
    frame: &mut Frame<'_>,
    body: Rect,
) {
    let strokes = app.theme.pick("─", "-").repeat(usize::from(app.size.width));
    lines.push(Line::from(Span::styled(strokes, rule)));
    let area = Rect {
        x: 0,
        width: app.size.width,
        height: (lines.len() as u16).min(body.height),
        ..body
    };
    frame.render_widget(Clear, area);
    frame.render_widget(Paragraph::new(std::mem::take(lines)), area);
}

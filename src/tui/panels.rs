//! The lines in which text is edited, and what stands below them meanwhile.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Clear, Paragraph};

use super::app::{App, FilterEdit};
use super::complete::Completion;
use super::folder_line::FolderEdit;
use super::line_edit::LineEdit;
use super::text;
use super::view::line;

/// A line of text in the filter's place, with the cursor in it.
pub(crate) fn line_edit(app: &App, title: &'static str, edit: &LineEdit, frame: &mut Frame<'_>) {
    let theme = app.theme;
    let room = usize::from(app.size.width).saturating_sub(12);
    // The part around the cursor: as much before it as fits.
    let before = edit.before_cursor();
    let mut start = 0;
    while text::width(&before[start..]) > room {
        start += before[start..].chars().next().map_or(1, char::len_utf8);
    }
    let shown_before = text::cut(&before[start..], room);
    let cursor = 10 + text::width(&shown_before) as u16;
    let rest = room.saturating_sub(text::width(&shown_before));
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
    let mut lines: Vec<Line<'_>> = parts
        .into_iter()
        .map(|(part, style)| Line::from(Span::styled(format!(" {part}"), style)))
        .collect();
    let rule = theme.pick("─", "-").repeat(usize::from(app.size.width));
    lines.push(Line::from(Span::styled(rule, theme.line())));
    let area = Rect {
        x: 0,
        width: app.size.width,
        height: (lines.len() as u16).min(body.height),
        ..body
    };
    frame.render_widget(Clear, area);
    frame.render_widget(Paragraph::new(lines), area);
}

/// Below the filter while it is edited: what is wrong or how many draws pass, and what the
/// word at the cursor could become.
pub(crate) fn filter(app: &App, edit: &FilterEdit, frame: &mut Frame<'_>, body: Rect) {
    let theme = app.theme;
    let width = usize::from(body.width).saturating_sub(2);
    let mut lines = Vec::new();
    match &edit.error {
        Some(error) => {
            let words = format!("{} (column {})", error.message, error.column);
            for part in text::wrap(&words, width).into_iter().take(2) {
                // Half a word is no mistake yet; Enter asks for a verdict.
                let style = if edit.tried {
                    theme.warning()
                } else {
                    theme.plain()
                };
                lines.push(Line::from(Span::styled(format!(" {}", part), style)));
            }
        }
        None => {
            let words = match edit.count {
                Some((_, draws)) => {
                    let passes = if draws == 1 { "passes" } else { "pass" };
                    format!(" {} {passes}", text::plural(draws as u64, "draw", "draws"))
                }
                None => " counting".to_owned(),
            };
            lines.push(Line::from(Span::styled(words, theme.strong())));
        }
    }
    if let Some(assessed) = &app.data {
        let completion = Completion::of(assessed, edit.line.before_cursor());
        let words = if completion.words.is_empty() {
            String::new()
        } else {
            completion.words.join("  ")
        };
        for part in text::wrap(&words, width).into_iter().take(3) {
            lines.push(Line::from(Span::styled(
                format!(" {}", part),
                theme.faint(),
            )));
        }
    }
    let rule = theme.pick("─", "-").repeat(usize::from(app.size.width));
    lines.push(Line::from(Span::styled(rule, theme.line())));
    let area = Rect {
        x: 0,
        width: app.size.width,
        height: (lines.len() as u16).min(body.height),
        ..body
    };
    frame.render_widget(Clear, area);
    frame.render_widget(Paragraph::new(lines), area);
}

//! Draws a form.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Clear, Paragraph};

use super::form::{Field, Form, Value};
use super::text;
use super::theme::Theme;

/// Names of fields take so many cells.
const LABEL: usize = 19;
/// Wider lines are no easier to read.
const WIDEST: u16 = 110;

/// Draws the form in place of what is in `body`. `who` is the one who decides; `below` writes
/// what is decided about in lines of a width, of which as many are shown as there is room for.
pub(crate) fn view<P>(
    theme: Theme,
    form: &Form<P>,
    who: Option<&str>,
    below: &dyn Fn(u16) -> Vec<Line<'static>>,
    frame: &mut Frame<'_>,
    body: Rect,
) {
    frame.render_widget(Clear, body);
    let area = Rect {
        width: body.width.min(WIDEST),
        ..body
    };
    let width = usize::from(area.width).saturating_sub(1);
    let mut lines = vec![Line::from(Span::styled(
        text::cut(&form.title, width),
        theme.title(),
    ))];
    let wrapped = |lines: &mut Vec<Line<'static>>, words: &str, indent: usize, style: Style| {
        for part in text::wrap(words, width.saturating_sub(indent)) {
            let part = format!("{}{part}", " ".repeat(indent));
            lines.push(Line::from(Span::styled(part, style)));
        }
    };
    wrapped(&mut lines, &form.about, 0, theme.plain());
    if let Some(who) = who {
        let words = format!("Kept in the trail as {who}.");
        wrapped(&mut lines, &words, 0, theme.faint());
    }
    lines.push(Line::default());
    let mut cursor = None;
    for (at, field) in form.fields.iter().enumerate() {
        let is_chosen = at == form.at;
        let room = width.saturating_sub(LABEL + 1);
        let (spans, column) = value(theme, field, is_chosen, room);
        if is_chosen {
            cursor = column.map(|column| (LABEL + column, lines.len()));
        }
        let style = if is_chosen {
            theme.strong()
        } else {
            theme.faint()
        };
        let mark = if is_chosen {
            theme.pick("▸ ", "> ")
        } else {
            "  "
        };
        let label = text::left(field.label, LABEL - 2);
        let mut line = vec![Span::styled(format!("{mark}{label}"), style)];
        line.extend(spans);
        lines.push(Line::from(line));
        match &field.said {
            Some(words) => wrapped(&mut lines, words, LABEL, theme.warning()),
            None if is_chosen => {
                let mut hint = field.hint.clone();
                if matches!(field.value, Value::Choice(..)) {
                    let keys = theme.pick("← →", "left and right");
                    let gap = if hint.is_empty() { "" } else { "; " };
                    hint = format!("{hint}{gap}{keys} choose");
                }
                wrapped(&mut lines, &hint, LABEL, theme.faint());
            }
            None => {}
        }
    }
    lines.push(Line::default());
    if form.leaving {
        let words = "What is written here is not sent. Esc again leaves it, any other key stays.";
        wrapped(&mut lines, words, 0, theme.warning());
    } else if form.sent {
        wrapped(&mut lines, "Under way; Esc stops it.", 0, theme.strong());
    } else if let Some(words) = &form.said {
        wrapped(&mut lines, words, 0, theme.warning());
    }
    let room = usize::from(area.height).saturating_sub(lines.len());
    lines.extend(decided_on(theme, below(area.width), room, width));
    frame.render_widget(Paragraph::new(lines), area);
    if let Some((x, y)) = cursor
        && let Ok(y) = u16::try_from(y)
        && y < area.height
    {
        let x = area.x + (x as u16).min(area.width.saturating_sub(1));
        frame.set_cursor_position(Position { x, y: area.y + y });
    }
}

/// What is decided about, below a line across; nothing where not even its beginning fits.
fn decided_on(
    theme: Theme,
    mut about: Vec<Line<'static>>,
    room: usize,
    width: usize,
) -> Vec<Line<'static>> {
    if about.is_empty() || room < 3 {
        return Vec::new();
    }
    let fits = room - 1;
    if about.len() > fits {
        let more = about.len() - (fits - 1);
        about.truncate(fits - 1);
        let words = format!("{} {more} more lines", theme.pick("…", "..."));
        about.push(Line::from(Span::styled(words, theme.faint())));
    }
    let line = theme.pick("─", "-").repeat(width);
    about.insert(0, Line::from(Span::styled(line, theme.faint())));
    about
}

/// What stands in a field, and the column of the cursor if it is a line of text.
fn value(
    theme: Theme,
    field: &Field,
    is_chosen: bool,
    room: usize,
) -> (Vec<Span<'static>>, Option<usize>) {
    match &field.value {
        Value::Text(line) => {
            // The part around the cursor: as much before it as fits.
            let before = line.before_cursor();
            let mut start = 0;
            while text::width(&before[start..]) + 1 > room && start < before.len() {
                start += before[start..].chars().next().map_or(1, char::len_utf8);
            }
            let shown = text::cut(&before[start..], room);
            let column = text::width(&shown);
            let rest = text::cut(line.after_cursor(), room.saturating_sub(column));
            let filled = column + text::width(&rest);
            // An empty line shows where it is.
            let blank = match filled {
                0 => theme.pick("·", ".").repeat(room.min(40)),
                _ => String::new(),
            };
            let spans = vec![
                Span::raw(shown),
                Span::raw(rest),
                Span::styled(blank, theme.faint()),
            ];
            (spans, Some(column))
        }
        Value::Choice(words, at) => {
            let spans = words.iter().enumerate().flat_map(|(place, word)| {
                let is_held = place == *at;
                let style = match (is_held, is_chosen) {
                    (true, true) => theme.chosen(),
                    (true, false) => theme.strong(),
                    (false, _) => theme.faint(),
                };
                let mark = if is_held {
                    theme.pick("● ", "* ")
                } else {
                    theme.pick("○ ", "  ")
                };
                [
                    Span::styled(format!("{mark}{word}"), style),
                    Span::raw("  "),
                ]
            });
            (spans.collect(), None)
        }
    }
}

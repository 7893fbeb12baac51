//! Draws what stands below the filter line: the place of a mistake, the count, the words.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::FilterLine;
use super::suggest::Word;
use crate::analysis::FilterError;
use crate::model::printable::printable;
use crate::tui::app::App;
use crate::tui::panels::LineWindow;
use crate::tui::widgets::boxed;
use crate::tui::{layout, panels, text};

/// More words than this are not shown at once.
const MOST_ROWS: u16 = 12;

/// Draws it over the body, and the caret into the line above it.
pub(crate) fn view(line: &FilterLine, app: &App, frame: &mut Frame<'_>, body: Rect) {
    if let Err(error) = &line.read {
        caret(line, error, app, frame);
    }
    let mut lines = said(line, app, body);
    panels::below(app, &mut lines, app.theme.faint(), frame, body);
    words(line, app, frame);
}

/// A caret below the character that the mistake is at.
fn caret(line: &FilterLine, error: &FilterError, app: &App, frame: &mut Frame<'_>) {
    let Some(x) = column_of(line, error, app.size.width) else {
        return;
    };
    let area = Rect {
        x,
        y: 2,
        width: 1,
        height: 1,
    };
    let caret = Span::styled("^", app.theme.warning());
    frame.render_widget(Paragraph::new(Line::from(caret)), area);
}

/// The cell of the character that the mistake is at, if it is on screen.
fn column_of(line: &FilterLine, error: &FilterError, width: u16) -> Option<u16> {
    let text = line.line.text();
    let at = text.char_indices().nth(error.column.saturating_sub(1));
    let at = at.map_or(text.len(), |(at, _)| at);
    LineWindow::of(&line.line, width).cell_of(&line.line, at)
}

/// Whether the mistake lies in the word at the cursor: half a word is no mistake yet.
fn is_half_written(line: &FilterLine, error: &FilterError) -> bool {
    let before = line.line.before_cursor();
    let term = before.rsplit(char::is_whitespace).next().unwrap_or("");
    let start = before.chars().count() - term.chars().count();
    !line.tried && error.column > start
}

/// What is wrong, or how many draws pass.
fn said(line: &FilterLine, app: &App, body: Rect) -> Vec<Line<'static>> {
    let theme = app.theme;
    let width = usize::from(body.width).saturating_sub(2);
    let lines = |words: &str, style, most: usize| -> Vec<Line<'static>> {
        let parts = text::wrap(words, width).into_iter().take(most);
        parts
            .map(|part| Line::from(Span::styled(format!(" {part}"), style)))
            .collect()
    };
    let (words, style) = match (&line.read, line.count) {
        (Err(error), _) => {
            let style = match is_half_written(line, error) {
                true => theme.plain(),
                false => theme.warning(),
            };
            let words = format!("{} (column {})", error.message, error.column);
            return lines(&words, style, 3);
        }
        (Ok(_), Some(1)) => ("1 draw passes".to_owned(), theme.strong()),
        (Ok(_), Some(count)) => {
            let words = format!("{} pass", text::plural(count, "draw", "draws"));
            (words, theme.strong())
        }
        (Ok(_), None) => ("counting".to_owned(), theme.strong()),
    };
    let mut said = lines(&words, style, 1);
    if let Some(unknown) = &line.unknown {
        said.extend(lines(&text::sentence(unknown), theme.plain(), 2));
    }
    said
}

/// Where the words stand: below the word that they would become.
fn words_area(line: &FilterLine, app: &App) -> Option<Rect> {
    let count = line.suggestions.words.len();
    if count == 0 {
        return None;
    }
    let body = layout::body(app.size);
    let top = body.y + said(line, app, body).len() as u16;
    let room = body.bottom().saturating_sub(top);
    let rows = (count.min(usize::from(MOST_ROWS)) as u16).min(room.saturating_sub(2));
    if rows == 0 {
        return None;
    }
    let words = || line.suggestions.words.iter();
    let written = words().map(|word| text::width(&word.written)).max()?;
    let note = words().map(|word| text::width(&word.note)).max()?;
    let draws = words().map(|word| text::width(&draws(word))).max()?;
    let gaps = 2 * (usize::from(note > 0) + usize::from(draws > 0));
    // The title has to fit in as well.
    let width = (written + note + draws + gaps).max(22) + 4;
    let width = width.min(usize::from(app.size.width)) as u16;
    let at = line.line.before_cursor().len() - line.suggestions.typed;
    let window = LineWindow::of(&line.line, app.size.width);
    let x = window.cell_of(&line.line, at).unwrap_or(2);
    Some(Rect {
        x: x.saturating_sub(2).min(app.size.width - width),
        y: top,
        width,
        height: rows + 2,
    })
}

/// How many words are on screen.
pub(crate) fn rows(app: &App, line: &FilterLine) -> usize {
    words_area(line, app).map_or(1, |area| usize::from(boxed::inner(area).height))
}

/// Which word a cell belongs to.
pub(crate) fn word_at(app: &App, line: &FilterLine, at: Position) -> Option<usize> {
    let row = boxed::line_at(words_area(line, app)?, at)? + line.offset;
    (row < line.suggestions.words.len()).then_some(row)
}

fn draws(word: &Word) -> String {
    let draws = word.draws.map(|draws| text::plural(draws, "draw", "draws"));
    draws.unwrap_or_default()
}

fn words(line: &FilterLine, app: &App, frame: &mut Frame<'_>) {
    let theme = app.theme;
    let Some(area) = words_area(line, app) else {
        return;
    };
    let inner = boxed::inner(area);
    let words = &line.suggestions.words;
    let width = usize::from(inner.width);
    let widest = words.iter().map(|word| text::width(&word.written)).max();
    let widest = widest.unwrap_or(0).min(width);
    let counts = words.iter().map(|word| text::width(&draws(word))).max();
    let counts = counts.unwrap_or(0).min(width - widest);
    let rows = usize::from(inner.height);
    let shown = words.iter().enumerate().skip(line.offset).take(rows);
    let lines = shown.map(|(row, word)| {
        let written = text::left(&printable(&word.written), widest);
        let note = text::left(&word.note, width.saturating_sub(widest + counts + 2));
        let spans = vec![
            Span::styled(written, theme.strong()),
            Span::raw("  "),
            Span::styled(note, theme.faint()),
            Span::raw(text::right(&draws(word), counts)),
        ];
        match line.chosen == Some(row) {
            true => theme.choose(Line::from(spans)),
            false => Line::from(spans),
        }
    });
    let lines = lines.collect();
    let left = words.len().saturating_sub(line.offset + rows);
    let title = match left {
        0 => "it may be".to_owned(),
        more => format!("it may be; {} more below", text::count(more as u64)),
    };
    boxed::view(frame, area, &title, lines, theme);
}

//! A list of rows and values that were refused, and below it the chosen one in full.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use crate::programme::{Refusal, Refused};
use crate::tui::app::App;
use crate::tui::list::ListPlace;
use crate::tui::text;
use crate::tui::widgets::table::{self, Column as TableColumn, Look};

/// A row or value that was refused.
#[derive(Clone, Copy, Debug)]
pub(crate) struct RefusedRow<'a> {
    pub(crate) sheet: &'a str,
    pub(crate) line: u64,
    pub(crate) column: &'a str,
    pub(crate) value: &'a str,
    pub(crate) reason: &'a str,
    pub(crate) whole_row: bool,
}

impl<'a> From<&'a Refused> for RefusedRow<'a> {
    fn from(refused: &'a Refused) -> Self {
        RefusedRow {
            sheet: &refused.sheet,
            line: refused.line,
            column: &refused.column,
            value: &refused.value,
            reason: &refused.reason,
            whole_row: refused.whole_row,
        }
    }
}

impl<'a> From<(&'a str, &'a Refusal)> for RefusedRow<'a> {
    fn from((sheet, refusal): (&'a str, &'a Refusal)) -> Self {
        RefusedRow {
            sheet,
            line: refusal.line,
            column: &refusal.column,
            value: &refusal.value,
            reason: &refusal.reason,
            whole_row: refusal.whole_row,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shown {
    Sheet,
    Line,
    Column,
    Value,
    What,
    Reason,
}

const COLUMNS: [TableColumn<Shown>; 6] = [
    TableColumn::new(Shown::Sheet, "sheet", 14, 2).grows(1, 30),
    TableColumn::new(Shown::Line, "line", 7, 0).right(),
    TableColumn::new(Shown::Column, "column", 14, 0).grows(1, 20),
    TableColumn::new(Shown::Value, "value", 12, 0).grows(2, 40),
    TableColumn::new(Shown::What, "refused", 7, 1),
    TableColumn::new(Shown::Reason, "why", 20, 0).grows(6, 200),
];

/// The lines about the chosen row, with the one that parts them from the list.
const SAID: u16 = 4;

/// The list's part of the room for both.
pub(crate) const fn list_area(area: Rect) -> Rect {
    Rect {
        height: area.height.saturating_sub(SAID),
        ..area
    }
}

/// What the list shows.
pub(crate) struct RefusedList<'a> {
    pub(crate) rows: Vec<RefusedRow<'a>>,
    pub(crate) place: ListPlace,
    /// Whether the keys act on it.
    pub(crate) focused: bool,
    /// What is said where nothing was refused.
    pub(crate) empty: &'a str,
    /// What else is to be known about the list, below the chosen row.
    pub(crate) note: String,
}

/// Draws the list and the chosen row in full.
pub(crate) fn view(app: &App, list: &RefusedList<'_>, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let upper = list_area(area);
    let width = usize::from(upper.width).saturating_sub(2);
    // One sheet alone is named above the list.
    let is_one = list.rows.windows(2).all(|two| two[0].sheet == two[1].sheet);
    let columns: Vec<_> = COLUMNS
        .into_iter()
        .filter(|column| !(is_one && column.id == Shown::Sheet))
        .collect();
    let columns = table::fit(&columns, width, |_| false);
    let look = Look {
        theme,
        place: list.place,
        len: list.rows.len(),
        focused: list.focused,
        marked: true,
        empty: list.empty,
    };
    let headings = table::headings(&columns, theme, |_| None);
    table::view(frame, upper, headings, &look, |at| {
        let mut spans = Vec::new();
        for column in &columns {
            let value = cell(&list.rows[at], column.0.id);
            spans.extend(table::cell(column, &value, theme.plain()));
            spans.push(Span::raw(" "));
        }
        Line::from(spans)
    });
    said(app, list, frame, area);
}

fn cell(refused: &RefusedRow<'_>, column: Shown) -> String {
    match column {
        Shown::Sheet => text::file_name(refused.sheet).to_owned(),
        Shown::Line => refused.line.to_string(),
        Shown::Column => refused.column.to_owned(),
        Shown::Value => refused.value.to_owned(),
        Shown::What => (if refused.whole_row { "row" } else { "value" }).to_owned(),
        Shown::Reason => refused.reason.to_owned(),
    }
}

/// The chosen row's reason in full.
fn said(app: &App, list: &RefusedList<'_>, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let upper = list_area(area);
    let Some(row) = list.rows.get(list.place.cursor) else {
        return;
    };
    let area = Rect {
        y: upper.bottom(),
        height: area.bottom().saturating_sub(upper.bottom()),
        width: upper.width.saturating_sub(1),
        ..upper
    };
    let width = usize::from(area.width);
    let mut lines = vec![Line::from(Span::styled(
        theme.pick("─", "-").repeat(width),
        theme.faint(),
    ))];
    let what = match row.column {
        "" => String::new(),
        column => format!(", {column} \"{}\"", row.value),
    };
    let sheet = text::file_name(row.sheet);
    let words = format!("{sheet}, line {}{what}: {}.", row.line, row.reason);
    lines.extend(
        text::wrap(&words, width)
            .into_iter()
            .take(2)
            .map(Line::from),
    );
    if !list.note.is_empty() {
        let note = text::cut(&list.note, width);
        lines.push(Line::from(Span::styled(note, theme.faint())));
    }
    frame.render_widget(Paragraph::new(lines), area);
}

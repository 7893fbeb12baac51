//! One batch opened: its sheets, and every row that it refused.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::ledger::{file_name, head};
use super::{MOST_REFUSED, below, chosen, refused};
use crate::programme::Refused;
use crate::tui::app::App;
use crate::tui::text;
use crate::tui::widgets::table::{self, Column as TableColumn, Look};

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

/// The lines about the chosen row below the list.
const SAID: u16 = 4;

pub(crate) fn list_area(app: &App) -> Rect {
    let below = below(app);
    Rect {
        y: below.y + 2,
        height: below.height.saturating_sub(2 + SAID),
        ..below
    }
}

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    let theme = app.theme;
    let Some(batch) = chosen(app) else {
        return;
    };
    let below = below(app);
    frame.render_widget(Paragraph::new(head(app, batch, below)), below);
    let Some(refused) = refused(app) else {
        return;
    };
    let area = list_area(app);
    let width = usize::from(area.width).saturating_sub(2);
    let columns = table::fit(&COLUMNS, width, |_| false);
    let look = Look {
        theme,
        place: app.screens.records.refused,
        len: refused.len(),
        focused: true,
        marked: true,
        empty: "nothing of this batch was refused",
    };
    let headings = table::headings(&columns, theme, |_| None);
    table::view(frame, area, headings, &look, |at| {
        let mut spans = Vec::new();
        for column in &columns {
            let value = cell(&refused[at], column.0.id);
            spans.extend(table::cell(column, &value, theme.plain()));
            spans.push(Span::raw(" "));
        }
        Line::from(spans)
    });
    said(app, refused, frame, area);
}

fn cell(refused: &Refused, column: Shown) -> String {
    match column {
        Shown::Sheet => file_name(&refused.sheet).to_owned(),
        Shown::Line => refused.line.to_string(),
        Shown::Column => refused.column.clone(),
        Shown::Value => refused.value.clone(),
        Shown::What => (if refused.whole_row { "row" } else { "value" }).to_owned(),
        Shown::Reason => refused.reason.clone(),
    }
}

/// The chosen row's reason in full.
fn said(app: &App, refused: &[Refused], frame: &mut Frame<'_>, list: Rect) {
    let theme = app.theme;
    let area = Rect {
        y: list.bottom(),
        height: SAID,
        width: list.width.saturating_sub(1),
        ..list
    };
    let Some(row) = refused.get(app.screens.records.refused.cursor) else {
        return;
    };
    let width = usize::from(area.width);
    let place = format!("{}, line {}", file_name(&row.sheet), row.line);
    let mut lines = vec![Line::from(Span::styled(
        theme.pick("─", "-").repeat(width),
        theme.faint(),
    ))];
    let what = match row.column.as_str() {
        "" => String::new(),
        column => format!(", {column} {:?}", row.value),
    };
    let words = format!("{place}{what}: {}.", row.reason);
    lines.extend(
        text::wrap(&words, width)
            .into_iter()
            .take(2)
            .map(Line::from),
    );
    if refused.len() >= MOST_REFUSED as usize {
        let words = format!("Only the first {MOST_REFUSED} are shown.");
        lines.push(Line::from(Span::styled(words, theme.faint())));
    }
    frame.render_widget(Paragraph::new(lines), area);
}

//! The ledger: every batch that was taken in, and beside it the chosen one.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{Batch, chosen, refused};
use crate::model::time;
use crate::programme::{ImportedSheet, Refused};
use crate::tui::app::App;
use crate::tui::screens::beside;
use crate::tui::text;
use crate::tui::widgets::table::{self, Column as TableColumn, Look};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shown {
    Number,
    When,
    Sheets,
    Taken,
    Unchanged,
    Changed,
    Refused,
}

const COLUMNS: [TableColumn<Shown>; 7] = [
    TableColumn::new(Shown::Number, "batch", 6, 0).right(),
    TableColumn::new(Shown::When, "taken in", 16, 0),
    TableColumn::new(Shown::Sheets, "sheets", 14, 1).grows(3, 44),
    TableColumn::new(Shown::Taken, "taken", 9, 0).right(),
    TableColumn::new(Shown::Unchanged, "unchanged", 9, 3).right(),
    TableColumn::new(Shown::Changed, "changed", 7, 2).right(),
    TableColumn::new(Shown::Refused, "refused", 7, 0).right(),
];

pub(crate) fn list(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let ledger = super::ledger(app);
    let width = usize::from(area.width).saturating_sub(2);
    let columns = table::fit(&COLUMNS, width, |_| false);
    let headings = table::headings(&columns, theme, |_| None);
    let look = Look {
        theme,
        place: app.screens.records.batches,
        len: ledger.len(),
        focused: true,
        marked: true,
        empty: "nothing has been taken in yet",
    };
    table::view(frame, area, headings, &look, |at| {
        let batch = &ledger[at];
        let mut spans = Vec::new();
        for column in &columns {
            let (value, style) = cell(app, batch, column.0.id);
            spans.extend(table::cell(column, &value, style));
            spans.push(Span::raw(" "));
        }
        Line::from(spans)
    });
}

fn cell(app: &App, batch: &Batch, column: Shown) -> (String, Style) {
    let theme = app.theme;
    let sum = |of: fn(&ImportedSheet) -> u64| -> u64 { batch.sheets.iter().map(of).sum() };
    let count = |number: u64| match number {
        0 => (theme.pick("·", ".").to_owned(), theme.faint()),
        some => (text::count(some), theme.plain()),
    };
    match column {
        Shown::Number => (batch.import.number.to_string(), theme.plain()),
        Shown::When => (when(app, batch.import.taken_at), theme.plain()),
        Shown::Sheets => (names(batch), theme.plain()),
        Shown::Taken => count(sum(|sheet| sheet.taken)),
        Shown::Unchanged => count(sum(|sheet| sheet.unchanged)),
        Shown::Changed => count(sum(|sheet| sheet.changed)),
        Shown::Refused => count(sum(|sheet| sheet.refused_rows + sheet.refused_values)),
    }
}

/// An instant as the programme's zone writes it, to the minute.
pub(crate) fn when(app: &App, seconds: i64) -> String {
    let zone = app.data.as_ref().map(|assessed| assessed.zone);
    let text = zone.map_or_else(
        || time::utc_text(seconds),
        |zone| time::local_text(seconds, zone),
    );
    text.chars().take(16).collect::<String>().replace('T', " ")
}

fn names(batch: &Batch) -> String {
    let names: Vec<&str> = batch
        .sheets
        .iter()
        .map(|sheet| text::file_name(&sheet.sheet))
        .collect();
    names.join(", ")
}

/// What the chosen batch holds.
pub(crate) fn beside(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let Some(batch) = chosen(app) else {
        return;
    };
    let width = usize::from(area.width).saturating_sub(1);
    let mut lines = head(app, batch, area);
    for sheet in &batch.sheets {
        lines.push(sheet_line(app, sheet, width));
        for remark in &sheet.remarks {
            for part in text::wrap(remark, width.saturating_sub(2)) {
                lines.push(Line::from(Span::styled(format!("  {part}"), theme.faint())));
            }
        }
    }
    let room = usize::from(area.height).saturating_sub(lines.len() + 2);
    if let Some(refused) = refused(app)
        && !refused.is_empty()
        && room > 0
    {
        lines.push(Line::default());
        lines.push(Line::from(Span::styled("Refused", theme.title())));
        for refused in refused.iter().take(room) {
            lines.push(refused_line(app, refused, width));
        }
    }
    frame.render_widget(Paragraph::new(lines), area);
}

/// Number, time and program of a batch.
pub(crate) fn head(app: &App, batch: &Batch, area: Rect) -> Vec<Line<'static>> {
    let title = format!("Batch {}", batch.import.number);
    let about = format!(
        "taken in {}, local times read in {}",
        when(app, batch.import.taken_at),
        batch.import.zone
    );
    vec![beside::heading(app, &title, &about, area)]
}

fn sheet_line(app: &App, sheet: &ImportedSheet, width: usize) -> Line<'static> {
    let counts = format!(
        "{} taken, {} unchanged, {} changed",
        text::count(sheet.taken),
        text::count(sheet.unchanged),
        text::count(sheet.changed)
    );
    let refused = sheet.refused_rows + sheet.refused_values;
    let refused = match refused {
        0 => String::new(),
        some => format!(", {} refused", text::count(some)),
    };
    let room = width.saturating_sub(text::width(&counts) + text::width(&refused) + 2);
    Line::from(vec![
        Span::raw(text::left(text::file_name(&sheet.sheet), room)),
        Span::raw("  "),
        Span::styled(counts, app.theme.faint()),
        Span::styled(refused, app.theme.strong()),
    ])
}

/// Sheet, line, column, value and reason in one line.
fn refused_line(app: &App, refused: &Refused, width: usize) -> Line<'static> {
    let place = format!("{}:{}", text::file_name(&refused.sheet), refused.line);
    let place = text::left(&place, 18.min(width / 3));
    let rest = width.saturating_sub(text::width(&place) + 1);
    let what = match refused.column.as_str() {
        "" => refused.reason.clone(),
        column => format!("{column}: {}", refused.reason),
    };
    Line::from(vec![
        Span::styled(place, app.theme.faint()),
        Span::raw(" "),
        Span::raw(text::cut(&what, rest)),
    ])
}

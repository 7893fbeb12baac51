//! The ledger: every batch that was taken in or taken back, and beside it the chosen one.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::brought::reasons;
use super::{brought, chosen, refused};
use crate::model::time;
use crate::programme::{Batch, ImportedSheet, Refused};
use crate::tui::app::App;
use crate::tui::screens::beside;
use crate::tui::screens::import::picker;
use crate::tui::text;
use crate::tui::widgets::table::{self, Column as TableColumn, Look};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shown {
    Number,
    When,
    Who,
    Sheets,
    Taken,
    Unchanged,
    Changed,
    Refused,
    Standing,
}

/// The columns of the ledger.
pub(crate) const COLUMNS: [TableColumn<Shown>; 9] = [
    TableColumn::new(Shown::Number, "batch", 5, 0).right(),
    TableColumn::new(Shown::When, "taken in", 16, 0),
    TableColumn::new(Shown::Who, "by", 10, 4).grows(1, 16),
    TableColumn::new(Shown::Sheets, "sheets", 14, 1).grows(3, 80),
    TableColumn::new(Shown::Taken, "new", 8, 0).right(),
    TableColumn::new(Shown::Unchanged, "unchanged", 9, 5).right(),
    TableColumn::new(Shown::Changed, "changed", 7, 3).right(),
    TableColumn::new(Shown::Refused, "refused", 7, 0).right(),
    TableColumn::new(Shown::Standing, "since then", 15, 0),
];

/// What is said where nothing was taken in.
pub(crate) const EMPTY: &str = "nothing has been taken in yet; i takes a table in";

pub(crate) fn list(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let ledger = super::ledger(app);
    let width = usize::from(area.width).saturating_sub(2);
    // A column in which no batch has anything to tell leaves its room to the sheets.
    let told = COLUMNS.into_iter().filter(|column| match column.id {
        Shown::Unchanged => ledger.iter().any(|it| it.sum(|sheet| sheet.unchanged) > 0),
        Shown::Changed => ledger.iter().any(|it| it.sum(|sheet| sheet.changed) > 0),
        Shown::Standing => ledger.iter().any(|it| !standing(it).is_empty()),
        _ => true,
    });
    let told: Vec<_> = told.collect();
    let columns = table::fit(&told, width, |_| false);
    let headings = table::headings(&columns, theme, |_| None);
    let look = Look {
        theme,
        place: app.screens.records.batches,
        len: ledger.len(),
        focused: true,
        marked: true,
        empty: EMPTY,
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

/// One value of a batch's row.
pub(crate) fn cell(app: &App, batch: &Batch, column: Shown) -> (String, Style) {
    let theme = app.theme;
    let import = &batch.import;
    let plain = if import.taken_back_in.is_some() {
        theme.faint()
    } else {
        theme.plain()
    };
    let count = |number: u64| match number {
        0 => (theme.pick("·", ".").to_owned(), theme.faint()),
        some => (text::count(some), plain),
    };
    match column {
        Shown::Number => (import.number.to_string(), plain),
        Shown::When => (when(app, import.taken_at), plain),
        Shown::Who => (import.who.clone().unwrap_or_default(), plain),
        Shown::Sheets => (names(batch), plain),
        Shown::Taken => count(batch.sum(|sheet| sheet.taken)),
        Shown::Unchanged => count(batch.sum(|sheet| sheet.unchanged)),
        Shown::Changed => count(batch.sum(|sheet| sheet.changed)),
        Shown::Refused => count(batch.sum(|sheet| sheet.refused_rows + sheet.refused_values)),
        Shown::Standing => (standing(batch), plain),
    }
}

/// What became of a batch, in a word or two.
fn standing(batch: &Batch) -> String {
    let import = &batch.import;
    let rows = batch.sum(|sheet| sheet.refused_rows);
    match (import.takes_back, import.taken_back_in, batch.open_rows()) {
        (Some(other), _, _) => format!("takes {other} back"),
        (_, Some(by), _) => format!("taken back by {by}"),
        (_, _, 0) if rows > 0 => "mended".to_owned(),
        (_, _, 0) => String::new(),
        (_, _, open) => format!("{} to mend", text::count(open)),
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
    if let Some(because) = &batch.import.because {
        return because.clone();
    }
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
    let height = usize::from(area.height);
    let mut lines = head(app, batch, area);
    let roomy = height >= 16;
    for sheet in &batch.sheets {
        lines.extend(sheet_lines(app, sheet, width, roomy.then_some(16)));
    }
    let room = height.saturating_sub(lines.len() + 2);
    if let Some(refused) = refused(app)
        && !refused.is_empty()
        && room > 0
    {
        lines.push(Line::default());
        lines.push(Line::from(Span::styled("Refused", theme.title())));
        for refused in refused.iter().take(room) {
            lines.push(refused_line(app, batch, refused, width));
        }
    }
    frame.render_widget(Paragraph::new(lines), area);
}

/// Who took it in and when, and what became of it.
pub(crate) fn head(app: &App, batch: &Batch, area: Rect) -> Vec<Line<'static>> {
    let theme = app.theme;
    let import = &batch.import;
    let width = usize::from(area.width).saturating_sub(1);
    let by = match &import.who {
        Some(who) => format!(" by {who}"),
        None => String::new(),
    };
    let title = format!("Batch {}", import.number);
    let about = format!("{}{by}", when(app, import.taken_at));
    let mut lines = vec![beside::heading(app, &title, &about, area)];
    let mut say = |words: String, style: Style| {
        let wrapped = text::wrap(&words, width).into_iter();
        lines.extend(wrapped.map(|part| Line::from(Span::styled(part, style))));
    };
    if let (Some(other), Some(because)) = (import.takes_back, &import.because) {
        say(
            format!("Takes batch {other} back. Why: {because}"),
            theme.plain(),
        );
    } else {
        say(
            format!("Local times were read in {}.", import.zone),
            theme.faint(),
        );
    }
    if let Some(by) = import.taken_back_in {
        say(format!("Taken back by batch {by}."), theme.strong());
    }
    for (by, rows) in &batch.mended {
        let rows = text::plural(*rows, "refused row was", "refused rows were");
        say(format!("{rows} mended by batch {by}."), theme.plain());
    }
    if batch.open_rows() > 0 {
        let rows = text::plural(batch.open_rows(), "refused row", "refused rows");
        say(format!("{rows} still to mend."), theme.strong());
    }
    let assessed = app.data.as_ref();
    let words = assessed.and_then(|assessed| brought(app)?.words(assessed));
    if let Some(words) = words {
        say(words, theme.plain());
    }
    if let Some(words) = refused(app).and_then(reasons) {
        say(words, theme.plain());
    }
    lines
}

/// A sheet with its counts; with room, also how large it was, how it was read, and so many
/// digits of the hash by which it is known again.
pub(crate) fn sheet_lines(
    app: &App,
    sheet: &ImportedSheet,
    width: usize,
    digits: Option<usize>,
) -> Vec<Line<'static>> {
    let theme = app.theme;
    let counts = [
        (sheet.taken, "new"),
        (sheet.unchanged, "unchanged"),
        (sheet.changed, "changed"),
        (sheet.refused_rows, "rows refused"),
        (sheet.refused_values, "values left out"),
    ];
    let counts: Vec<String> = counts
        .iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| format!("{} {word}", text::count(*count)))
        .collect();
    let counts = match counts.is_empty() {
        true => "no rows".to_owned(),
        false => counts.join(", "),
    };
    let name = text::file_name(&sheet.sheet);
    let mut lines = Vec::new();
    if digits.is_some() {
        lines.push(Line::default());
    }
    let room = width.saturating_sub(text::width(&counts) + 2);
    if text::width(name) <= room {
        lines.push(Line::from(vec![
            Span::styled(text::left(name, room), theme.strong()),
            Span::raw(format!("  {counts}")),
        ]));
    } else {
        lines.push(Line::from(Span::styled(
            text::cut(name, width),
            theme.strong(),
        )));
        lines.push(Line::from(text::cut(&format!("  {counts}"), width)));
    }
    let Some(digits) = digits else {
        return lines;
    };
    let mut say = |words: &str| {
        for part in text::wrap(words, width.saturating_sub(2)) {
            lines.push(Line::from(Span::styled(format!("  {part}"), theme.faint())));
        }
    };
    let mut about = sheet.kind.clone();
    if let Some(bytes) = sheet.bytes {
        about.push_str(&format!(", {}", picker::size(bytes)));
    }
    let read = sheet.how_read.as_deref();
    about.push_str(&format!(
        ", {}",
        read.unwrap_or("text with commas between fields")
    ));
    say(&about);
    if let Some(map) = &sheet.map {
        say(&format!("column map {}", text::cut(map, 16)));
    }
    if let Some(hash) = &sheet.sha256 {
        say(&format!("SHA-256 {}", text::cut(hash, digits)));
    }
    for remark in &sheet.remarks {
        say(remark);
    }
    lines
}

/// Line, column and reason in one line; the sheet too where there are several.
fn refused_line(app: &App, batch: &Batch, refused: &Refused, width: usize) -> Line<'static> {
    let place = if batch.sheets.len() > 1 {
        let name = text::cut(text::file_name(&refused.sheet), 16);
        format!("{name} {}", refused.line)
    } else {
        format!("line {}", refused.line)
    };
    let place = text::left(&place, if batch.sheets.len() > 1 { 22 } else { 10 });
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

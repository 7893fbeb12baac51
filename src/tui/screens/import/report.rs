//! What would come of an import, or what came of it: counts a sheet, then what was refused.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::rows_view;
use super::view::chosen;
use crate::analysis::Tally;
use crate::model::Verdict;
use crate::programme::{ImportReport, SheetReport, VerdictCounts};
use crate::tui::app::App;
use crate::tui::layout;
use crate::tui::screens::refused_list::{self, RefusedList, RefusedRow};
use crate::tui::text;
use crate::tui::widgets::table::{self, Column as TableColumn};

/// More sheets than this are summed up in their last line.
const MOST_SHEETS: usize = 6;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shown {
    Sheet,
    Kind,
    Taken,
    Unchanged,
    Changed,
    Rows,
    Values,
}

const COLUMNS: [TableColumn<Shown>; 7] = [
    TableColumn::new(Shown::Sheet, "sheet", 14, 0).grows(1, 50),
    TableColumn::new(Shown::Kind, "what it holds", 13, 3),
    TableColumn::new(Shown::Taken, "new", 9, 0).right(),
    TableColumn::new(Shown::Unchanged, "unchanged", 9, 1).right(),
    TableColumn::new(Shown::Changed, "changed", 9, 1).right(),
    TableColumn::new(Shown::Rows, "rows refused", 12, 0).right(),
    TableColumn::new(Shown::Values, "values left out", 15, 2).right(),
];

/// The lines above the refusals.
fn head(app: &App, report: &ImportReport, is_done: bool, width: usize) -> Vec<Line<'static>> {
    let theme = app.theme;
    let title = if is_done {
        format!("Taken in as batch {}", report.batch)
    } else {
        "Tried out: nothing is stored yet".to_owned()
    };
    let room = width.saturating_sub(text::width(&title) + 2);
    let mut lines = vec![Line::from(vec![
        Span::styled(title, theme.title()),
        Span::raw("  "),
        Span::styled(text::cut_left(&chosen(app), room), theme.faint()),
    ])];
    let columns = table::fit(&COLUMNS, width, |_| false);
    lines.push(table::headings(&columns, theme, |_| None));
    for sheet in report.sheets.iter().take(MOST_SHEETS) {
        let mut spans = Vec::new();
        for column in &columns {
            let (value, style) = cell(app, sheet, column.0.id);
            spans.extend(table::cell(column, &value, style));
            spans.push(Span::raw(" "));
        }
        lines.push(Line::from(spans));
    }
    let more = report.sheets.len().saturating_sub(MOST_SHEETS);
    if more > 0 {
        let words = format!("and {} more", text::plural(more as u64, "sheet", "sheets"));
        lines.push(Line::from(Span::styled(words, theme.faint())));
    }
    let said = report
        .sheets
        .iter()
        .flat_map(|sheet| &sheet.remarks)
        .take(3);
    for remark in said {
        let parts = text::wrap(&text::sentence(remark), width).into_iter();
        lines.extend(parts.map(|part| Line::from(Span::styled(part, theme.faint()))));
    }
    if let Some(words) = rows_view::left_aside(&report.left_aside) {
        let words = text::wrap(&words, width).into_iter();
        lines.extend(words.map(|part| Line::from(Span::styled(part, theme.strong()))));
    }
    lines.push(Line::default());
    let standing = standing(&report.verdicts, is_done);
    lines.extend(text::wrap(&standing, width).into_iter().map(Line::from));
    lines.push(Line::default());
    lines
}

/// How many draws the programme holds then or now, and how many can't be trusted.
pub(crate) fn standing(verdicts: &VerdictCounts, is_done: bool) -> String {
    let tally = Tally {
        draws: verdicts.total(),
        unrepresentative: verdicts.count(Verdict::Unrepresentative),
        doubtful: verdicts.count(Verdict::Doubtful),
        representative: verdicts.count(Verdict::Representative),
        unproven: verdicts.count(Verdict::Unproven),
    };
    let now = if is_done { "now" } else { "then" };
    let draws = text::plural(tally.draws, "draw", "draws");
    match tally.share().share {
        None if tally.draws == 0 && is_done => {
            "The programme holds no draws yet. Take a table of them in next: Esc, then i."
                .to_owned()
        }
        None if tally.draws == 0 => "The programme then holds no draws yet.".to_owned(),
        None => format!("The programme {now} holds {draws}."),
        share => format!(
            "The programme {now} holds {draws}: {} of {} judged ones unrepresentative, {} unproven.",
            text::percent(share),
            text::count(tally.judged()),
            text::count(tally.unproven)
        ),
    }
}

/// A sheet with its counts, in words.
pub(crate) fn said(sheet: &SheetReport) -> String {
    let counts = [
        (sheet.taken, "new"),
        (sheet.unchanged, "unchanged"),
        (sheet.changed, "changed"),
        (sheet.refused_rows, "rows refused"),
        (sheet.refused_values, "values left out"),
    ];
    let counts = counts.iter().filter(|(count, _)| *count > 0);
    let counts: Vec<String> = counts
        .map(|(count, word)| format!("{} {word}", text::count(*count)))
        .collect();
    let counts = match counts.is_empty() {
        true => "no rows".to_owned(),
        false => counts.join(", "),
    };
    let name = text::file_name(&sheet.sheet);
    let remarks: Vec<String> = sheet.remarks.iter().map(|it| text::sentence(it)).collect();
    format!(
        "{name}, {}: {counts}. {}",
        sheet.kind.as_str(),
        remarks.join(" ")
    )
}

fn cell(app: &App, sheet: &SheetReport, column: Shown) -> (String, Style) {
    let theme = app.theme;
    let count = |number: u64, style: Style| match number {
        0 => (theme.pick("·", ".").to_owned(), theme.faint()),
        some => (text::count(some), style),
    };
    match column {
        Shown::Sheet => (text::file_name(&sheet.sheet).to_owned(), theme.plain()),
        Shown::Kind => (sheet.kind.as_str().to_owned(), theme.faint()),
        Shown::Taken => count(sheet.taken, theme.plain()),
        Shown::Unchanged => count(sheet.unchanged, theme.plain()),
        Shown::Changed => count(sheet.changed, theme.plain()),
        Shown::Rows => count(sheet.refused_rows, theme.warning()),
        Shown::Values => count(sheet.refused_values, theme.strong()),
    }
}

fn area(app: &App, report: &ImportReport) -> Rect {
    let body = layout::body(app.size);
    let width = usize::from(body.width).saturating_sub(1);
    let head = head(app, report, false, width).len() as u16;
    Rect {
        y: body.y + head.min(body.height),
        height: body.height.saturating_sub(head),
        ..body
    }
}

pub(crate) fn list_area(app: &App, report: &ImportReport) -> Rect {
    refused_list::list_area(area(app, report))
}

pub(crate) fn view(app: &App, report: &ImportReport, is_done: bool, frame: &mut Frame<'_>) {
    let body = layout::body(app.size);
    let width = usize::from(body.width).saturating_sub(1);
    let lines = head(app, report, is_done, width);
    frame.render_widget(Paragraph::new(lines), body);
    let all: u64 = report
        .sheets
        .iter()
        .map(|sheet| sheet.refused_rows + sheet.refused_values)
        .sum();
    let shown = report.first_refusals.len() as u64;
    let mut note = String::new();
    if shown < all {
        note = format!("The first {shown} are shown. ");
    }
    if let Some(file) = &report.rejects_file {
        let name = file.file_name().unwrap_or_default().to_string_lossy();
        note.push_str(&format!("All stand in {name} beside the programme."));
    }
    let rows = report.first_refusals.iter();
    let list = RefusedList {
        rows: rows
            .map(|(sheet, refusal)| RefusedRow::from((sheet.as_str(), refusal)))
            .collect(),
        place: app.import.refused,
        focused: true,
        empty: if is_done {
            "nothing was refused"
        } else {
            "nothing would be refused"
        },
        note,
    };
    refused_list::view(app, &list, frame, area(app, report));
}

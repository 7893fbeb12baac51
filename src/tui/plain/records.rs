//! Records in words: what was taken in, what is filled in, what is hard to believe.

use super::findings::ROOMY;
use super::rows::Rows;
use super::told::{Told, WIDE};
use super::voice::{self, labelled};
use super::{sorted, views};
use crate::tui::app::App;
use crate::tui::screens::records::{self, Tab, batch, coverage, doubts, ledger};
use crate::tui::screens::refused_list::RefusedRow;
use crate::tui::text;

pub(super) fn told(app: &App) -> Told {
    let state = &app.screens.records;
    match state.tab {
        Tab::Ledger if state.opened => opened_batch(app),
        Tab::Doubts if state.doubt_opened => opened_doubt(app),
        tab => {
            let mut told = Told::new("Records");
            told.say(&views::sentence(app));
            match tab {
                Tab::Ledger => told.rows = Some(batches(app)),
                Tab::Coverage => columns(app, &mut told),
                Tab::Doubts => hard_to_believe(app, &mut told),
            }
            told
        }
    }
}

fn batches(app: &App) -> Rows {
    let batches = records::ledger(app);
    let cursor = app.screens.records.batches.cursor;
    Rows::of(
        ("batch", "batches, the latest first,"),
        batches.len(),
        cursor,
        ledger::EMPTY,
        |at| {
            let cells = ledger::COLUMNS.map(|column| {
                let (value, _) = ledger::cell(app, &batches[at], column.id);
                (column.title, voice::value(&value))
            });
            labelled(&cells)
        },
    )
}

fn opened_batch(app: &App) -> Told {
    let Some(chosen) = records::chosen(app) else {
        return Told::new("Batch");
    };
    let mut told = Told::new(&format!("Batch {}", chosen.import.number));
    // Nobody listens to sixty-four digits unless they ask for more.
    let about = voice::all_words(&batch::about(app)).into_iter().skip(1);
    told.say_all(about.filter(|words| !words.starts_with("SHA-256")));
    let refused = records::refused(app).unwrap_or_default();
    let cursor = app.screens.records.refused.cursor;
    let noun = ("row or value refused", "rows and values refused");
    told.rows = Some(Rows::of(
        noun,
        refused.len(),
        cursor,
        "nothing was refused",
        |at| refusal(&RefusedRow::from(&refused[at])),
    ));
    told
}

/// A row or value that was refused: where, what stood there, why.
pub(super) fn refusal(refused: &RefusedRow<'_>) -> String {
    let what = if refused.whole_row {
        "row refused"
    } else {
        "value left out"
    };
    let column = match refused.column {
        "" => String::new(),
        column => format!(", {column} \"{}\"", refused.value),
    };
    let sheet = text::file_name(refused.sheet);
    format!(
        "{sheet}, line {}{column}: {what}, {}",
        refused.line, refused.reason
    )
}

/// What can't be told yet, and why.
fn pending(app: &App, told: &mut Told) {
    match &app.examined.failed {
        Some(words) => {
            told.say(&text::sentence(words));
            told.say("r reads the programme again and tries once more.");
        }
        None => told.say("It was stopped; turn to the view again to try once more."),
    }
}

fn columns(app: &App, told: &mut Told) {
    let Some(figures) = coverage::figures(app) else {
        return pending(app, told);
    };
    told.say_all(voice::all_words(&coverage::head(app, usize::from(WIDE))));
    told.say(&sorted::sentence(app));
    let cursor = app.screens.records.columns.cursor;
    let len = coverage::len(app);
    told.rows = Some(Rows::of(
        ("column", "columns"),
        len,
        cursor,
        "no column is asked for",
        |at| {
            let Some(filled) = coverage::filled_at(app, figures, at) else {
                return String::new();
            };
            let cells = coverage::COLUMNS.map(|column| {
                let (value, _) = coverage::cell(app, figures, filled, column.id);
                let title = match column.title {
                    "" => "to be recorded as number",
                    "column" => "",
                    title => title,
                };
                (title, voice::value(&value))
            });
            // The number to be recorded as is said last.
            let (first, rest) = cells.split_at(1);
            labelled(&[rest, first].concat())
        },
    ));
}

fn hard_to_believe(app: &App, told: &mut Told) {
    if doubts::figures(app).is_none() {
        return pending(app, told);
    }
    told.say_all(voice::all_words(&doubts::head(app, usize::from(WIDE))));
    let found = doubts::list_of(app);
    let cursor = app.screens.records.doubts.cursor;
    told.rows = Some(Rows::of(
        ("doubt", "doubts"),
        found.len(),
        cursor,
        "",
        |at| {
            let cells = doubts::COLUMNS.map(|column| {
                let (value, _) = doubts::cell(app, &found[at], column.id);
                let title = if column.title == "worth asking about" {
                    ""
                } else {
                    column.title
                };
                (title, value)
            });
            labelled(&cells)
        },
    ));
}

fn opened_doubt(app: &App) -> Told {
    let Some(chosen) = doubts::chosen(app) else {
        return Told::new("Doubt");
    };
    let mut told = Told::new(chosen.signal.title);
    if let Some(page) = doubts::page(app, ROOMY, false) {
        told.say_all(voice::all_words(&page.lines));
    }
    let examples = &chosen.examples;
    let cursor = app.screens.records.evidence;
    let noun = ("draw of its evidence", "draws of its evidence");
    told.rows = Some(Rows::of(noun, examples.len(), cursor, "", |at| {
        examples[at].1.clone()
    }));
    told
}

pub(super) fn more(app: &App) -> Vec<String> {
    match app.screens.records.tab {
        Tab::Ledger => voice::all_words(&batch::about(app)),
        Tab::Coverage => coverage::figures(app)
            .and_then(|figures| {
                let cursor = app.screens.records.columns.cursor;
                let filled = coverage::filled_at(app, figures, cursor)?;
                let mut lines = vec![coverage::words(figures, filled)];
                lines.extend(coverage::by_group(figures, filled.column));
                Some(lines)
            })
            .unwrap_or_default(),
        Tab::Doubts => doubts::page(app, ROOMY, false)
            .map_or_else(Vec::new, |page| voice::all_words(&page.lines)),
    }
}

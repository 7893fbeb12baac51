//! Batches with what they refused, columns and how much of them is filled, doubts.

use super::super::listing::Listing;
use crate::report::Cell;
use crate::report::doubt_rows::odds;
use crate::report::ledger_rows::{LEDGER, batch};
use crate::tui::app::App;
use crate::tui::screens::records::{Tab, coverage, doubts, ledger, refused};

pub(super) fn of(app: &App) -> Option<Listing<'_>> {
    let state = &app.screens.records;
    match state.tab {
        Tab::Ledger if state.opened => refused_rows(app),
        Tab::Ledger => {
            let zone = app.data.as_ref()?.zone;
            let batches = ledger(app);
            let size = (batches.len(), state.batches.cursor);
            Some(Listing::of_report(LEDGER, size, move |at| {
                batch(&batches[at].row(), zone)
            }))
        }
        Tab::Coverage => columns(app),
        Tab::Doubts => doubt_list(app),
    }
}

fn refused_rows(app: &App) -> Option<Listing<'_>> {
    let rows = refused(app)?;
    let size = (rows.len(), app.screens.records.refused.cursor);
    let headings = ["sheet", "line", "column", "value", "refused", "reason"];
    Some(Listing::new(&headings, size, move |at| {
        let row = &rows[at];
        vec![
            Cell::text(&row.sheet),
            Cell::Count(row.line),
            Cell::text(&row.column),
            Cell::text(&row.value),
            Cell::text(if row.whole_row { "row" } else { "value" }),
            Cell::text(&row.reason),
        ]
    }))
}

fn columns(app: &App) -> Option<Listing<'_>> {
    let figures = coverage::figures(app)?;
    let size = (coverage::len(app), app.screens.records.columns.cursor);
    let headings = [
        "column",
        "sheet",
        "asked for",
        "filled",
        "part",
        "settles",
        "if kept",
    ];
    Some(Listing::new(&headings, size, move |at| {
        let Some(filled) = coverage::filled_at(app, figures, at) else {
            return Vec::new();
        };
        vec![
            Cell::text(filled.column.as_str()),
            Cell::text(filled.column.sheet().as_str()),
            Cell::Count(filled.asked),
            Cell::Count(filled.filled),
            Cell::part(filled.share()),
            Cell::Count(filled.settles.whatever),
            Cell::Count(filled.settles.if_kept),
        ]
    }))
}

fn doubt_list(app: &App) -> Option<Listing<'_>> {
    let assessed = app.data.as_ref()?;
    let list = doubts::list_of(app);
    let size = (list.len(), app.screens.records.doubts.cursor);
    let headings = [
        "doubt", "about", "column", "counted", "of", "usual", "chance", "in words",
    ];
    Some(Listing::new(&headings, size, move |at| {
        let doubt = &list[at];
        vec![
            Cell::text(doubt.signal.title),
            Cell::text(doubt.about.name(assessed)),
            doubt.column.map_or(Cell::Blank, Cell::text),
            Cell::Count(doubt.events),
            Cell::Count(doubt.of),
            Cell::Rounded(doubt.expected, 1),
            Cell::text(odds(doubt.adjusted)),
            Cell::text(doubt.says()),
        ]
    }))
}

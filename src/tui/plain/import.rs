//! Taking a table in, in words: choose it, hear how it is read and what would be stored, take
//! it in or leave it.

use super::findings::ROOMY;
use super::records::refusal;
use super::rows::Rows;
use super::told::Told;
use super::{views, voice};
use crate::programme::ImportReport;
use crate::tui::app::App;
use crate::tui::screens::import::map_rows::MapRow;
use crate::tui::screens::import::picker::{self, Row};
use crate::tui::screens::import::{Stage, Tab, map_view, report, rows_view, view};
use crate::tui::screens::refused_list::RefusedRow;
use crate::tui::text;

pub(super) fn told(app: &App) -> Told {
    match &app.import.stage {
        Stage::Choosing => choosing(app),
        Stage::Looking | Stage::Trying | Stage::Taking => busy(app),
        Stage::Looked => looked(app),
        Stage::Tried(found) => what_came(app, found, false),
        Stage::Done(found) => what_came(app, found, true),
        Stage::Failed(words) => {
            let mut told = Told::new("Not taken in");
            told.say(&view::chosen(app));
            told.say(&text::sentence(words));
            told.say("Nothing was changed. back goes on.");
            told
        }
    }
}

fn busy(app: &App) -> Told {
    let mut told = Told::new("Under way");
    told.say(&view::chosen(app));
    told
}

fn choosing(app: &App) -> Told {
    let picker = &app.import.picker;
    let mut told = Told::new("Taking in, choosing a table");
    told.say(&picker::about(app));
    told.say(
        "Say the number of a row to choose it, or a name or path to narrow the list; .back leaves.",
    );
    let folder = match picker.line.text() {
        "" => "the present folder",
        text => text,
    };
    told.say(&format!("In {folder}"));
    if let Some(Err(words)) = picker.entries().map(AsRef::as_ref) {
        told.say(&text::sentence(words));
    }
    let rows = picker.rows();
    let empty = "nothing here is called that; .clear begins anew";
    told.rows = Some(Rows::of(
        ("thing", "things"),
        rows.len(),
        picker.list.cursor,
        empty,
        |at| row(rows[at]),
    ));
    told
}

/// What lies in a folder.
pub(crate) fn row(row: Row<'_>) -> String {
    match row {
        Row::Up => "to the folder above".to_owned(),
        Row::All(count, of) => format!("{} together", picker::all_here(count, of)),
        Row::Entry(entry) => {
            let size = match entry.what {
                crate::programme::folder::What::Folder => String::new(),
                _ => format!(", {}", picker::size(entry.bytes)),
            };
            format!("{}, {}{size}", entry.name, entry.what.as_str())
        }
    }
}

fn looked(app: &App) -> Told {
    let mut told = Told::new("Taking in, looked at");
    told.say(&view::chosen(app));
    told.say(&rows_view::counted(app));
    told.say_all(rows_view::left_aside(&app.import.looked.left_aside));
    told.say(&views::sentence(app));
    told.say_all(app.import.looked.problems.iter().cloned());
    told.rows = Some(match app.import.tab {
        Tab::Map => map(app),
        Tab::Rows => values(app),
        Tab::Refused => refused(app),
    });
    told
}

/// The rows of the map without its titles, and the place of the chosen one among them.
fn map(app: &App) -> Rows {
    let rows = map_view::rows(app);
    let chosen = rows.iter().take(app.import.map.cursor);
    let chosen = chosen.filter(|row| !map_view::is_title(row)).count();
    let own: Vec<&MapRow> = rows.iter().filter(|row| !map_view::is_title(row)).collect();
    Rows::of(
        ("row of the map", "rows of the map"),
        own.len(),
        chosen,
        "",
        |at| map_view::said(app, own[at]),
    )
}

/// A column of ours a row, with its first values as they would be stored.
fn values(app: &App) -> Rows {
    let preview = rows_view::shown(app);
    let columns = preview.map_or(&[][..], |preview| &preview.columns);
    let rows = preview.map_or(&[][..], |preview| &preview.rows);
    let empty = "none of its columns is taken";
    let cursor = app.import.columns.cursor;
    Rows::of(("column", "columns"), columns.len(), cursor, empty, |at| {
        let column = &columns[at];
        let unit = match column.unit {
            "" => String::new(),
            unit => format!(" ({unit})"),
        };
        let cells = rows
            .iter()
            .take(5)
            .map(|row| match row.cells.get(at).map(String::as_str) {
                None | Some("") => "blank".to_owned(),
                Some(cell) => rows_view::brief(cell),
            });
        let cells: Vec<String> = cells.collect();
        format!("{}{unit}: {}", column.ours, cells.join("; "))
    })
}

fn refused(app: &App) -> Rows {
    let preview = rows_view::shown(app);
    let refusals = preview.map_or(&[][..], |preview| &preview.refusals);
    let sheet = preview.map_or("", |preview| preview.sheet.as_str());
    let cursor = app.import.refused.cursor;
    let noun = ("row or value to refuse", "rows and values to refuse");
    Rows::of(
        noun,
        refusals.len(),
        cursor,
        "nothing would be refused",
        |at| refusal(&RefusedRow::from((sheet, &refusals[at]))),
    )
}

fn what_came(app: &App, found: &ImportReport, is_done: bool) -> Told {
    let mut told = Told::new(if is_done { "Taken in" } else { "Tried out" });
    for sheet in &found.sheets {
        told.say(&report::said(sheet));
    }
    told.say_all(rows_view::left_aside(&found.left_aside));
    told.say(&report::standing(&found.verdicts, is_done));
    told.say(if is_done {
        "back goes to the ledger."
    } else {
        "Nothing is stored yet: take it in stores it, back leaves it."
    });
    let refusals = &found.first_refusals;
    let empty = if is_done {
        "nothing was refused"
    } else {
        "nothing would be refused"
    };
    let noun = ("row or value refused", "rows and values refused");
    told.rows = Some(Rows::of(
        noun,
        refusals.len(),
        app.import.refused.cursor,
        empty,
        |at| {
            let (sheet, refused) = &refusals[at];
            refusal(&RefusedRow::from((sheet.as_str(), refused)))
        },
    ));
    told
}

pub(super) fn more(app: &App) -> Vec<String> {
    match app.import.stage {
        Stage::Looked if app.import.tab == Tab::Map => {
            voice::all_words(&map_view::detail_lines(app, ROOMY))
        }
        _ => Vec::new(),
    }
}

//! What to sample again, in words: most urgent first, and what to do differently.

use super::findings::ROOMY;
use super::rows::Rows;
use super::sorted;
use super::told::Told;
use super::voice::{self, labelled, without_glyph};
use crate::tui::app::App;
use crate::tui::screens::resample::{self, beside, view};

pub(super) fn told(app: &App) -> Told {
    if app.screens.resample.opened
        && let (Some(found), Some(assessed)) = (resample::chosen(app), &app.data)
    {
        let point = &assessed.points[found.point];
        let mut told = Told::new(&format!("Compartment {}", point.compartment));
        told.say_all(said(app));
        return told;
    }
    let mut told = Told::new("Resample");
    if resample::figures(app).is_none() {
        return told;
    }
    if let Some((count, about)) = view::counts(app) {
        told.say(&format!("{count} {about}."));
        told.say_all(view::days_left_out(app));
    }
    told.say(&sorted::sentence(app));
    let lines = resample::lines(app);
    let cursor = app.screens.resample.list.cursor;
    let empty = view::empty(app);
    told.rows = Some(Rows::of(
        ("compartment", "compartments"),
        lines.len(),
        cursor,
        empty,
        |at| {
            let cells = view::COLUMNS.map(|column| {
                let (value, _) = view::cell(app, lines[at], column.id);
                match column.title {
                    "compartment" => ("", value),
                    "why" => ("", without_glyph(&value)),
                    title => (title, value),
                }
            });
            labelled(&cells)
        },
    ));
    told
}

/// The chosen compartment: why it is to be sampled again, where, how, and what to write down.
fn said(app: &App) -> Vec<String> {
    let Some(found) = resample::chosen(app) else {
        return Vec::new();
    };
    let (why, _) = view::because(app, found);
    let mut lines = vec![format!("Why: {}.", without_glyph(&why))];
    let written = beside::lines(app, found, ROOMY);
    lines.extend(voice::all_words(&written).into_iter().skip(1));
    lines
}

pub(super) fn more(app: &App) -> Vec<String> {
    said(app)
}

//! The list of draws, and the rules of an opened one.

use super::super::listing::Listing;
use super::super::texts::MOST_ROWS;
use crate::analysis::row_score;
use crate::model::{Method, Phrase, time};
use crate::report::Cell;
use crate::rules;
use crate::tui::app::{App, Place};
use crate::tui::screens::draws::opened::rules_in_order;

pub(super) fn list(app: &App) -> Option<Listing<'_>> {
    let assessed = app.data.as_ref()?;
    let judged = &assessed.judged;
    let headings = [
        "verdict",
        "drawn",
        "point",
        "technician",
        "name",
        "method",
        "site",
        "bottle",
        "score",
        "broken",
        "draw",
    ];
    let size = (app.list_len(), app.screens.draws.list.cursor);
    Some(Listing::new(&headings, size, move |at| {
        let Some(row) = app.row_at(at) else {
            return Vec::new();
        };
        let (record, row) = (app.records.get(&row), row as usize);
        let point = &assessed.points[judged.point[row] as usize];
        let technician = &assessed.technicians[judged.technician[row] as usize];
        let words = |text: &'_ Option<String>| Cell::text(text.clone().unwrap_or_default());
        vec![
            Cell::Verdict(judged.verdict[row]),
            Cell::text(time::local_text(judged.drawn_at[row], assessed.zone)),
            Cell::text(&point.id),
            Cell::text(&technician.id),
            words(&technician.name),
            Cell::text(Method::from_index(judged.method[row]).map_or("", Method::as_str)),
            words(&point.site),
            Cell::text(record.map_or("", |record| record.bottle_id.as_str())),
            Cell::score(row_score(assessed, row).score),
            Cell::List(
                judged.broken[row]
                    .iter()
                    .map(|place| rules::cards()[place].id)
                    .collect(),
            ),
            Cell::text(record.map_or_else(String::new, |record| record.identity())),
        ]
    }))
}

/// The rows of the list that would be copied and whose records are not known.
pub(in super::super) fn missing_records(app: &App) -> Vec<u32> {
    if app.place != Place::Draws {
        return Vec::new();
    }
    (0..app.list_len().min(MOST_ROWS))
        .filter_map(|at| app.row_at(at))
        .filter(|row| !app.records.contains_key(row))
        .collect()
}

pub(super) fn rules_of_opened(app: &App) -> Option<Listing<'_>> {
    let opened = app.opened_draw()?;
    let places = rules_in_order(opened);
    let size = (places.len(), app.screens.draws.rule);
    let headings = ["rule", "outcome", "seen", "wanted", "weight"];
    Some(Listing::new(&headings, size, move |at| {
        let place = places[at];
        let answer = &opened.explained.answers[place];
        let said = |phrase: Phrase| match phrase {
            Phrase::Nothing => Cell::Blank,
            said => Cell::text(said.to_string()),
        };
        vec![
            Cell::text(rules::cards()[place].id),
            Cell::text(answer.outcome.as_str()),
            said(answer.seen),
            said(answer.wanted),
            Cell::Count(opened.explained.weights[place].into()),
        ]
    }))
}

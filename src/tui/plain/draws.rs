//! The list of draws in words.

use super::rows::{PAGE, Rows};
use super::sorted;
use super::told::Told;
use super::voice::labelled;
use crate::analysis::row_score;
use crate::model::{Method, time};
use crate::rules;
use crate::tui::app::App;
use crate::tui::effect::{Effect, Fetch};
use crate::tui::text;

pub(super) fn told(app: &App) -> Told {
    let mut told = Told::new("Draws");
    told.say(&sorted::sentence(app));
    let cursor = app.screens.draws.list.cursor;
    let empty = "no draws pass the filter; x takes its last term away";
    told.rows = Some(Rows::of(
        ("draw", "draws"),
        app.list_len(),
        cursor,
        empty,
        |at| {
            app.row_at(at)
                .map_or_else(String::new, |row| draw(app, row))
        },
    ));
    told
}

/// A draw in one sentence: verdict, when, where, by whom, what is broken.
fn draw(app: &App, row: u32) -> String {
    let Some(assessed) = &app.data else {
        return String::new();
    };
    let (judged, at) = (&assessed.judged, row as usize);
    let point = &assessed.points[judged.point[at] as usize];
    let technician = &assessed.technicians[judged.technician[at] as usize];
    let method = Method::from_index(judged.method[at]);
    let broken: Vec<&str> = judged.broken[at]
        .iter()
        .map(|it| rules::cards()[it].id)
        .collect();
    let score = row_score(assessed, at).score;
    let bottle = app.records.get(&row).map(|record| record.bottle_id.clone());
    let docket = app.figures.docket.as_ref();
    let is_aside = docket.is_some_and(|docket| docket.set_aside.contains(&row));
    let person = technician.name.as_ref().unwrap_or(&technician.id);
    labelled(&[
        ("", judged.verdict[at].as_str().to_owned()),
        (
            "",
            if is_aside { "result set aside" } else { "" }.to_owned(),
        ),
        ("", time::local_text(judged.drawn_at[at], assessed.zone)),
        ("point", point.id.clone()),
        ("by", person.clone()),
        (
            "",
            method.map_or_else(String::new, |method| method.as_str().to_owned()),
        ),
        ("site", point.site.clone().unwrap_or_default()),
        ("bottle", bottle.unwrap_or_default()),
        (
            "score",
            score.map_or_else(String::new, |score| text::score(Some(score))),
        ),
        ("broken rules", broken.join(", ")),
    ])
}

/// Asks for the records of the rows that are said, where they are not known yet.
pub(super) fn lacking(app: &App) -> Option<Effect> {
    let from = app.screens.draws.list.cursor / PAGE * PAGE;
    let rows = (from..from + PAGE).filter_map(|at| app.row_at(at));
    let missing: Vec<u32> = rows.filter(|row| !app.records.contains_key(row)).collect();
    let is_asked = !missing.is_empty() && !app.unreadable;
    is_asked.then_some(Effect::Fetch(Fetch::Records(missing)))
}

/// The chosen draw: why it has its verdict, and what to do next time.
pub(super) fn more(app: &App) -> Vec<String> {
    super::opened::told(app).whole()
}

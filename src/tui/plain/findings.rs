//! Findings and picks in words: what was found, answered, closed; what is to be verified.

use ratatui::layout::Rect;

use super::rows::Rows;
use super::told::{Told, WIDE};
use super::voice::{self, labelled, without_glyph};
use super::{sorted, views};
use crate::analysis::picks::Pick;
use crate::tui::app::App;
use crate::tui::screens::findings::{self, Tab, finding, list, pick, view};

/// Where nothing is cut.
pub(super) const ROOMY: Rect = Rect {
    x: 0,
    y: 0,
    width: WIDE,
    height: WIDE,
};

pub(super) fn told(app: &App) -> Told {
    let state = &app.screens.findings;
    match (state.tab, state.opened) {
        (Tab::Findings, true) => opened_finding(app),
        (Tab::Picks, true) => opened_pick(app),
        (Tab::Findings, false) => {
            let mut told = of_all(app);
            told.rows = Some(all_findings(app));
            told
        }
        (Tab::Picks, false) => {
            let mut told = of_all(app);
            told.rows = Some(all_picks(app));
            told
        }
    }
}

fn of_all(app: &App) -> Told {
    let mut told = Told::new("Findings");
    told.say(&format!("{}.", view::counts(app).trim_end_matches('.')));
    told.say(&views::sentence(app));
    told.say(&sorted::sentence(app));
    told
}

fn all_findings(app: &App) -> Rows {
    let found = findings::findings(app);
    let cursor = app.screens.findings.findings.cursor;
    Rows::of(
        ("finding", "findings"),
        found.len(),
        cursor,
        list::NO_FINDING,
        |at| {
            let cells = list::COLUMNS.map(|column| {
                let (value, _) = list::cell(app, found[at], column.id);
                let title = if matches!(column.title, "no." | "state") {
                    ""
                } else {
                    column.title
                };
                (
                    title,
                    if column.title == "state" {
                        without_glyph(&value)
                    } else {
                        value
                    },
                )
            });
            labelled(&cells)
        },
    )
}

fn all_picks(app: &App) -> Rows {
    let picks = findings::picks(app);
    let cursor = app.screens.findings.picks.cursor;
    Rows::of(
        ("pick", "picks"),
        picks.len(),
        cursor,
        list::NO_PICK,
        |at| {
            let cells = list::PICK_COLUMNS.map(|column| {
                let (value, _) = list::pick_cell(app, picks[at], column.id);
                (column.title, value)
            });
            labelled(&cells)
        },
    )
}

fn opened_finding(app: &App) -> Told {
    let Some(chosen) = findings::chosen_finding(app) else {
        return Told::new("Finding");
    };
    let mut told = Told::new(&format!("Finding F-{}", chosen.number()));
    let (state, _) = list::state_words(app, chosen);
    told.say(&format!(
        "It is {}, {}.",
        without_glyph(&state),
        chosen.raised.grade
    ));
    let lines = finding::lines(app, chosen, ROOMY);
    told.say_all(voice::all_words(&lines).into_iter().skip(1));
    told
}

fn opened_pick(app: &App) -> Told {
    let Some(chosen) = findings::chosen_pick(app) else {
        return Told::new("Pick");
    };
    let mut told = Told::new(&format!("Pick {}", chosen.drawn.pick));
    told.say_all(head(app, chosen));
    told.rows = Some(draws(app, chosen));
    told
}

fn head(app: &App, pick: &Pick) -> Vec<String> {
    let entered = format!("{} of {} entered.", pick.entered(), pick.drawn.draws.len());
    let lines = pick::head(app, pick, usize::from(WIDE));
    let mut said = vec![entered];
    said.extend(voice::all_words(&lines).into_iter().skip(1));
    said
}

fn draws(app: &App, chosen: &Pick) -> Rows {
    let draws = &chosen.drawn.draws;
    let cursor = app.screens.findings.draws.cursor;
    Rows::of(("draw", "draws"), draws.len(), cursor, "", |at| {
        let result = chosen.results[at].as_ref().map(|(_, verified)| verified);
        let cells = pick::COLUMNS.map(|column| {
            let (value, _) = pick::cell(app, &draws[at], result, column.id);
            let is_marked = matches!(column.title, "record says" | "found");
            let value = voice::value(&value);
            let value = if is_marked {
                without_glyph(&value)
            } else {
                value
            };
            let title = if column.title == "draw" {
                ""
            } else {
                column.title
            };
            (title, value)
        });
        let open = if result.is_none() {
            ", nothing entered"
        } else {
            ""
        };
        format!("{}{open}", labelled(&cells))
    })
}

pub(super) fn more(app: &App) -> Vec<String> {
    let state = &app.screens.findings;
    match (state.tab, state.opened) {
        (Tab::Findings, _) => opened_finding(app).whole(),
        (Tab::Picks, false) => findings::chosen_pick(app).map_or_else(Vec::new, |it| head(app, it)),
        (Tab::Picks, true) => {
            let chosen = findings::chosen_pick(app).map(|pick| draws(app, pick));
            let row = chosen.and_then(|draws| draws.chosen_row());
            let on = "open goes to the draws of its point on that day".to_owned();
            row.into_iter().chain([on]).collect()
        }
    }
}

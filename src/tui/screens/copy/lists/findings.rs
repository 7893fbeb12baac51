//! Findings with their evidence, picks with their draws.

use super::super::listing::Listing;
use crate::analysis::picks::{Pick, outcome};
use crate::model::time::local_text;
use crate::report::Cell;
use crate::report::finding_rows::{EVIDENCE, FINDINGS, evidence, finding};
use crate::report::pick_rows::{PICKS, pick};
use crate::tui::app::App;
use crate::tui::screens::findings::{self, Tab, chosen_finding, chosen_pick, findings, picks};

pub(super) fn of(app: &App) -> Option<Listing<'_>> {
    let state = &app.screens.findings;
    match (state.tab, state.opened) {
        (Tab::Findings, false) => {
            let today = app.figures.docket.as_ref()?.today;
            let lines = findings(app);
            let size = (lines.len(), state.findings.cursor);
            Some(Listing::of_report(FINDINGS, size, move |at| {
                finding(lines[at], today)
            }))
        }
        (Tab::Findings, true) => evidence_of(app),
        (Tab::Picks, false) => {
            let zone = app.data.as_ref()?.zone;
            let lines = picks(app);
            let size = (lines.len(), state.picks.cursor);
            Some(Listing::of_report(PICKS, size, move |at| {
                let counts = outcome(lines[at], confidence(lines[at])).counts;
                pick(lines[at], &counts, zone)
            }))
        }
        (Tab::Picks, true) => draws_of_pick(app),
    }
}

/// As [`outcome`] wants it, a part of one.
fn confidence(pick: &Pick) -> f64 {
    pick.drawn.plan.confidence().parse().unwrap_or(0.95)
}

fn evidence_of(app: &App) -> Option<Listing<'_>> {
    let zone = app.data.as_ref()?.zone;
    let seen = &chosen_finding(app)?.raised.evidence;
    let now = findings::evidence(app).map_or(&[][..], |evidence| &evidence.now);
    Some(Listing::of_report(EVIDENCE, (seen.len(), 0), move |at| {
        let now = now.get(at).map_or("", |now| now.words());
        evidence(&seen[at], now, zone)
    }))
}

fn draws_of_pick(app: &App) -> Option<Listing<'_>> {
    let zone = app.data.as_ref()?.zone;
    let chosen = chosen_pick(app)?;
    let draws = &chosen.drawn.draws;
    let size = (draws.len(), app.screens.findings.draws.cursor);
    let headings = [
        "draw",
        "drawn",
        "point",
        "technician",
        "verdict",
        "result",
        "note",
    ];
    Some(Listing::new(&headings, size, move |at| {
        let seen = &draws[at];
        let known = chosen.results.get(at).and_then(Option::as_ref);
        let (result, note) = known.map_or(("", ""), |(_, verified)| {
            (verified.result.as_str(), verified.note.as_str())
        });
        vec![
            Cell::text(&seen.draw),
            Cell::text(local_text(seen.drawn_at, zone)),
            Cell::text(&seen.point),
            Cell::text(&seen.technician),
            Cell::text(&seen.verdict),
            Cell::text(result),
            Cell::text(note),
        ]
    }))
}

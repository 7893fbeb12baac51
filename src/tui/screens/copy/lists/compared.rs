//! The lists of people and of points: shares, and observed against expected where it is known.

use super::super::listing::Listing;
use crate::analysis::{Share, Tally};
use crate::report::Cell;
use crate::tui::app::App;
use crate::tui::screens::against::{Against, Fit, fit};
use crate::tui::screens::{people, points};
use crate::tui::subject::Subject;

/// The columns that both have, behind their own.
const FIGURES: [&str; 12] = [
    "draws",
    "judged",
    "unrepresentative",
    "share",
    "from",
    "to",
    "least",
    "most",
    "expected",
    "difference",
    "odds",
    "odds from-to",
];

fn headings(own: &[&'static str]) -> Vec<&'static str> {
    own.iter().copied().chain(FIGURES).collect()
}

pub(super) fn people(app: &App) -> Option<Listing<'_>> {
    app.figures.people.as_ref()?;
    let lines = people::lines(app);
    let size = (lines.len(), app.screens.people.list.cursor);
    let is_crews = app.screens.people.crews;
    let own: &[&'static str] = match is_crews {
        true => &["crew"],
        false => &["technician", "name", "crew"],
    };
    Some(Listing::new(&headings(own), size, move |at| {
        let person = lines[at];
        let mut cells = match is_crews {
            true => vec![Cell::text(&person.name)],
            false => vec![
                Cell::text(&person.id),
                Cell::text(&person.name),
                Cell::text(&person.crew),
            ],
        };
        cells.extend(figures(app, &person.subject, &person.tally, &person.share));
        cells
    }))
}

pub(super) fn points(app: &App) -> Option<Listing<'_>> {
    let assessed = app.data.as_ref()?;
    app.figures.points.as_ref()?;
    let lines = points::lines(app);
    let size = (lines.len(), app.screens.points.list.cursor);
    let own = ["point", "site", "machine", "compartment"];
    Some(Listing::new(&headings(&own), size, move |at| {
        let line = lines[at];
        let mut cells = vec![
            Cell::text(&line.id),
            Cell::text(&line.site),
            Cell::text(&line.machine),
            Cell::text(&assessed.points[line.place as usize].compartment),
        ];
        cells.extend(figures(app, &line.subject, &line.tally, &line.share));
        cells
    }))
}

fn figures(app: &App, subject: &Subject, tally: &Tally, share: &Share) -> Vec<Cell<'static>> {
    let mut cells = vec![
        Cell::Count(tally.draws),
        Cell::Count(tally.judged()),
        Cell::Count(tally.unrepresentative),
        Cell::part(share.share),
        Cell::part(share.low),
        Cell::part(share.high),
        Cell::part(share.least),
        Cell::part(share.most),
    ];
    let against = match (fit(app), &app.data) {
        (Fit::There(attribution), Some(assessed)) => Against::of(assessed, attribution, subject),
        _ => None,
    };
    let unit = against.and_then(|against| against.unit);
    cells.extend([
        against.map_or(Cell::Blank, |it| Cell::Rounded(it.expected, 1)),
        against.map_or(Cell::Blank, |it| Cell::Rounded(it.difference(), 1)),
        unit.map_or(Cell::Blank, |it| Cell::Rounded(it.odds_ratio, 2)),
        unit.map_or(Cell::Blank, |it| {
            Cell::text(format!("{:.2}-{:.2}", it.low, it.high))
        }),
    ]);
    cells
}

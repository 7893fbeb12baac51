//! What to sample again.

use super::super::listing::Listing;
use crate::report::resample_rows::{RESAMPLES, Row};
use crate::tui::app::App;
use crate::tui::screens::resample::{figures, lines};

pub(super) fn of(app: &App) -> Option<Listing<'_>> {
    let assessed = app.data.as_ref()?;
    let figures = figures(app)?;
    let found = &figures.to_resample;
    let lines = lines(app);
    let size = (lines.len(), app.screens.resample.list.cursor);
    Some(Listing::of_report(RESAMPLES, size, move |at| {
        let line = lines[at];
        let row = Row {
            assessed,
            found: line,
            latest: found.latest(line),
            trusted: line
                .last_trusted
                .and_then(|row| found.identities.get(&row))
                .map(String::as_str),
            set_aside: (found.set_aside.get(&line.row))
                .map(|set| (set.decided.who.as_str(), set.decided.because.as_str())),
            facts: &figures.facts[line.point],
        };
        row.cells()
    }))
}

//! The four lists of the Share screen.

use super::super::listing::Listing;
use crate::model::Verdict;
use crate::report::Cell;
use crate::report::trend_rows::{TREND, trend};
use crate::tui::app::App;
use crate::tui::screens::share::{Section, Wait, len, resamples_due};
use crate::tui::widgets::verdict_bar::count_of;

pub(super) fn of(app: &App) -> Option<Listing<'_>> {
    let (_, figures) = app.figures.share.as_ref()?;
    let state = &app.screens.share;
    let section = state.section;
    let size = (len(app, section), state.list(section).cursor);
    Some(match section {
        Section::Verdicts => Listing::new(&["verdict", "draws", "part"], size, |at| {
            let verdict = Verdict::ALL[at];
            let count = count_of(&figures.tally, verdict);
            let all = figures.tally.draws;
            vec![
                Cell::Verdict(verdict),
                Cell::Count(count),
                Cell::part((all > 0).then(|| count as f64 / all as f64)),
            ]
        }),
        Section::Rules => Listing::new(
            &[
                "rule",
                "applies",
                "broken",
                "unrecorded",
                "unrepresentative",
                "regains alone",
            ],
            size,
            |at| {
                let cost = &figures.rules(state.rules_by)[at];
                vec![
                    Cell::text(cost.id()),
                    Cell::Count(cost.draws),
                    Cell::Count(cost.broken),
                    Cell::Count(cost.unrecorded),
                    Cell::Count(cost.unrepresentative),
                    Cell::Count(cost.regained),
                ]
            },
        ),
        Section::Months => {
            let shown = figures.trend(state.every)?;
            let chart = shown.chart.map(|chart| (chart.centre, chart.widened));
            Listing::of_report(TREND, size, move |at| trend(&shown.periods[at], chart))
        }
        Section::Waiting => Listing::new(&["waiting for", "draws"], size, |at| {
            vec![
                Cell::text(Wait::ALL[at].text()),
                match Wait::ALL[at] {
                    Wait::ResamplesDue => resamples_due(app).map_or(Cell::Blank, Cell::Count),
                    _ => Cell::Count(figures.waiting[at]),
                },
            ]
        }),
    })
}

//! The share period by period, with the control chart that fits and its signals.
//!
//! A p chart takes draws as independent. Whether they are is tested first (Σz² against
//! chi-square): where shares vary more from period to period than chance, Laney's p-prime
//! widens the limits; see [`control`]. Since it also swallows real trouble, the limits of
//! the plain chart are kept beside.
//!
//! Chi-square is an approximation that wants counts: the test is left out where more than
//! one period in five expects fewer than five draws of either sort (W. G. Cochran,
//! Biometrics 10 (1954) 417–451; from memory), and the plain chart stays.

use super::order::in_order;
use super::periods::Periods;
use super::share::tally_of;
use super::{Assessed, Every, Selection, Share, Tally};
use crate::stats::control::{self, Chart, Dispersion, Side, dispersion, p_chart, p_prime_chart};

/// Shares vary more than chance when the test of dispersion gives less than this.
pub const P_OF_DISPERSION: f64 = 0.05;

/// With fewer expected unrepresentative draws than this a period's limits mean little.
pub const FEWEST_EXPECTED: f64 = 5.0;

/// A span of more periods than this (a hundred years of months) is the work of a mistyped
/// year, and no one reads through its empty periods.
pub const MOST_WITH_EMPTY_ONES: usize = 1200;

/// The share over time.
#[derive(Clone, Debug, PartialEq)]
pub struct Trend {
    /// Every period from the first to the last of the selected draws, also those without,
    /// unless there would be more than [`MOST_WITH_EMPTY_ONES`].
    pub periods: Vec<Period>,
    /// The chart, none if no draw is judged.
    pub chart: Option<Kind>,
}

/// Which chart the limits are of, and why.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kind {
    /// The share over all periods together.
    pub centre: f64,
    /// What the limits were widened by: 1 on a p chart, above 1 on a p-prime chart.
    pub widened: f64,
    /// The test that decided; none where nothing can vary or too few draws are judged.
    pub dispersion: Option<Dispersion>,
}

/// One week, month, quarter or year.
#[derive(Clone, Debug, PartialEq)]
pub struct Period {
    /// `2026-W10`, `2026-03`, `2026-Q1` or `2026`.
    pub key: String,
    /// The counts of its draws; all 0 in a period without draws.
    pub tally: Tally,
    /// The share of its draws, with interval and bounds.
    pub share: Share,
    /// Its place on the chart; none if no draw of it is judged.
    pub point: Option<Point>,
}

/// A period's place on the chart. Shares 0..=1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Lower limit.
    pub low: f64,
    /// Upper limit.
    pub high: f64,
    /// Lower limit of the plain p chart.
    pub plain_low: f64,
    /// Upper limit of the plain p chart.
    pub plain_high: f64,
    /// The signal, if any.
    pub signal: Option<Signal>,
    /// Too few draws for limits: fewer than [`FEWEST_EXPECTED`] unrepresentative draws
    /// expected.
    pub is_small: bool,
}

/// What a chart says of a period.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Signal {
    /// The share lies beyond a limit.
    Outside(Side),
    /// The eighth or a later period in a row on one side of the centre.
    Run(Side),
}

impl Signal {
    /// The signal in words.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Signal::Outside(Side::Above) => "above the limit",
            Signal::Outside(Side::Below) => "below the limit",
            Signal::Run(Side::Above) => "eight or more in a row above the centre",
            Signal::Run(Side::Below) => "eight or more in a row below the centre",
        }
    }
}

impl Kind {
    /// Whether the limits were widened by Laney's method.
    #[must_use]
    pub fn is_widened(&self) -> bool {
        self.widened > 1.0
    }

    /// The chart in one or two sentences.
    #[must_use]
    pub fn words(&self) -> String {
        let centre = 100.0 * self.centre;
        if self.is_widened() {
            format!(
                "p-prime chart (Laney): centre {centre:.1} %; the shares vary more from one \
                 period to the next than chance, so the limits are widened {:.2}-fold. That \
                 can hide a real event: look at the periods outside the plain limits too",
                self.widened
            )
        } else {
            let vary = match self.dispersion {
                None => "too few draws to test whether the shares vary more than chance",
                Some(test) if test.p < P_OF_DISPERSION => {
                    "the shares vary more than chance over the whole, but not from one period \
                     to the next"
                }
                Some(_) => "the shares vary no more than chance could",
            };
            format!("p chart: centre {centre:.1} %, limits at three standard deviations; {vary}")
        }
    }
}

/// The share over time. Limits are those of a p chart, or of a p-prime chart where the test
/// of dispersion gives less than [`P_OF_DISPERSION`] and the limits grow by it.
#[must_use]
pub fn trend(assessed: &Assessed, selection: &Selection, every: Every) -> Trend {
    let (names, tallies) = by_period(assessed, selection, every);
    let counts: Vec<control::Period> = tallies
        .iter()
        .map(|tally| control::Period {
            events: tally.unrepresentative,
            trials: tally.judged(),
        })
        .collect();
    let plain = p_chart(&counts, None);
    let dispersion = (plain.as_ref())
        .filter(|chart| can_be_tested(&counts, chart.centre))
        .and_then(dispersion);
    let varies = dispersion.is_some_and(|test| test.p < P_OF_DISPERSION);
    let widened = (varies.then(|| p_prime_chart(&counts, None)).flatten())
        .filter(|chart| chart.widened > 1.0);
    let used = widened.as_ref().or(plain.as_ref());
    let periods = names
        .into_iter()
        .zip(tallies)
        .enumerate()
        .map(|(place, (key, tally))| Period {
            key,
            tally,
            share: tally.share(),
            point: plain
                .as_ref()
                .zip(used)
                .and_then(|(plain, used)| point(plain, used, place, tally.judged())),
        });
    Trend {
        periods: periods.collect(),
        chart: used.map(|chart| Kind {
            centre: chart.centre,
            widened: chart.widened,
            dispersion,
        }),
    }
}

/// Whether at most one period in five expects fewer than [`FEWEST_EXPECTED`] draws of
/// either sort.
fn can_be_tested(counts: &[control::Period], centre: f64) -> bool {
    let rarer = centre.min(1.0 - centre);
    let judged = counts.iter().filter(|period| period.trials > 0);
    let small = (judged.clone())
        .filter(|period| period.trials as f64 * rarer < FEWEST_EXPECTED)
        .count();
    5 * small <= judged.count()
}

fn point(plain: &Chart, used: &Chart, place: usize, judged: u64) -> Option<Point> {
    let (plain, point) = (plain.points[place]?, used.points[place]?);
    Some(Point {
        low: point.low,
        high: point.high,
        plain_low: plain.low,
        plain_high: plain.high,
        signal: (point.outside.map(Signal::Outside)).or(point.run.map(Signal::Run)),
        is_small: judged as f64 * used.centre < FEWEST_EXPECTED,
    })
}

/// The names of all periods and the counts of their draws.
fn by_period(
    assessed: &Assessed,
    selection: &Selection,
    every: Every,
) -> (Vec<String>, Vec<Tally>) {
    let drawn_at = |row: u32| assessed.judged.drawn_at[row as usize];
    let rows = in_order(selection);
    let (Some(&first), Some(&last)) = (rows.first(), rows.last()) else {
        return (Vec::new(), Vec::new());
    };
    let mut rest = &rows[..];
    let mut periods: Vec<(String, Tally)> =
        Periods::between(drawn_at(first), drawn_at(last), every, assessed.zone)
            .each_with_end()
            .map(|(name, end)| {
                let (piece, later) =
                    rest.split_at(rest.partition_point(|&row| drawn_at(row) < end));
                rest = later;
                (name, tally_of(assessed, piece))
            })
            .collect();
    if periods.len() > MOST_WITH_EMPTY_ONES {
        periods.retain(|(_, tally)| tally.draws > 0);
    }
    periods.into_iter().unzip()
}

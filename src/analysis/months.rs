//! The share month by month, with control limits.

use super::breakdown::by_month;
use super::{Assessed, Selection, Share, Tally};
use crate::model::time::month_text;
use crate::stats::control::{Period, p_chart};

/// One month of a programme.
#[derive(Clone, Debug, PartialEq)]
pub struct Month {
    /// The month as `2026-03`.
    pub key: String,
    /// The counts of its draws; all 0 in a month without draws.
    pub tally: Tally,
    /// The share of its draws, with interval and bounds.
    pub share: Share,
    /// The control limits of its share; none if no draw of it is judged.
    pub limits: Option<Limits>,
}

/// Limits of a p chart: where the share of a month would lie if all months were alike.
///
/// They take draws as independent. Draws of one shift or one batch of bottles are alike,
/// and then more months fall outside than chance would say.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// The share over all months together.
    pub centre: f64,
    /// Three standard deviations below, not below 0.
    pub low: f64,
    /// Three standard deviations above, not above 1.
    pub high: f64,
}

impl Limits {
    /// Whether a share lies strictly outside.
    #[must_use]
    pub fn are_passed_by(&self, share: f64) -> bool {
        share < self.low || share > self.high
    }
}

impl Month {
    /// Whether the share of this month lies outside its limits.
    #[must_use]
    pub fn stands_out(&self) -> bool {
        match (self.limits, self.share.share) {
            (Some(limits), Some(share)) => limits.are_passed_by(share),
            _ => false,
        }
    }
}

/// Every month from the first to the last of the selected draws, also those without draws,
/// so that a line of them keeps its distances.
#[must_use]
pub fn months(assessed: &Assessed, selection: &Selection) -> Vec<Month> {
    let tallies = by_month(assessed, selection);
    let periods: Vec<Period> = tallies
        .iter()
        .map(|(_, tally)| Period {
            events: tally.unrepresentative,
            trials: tally.judged(),
        })
        .collect();
    let chart = p_chart(&periods, None);
    let limits = |place: usize| {
        let chart = chart.as_ref()?;
        let point = chart.points[place]?;
        Some(Limits {
            centre: chart.centre,
            low: point.low,
            high: point.high,
        })
    };
    let months = tallies.into_iter().enumerate();
    months
        .map(|(place, (month, tally))| Month {
            key: month_text(month),
            tally,
            share: tally.share(),
            limits: limits(place),
        })
        .collect()
}

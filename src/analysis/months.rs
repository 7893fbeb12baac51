//! The share month by month, with control limits.

use super::{Assessed, Every, Selection, Share, Tally, trend};

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

/// Where the share of a month would lie if all months were alike: the limits of the
/// chart that [`trend`](super::trend()) chose, wider where shares vary more than chance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// The share over all months together.
    pub centre: f64,
    /// The lower limit, not below 0.
    pub low: f64,
    /// The upper limit, not above 1.
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
    let line = trend(assessed, selection, Every::Month);
    let centre = line.chart.map(|chart| chart.centre);
    let months = line.periods.into_iter();
    months
        .map(|month| Month {
            key: month.key,
            tally: month.tally,
            share: month.share,
            limits: centre.zip(month.point).map(|(centre, point)| Limits {
                centre,
                low: point.low,
                high: point.high,
            }),
        })
        .collect()
}

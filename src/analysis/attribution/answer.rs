//! What telling people and points apart says.

use super::{Adjust, Caution, Side};
use crate::stats::crossed::Coefficient;
use crate::stats::funnel::Limits;
use crate::stats::wilson::Z_95;

/// Units with fewer judged draws get an interval and no verdict: below some twenty draws
/// chance alone reaches from none to half (common practice, no source).
pub const FEW_DRAWS: u64 = 20;

/// The model's answer over the judged draws of a selection.
#[derive(Clone, Debug, PartialEq)]
pub struct Attribution {
    /// Judged draws the model was fitted to.
    pub draws: u64,
    /// Unrepresentative ones among them.
    pub unrepresentative: u64,
    /// Draws of the selection that are unproven and so took no part.
    pub unproven: u64,
    /// The log odds of an unrepresentative draw for an average technician at an average
    /// point, at the reference level of every adjustment.
    pub intercept: Coefficient,
    /// −2 times the log-likelihood by Laplace's approximation, of draws one by one.
    pub deviance: f64,
    /// What was adjusted for, with the reference level; none if all draws share one level.
    pub references: Vec<(Adjust, Option<String>)>,
    /// The levels adjusted for, against their reference.
    pub adjusted: Vec<Adjusted>,
    /// Levels and combinations of levels left out because no draw of them, or every one, is
    /// unrepresentative.
    pub left_out: Vec<LeftOut>,
    /// Levels without an effect of their own, since they follow from what else is adjusted
    /// for.
    pub follows: Vec<(Adjust, String)>,
    /// What goes with people.
    pub technicians: Part,
    /// What goes with points.
    pub points: Part,
    /// Parts of the programme that never meet, the one with most draws first. One if all
    /// hang together.
    pub islands: Vec<Island>,
    /// What to know before believing the numbers.
    pub cautions: Vec<Caution>,
}

/// One factor: people or points.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Standard deviation of its units on the log-odds scale; exactly 0 if they differ by
    /// no more than chance and the rest of the model explain.
    pub sigma: f64,
    /// Standard error of `sigma`; none at 0.
    pub sigma_se: Option<f64>,
    /// Of two units picked at random, how much higher the odds of the worse are,
    /// typically; at least 1.
    pub median_odds_ratio: f64,
    /// Its share of the variance of the log odds, 0..1.
    pub variance_share: f64,
    /// p of no difference between its units.
    pub p: f64,
    /// Its units with draws in the model, in the order of the programme's list.
    pub units: Vec<Unit>,
}

/// A technician or a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    /// Place in the programme's list.
    pub place: u32,
    /// Judged draws in the model.
    pub draws: u64,
    /// Unrepresentative ones.
    pub unrepresentative: u64,
    /// Unrepresentative ones expected if this were an average technician serving the same
    /// points (an average point served by the same technicians), all else alike.
    pub expected: f64,
    /// Effect on the log-odds scale, shrunk towards 0 as far as draws are few.
    pub effect: f64,
    /// Its conditional standard deviation.
    pub effect_se: f64,
    /// Odds of an unrepresentative draw against an average unit.
    pub odds_ratio: f64,
    /// Lower end of the 95 % interval of the odds ratio.
    pub low: f64,
    /// Upper end of the 95 % interval of the odds ratio.
    pub high: f64,
    /// Twice the probability, given the data, that the effect lies on the other side of 0.
    pub p: f64,
    /// `p` adjusted for looking at all units (Benjamini and Hochberg).
    pub q: f64,
    /// Draws at points that others serve too (of a point: by technicians who serve others
    /// too). Only those can tell person and point apart.
    pub shared: u64,
    /// The place of its island in [`Attribution::islands`].
    pub island: usize,
}

/// A level of what was adjusted for, against the reference level.
#[derive(Clone, Debug, PartialEq)]
pub struct Adjusted {
    /// What was adjusted for.
    pub adjust: Adjust,
    /// The level; `(blank)` for a blank.
    pub level: String,
    /// Judged draws of it.
    pub draws: u64,
    /// Unrepresentative ones.
    pub unrepresentative: u64,
    /// Its effect on the log-odds scale.
    pub effect: Coefficient,
}

/// A level or a combination of levels that has no finite effect: none or all of its draws
/// are unrepresentative.
#[derive(Clone, Debug, PartialEq)]
pub struct LeftOut {
    /// What was adjusted for.
    pub adjust: Adjust,
    /// The level; `(blank)` for a blank. Of a combination, the other levels in words behind.
    pub level: String,
    /// Judged draws left out with it.
    pub draws: u64,
    /// Unrepresentative ones: none or all.
    pub unrepresentative: u64,
    /// Lower end of the exact 95 % interval of its share.
    pub low: f64,
    /// Upper end of the exact 95 % interval of its share.
    pub high: f64,
}

/// Technicians and points that meet each other, and no others, through any chain of draws.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Island {
    /// Places of its technicians in the programme's list.
    pub technicians: Vec<u32>,
    /// Places of its points in the programme's list.
    pub points: Vec<u32>,
    /// Judged draws.
    pub draws: u64,
}

impl Attribution {
    /// People or points.
    #[must_use]
    pub fn part(&self, side: Side) -> &Part {
        match side {
            Side::Technicians => &self.technicians,
            Side::Points => &self.points,
        }
    }

    /// The share of unrepresentative draws among those in the model.
    #[must_use]
    pub fn share(&self) -> f64 {
        self.unrepresentative as f64 / self.draws as f64
    }

    /// The share of the variance of the log odds that goes with neither people nor points.
    #[must_use]
    pub fn neither(&self) -> f64 {
        1.0 - self.technicians.variance_share - self.points.variance_share
    }

    /// What was adjusted for.
    #[must_use]
    pub fn is_adjusted_for(&self, adjust: Adjust) -> bool {
        self.references.iter().any(|(other, _)| *other == adjust)
    }
}

impl Adjusted {
    /// Odds of an unrepresentative draw against the reference level, with the 95 % interval:
    /// (ratio, low, high).
    #[must_use]
    pub fn odds_ratio(&self) -> (f64, f64, f64) {
        let at = |z: f64| libm::exp(self.effect.value + z * self.effect.se);
        (at(0.0), at(-Z_95), at(Z_95))
    }
}

impl Part {
    /// The unit at this place of the programme's list; none without draws in the model.
    #[must_use]
    pub fn unit(&self, place: u32) -> Option<&Unit> {
        let found = self.units.binary_search_by_key(&place, |unit| unit.place);
        found.ok().map(|found| &self.units[found])
    }

    /// Whether its units differ more than chance and the rest explain (p at most 0.05).
    #[must_use]
    pub fn differs(&self) -> bool {
        self.sigma > 0.0 && self.p <= 0.05
    }
}

impl Unit {
    /// Its share of unrepresentative draws.
    #[must_use]
    pub fn share(&self) -> f64 {
        self.unrepresentative as f64 / self.draws as f64
    }

    /// Unrepresentative draws beyond those expected; negative if fewer.
    #[must_use]
    pub fn excess(&self) -> f64 {
        self.unrepresentative as f64 - self.expected
    }

    /// Whether its draws are too few for more than an interval.
    #[must_use]
    pub fn is_few(&self) -> bool {
        self.draws < FEW_DRAWS
    }

    /// Whether it differs from the average after allowing for looking at all units (q at
    /// most 0.05) and has draws enough to say so.
    #[must_use]
    pub fn stands_out(&self) -> bool {
        !self.is_few() && self.q <= 0.05
    }

    /// Exact limits of chance around the share expected of it: the model's funnel. Its
    /// draws have unequal chances; limits that take them as equal are if anything too wide
    /// (W. Hoeffding, Annals of Mathematical Statistics 27 (1956) 713–721). None where
    /// nothing or everything is expected.
    #[must_use]
    pub fn limits_around_expected(&self) -> Option<Limits> {
        Limits::at(self.expected / self.draws as f64, self.draws)
    }
}

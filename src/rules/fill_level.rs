//! The bottle filled to the agreed part.
//!
//! The laboratory must shake the bottle to bring particles back into the oil; a full one
//! cannot be shaken. Too little oil does not suffice for the tests.

use serde::{Deserialize, Serialize};

use super::parameter::Parameter;
use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner, Phrase, Unit};
use crate::physics::limits;

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "fill-level",
    class: Class::Sample,
    weight: 8,
    decisive: false,
    owner: Owner::Technician,
    kinds: &[Kind::Circulating, Kind::Sump, Kind::Tank],
    parameters: &[
        Parameter::number(
            "min_pct",
            Unit::Percent,
            0.0,
            100.0,
            "least filled part of the bottle",
        )
        .not_above("max_pct"),
        Parameter::number(
            "max_pct",
            Unit::Percent,
            0.0,
            100.0,
            "greatest filled part of the bottle",
        ),
    ],
    only_where: "",
    asks: "Was the bottle filled far enough for the tests, with room left to shake it?",
    judged: "Met from min_pct to max_pct, both included, else broken. Unrecorded if the fill is \
             blank.",
    why: "Particles sink in the bottle on its way. The laboratory brings them back by shaking, \
          which needs air above the oil. A bottle full to the neck cannot be shaken, and one \
          filled by a third does not last for all tests.",
    next_time: "Stop at the shoulder of the bottle, about three quarters. If it ran too full, \
                do not pour off, since the particles stay in the rest: take a new bottle. Write \
                down about how full it is.",
    caution: "Open the valve only as far as you can follow: hot oil running over scalds and \
              makes the floor slippery.",
    source: "Half to three quarters, at most 80 %: trade press and common practice. The US Army \
             (TB 43-0211, 12-5) and Navy fill to 13 mm below the top instead: the sources \
             conflict. Insulating liquids for gas tests are filled without air (IEC 60567; \
             the standard itself was not consulted): switch the rule off for them.",
};

/// The rule with its parameters.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FillLevel {
    /// Least filled part of the bottle in %.
    pub min_pct: f64,
    /// Greatest filled part of the bottle in %.
    pub max_pct: f64,
}

impl Default for FillLevel {
    fn default() -> Self {
        FillLevel {
            min_pct: 50.0,
            max_pct: 80.0,
        }
    }
}

impl Rule for FillLevel {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let wanted = Phrase::Between(self.min_pct, self.max_pct, Unit::Percent);
        match situation.draw.fill_pct.get() {
            None => Answer::unrecorded(Phrase::Blank, wanted),
            Some(fill) => Answer::met_if(
                limits::at_least(fill, self.min_pct) && limits::at_most(fill, self.max_pct),
                Phrase::Amount(fill, Unit::Percent),
                wanted,
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Number;
    use crate::model::Outcome::{Broken, Met, Unrecorded};
    use crate::rules::testing::Case;

    #[test]
    fn both_ends_of_the_band_are_met() {
        let mut case = Case::of(Kind::Tank);
        for (fill, outcome) in [
            (Some(50.0), Met),
            (Some(50.0 - 4e-8), Met),
            (Some(50.0 - 6e-8), Broken),
            (Some(80.0), Met),
            (Some(80.0 + 7e-8), Met),
            (Some(80.0 + 9e-8), Broken),
            (Some(0.0), Broken),
            (Some(100.0), Broken),
            (None, Unrecorded),
        ] {
            case.draw.fill_pct = Number::from(fill);
            assert_eq!(case.outcome(&FillLevel::default()), outcome, "{fill:?}");
        }
    }
}

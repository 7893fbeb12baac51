//! The outside of the point cleaned before it was opened.
//!
//! What sits on the valve or around the filler falls into the first oil that runs. A few
//! grains of it spoil a particle count.

use serde::{Deserialize, Serialize};

use super::confirmed::confirmed;
use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner};

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "point-cleaned",
    class: Class::Sample,
    weight: 8,
    decisive: false,
    owner: Owner::Technician,
    kinds: Kind::ALL,
    parameters: &[],
    only_where: "",
    asks: "Was the outside of the sample point wiped clean before it was opened?",
    judged: "Yes is met, no is broken, a blank is unrecorded.",
    why: "Dust and paint on a valve or around a dipstick tube fall straight into the bottle. \
           The laboratory then finds silicon and dirt that were never in the machine, and \
           somebody orders an oil change for nothing.",
    next_time: "Before you open anything, wipe the fitting, its cap and the skin around it with a \
           lint-free cloth, with solvent only where the site allows it. Then open, flush, fill, \
           and put the cap back so that it stays clean until next time.",
    caution: "Wipe only what is still or guarded; a cloth near a coupling or belt pulls the hand \
           in. Hot pipes burn. Solvents burn and harm: use only those the site permits.",
    source: "US Navy NAVEDTRA 14315 (ch. 8) and the US joint-service oil analysis manual ask for \
           it.",
};

/// The rule; it has no parameters.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PointCleaned {}

impl Rule for PointCleaned {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        confirmed(situation.draw.point_cleaned)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Outcome;
    use crate::rules::testing::Case;

    #[test]
    fn yes_is_met_no_is_broken_and_a_blank_proves_nothing() {
        let mut case = Case::of(Kind::Sump);
        for (recorded, outcome) in [
            (Some(true), Outcome::Met),
            (Some(false), Outcome::Broken),
            (None, Outcome::Unrecorded),
        ] {
            case.draw.point_cleaned = recorded;
            assert_eq!(case.outcome(&PointCleaned::default()), outcome);
        }
    }
}

//! A new tube for each bottle drawn with a pump.
//!
//! A used tube carries the last machine's oil into this one's bottle. No rinsing gets it
//! out of a few metres of narrow plastic.

use serde::{Deserialize, Serialize};

use super::confirmed::confirmed;
use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Method, Owner};

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "fresh-tube",
    class: Class::Sample,
    weight: 10,
    decisive: false,
    owner: Owner::Technician,
    kinds: Kind::ALL,
    parameters: &[],
    only_where: "the draw's method is tube-pump",
    asks: "Was a new tube used for this bottle?",
    judged: "Yes is met, no is broken, a blank is unrecorded.",
    why: "The wall of a used tube holds a film of the last oil. A trace of another product, or \
           of a machine with bad bearings, is enough to show up in this bottle as wear or as \
           the wrong additive.",
    next_time: "Carry tube on the roll, cut a new length for each bottle, keep it sealed until you \
           use it, and throw it away afterwards. Write down that it was new.",
    caution: "Used tube drips hot oil: collect it, do not coil it over your arm. Keep the tube \
           away from everything that turns, and never suck at it with the mouth.",
    source: "US Army TB 43-0211 (7-1g) and the US joint-service oil analysis manual: one tube, \
           one bottle.",
};

/// The rule; it has no parameters.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FreshTube {}

impl Rule for FreshTube {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        if situation.draw.method != Some(Method::TubePump) {
            return Answer::NOT_APPLICABLE;
        }
        confirmed(situation.draw.tube_new)
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
        case.draw.method = Some(Method::TubePump);
        for (recorded, outcome) in [
            (Some(true), Outcome::Met),
            (Some(false), Outcome::Broken),
            (None, Outcome::Unrecorded),
        ] {
            case.draw.tube_new = recorded;
            assert_eq!(case.outcome(&FreshTube::default()), outcome);
        }
    }

    #[test]
    fn other_methods_need_no_tube() {
        let mut case = Case::of(Kind::Tank);
        case.draw.tube_new = Some(false);
        for method in [None, Some(Method::Thief), Some(Method::LineValve)] {
            case.draw.method = method;
            assert_eq!(case.outcome(&FreshTube::default()), Outcome::NotApplicable);
        }
    }
}

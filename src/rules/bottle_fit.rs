//! A clean, dry bottle of the right kind.
//!
//! Everything the bottle held before is in the sample. Decisive, since nothing later can
//! tell the bottle's dirt from the machine's.

use serde::{Deserialize, Serialize};

use super::confirmed::confirmed;
use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner};

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "bottle-fit",
    class: Class::Sample,
    weight: 12,
    decisive: true,
    owner: Owner::Technician,
    kinds: Kind::ALL,
    parameters: &[],
    only_where: "",
    asks: "Was the bottle clean, dry, undamaged and of the kind the test asks for?",
    judged: "Yes is met, no is broken, a blank is unrecorded.",
    why: "A particle count can be no better than the bottle it was taken in. A rinsed drink \
           bottle, a wet jar or one that stood open in the workshop can put in more dirt than \
           the machine does.",
    next_time: "Use only bottles that came closed from the supplier or the laboratory, open them at \
           the point, and leave out any that are cracked, wet or already open. If you have none \
           left, do not draw; ask for bottles.",
    caution: "Glass breaks and cuts; use it near machinery only where the site allows it. Keep \
           sample bottles out of anything people drink from, and mark them.",
    source: "Clean bottle, verified to ISO 3722: ISO 4021:1992, 3.1. A bottle should add at most \
           a tenth of the count you look for: proposal after US Navy NAVEDTRA 14315.",
};

/// The rule; it has no parameters.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BottleFit {}

impl Rule for BottleFit {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        confirmed(situation.draw.bottle_ok)
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
            case.draw.bottle_ok = recorded;
            assert_eq!(case.outcome(&BottleFit::default()), outcome);
        }
    }
}

//! The bottle closed as soon as it was full.
//!
//! An open bottle collects the air of the room: dust, spray, and water where it is humid.

use serde::{Deserialize, Serialize};

use super::confirmed::confirmed;
use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner};

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "capped-at-once",
    class: Class::Sample,
    weight: 6,
    decisive: false,
    owner: Owner::Technician,
    kinds: Kind::ALL,
    parameters: &[],
    only_where: "",
    asks: "Was the bottle closed at once when it was filled?",
    judged: "Yes is met, no is broken, a blank is unrecorded.",
    why: "An open bottle collects dust, spray and moisture for as long as it stands. In a \
           dusty hall a few minutes can be enough to show in a particle count.",
    next_time: "Open the bottle when the oil is already running clean, hold the cap with its inside \
           down and away from your fingers, fill, close, and only then reach for the valve, the \
           cloth or the label.",
    caution: "Set the bottle where it cannot tip before you let go of it: spilled hot oil scalds \
           and makes floors slippery.",
    source: "US joint-service oil analysis manual, US Navy NAVEDTRA 14115. No source gives a \
           time; that a few minutes matter is common practice, no source.",
};

/// The rule; it has no parameters.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CappedAtOnce {}

impl Rule for CappedAtOnce {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        confirmed(situation.draw.capped_at_once)
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
            case.draw.capped_at_once = recorded;
            assert_eq!(case.outcome(&CappedAtOnce::default()), outcome);
        }
    }
}

//! One bottle number, one draw.
//!
//! Two draws with one number have one result between them, and nobody can say whose it is;
//! so the rule is broken on each of them.

use serde::{Deserialize, Serialize};

use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner, Phrase};

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "bottle-unique",
    class: Class::Record,
    weight: 10,
    decisive: false,
    owner: Owner::Desk,
    kinds: Kind::ALL,
    parameters: &[],
    only_where: "",
    asks: "Does the bottle's number stand on this draw alone?",
    judged: "Broken if another draw of the programme bears the same bottle_id, on each of them; \
             else met. Unrecorded if the bottle_id is blank.",
    why: "A result comes back under the bottle's number. If two draws bear it, one machine may \
          be judged by another's oil.",
    next_time: "Use printed numbers, one a bottle, and copy them character by character or by \
                scanner. When a number turns up twice, find out from the two technicians which \
                is right before any result is filed.",
    caution: "",
    source: "Common practice, no source. ISO/IEC 17025:2017, 7.4, which deals with samples that \
             can be told apart, was not consulted itself.",
};

/// The rule; it has no parameters.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BottleUnique {}

impl Rule for BottleUnique {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let wanted = Phrase::Bearers(1);
        if situation.draw.bottle.is_none() {
            return Answer::unrecorded(Phrase::Text("bottle_id blank"), wanted);
        }
        let bearers = situation.bottle_bearers.max(1);
        Answer::met_if(bearers == 1, Phrase::Bearers(bearers), wanted)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Outcome::{Broken, Met, Unrecorded};
    use crate::model::Texts;
    use crate::rules::testing::Case;

    #[test]
    fn a_number_borne_twice_is_broken() {
        let mut case = Case::of(Kind::Grease);
        assert_eq!(case.outcome(&BottleUnique::default()), Unrecorded);
        case.draw.bottle = Texts::default().intern("B-1");
        for (bearers, outcome) in [(1, Met), (2, Broken), (40, Broken)] {
            case.bottle_bearers = bearers;
            assert_eq!(case.outcome(&BottleUnique::default()), outcome);
        }
    }
}

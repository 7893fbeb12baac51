//! The bottle looked at, and what was seen written down.
//!
//! The eye is the first laboratory: water, milk, sediment and metal show at once, and only
//! at the machine can a second bottle still be taken.

use serde::{Deserialize, Serialize};

use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner, Phrase};

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "looked-at",
    class: Class::Sample,
    weight: 4,
    decisive: false,
    owner: Owner::Technician,
    kinds: &[Kind::Circulating, Kind::Sump, Kind::Tank],
    parameters: &[],
    only_where: "",
    asks: "Was the filled bottle looked at, and was it written down what was seen?",
    judged: "Met if anything is recorded, clear included; a blank is unrecorded.",
    why: "Water, milk, sediment and glittering metal can be seen on the spot, days before any \
          result. Seen in time, they call for a second bottle while you are still at the \
          machine; seen in the laboratory, they only call for a second journey.",
    next_time: "Hold the closed bottle against the light, let bubbles rise, turn it once and \
                look at the bottom. Write what you saw: clear, cloudy, emulsified, sediment, \
                metal or water. Clear counts too; a blank tells nobody anything.",
    caution: "Look at the closed bottle only, and let hot glass cool before you lift it to your \
              eyes.",
    source: "US Army TM 1-1520-238-23 (step 8) and US Navy NAVEDTRA 14115 ask for a look at each \
             sample.",
};

/// The rule; it has no parameters.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LookedAt {}

impl Rule for LookedAt {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let wanted = Phrase::Text("what was seen in the bottle");
        let looks = situation.draw.looks;
        if looks.is_blank() {
            Answer::unrecorded(Phrase::Blank, wanted)
        } else {
            Answer::met(Phrase::Looks(looks), wanted)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Outcome::{Met, Unrecorded};
    use crate::model::{Look, Looks};
    use crate::rules::testing::Case;

    #[test]
    fn any_look_is_met_and_a_blank_proves_nothing() {
        let mut case = Case::of(Kind::Tank);
        assert_eq!(case.outcome(&LookedAt::default()), Unrecorded);
        for look in Look::ALL {
            case.draw.looks = Looks::NONE.with(*look);
            assert_eq!(case.outcome(&LookedAt::default()), Met);
        }
    }
}

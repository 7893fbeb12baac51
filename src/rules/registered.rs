//! The draw registered with the laboratory.
//!
//! A bottle that arrives unannounced waits in a tray, or is booked under the wrong machine.

use serde::{Deserialize, Serialize};

use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner, Phrase};

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "registered",
    class: Class::Record,
    weight: 6,
    decisive: false,
    owner: Owner::Desk,
    kinds: Kind::ALL,
    parameters: &[],
    only_where: "",
    asks: "Was the draw registered with the laboratory?",
    judged: "Met if the time of registration is recorded; a blank is unrecorded.",
    why: "An unregistered bottle cannot be told from the next one. It waits until someone asks, \
          and by then the machine has run on.",
    next_time: "Register the bottles before the box leaves the house, and keep the time. If the \
                list and the box do not agree, look for the missing one the same day.",
    caution: "",
    source: "Common practice, no source. ISO/IEC 17025:2017, 7.4, which deals with the receipt of \
             items, was not consulted itself.",
};

/// The rule; it has no parameters.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Registered {}

impl Rule for Registered {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let wanted = Phrase::Text("the time of registration");
        if situation.draw.registered_at.is_blank() {
            Answer::unrecorded(Phrase::Blank, wanted)
        } else {
            Answer::met(Phrase::Text("registered"), wanted)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Moment;
    use crate::model::Outcome::{Met, Unrecorded};
    use crate::rules::testing::{Case, NOON};

    #[test]
    fn any_time_of_registration_is_met() {
        let mut case = Case::of(Kind::Tank);
        assert_eq!(case.outcome(&Registered::default()), Unrecorded);
        case.draw.registered_at = Moment::new(NOON - 99);
        assert_eq!(case.outcome(&Registered::default()), Met);
    }
}

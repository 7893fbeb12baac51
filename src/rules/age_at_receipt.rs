//! The bottle with the laboratory soon after it was filled.
//!
//! A matter of the record, not of the sample: sending in time is judged apart, and the
//! carrier is not in the hands of those who draw.

use serde::{Deserialize, Serialize};

use super::parameter::Parameter;
use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner, Phrase, Unit};
use crate::physics::limits;

const SECONDS_OF_DAY: f64 = 86_400.0;

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "age-at-receipt",
    class: Class::Record,
    weight: 6,
    decisive: false,
    owner: Owner::Dispatch,
    kinds: Kind::ALL,
    parameters: &[Parameter::number(
        "max_days",
        Unit::Day,
        0.0,
        365.0,
        "longest time from draw to receipt, days of 24 h",
    )],
    only_where: "",
    asks: "Did the bottle reach the laboratory soon enough after it was filled?",
    judged: "Met if the bottle arrived within max_days of the draw, else broken. Unrecorded if \
             the arrival is blank or lies before the draw.",
    why: "After some weeks a sample no longer stands for the machine, which has run on with other \
          oil and other wear. A late result warns of what has already happened.",
    next_time: "Choose a carrier that collects often, send from where the bottles are drawn, and \
                follow up any bottle that has not arrived within the week.",
    caution: "",
    source: "One week as a reasonable ceiling, weeks later no longer representative: trade press. \
             No standard behind it was found.",
};

/// The rule with its parameters.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AgeAtReceipt {
    /// Longest time from draw to receipt in days of 24 hours.
    pub max_days: f64,
}

impl Default for AgeAtReceipt {
    fn default() -> Self {
        AgeAtReceipt { max_days: 7.0 }
    }
}

impl Rule for AgeAtReceipt {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let draw = situation.draw;
        let wanted = Phrase::AtMost(self.max_days, Unit::Day);
        match draw.received_at.get().map(|at| at - draw.drawn_at) {
            None => Answer::unrecorded(Phrase::Blank, wanted),
            Some(age) if age < 0 => {
                Answer::unrecorded(Phrase::Text("received before it was drawn"), wanted)
            }
            Some(age) => Answer::met_if(
                limits::at_most(age as f64, self.max_days * SECONDS_OF_DAY),
                Phrase::Elapsed(age, Unit::Day),
                wanted,
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Moment;
    use crate::model::Outcome::{Broken, Met, Unrecorded};
    use crate::rules::testing::{Case, HOUR, NOON};

    #[test]
    fn a_week_to_the_second_is_met() {
        let mut case = Case::of(Kind::Grease);
        for (after, outcome) in [
            (Some(7 * 24 * HOUR), Met),
            (Some(7 * 24 * HOUR + 1), Broken),
            (Some(0), Met),
            (Some(-1), Unrecorded),
            (None, Unrecorded),
        ] {
            case.draw.received_at = Moment::from(after.map(|after| NOON + after));
            assert_eq!(case.outcome(&AgeAtReceipt::default()), outcome, "{after:?}");
        }
    }
}

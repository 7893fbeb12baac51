//! The bottle sent soon after it was filled.
//!
//! A bottle that waits on a shelf for a full box ages, and its result comes too late to
//! act on. Where the sending was not recorded, an arrival within the limit proves it.

use serde::{Deserialize, Serialize};

use super::parameter::Parameter;
use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner, Phrase, Unit};
use crate::physics::limits;

const SECONDS_OF_HOUR: f64 = 3600.0;

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "age-at-dispatch",
    class: Class::Sample,
    weight: 8,
    decisive: false,
    owner: Owner::Dispatch,
    kinds: Kind::ALL,
    parameters: &[Parameter::number(
        "max_h",
        Unit::Hour,
        0.0,
        8760.0,
        "longest time from draw to sending",
    )],
    only_where: "",
    asks: "Was the bottle sent off soon enough after it was filled?",
    judged: "Met if the bottle was sent within max_h of the draw, else broken. If the sending is \
             blank, an arrival within max_h is met and anything else unrecorded. A time before \
             the draw is unrecorded, since the record is wrong (times-in-order says so).",
    why: "Water separates, particles cake together and the oil goes on changing in the bottle. \
          A sample that waits for a full box arrives old, and a bearing may have failed \
          before its warning was read.",
    next_time: "Send bottles the day they are drawn, in a small box if need be. Do not wait \
                until the carton is full, keep them out of sun and frost meanwhile, and \
                write down when they left.",
    caution: "",
    source: "The same day: US Army TB 43-0211 (7-2d), and not to wait for a full box (12-21). \
             The default of 48 h is a proposal of ours, since weekends lie between.",
};

/// The rule with its parameters.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AgeAtDispatch {
    /// Longest time from draw to sending in hours.
    pub max_h: f64,
}

impl Default for AgeAtDispatch {
    fn default() -> Self {
        AgeAtDispatch { max_h: 48.0 }
    }
}

impl Rule for AgeAtDispatch {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let draw = situation.draw;
        let wanted = Phrase::AtMost(self.max_h, Unit::Hour);
        if let Some(sent) = draw.dispatched_at.get() {
            let age = sent - draw.drawn_at;
            if age < 0 {
                return Answer::unrecorded(Phrase::Text("sent before it was drawn"), wanted);
            }
            return Answer::met_if(self.in_time(age), Phrase::Elapsed(age, Unit::Hour), wanted);
        }
        match draw.received_at.get().map(|at| at - draw.drawn_at) {
            None => Answer::unrecorded(Phrase::Blank, wanted),
            Some(age) if age < 0 => {
                Answer::unrecorded(Phrase::Text("arrived before it was drawn"), wanted)
            }
            Some(age) if self.in_time(age) => Answer::met(Phrase::ArrivedAfter(age), wanted),
            Some(age) => Answer::unrecorded(Phrase::ArrivedAfter(age), wanted),
        }
    }
}

impl AgeAtDispatch {
    fn in_time(&self, seconds: i64) -> bool {
        limits::at_most(seconds as f64, self.max_h * SECONDS_OF_HOUR)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Moment;
    use crate::model::Outcome::{Broken, Met, Unrecorded};
    use crate::rules::testing::{Case, HOUR, NOON};

    #[test]
    fn sending_decides_and_an_early_arrival_stands_in_for_it() {
        let mut case = Case::of(Kind::Grease);
        let limit = 48 * HOUR;
        for (sent, arrived, outcome) in [
            (Some(limit), None, Met),
            (Some(limit + 1), None, Broken),
            (Some(0), None, Met),
            (Some(-1), Some(1), Unrecorded),
            (None, Some(limit), Met),
            (None, Some(limit + 1), Unrecorded),
            (None, Some(0), Met),
            (None, Some(-1), Unrecorded),
            (None, None, Unrecorded),
        ] {
            case.draw.dispatched_at = Moment::from(sent.map(|after| NOON + after));
            case.draw.received_at = Moment::from(arrived.map(|after| NOON + after));
            let answer = case.judge(&AgeAtDispatch::default());
            assert_eq!(answer.outcome, outcome, "{sent:?} {arrived:?}");
        }
    }
}

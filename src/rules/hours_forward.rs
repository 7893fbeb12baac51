//! The hour counter runs forward.
//!
//! Only the previous draw is looked at. A counter that was replaced, a figure without its
//! last digit and a record under the wrong machine all show here.

use serde::{Deserialize, Serialize};

use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner, Phrase, Unit};
use crate::physics::limits;

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "hours-forward",
    class: Class::Record,
    weight: 6,
    decisive: false,
    owner: Owner::Desk,
    kinds: &[Kind::Circulating, Kind::Sump],
    parameters: &[],
    only_where: "",
    asks: "Is the hour counter no lower than at the previous draw?",
    judged: "Broken if the machine's hours are lower than at the previous draw, else met. \
             Unrecorded if this draw's hours are blank; not applicable if the previous draw's \
             are.",
    why: "Wear is judged per running hour. A counter that goes backwards means a slip of the pen, \
          another machine or a new counter, and makes every rate that rests on it worthless.",
    next_time: "Compare with the last figure before you file the record. If the counter was \
                replaced, note both readings; if the figure belongs to the sister machine, put \
                the record where it belongs.",
    caution: "",
    source: "Hours must not fall between draws: a proposal of ours; the instructions to DD Form \
             2026 (US Navy NAVEDTRA 12324) call the accuracy of hours extremely important.",
};

/// The rule; it has no parameters.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HoursForward {}

impl Rule for HoursForward {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let last = situation
            .previous
            .and_then(|previous| previous.machine_hours.get());
        match (situation.draw.machine_hours.get(), last) {
            (None, Some(last)) => {
                Answer::unrecorded(Phrase::Blank, Phrase::AtLeast(last, Unit::Hour))
            }
            (None, None) => Answer::unrecorded(Phrase::Blank, Phrase::Text("the machine's hours")),
            (Some(_), None) => Answer::NOT_APPLICABLE,
            (Some(hours), Some(last)) => Answer::met_if(
                limits::at_least(hours, last),
                Phrase::Amount(hours, Unit::Hour),
                Phrase::AtLeast(last, Unit::Hour),
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Outcome::{Broken, Met, NotApplicable, Unrecorded};
    use crate::model::{Draw, Number};
    use crate::rules::testing::{Case, NOON};

    #[test]
    fn only_the_previous_draw_is_looked_at() {
        let rule = HoursForward::default();
        let mut case = Case::of(Kind::Sump);
        assert_eq!(case.outcome(&rule), Unrecorded);
        case.draw.machine_hours = Number::new(1000.0);
        assert_eq!(case.outcome(&rule), NotApplicable);
        for (last, outcome) in [
            (None, NotApplicable),
            (Some(1000.0), Met),
            (Some(999.0), Met),
            (Some(1000.1), Broken),
        ] {
            case.previous = Some(Draw {
                machine_hours: Number::from(last),
                ..Draw::bare(0, 0, NOON - 1)
            });
            assert_eq!(case.outcome(&rule), outcome, "{last:?}");
        }
        case.draw.machine_hours = Number::BLANK;
        assert_eq!(case.outcome(&rule), Unrecorded);
    }
}

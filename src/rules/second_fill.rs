//! A second bottle where the first one looked wrong.
//!
//! What looks wrong may be the machine or the first spurt of the tap. A second fill after
//! a fresh flush tells the two apart: if it is clear, it was the tap. Metal is too serious
//! to leave to the eye, so both bottles go to the laboratory.

use serde::{Deserialize, Serialize};

use super::{Card, Rule, SecondFills, Situation};
use crate::model::{Answer, Class, Kind, Look, Owner, Phrase};

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "second-fill",
    class: Class::Sample,
    weight: 8,
    decisive: false,
    owner: Owner::Technician,
    kinds: &[Kind::Circulating, Kind::Sump, Kind::Tank],
    parameters: &[],
    only_where: "it is a first fill that looked cloudy or emulsified or showed sediment, metal or water",
    asks: "Where the first bottle looked wrong, was a second one filled and, where metal was \
           seen, were both sent?",
    judged: "Broken if no second fill on the same compartment, drawn no earlier, names this \
             bottle. With metal, met only if this bottle and at least one such second fill are \
             recorded as sent, else unrecorded; without metal, met. Unrecorded if this draw's \
             bottle_id is blank.",
    why: "One bad-looking bottle may be the machine or just the first spurt of a dirty tap. A \
          second fill tells which. Without it, the plant either stops a healthy machine or \
          runs a sick one.",
    next_time: "If the bottle is not clear, keep it, flush the same amount again and fill a \
                second one right away. Mark them first fill and second fill, and write the \
                first bottle's number on the second's record. With metal, send both and tell \
                the supervisor in the same shift.",
    caution: "Metal or water in the oil can mean a machine about to fail. Step back from it, \
              report, and let qualified people decide whether it goes on running.",
    source: "Draw again at once if contamination is seen, act if the second is not clear: US Army \
             TM 1-1520-238-23. Verify before rejecting: US Navy NAVEDTRA 14315. Both bottles \
             to the laboratory on metal: common practice, no source.",
};

/// The rule; it has no parameters.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SecondFill {}

impl Rule for SecondFill {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        const ONE: Phrase = Phrase::Text("a second fill that names this bottle");
        const BOTH: Phrase = Phrase::Text("a second fill that names this bottle, both sent");
        let draw = situation.draw;
        let looks = draw.looks;
        if draw.second_fill || !looks.is_abnormal() {
            return Answer::NOT_APPLICABLE;
        }
        let metal = looks.has(Look::Metal);
        let wanted = if metal { BOTH } else { ONE };
        if draw.bottle.is_none() {
            return Answer::unrecorded(Phrase::LooksAnd(looks, "bottle_id blank"), wanted);
        }
        let both_sent =
            situation.second_fills == SecondFills::Sent && !draw.dispatched_at.is_blank();
        match situation.second_fills {
            SecondFills::None => Answer::broken(Phrase::LooksAnd(looks, "no second fill"), wanted),
            _ if !metal => Answer::met(Phrase::LooksAnd(looks, "second fill taken"), wanted),
            _ if both_sent => Answer::met(Phrase::LooksAnd(looks, "both bottles sent"), wanted),
            _ => Answer::unrecorded(
                Phrase::LooksAnd(looks, "not recorded that both bottles were sent"),
                wanted,
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Outcome::{Broken, Met, NotApplicable, Unrecorded};
    use crate::model::{Looks, Moment, Texts};
    use crate::rules::testing::{Case, HOUR, NOON};

    #[test]
    fn what_looks_wrong_needs_a_second_fill_and_metal_needs_both_sent() {
        let rule = SecondFill::default();
        let bottle = Texts::default().intern("B-1");
        let mut case = Case::of(Kind::Sump);
        assert_eq!(case.outcome(&rule), NotApplicable);
        case.draw.looks = Looks::NONE.with(Look::Clear);
        assert_eq!(case.outcome(&rule), NotApplicable);
        case.draw.looks = case.draw.looks.with(Look::Water);
        assert_eq!(case.outcome(&rule), Unrecorded);
        case.draw.bottle = bottle;
        assert_eq!(case.outcome(&rule), Broken);
        case.second_fills = SecondFills::NotSent;
        assert_eq!(case.outcome(&rule), Met);

        case.draw.looks = Looks::NONE.with(Look::Metal);
        assert_eq!(case.outcome(&rule), Unrecorded);
        case.second_fills = SecondFills::Sent;
        assert_eq!(case.outcome(&rule), Unrecorded);
        case.draw.dispatched_at = Moment::new(NOON + HOUR);
        assert_eq!(case.outcome(&rule), Met);
        case.second_fills = SecondFills::NotSent;
        assert_eq!(case.outcome(&rule), Unrecorded);
        case.draw.second_fill = true;
        assert_eq!(case.outcome(&rule), NotApplicable);
    }
}

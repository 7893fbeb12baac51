//! Drawn by the agreed method or, where none is agreed, by the same one as last time.
//!
//! A drain, a valve and a tube reach different oil of the same compartment, so a changed
//! method breaks a trend as surely as a changed point.

use serde::{Deserialize, Serialize};

use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner, Phrase};

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "same-method",
    class: Class::Sample,
    weight: 10,
    decisive: false,
    owner: Owner::Technician,
    kinds: Kind::ALL,
    parameters: &[],
    only_where: "",
    asks: "Was the draw taken by the method agreed for the point or, where none is agreed, by \
           the same one as last time?",
    judged: "Met if the method is the agreed one, else broken. Where none is agreed, the same \
             against the previous draw's method; not applicable if there is none. Unrecorded if \
             this draw's method is blank.",
    why: "A drain brings what has settled, a valve what flows past, a tube what stands at its \
          mouth. When the method changes, a step in the numbers says nothing about the \
          machine.",
    next_time: "Take along what the point asks for. If the valve is seized or the pump is \
                missing, write down what you used instead and report it; do not quietly take \
                the drain plug.",
    caution: "Another method brings other dangers (a drain under hot oil, a line under \
              pressure). Do not improvise fittings; follow the site's rules for that method.",
    source: "ASTM D7718 asks for the same method each time (grease; scope and summary seen); \
             for oil it is common practice. The US joint-service manual accepts the drain \
             after wash-out, the trade discourages it: the sources conflict.",
};

/// The rule; it has no parameters.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SameMethod {}

impl Rule for SameMethod {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let agreed = situation.point.point.method;
        let last = situation.previous.and_then(|previous| previous.method);
        let wanted = match (agreed, last) {
            (Some(method), _) => Phrase::AgreedMethod(method),
            (None, Some(method)) => Phrase::PreviousMethod(method),
            (None, None) => Phrase::Text("the method written down"),
        };
        match (situation.draw.method, agreed.or(last)) {
            (None, _) => Answer::unrecorded(Phrase::Blank, wanted),
            (Some(_), None) => Answer::NOT_APPLICABLE,
            (Some(method), Some(asked)) => {
                Answer::met_if(method == asked, Phrase::Text(method.as_str()), wanted)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Outcome::{Broken, Met, NotApplicable, Unrecorded};
    use crate::model::{Draw, Method};
    use crate::rules::testing::{Case, NOON};

    #[test]
    fn the_agreed_method_comes_before_the_previous_one() {
        let rule = SameMethod::default();
        let mut case = Case::of(Kind::Tank);
        assert_eq!(case.outcome(&rule), Unrecorded);
        case.draw.method = Some(Method::Thief);
        assert_eq!(case.outcome(&rule), NotApplicable);
        case.previous = Some(Draw::bare(0, 0, NOON - 1));
        assert_eq!(case.outcome(&rule), NotApplicable);
        case.previous = Some(Draw {
            method: Some(Method::Drain),
            ..Draw::bare(0, 0, NOON - 1)
        });
        assert_eq!(case.outcome(&rule), Broken);
        case.point.method = Some(Method::Thief);
        assert_eq!(case.outcome(&rule), Met);
        case.draw.method = Some(Method::Drain);
        assert_eq!(case.outcome(&rule), Broken);
        case.draw.method = None;
        assert_eq!(case.outcome(&rule), Unrecorded);
    }
}

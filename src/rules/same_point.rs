//! Drawn at the agreed point, or where no point is agreed, at the same one as last time.
//!
//! A trend compares like with like. Two points of one system differ by what lies between
//! them: a filter, a cooler, a bearing. A large system may have several agreed points.

use serde::{Deserialize, Serialize};

use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner, Phrase};

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "same-point",
    class: Class::Sample,
    weight: 12,
    decisive: false,
    owner: Owner::Technician,
    kinds: &[Kind::Circulating, Kind::Sump],
    parameters: &[],
    only_where: "the point is agreed, or its compartment has an agreed point or a previous draw",
    asks: "Was the bottle filled at the agreed sample point of the compartment or, where none \
           is agreed, at the same point as last time?",
    judged: "Met at an agreed point. Broken at another point where the compartment has an agreed \
             one. Where it has none: met at the point of the previous draw, broken at another; \
             not applicable without a previous draw.",
    why: "Each spot of a system has its own mixture of wear metal, dirt and water. When the \
          point changes, the numbers change with it, and nobody can tell a sick machine from \
          a different tap.",
    next_time: "Look for the tag of the agreed point before you open anything. If you cannot \
                reach it, or it leaks or is blocked, say so in the remarks and tell the \
                supervisor, so that the point is put right and the trend does not change \
                unseen.",
    caution: "If the agreed point can only be reached across moving, hot or pressurised parts, \
              do not reach: ask for the point to be moved. The site's permit rules come first.",
    source: "US Navy NAVEDTRA 14105 and US Army TB 43-0211 (7-1h) ask for the same point each \
             time; ASTM D7718 does so for grease (scope and a summary page seen). That an \
             agreed point comes before the previous one is our reading.",
};

/// The rule; it has no parameters.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SamePoint {}

impl Rule for SamePoint {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        const AGREED: Phrase = Phrase::Text("an agreed point of the compartment");
        const AS_LAST_TIME: Phrase = Phrase::Text("the point of the previous draw");
        if situation.point.point.is_agreed() {
            return Answer::met(Phrase::Text("an agreed point"), AGREED);
        }
        if situation.point.compartment_has_agreed {
            return Answer::broken(Phrase::Text("a point that is not agreed"), AGREED);
        }
        match situation.previous {
            None => Answer::NOT_APPLICABLE,
            Some(previous) if previous.point == situation.draw.point => {
                Answer::met(Phrase::Text("the same point"), AS_LAST_TIME)
            }
            Some(_) => Answer::broken(Phrase::Text("another point"), AS_LAST_TIME),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Draw;
    use crate::model::Outcome::{Broken, Met, NotApplicable};
    use crate::rules::testing::{Case, NOON};

    #[test]
    fn an_agreed_point_comes_before_the_previous_one() {
        let rule = SamePoint::default();
        let mut case = Case::of(Kind::Circulating);
        assert_eq!(case.outcome(&rule), NotApplicable);
        case.previous = Some(Draw::bare(0, 0, NOON - 1));
        assert_eq!(case.outcome(&rule), Met);
        case.previous = Some(Draw::bare(1, 0, NOON - 1));
        assert_eq!(case.outcome(&rule), Broken);
        case.point.agreed = Some(true);
        case.compartment_has_agreed = true;
        assert_eq!(case.outcome(&rule), Met);
        case.point.agreed = Some(false);
        case.previous = Some(Draw::bare(0, 0, NOON - 1));
        assert_eq!(case.outcome(&rule), Broken);
    }
}

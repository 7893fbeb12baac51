//! The tube let in to its mark.
//!
//! Oil in a sump lies in layers: foam and air on top, dirt and water below. A tube that
//! always ends at the agreed mark always takes the same one, and stays off the bottom.

use serde::{Deserialize, Serialize};

use super::parameter::Parameter;
use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Method, Owner, Phrase, Unit};
use crate::physics::limits;

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "tube-depth",
    class: Class::Sample,
    weight: 8,
    decisive: false,
    owner: Owner::Technician,
    kinds: &[Kind::Sump],
    parameters: &[Parameter::number(
        "tolerance_cm",
        Unit::Centimetre,
        0.0,
        500.0,
        "how far the insertion may be off the agreed mark",
    )],
    only_where: "the draw's method is tube-pump and the point has an agreed tube mark",
    asks: "Was the tube let in to the agreed mark, so that it ends at the same depth each time?",
    judged: "Met if the insertion used differs from the agreed mark by no more than tolerance_cm, \
             else broken. Unrecorded if the insertion is blank.",
    why: "The bottom of a sump holds what has sunk for years, the top holds foam. A tube that \
          touches the bottom brings up sludge that frightens everyone; one that hangs too \
          high brings clean oil that comforts them. Both are wrong.",
    next_time: "Hold the tube along the dipstick or measure it, mark it with tape at the \
                agreed length, and let it in to that mark. Do not push until it stops: that \
                is the bottom. Write down the length you used.",
    caution: "Stop the machine, or make sure nothing moves below the opening, before a tube \
              goes in: a crankshaft or gear takes tube and hand with it. If anything drops \
              in, the machine stays stopped until it is found.",
    source: "Same depth each time: US Army TB 43-0211 (7-1h). Off the sides and the bottom: the \
             same, 7-1j. Middle of the oil: Electrical Equipment Handbook, ch. 22. The \
             tolerance of 5 cm is a proposal of ours.",
};

/// The rule with its parameters.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TubeDepth {
    /// How far in cm the insertion may be off the agreed mark.
    pub tolerance_cm: f64,
}

impl Default for TubeDepth {
    fn default() -> Self {
        TubeDepth { tolerance_cm: 5.0 }
    }
}

impl Rule for TubeDepth {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        if situation.draw.method != Some(Method::TubePump) {
            return Answer::NOT_APPLICABLE;
        }
        let Some(mark) = situation.point.point.tube_mark_cm else {
            return Answer::NOT_APPLICABLE;
        };
        let wanted = Phrase::Around(mark, self.tolerance_cm, Unit::Centimetre);
        match situation.draw.tube_mark_cm.get() {
            None => Answer::unrecorded(Phrase::Blank, wanted),
            Some(used) => Answer::met_if(
                limits::at_most((used - mark).abs(), self.tolerance_cm),
                Phrase::Amount(used, Unit::Centimetre),
                wanted,
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Number;
    use crate::model::Outcome::{Broken, Met, NotApplicable, Unrecorded};
    use crate::rules::testing::Case;

    #[test]
    fn the_mark_may_be_missed_by_the_tolerance_either_way() {
        let rule = TubeDepth::default();
        let mut case = Case::of(Kind::Sump);
        case.draw.method = Some(Method::TubePump);
        case.draw.tube_mark_cm = Number::new(35.7);
        assert_eq!(case.outcome(&rule), NotApplicable);
        case.point.tube_mark_cm = Some(30.7);
        for (used, outcome) in [
            (Some(35.7), Met), // 35.7 − 30.7 is 5.0000000000000036
            (Some(25.7), Met),
            (Some(35.7 + 4e-9), Met),
            (Some(35.7 + 6e-9), Broken),
            (Some(25.6), Broken),
            (None, Unrecorded),
        ] {
            case.draw.tube_mark_cm = Number::from(used);
            assert_eq!(case.outcome(&rule), outcome, "{used:?}");
        }
        for method in [None, Some(Method::Drain)] {
            case.draw.method = method;
            assert_eq!(case.outcome(&rule), NotApplicable);
        }
    }
}

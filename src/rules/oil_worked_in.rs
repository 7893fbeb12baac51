//! The charge has run long enough to speak for the machine.
//!
//! Fresh oil shows the drum, not the bearings. Whoever plans the round can see from the
//! change sheet that a draw would come too early.

use serde::{Deserialize, Serialize};

use super::parameter::Parameter;
use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner, Phrase, Unit};
use crate::physics::limits;

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "oil-worked-in",
    class: Class::Sample,
    weight: 8,
    decisive: false,
    owner: Owner::Planner,
    kinds: &[Kind::Circulating, Kind::Sump],
    parameters: &[Parameter::number(
        "min_oil_hours",
        Unit::Hour,
        0.0,
        100_000.0,
        "least running hours on the oil charge",
    )],
    only_where: "",
    asks: "Had the oil charge run long enough since the oil change?",
    judged: "Met with min_oil_hours or more on the oil, else broken. Unrecorded if the hours on \
             the oil are blank.",
    why: "After a change the oil holds what came with the drum, and almost nothing of the \
          machine. A sample taken then looks splendid and says nothing; it also pulls down \
          every trend it enters.",
    next_time: "Plan the draw before the oil change, not after it; that is when the old oil \
                has most to tell. If a first sample of the new charge is wanted as a \
                baseline, let it run a day first. Always write down the hours on the oil.",
    caution: "",
    source: "Baseline after 24 h of circulation: ASTM D4378, 11.1.2. The same 24 h as the least \
             for a routine draw is our reading of it.",
};

/// The rule with its parameters.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OilWorkedIn {
    /// Least running hours on the oil charge.
    pub min_oil_hours: f64,
}

impl Default for OilWorkedIn {
    fn default() -> Self {
        OilWorkedIn {
            min_oil_hours: 24.0,
        }
    }
}

impl Rule for OilWorkedIn {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let wanted = Phrase::AtLeast(self.min_oil_hours, Unit::Hour);
        match situation.draw.oil_hours.get() {
            None => Answer::unrecorded(Phrase::Blank, wanted),
            Some(hours) => Answer::met_if(
                limits::at_least(hours, self.min_oil_hours),
                Phrase::Amount(hours, Unit::Hour),
                wanted,
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Number;
    use crate::model::Outcome::{Broken, Met, Unrecorded};
    use crate::rules::testing::Case;

    #[test]
    fn a_day_on_the_oil_is_enough() {
        let mut case = Case::of(Kind::Sump);
        for (hours, outcome) in [
            (Some(24.0), Met),
            (Some(24.0 - 2e-8), Met),
            (Some(24.0 - 3e-8), Broken),
            (Some(0.0), Broken),
            (None, Unrecorded),
        ] {
            case.draw.oil_hours = Number::from(hours);
            assert_eq!(case.outcome(&OilWorkedIn::default()), outcome, "{hours:?}");
        }
    }
}

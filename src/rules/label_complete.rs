//! The label says what the laboratory needs to know.
//!
//! The one rule that exists to judge blanks. Tanks and grease points have no running
//! hours, so only the bottle and the fluid are asked of them.

use serde::{Deserialize, Serialize};

use super::parameter::Parameter;
use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Draw, Kind, LabelField, LabelFields, Owner, Phrase};

const FIELDS: &[&str] = &{
    let mut words = [""; LabelField::ALL.len()];
    let mut next = 0;
    while next < words.len() {
        words[next] = LabelField::ALL[next].as_str();
        next += 1;
    }
    words
};

/// What is asked of tanks and grease points at most.
const WITHOUT_HOURS: LabelFields = LabelFields::of(&[LabelField::BottleId, LabelField::Fluid]);

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "label-complete",
    class: Class::Record,
    weight: 10,
    decisive: false,
    owner: Owner::Technician,
    kinds: Kind::ALL,
    parameters: &[Parameter::words(
        "required",
        FIELDS,
        "fields that must be written; of tanks and grease only bottle_id and fluid",
    )],
    only_where: "",
    asks: "Are the fields that the laboratory and the trend need all written?",
    judged: "Broken if any required field is blank, else met: this rule is there to judge blanks. \
             Of tanks and grease points only bottle_id and fluid are asked.",
    why: "Without the hours nobody can tell a fast wear from a slow one, without the product \
          nobody knows which oil it should be, and without the bottle number the result \
          finds no home.",
    next_time: "Fill in the label at the machine, right after you close the bottle and before \
                you go to the next one. Read the counter and the product plate, not your \
                memory. If a counter is broken, say so in the remarks and report it.",
    caution: "Read counters and plates from where you can stand safely; do not lean over guards \
              for a number.",
    source: "US Army TB 43-0211 (7-2c) and FM 10-67-2, ASTM D7718, ISO/IEC 17025:2017, 7.3.3. \
             Which fields are asked for is a proposal of ours.",
};

/// The rule with its parameters.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LabelComplete {
    /// Fields that must be written.
    pub required: LabelFields,
}

impl Default for LabelComplete {
    fn default() -> Self {
        LabelComplete {
            required: LabelFields::of(LabelField::ALL),
        }
    }
}

impl Rule for LabelComplete {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let asked = match situation.point.point.kind {
            Kind::Circulating | Kind::Sump => self.required,
            Kind::Tank | Kind::Grease => self.required.and(WITHOUT_HOURS),
        };
        let mut missing = LabelFields::NONE;
        for field in asked.iter() {
            if is_blank(situation.draw, field) {
                missing = missing.with(field);
            }
        }
        let wanted = Phrase::Fields(asked);
        if missing.is_empty() {
            Answer::met(Phrase::Text("all written"), wanted)
        } else {
            Answer::broken(Phrase::Missing(missing), wanted)
        }
    }
}

const fn is_blank(draw: &Draw, field: LabelField) -> bool {
    match field {
        LabelField::BottleId => draw.bottle.is_none(),
        LabelField::Fluid => !draw.fluid_written,
        LabelField::MachineHours => draw.machine_hours.is_blank(),
        LabelField::OilHours => draw.oil_hours.is_blank(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Outcome::{Broken, Met};
    use crate::model::{Number, Texts};
    use crate::rules::testing::Case;

    #[test]
    fn hours_are_asked_of_machines_and_not_of_tanks_and_grease() {
        let rule = LabelComplete::default();
        for kind in Kind::ALL {
            let mut case = Case::of(*kind);
            case.draw.bottle = Texts::default().intern("B-1");
            assert_eq!(case.outcome(&rule), Broken);
            case.draw.fluid_written = true;
            let has_hours = matches!(kind, Kind::Circulating | Kind::Sump);
            let expected = if has_hours { Broken } else { Met };
            assert_eq!(case.outcome(&rule), expected, "{kind}");
            case.draw.machine_hours = Number::new(0.0);
            case.draw.oil_hours = Number::new(0.0);
            assert_eq!(case.outcome(&rule), Met, "{kind}");
        }
    }

    #[test]
    fn the_answer_names_what_is_missing() {
        let mut case = Case::of(Kind::Sump);
        case.draw.fluid_written = true;
        let answer = case.judge(&LabelComplete::default());
        assert_eq!(
            answer.seen.to_string(),
            "missing: bottle_id, machine_hours and oil_hours"
        );
        let only_bottle = LabelComplete {
            required: LabelFields::of(&[LabelField::BottleId]),
        };
        case.draw.bottle = Texts::default().intern("B-1");
        assert_eq!(case.outcome(&only_bottle), Met);
    }
}

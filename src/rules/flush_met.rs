//! Enough oil run off before the bottle was filled.
//!
//! Oil that stood in the valve, stub or tube since the last draw is not the oil of the
//! machine. In laminar flow, which sample tubes nearly always have, the wash-out model gives
//! 1/(4·n²) as the share of old oil after n dead volumes: a quarter after one, one percent
//! after five.

use serde::{Deserialize, Serialize};

use super::parameter::Parameter;
use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Number, Owner, Phrase, Unit};
use crate::physics::limits;

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "flush-met",
    class: Class::Sample,
    weight: 16,
    decisive: true,
    owner: Owner::Technician,
    kinds: &[Kind::Circulating, Kind::Sump],
    parameters: &[Parameter::number(
        "multiple",
        Unit::None,
        0.0,
        100.0,
        "how many dead volumes to run off",
    )],
    only_where: "",
    asks: "Was enough oil run off to waste before the bottle was filled, counted in dead \
           volumes of valve, stub and tube?",
    judged: "Met if flushed_ml is at least multiple x the dead volume of the point, else broken. \
             Unrecorded if flushed_ml is blank or the dead volume can't be worked out from the \
             point's tube and fittings.",
    why: "What stands in valve and tube is old oil, with the dirt and water that settled there \
           since the last draw. After one dead volume of flushing a quarter of what runs out \
           can still be old oil; after five it is about one percent.",
    next_time: "Look up the amount to run off for this point, run it into a waste bottle you \
                can measure with, then fill the sample bottle without touching the valve \
                again. Write down what you ran off, and hand in the waste oil; it is never \
                the sample.",
    caution: "The oil may be hot and the line under pressure: open slowly, never stand in \
              line with the outlet, wear eye and hand protection. A fine jet can pierce \
              skin; treat any such wound as an emergency. On high-pressure lines draw only \
              through the fitting the site provides for it, under its permit rules.",
    source: "Five to ten dead volumes is common practice, and trade press asks for ten; US \
             Navy NAVEDTRA 14105 asks for one to two only, so the sources conflict. The \
             laminar wash-out model 1/(4·n²), common in reaction engineering (no textbook \
             consulted), supports five: 1 % of old oil left. A small point also needs a least \
             volume of its own: common practice, no source for a figure.",
};

/// The rule with its parameters.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FlushMet {
    /// How many dead volumes to run off.
    pub multiple: f64,
}

impl Default for FlushMet {
    fn default() -> Self {
        FlushMet { multiple: 5.0 }
    }
}

impl Rule for FlushMet {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let flushed = situation.draw.flushed_ml.get();
        let dead = situation.point.dead_volume_ml;
        let wanted = Phrase::Flush(self.multiple, Number::from(dead));
        match (flushed, dead) {
            (Some(flushed), Some(dead)) => {
                let times = (dead > 0.0).then_some(flushed / dead);
                Answer::met_if(
                    limits::at_least(flushed, self.multiple * dead),
                    Phrase::Flushed(flushed, Number::from(times)),
                    wanted,
                )
            }
            (Some(flushed), None) => {
                Answer::unrecorded(Phrase::Flushed(flushed, Number::BLANK), wanted)
            }
            (None, _) => Answer::unrecorded(Phrase::Blank, wanted),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Outcome::{Broken, Met, Unrecorded};
    use crate::rules::testing::Case;

    #[test]
    fn five_dead_volumes_are_enough_and_a_hair_less_is_not() {
        let mut case = Case::of(Kind::Circulating);
        case.point.dead_extra_ml = Some(20.0);
        for (flushed, outcome) in [
            (Some(100.0), Met),
            (Some(100.0 - 9e-8), Met),
            (Some(100.0 - 2e-7), Broken),
            (Some(0.0), Broken),
            (None, Unrecorded),
        ] {
            case.draw.flushed_ml = Number::from(flushed);
            assert_eq!(case.outcome(&FlushMet::default()), outcome, "{flushed:?}");
        }
    }

    #[test]
    fn without_a_dead_volume_nothing_is_shown_and_none_to_flush_is_met() {
        let mut case = Case::of(Kind::Circulating);
        case.draw.flushed_ml = Number::new(500.0);
        case.point.tube_bore_mm = Some(4.0);
        assert_eq!(case.outcome(&FlushMet::default()), Unrecorded);
        case.point.tube_bore_mm = None;
        case.point.dead_extra_ml = Some(0.0);
        case.draw.flushed_ml = Number::new(0.0);
        assert_eq!(case.outcome(&FlushMet::default()), Met);
    }

    #[test]
    fn the_answer_counts_in_dead_volumes() {
        let mut case = Case::of(Kind::Sump);
        case.point.tube_bore_mm = Some(4.0);
        case.point.tube_length_cm = Some(150.0);
        case.draw.flushed_ml = Number::new(40.0);
        let answer = case.judge(&FlushMet::default());
        assert_eq!(answer.seen.to_string(), "40 mL, 2.12 × dead volume");
        assert_eq!(
            answer.wanted.to_string(),
            "at least 94.25 mL (5 × 18.85 mL)"
        );
    }
}

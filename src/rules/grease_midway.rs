//! Grease from the working zone: by needle, or from the middle of the purge.
//!
//! What comes out first is the hardened rim of the cavity, what comes last is the fresh
//! grease pressed in. Between them lies the grease that has worked. Decisive, since the
//! other two are simply another grease.

use serde::{Deserialize, Serialize};

use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Method, Owner, Phrase, PurgeStage};

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "grease-midway",
    class: Class::Sample,
    weight: 20,
    decisive: true,
    owner: Owner::Technician,
    kinds: &[Kind::Grease],
    parameters: &[],
    only_where: "",
    asks: "Was the grease taken by needle from the working zone, or kept from the middle of the \
           purge?",
    judged: "Met with a grease needle or with the middle of a purge. Broken with the start or end \
             of a purge or with any other method. Unrecorded if the method, or the part of the \
             purge, is blank.",
    why: "The first grease out of a bearing is the old rim from the edge of the housing, the \
          last is what you have just pressed in. Only the part between has run with the \
          rollers and knows how they are.",
    next_time: "Press in new grease slowly and let the first part go to waste. Keep what comes in \
                the middle, and stop as soon as the fresh colour shows. Write down which \
                part you kept. With a needle, reach the working zone and nothing else.",
    caution: "Stop and secure the machine unless you catch grease at a purge outlet with its \
              guards on: hands near a turning shaft are lost in a moment. Grease guns build \
              up pressure that pierces skin; a wound of that kind is an emergency.",
    source: "From the working zone or as it is purged: grease institute guidance and ASTM D7718 \
             (scope and summary seen). How much to let go first is nowhere fixed; the middle \
             part is a proposal of ours, no source.",
};

/// The rule; it has no parameters.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GreaseMidway {}

impl Rule for GreaseMidway {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let wanted = Phrase::Text("grease-needle, or the middle of a grease-purge");
        let seen = match situation.draw.method {
            None => return Answer::unrecorded(Phrase::Text("method blank"), wanted),
            Some(Method::GreasePurge) => match situation.draw.purge_stage {
                None => {
                    let seen = Phrase::Text("grease-purge, purge_stage blank");
                    return Answer::unrecorded(seen, wanted);
                }
                Some(PurgeStage::Middle) => {
                    return Answer::met(Phrase::Text("middle of a grease-purge"), wanted);
                }
                Some(PurgeStage::Start) => Phrase::Text("start of a grease-purge"),
                Some(PurgeStage::End) => Phrase::Text("end of a grease-purge"),
            },
            Some(method) => Phrase::Text(method.as_str()),
        };
        Answer::met_if(
            situation.draw.method == Some(Method::GreaseNeedle),
            seen,
            wanted,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Outcome::{Broken, Met, Unrecorded};
    use crate::rules::testing::Case;

    #[test]
    fn the_needle_or_the_middle_of_the_purge() {
        let mut case = Case::of(Kind::Grease);
        let purge = Some(Method::GreasePurge);
        for (method, stage, outcome) in [
            (Some(Method::GreaseNeedle), None, Met),
            (Some(Method::GreaseNeedle), Some(PurgeStage::End), Met),
            (purge, Some(PurgeStage::Middle), Met),
            (purge, Some(PurgeStage::Start), Broken),
            (purge, Some(PurgeStage::End), Broken),
            (purge, None, Unrecorded),
            (None, Some(PurgeStage::Middle), Unrecorded),
            (Some(Method::Drain), Some(PurgeStage::Middle), Broken),
        ] {
            case.draw.method = method;
            case.draw.purge_stage = stage;
            let answer = case.judge(&GreaseMidway::default());
            assert_eq!(answer.outcome, outcome, "{method:?} {stage:?}");
        }
    }
}

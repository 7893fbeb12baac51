//! The safety measures for this draw confirmed by the one who drew.
//!
//! Personal conduct, counted apart: it says nothing about the sample and never changes
//! the verdict. Nor does a "yes" here stand for any permit or authority.

use serde::{Deserialize, Serialize};

use super::confirmed::confirmed;
use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner};

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "safety-confirmed",
    class: Class::Conduct,
    weight: 10,
    decisive: false,
    owner: Owner::Technician,
    kinds: Kind::ALL,
    parameters: &[],
    only_where: "",
    asks: "Did the technician confirm that the safety measures for this point were in place?",
    judged: "Yes is met, no is broken, a blank is unrecorded.",
    why: "No sample is worth an injury. Hot oil, pressure and moving parts hurt people every \
           year at points that were thought harmless. The confirmation makes everyone stop for \
           a moment before opening, and shows where points should be changed.",
    next_time: "Before you open the point: is the permit there if one is needed, is what must be \
           locked out locked out, are guards on, pressure as expected, eyes and hands covered, \
           the floor dry, and somebody told? Then confirm it. If any answer is no, do not draw; \
           report the point, and nobody will hold it against you.",
    caution: "Lock-out and permits take precedence over any sample. Above a few bar use a reducing \
           or shielded fitting; a jet wound is an emergency even if it looks small. Tanks bring \
           vapour, static charge and falls. Local codes, the site's rules and qualified people \
           decide.",
    source: "Lock-out before any sample: ASTM D8112 (scope and summary seen). Caution from 7 bar, \
           where jets begin to pierce skin: safety bulletins. Caution from 60 °C: common \
           practice, no source. \
           None of this replaces local codes or the employer's permit system.",
};

/// The rule; it has no parameters.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SafetyConfirmed {}

impl Rule for SafetyConfirmed {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        confirmed(situation.draw.safety_confirmed)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Outcome;
    use crate::rules::testing::Case;

    #[test]
    fn yes_is_met_no_is_broken_and_a_blank_proves_nothing() {
        let mut case = Case::of(Kind::Sump);
        for (recorded, outcome) in [
            (Some(true), Outcome::Met),
            (Some(false), Outcome::Broken),
            (None, Outcome::Unrecorded),
        ] {
            case.draw.safety_confirmed = recorded;
            assert_eq!(case.outcome(&SafetyConfirmed::default()), outcome);
        }
    }
}

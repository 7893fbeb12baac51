//! A tank drawn at all three levels.
//!
//! A tank at rest is not one oil but three. Only the upper, middle and lower draw together
//! speak for it, and only if they were taken close to each other.

use serde::{Deserialize, Serialize};

use super::parameter::Parameter;
use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner, Phrase, Place, Places, Unit};
use crate::physics::limits;

const LEVELS: Places = Places::of(&[Place::TankUpper, Place::TankMiddle, Place::TankLower]);
const SECONDS_OF_HOUR: f64 = 3600.0;

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "level-set",
    class: Class::Sample,
    weight: 20,
    decisive: false,
    owner: Owner::Technician,
    kinds: &[Kind::Tank],
    parameters: &[Parameter::number(
        "within_h",
        Unit::Hour,
        0.0,
        8760.0,
        "how far apart in time the draws of one set may lie",
    )],
    only_where: "",
    asks: "Does the draw belong to a set that covers the upper, the middle and the lower level \
           of the tank?",
    judged: "Met if the draws of the same set on the same compartment within within_h of this \
             one, itself included, cover upper, middle and lower, else broken. Unrecorded if the \
             set_id is blank.",
    why: "In a tank at rest water and dirt go down and light parts go up. One level tells about \
          that level only. Three, taken together, show whether the tank is one oil or three.",
    next_time: "Draw upper, middle and lower in one visit, from the top down so that nothing is \
                stirred up, and write the same set number on all three records. Keep bottom \
                water in a bottle of its own.",
    caution: "Tanks bring falls, vapour and static charge. Earth the equipment, keep to the \
              waiting time after filling, never lean over or enter an opening; follow the \
              site's permit rules for work on tanks.",
    source: "Levels at 1/6, 1/2 and 5/6 of the depth, drawn from the top down: ISO 3170 through \
             its Chinese adoption GB/T 4756; the same in US Army FM 10-67-2, ch. 9. Shallow \
             tanks need fewer levels by ASTM D4057 (the standard itself was not \
             consulted): switch the rule off for them. The 24 h are a proposal of ours.",
};

/// The rule with its parameters.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LevelSet {
    /// How far apart in hours the draws of one set may lie.
    pub within_h: f64,
}

impl Default for LevelSet {
    fn default() -> Self {
        LevelSet { within_h: 24.0 }
    }
}

impl Rule for LevelSet {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let wanted = Phrase::AllPlacesWithin(LEVELS, self.within_h);
        if situation.draw.set_id.is_none() {
            return Answer::unrecorded(Phrase::Text("set_id blank"), wanted);
        }
        let reach_s = self.within_h * SECONDS_OF_HOUR;
        let mut found = Places::NONE;
        for member in situation.set {
            let apart_s = member.drawn_at.abs_diff(situation.draw.drawn_at);
            if let Some(place) = member.place
                && limits::at_most(apart_s as f64, reach_s)
            {
                found = found.with(place);
            }
        }
        let found = found.and(LEVELS);
        Answer::met_if(found == LEVELS, Phrase::AllPlaces(found), wanted)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Outcome::{Broken, Met, Unrecorded};
    use crate::model::Texts;
    use crate::rules::SetMember;
    use crate::rules::testing::{Case, HOUR, NOON};

    fn member(place: Option<Place>, after: i64) -> SetMember {
        SetMember {
            drawn_at: NOON + after,
            place,
        }
    }

    #[test]
    fn three_levels_within_a_day_either_way_are_met() {
        let rule = LevelSet::default();
        let mut case = Case::of(Kind::Tank);
        assert_eq!(case.outcome(&rule), Unrecorded);
        case.draw.set_id = Texts::default().intern("S-1");
        case.set = vec![
            member(Some(Place::TankUpper), 0),
            member(Some(Place::TankMiddle), -24 * HOUR),
            member(Some(Place::TankLower), 24 * HOUR),
            member(None, 0),
        ];
        assert_eq!(case.outcome(&rule), Met);
        case.set[2].drawn_at += 1;
        assert_eq!(case.outcome(&rule), Broken);
        case.set[2] = member(Some(Place::TankBottom), 0);
        let answer = case.judge(&rule);
        assert_eq!(answer.outcome, Broken);
        assert_eq!(answer.seen.to_string(), "tank-upper and tank-middle");
        case.set.clear();
        assert_eq!(case.outcome(&rule), Broken);
    }
}

//! A situation to bend in the tests of the rules.

use super::{PreparedPoint, Rule, SecondFills, SetMember, Situation};
use crate::model::{Answer, Draw, Kind, Outcome, Point};

/// Noon of an ordinary day, in seconds since 1970 UTC.
pub const NOON: i64 = 1_772_625_600;

/// Seconds of an hour.
pub const HOUR: i64 = 3600;

/// What a situation is made of, each part free to change.
pub struct Case {
    pub point: Point,
    pub compartment_has_agreed: bool,
    pub draw: Draw,
    pub previous: Option<Draw>,
    pub second_fills: SecondFills,
    pub set: Vec<SetMember>,
    pub bottle_bearers: u32,
}

impl Case {
    /// A point and a draw at noon of which only the required columns are filled in.
    pub fn of(kind: Kind) -> Self {
        Case {
            point: Point::bare("P-1", "C-1", kind),
            compartment_has_agreed: false,
            draw: Draw::bare(0, 0, NOON),
            previous: None,
            second_fills: SecondFills::None,
            set: Vec::new(),
            bottle_bearers: 0,
        }
    }

    /// What the rule says of it.
    pub fn judge(&self, rule: &dyn Rule) -> Answer {
        let point = PreparedPoint::new(&self.point, self.compartment_has_agreed);
        rule.judge(&Situation {
            draw: &self.draw,
            point: &point,
            previous: self.previous.as_ref(),
            second_fills: self.second_fills,
            set: &self.set,
            bottle_bearers: self.bottle_bearers,
        })
    }

    /// The outcome alone.
    pub fn outcome(&self, rule: &dyn Rule) -> Outcome {
        self.judge(rule).outcome
    }
}

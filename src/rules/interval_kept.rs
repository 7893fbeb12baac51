//! The draw made when it was due.
//!
//! Running hours come first where both are known, days otherwise. Only lateness counts; an
//! early draw costs a bottle and hides nothing.

use serde::{Deserialize, Serialize};

use super::parameter::Parameter;
use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, Owner, Phrase, Unit};
use crate::physics::limits;

const SECONDS_OF_DAY: f64 = 86_400.0;

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "interval-kept",
    class: Class::Record,
    weight: 6,
    decisive: false,
    owner: Owner::Planner,
    kinds: Kind::ALL,
    parameters: &[Parameter::number(
        "late_pct",
        Unit::Percent,
        0.0,
        1000.0,
        "how much longer than the agreed interval it may take",
    )],
    only_where: "there is a previous draw and the point has an interval",
    asks: "Was the draw made no later than the agreed interval allows, counted from the previous \
           draw?",
    judged: "With an interval in hours and the machine's hours known on both draws: met up to \
             late_pct over the interval, else broken, and unrecorded if the hours ran backwards. \
             Otherwise the same by days between the draws, where the point has an interval in \
             days. Otherwise unrecorded.",
    why: "A trend with gaps does not see a fault coming. The interval was chosen so that a fault \
          shows at least once before it breaks something.",
    next_time: "Plan draws by running hours where the machine has a counter, put machines that \
                are seldom running on the list for when they do run, and raise it when the \
                round has become too long for one person.",
    caution: "",
    source: "±10 % of the interval: US Army TB 43-0211 (12-6, 12-7). Counting from the previous \
             draw follows 6-1 there; 12-7 counts from the schedule instead, so the source \
             conflicts with itself. Only lateness is judged here.",
};

/// The rule with its parameters.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct IntervalKept {
    /// How much longer than the agreed interval it may take, in %.
    pub late_pct: f64,
}

impl Default for IntervalKept {
    fn default() -> Self {
        IntervalKept { late_pct: 10.0 }
    }
}

impl Rule for IntervalKept {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let (draw, point) = (situation.draw, situation.point.point);
        let Some(previous) = situation.previous else {
            return Answer::NOT_APPLICABLE;
        };
        let by_hours = |interval| Phrase::Interval(interval, self.late_pct, Unit::Hour);
        let by_days = |interval| Phrase::Interval(interval, self.late_pct, Unit::Day);
        let hours = (previous.machine_hours.get().zip(draw.machine_hours.get()))
            .map(|(before, now)| now - before);
        match (point.interval_h.zip(hours), point.interval_days) {
            (Some((interval, hours)), _) if hours < 0.0 => {
                let seen = Phrase::Text("the machine's hours ran backwards");
                Answer::unrecorded(seen, by_hours(interval))
            }
            (Some((interval, hours)), _) => Answer::met_if(
                self.in_time(hours, interval),
                Phrase::Amount(hours, Unit::Hour),
                by_hours(interval),
            ),
            (None, Some(interval)) => {
                let seconds = draw.drawn_at - previous.drawn_at;
                Answer::met_if(
                    self.in_time(seconds as f64 / SECONDS_OF_DAY, interval),
                    Phrase::Elapsed(seconds, Unit::Day),
                    by_days(interval),
                )
            }
            (None, None) => match point.interval_h {
                Some(interval) => {
                    let seen = Phrase::Text("machine_hours blank on one of the two draws");
                    Answer::unrecorded(seen, by_hours(interval))
                }
                None => Answer::NOT_APPLICABLE,
            },
        }
    }
}

impl IntervalKept {
    fn in_time(&self, gone_by: f64, interval: f64) -> bool {
        limits::at_most(gone_by, interval * (1.0 + self.late_pct / 100.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Outcome::{Broken, Met, NotApplicable, Unrecorded};
    use crate::model::{Draw, Number};
    use crate::rules::testing::{Case, HOUR, NOON};

    fn case(days_before: i64, before: Option<f64>, now: Option<f64>) -> Case {
        let mut case = Case::of(Kind::Circulating);
        case.draw.machine_hours = Number::from(now);
        case.previous = Some(Draw {
            machine_hours: Number::from(before),
            ..Draw::bare(0, 0, NOON - days_before * 24 * HOUR)
        });
        case
    }

    #[test]
    fn hours_come_first_and_a_tenth_late_is_still_in_time() {
        let rule = IntervalKept::default();
        for (before, now, outcome) in [
            (Some(1000.0), Some(1275.0), Met),
            (Some(1000.0), Some(1275.0 + 2e-7), Met),
            (Some(1000.0), Some(1275.01), Broken),
            (Some(1000.0), Some(1000.0), Met),
            (Some(1000.0), Some(999.0), Unrecorded),
            (None, Some(999.0), Unrecorded),
            (Some(999.0), None, Unrecorded),
        ] {
            let mut case = case(400, before, now);
            assert_eq!(case.outcome(&rule), NotApplicable);
            case.point.interval_h = Some(250.0);
            assert_eq!(case.outcome(&rule), outcome, "{before:?} {now:?}");
        }
    }

    #[test]
    fn days_stand_in_where_hours_are_missing() {
        let rule = IntervalKept::default();
        for (days, outcome) in [(99, Met), (100, Broken)] {
            let mut case = case(days, None, Some(1.0));
            case.point.interval_h = Some(250.0);
            case.point.interval_days = Some(90.0);
            assert_eq!(case.outcome(&rule), outcome, "{days}");
            case.previous = None;
            assert_eq!(case.outcome(&rule), NotApplicable);
        }
        let mut second_late = case(99, None, None);
        second_late.point.interval_days = Some(90.0);
        second_late.draw.drawn_at += 1;
        assert_eq!(second_late.outcome(&rule), Broken);
    }
}

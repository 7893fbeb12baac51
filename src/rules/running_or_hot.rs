//! Drawn while the machine runs, or soon enough after a stop, from hot oil.
//!
//! In still oil what matters most sinks first. How soon "soon enough" is depends on the
//! oil: a 20 µm iron particle needs hours through cold gear oil and minutes through hot
//! hydraulic oil. The window is therefore the shorter of the site's own and the settling
//! limit of the point. A cold oil condemns a draw even on a running machine: it has not
//! yet taken up what lies in the system.

use serde::{Deserialize, Serialize};

use super::parameter::Parameter;
use super::{Card, Rule, Situation};
use crate::model::{Answer, Class, Kind, MachineState, Number, Owner, Phrase, Unit};
use crate::physics::limits;

/// The facts and texts of the rule.
pub const CARD: Card = Card {
    id: "running-or-hot",
    class: Class::Sample,
    weight: 20,
    decisive: true,
    owner: Owner::Technician,
    kinds: &[Kind::Circulating, Kind::Sump],
    parameters: &[
        Parameter::number(
            "window_min",
            Unit::Minute,
            0.0,
            1440.0,
            "longest time between stop and draw; settling may shorten it",
        ),
        Parameter::number(
            "below_normal_c",
            Unit::Celsius,
            0.0,
            200.0,
            "how far the oil may be below its normal temperature",
        ),
    ],
    only_where: "",
    asks: "Was the bottle filled while the machine ran, or soon after it stopped, with the \
           oil at its working temperature?",
    judged: "Cold means more than below_normal_c below the point's normal temperature. Cold oil \
             is broken, running or not. Otherwise running is met, and so is stopped for at most \
             window_min, or less where particles settle sooner at that temperature; longer is \
             broken. If the minutes since the stop are blank, oil that is known to be hot is met; \
             if the temperature is not known either, unrecorded. A blank state counts as stopped.",
    why: "Running oil carries the wear metal, dirt and water that the laboratory looks for. \
          Once the machine stops they sink: in hot thin oil a 20 µm iron particle passes \
          half the depth of a 20 cm sump within a quarter of an hour. A bottle filled later, \
          or from cold oil, looks cleaner than the machine is.",
    next_time: "Plan the round so that you reach the machine while it runs at its normal \
                load. If it must stop first, have bottle and tube ready, draw within the \
                minutes shown for this point, and write down when it stopped. If you come \
                too late, let it be run warm again or leave the bottle for the next round: \
                a missing sample misleads nobody, a cold one does.",
    caution: "Hot oil scalds, and a running machine catches sleeves, hair and hoses. Keep \
              guards on, wear eye and hand protection, and draw from a running machine only \
              where the site's rules and permits allow that point to be used so; local codes \
              and qualified people decide, not this page.",
    source: "Minutes after a stop: US Army TB 43-0211 (7-1c) gives 15, R. K. Mobley, An \
             Introduction to Predictive Maintenance, p. 208, gives 30; the sources conflict, \
             so 30 stands as the outer limit and settling (Stokes' law) shortens it where \
             the oil is thin. Temperature: US Navy NAVEDTRA 14105 asks for within 5 °C; the \
             default of 15 °C is a proposal of ours. A US joint-service manual lets ground \
             vehicles be drawn cold if run within 30 days; this rule does not.",
};

/// The rule with its parameters.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RunningOrHot {
    /// Longest time between stop and draw in minutes; settling may shorten it.
    pub window_min: f64,
    /// How far in °C the oil may be below its normal temperature.
    pub below_normal_c: f64,
}

impl Default for RunningOrHot {
    fn default() -> Self {
        RunningOrHot {
            window_min: 30.0,
            below_normal_c: 15.0,
        }
    }
}

impl Rule for RunningOrHot {
    fn judge(&self, situation: &Situation<'_>) -> Answer {
        let draw = situation.draw;
        let coldest_c = (situation.point.point.normal_temp_c).map(|c| c - self.below_normal_c);
        let hot = match (draw.oil_temp_c.get(), coldest_c) {
            (Some(oil), Some(coldest)) => Some(limits::at_least(oil, coldest)),
            _ => None,
        };
        let running = draw.machine_state == Some(MachineState::Running);
        let (window_min, by_settling) = if running {
            // The settling limit is costly to work out and says nothing of moving oil.
            (self.window_min, false)
        } else {
            self.window(situation)
        };
        let kept = match (running, hot, draw.stopped_min.get()) {
            (_, Some(false), _) => Some(false),
            (true, _, _) => Some(true),
            (false, _, Some(stopped)) => Some(limits::at_most(stopped, window_min)),
            (false, Some(true), None) => Some(true),
            (false, None, None) => None,
        };
        let seen = Phrase::Machine(draw.machine_state, draw.stopped_min, draw.oil_temp_c);
        let wanted = Phrase::RunningOrHot(window_min, by_settling, Number::from(coldest_c));
        match kept {
            Some(kept) => Answer::met_if(kept, seen, wanted),
            None => Answer::unrecorded(seen, wanted),
        }
    }
}

impl RunningOrHot {
    /// The window in minutes, and whether settling sets it.
    fn window(&self, situation: &Situation<'_>) -> (f64, bool) {
        match situation.settling_limit_min() {
            Some(settling) if settling < self.window_min => (settling, true),
            _ => (self.window_min, false),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Outcome::{Broken, Met, Unrecorded};
    use crate::rules::testing::Case;

    fn case(state: Option<MachineState>, stopped: Option<f64>, oil: Option<f64>) -> Case {
        let mut case = Case::of(Kind::Sump);
        case.point.normal_temp_c = Some(70.0);
        case.draw.machine_state = state;
        case.draw.stopped_min = Number::from(stopped);
        case.draw.oil_temp_c = Number::from(oil);
        case
    }

    #[test]
    fn state_window_and_temperature_decide_together() {
        let rule = RunningOrHot::default();
        let running = Some(MachineState::Running);
        let stopped = Some(MachineState::Stopped);
        let (hot, cold) = (Some(55.0), Some(54.99));
        let table = [
            (running, None, hot, Met),
            (running, Some(999.0), None, Met),
            (running, None, cold, Broken),
            (stopped, Some(30.0), None, Met),
            (stopped, Some(30.0 + 2e-8), None, Met),
            (stopped, Some(30.001), hot, Broken),
            (stopped, Some(1.0), cold, Broken),
            (stopped, None, hot, Met),
            (stopped, None, cold, Broken),
            (stopped, None, None, Unrecorded),
            (None, Some(30.0), None, Met),
            (None, Some(30.1), hot, Broken),
            (None, None, hot, Met),
            (None, None, cold, Broken),
            (None, None, None, Unrecorded),
        ];
        for (state, minutes, oil, outcome) in table {
            let case = case(state, minutes, oil);
            assert_eq!(
                case.outcome(&rule),
                outcome,
                "{state:?} {minutes:?} {oil:?}"
            );
        }
    }

    #[test]
    fn thin_hot_oil_shortens_the_window_and_says_so() {
        let mut case = case(Some(MachineState::Stopped), Some(20.0), Some(70.0));
        case.point.iso_vg = Some(46.0);
        case.point.oil_depth_cm = Some(20.0);
        let answer = case.judge(&RunningOrHot::default());
        assert_eq!(answer.outcome, Broken);
        assert_eq!(answer.seen.to_string(), "stopped for 20 min at 70 °C");
        assert!(
            answer
                .wanted
                .to_string()
                .contains("min (settling), and not below 55 °C")
        );
        case.point.oil_depth_cm = Some(200.0);
        assert_eq!(case.outcome(&RunningOrHot::default()), Met);
    }
}

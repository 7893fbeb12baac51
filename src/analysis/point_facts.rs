//! What follows from a point's own columns: dead volume, Reynolds number, settling limit,
//! and what the rules in force ask for there before anyone draws.

use rustc_hash::FxHashSet;

use super::Assessed;
use crate::model::{Answer, Draw, MachineState, Method, Number};
use crate::rules::{self, PreparedPoint, SecondFills, Situation};

/// What can be said of a point without looking at its draws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PointFacts {
    /// Kinematic viscosity at normal temperature in mm²/s, if known.
    pub viscosity_cst: Option<f64>,
    /// Reynolds number at the point in normal service, if known.
    pub reynolds: Option<f64>,
    /// Dead volume in mL, if known.
    pub dead_volume_ml: Option<f64>,
    /// Minutes after a stop until a 20 µm iron particle has passed mid-depth at normal
    /// temperature, if known.
    pub settling_limit_min: Option<f64>,
    /// What `flush-met` says of a draw there with nothing run off: `wanted` is the flush.
    pub flush: Option<Answer>,
    /// What `running-or-hot` says of a hot draw there right after a stop: `wanted` is the window.
    pub window: Option<Answer>,
    /// What `point-suited` says of the point.
    pub suited: Option<Answer>,
}

/// The facts of every point, in the order of the programme's list.
#[must_use]
pub fn all_point_facts(assessed: &Assessed) -> Vec<PointFacts> {
    let agreed: FxHashSet<&str> = assessed
        .points
        .iter()
        .filter(|point| point.is_agreed())
        .map(|point| point.compartment.as_str())
        .collect();
    (0..assessed.points.len())
        .map(|place| {
            let has_agreed = agreed.contains(assessed.points[place].compartment.as_str());
            point_facts(assessed, place, has_agreed)
        })
        .collect()
}

fn point_facts(assessed: &Assessed, place: usize, has_agreed: bool) -> PointFacts {
    let point = &assessed.points[place];
    let prepared = PreparedPoint::new(point, has_agreed);
    let draw = Draw {
        method: point.method.or(Some(Method::LineValve)),
        machine_state: Some(MachineState::Stopped),
        stopped_min: Number::new(0.0),
        oil_temp_c: point.normal_temp_c.into(),
        flushed_ml: Number::new(0.0),
        ..Draw::bare(0, 0, 0)
    };
    let situation = Situation {
        draw: &draw,
        point: &prepared,
        previous: None,
        second_fills: SecondFills::None,
        set: &[],
        bottle_bearers: 0,
    };
    let in_force = &assessed.rulebook.all_in_force()[assessed.in_force[place]];
    let asked = |id: &str| {
        let rule = rules::place_of(id)?;
        let applies = in_force.of_kind(point.kind).has(rule);
        let judge = in_force.rules[rule].as_ref()?;
        applies.then(|| judge.judge(&situation))
    };
    PointFacts {
        viscosity_cst: prepared
            .viscosity
            .zip(point.normal_temp_c)
            .map(|(line, temp_c)| line.at(temp_c)),
        reynolds: prepared.reynolds,
        dead_volume_ml: prepared.dead_volume_ml,
        settling_limit_min: prepared.settling_limit_min(None),
        flush: asked("flush-met"),
        window: asked("running-or-hot"),
        suited: asked("point-suited"),
    }
}

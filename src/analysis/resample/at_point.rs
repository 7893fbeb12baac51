//! What whoever draws should know of the point before setting out.

use crate::analysis::PointFacts;
use crate::model::answer::exact;
use crate::model::{Answer, Method, Outcome, Phrase, Point};

/// A fact with its name, in words.
pub type Fact = (&'static str, String);

/// What is known of the point: what to run off, how soon after a stop, temperatures, marks.
/// Unknown ones are left out, but for the volume to run off where the rules ask for one.
#[must_use]
pub fn facts(point: &Point, facts: &PointFacts) -> Vec<Fact> {
    let mut told: Vec<Fact> = Vec::new();
    let asks = |answer: Option<Answer>| {
        let answer = answer.filter(|answer| answer.outcome != Outcome::NotApplicable)?;
        (answer.wanted != Phrase::Nothing).then(|| answer.wanted.to_string())
    };
    if let Some(wanted) = asks(facts.flush) {
        told.push(("run off first", wanted));
    }
    if let Some(wanted) = asks(facts.window) {
        told.push(("machine", wanted));
    }
    let mut amount = |name, value: Option<f64>, unit: &str| {
        if let Some(value) = value {
            told.push((name, format!("{} {unit}", exact(value))));
        }
    };
    amount("oil in normal service", point.normal_temp_c, "°C");
    amount("pressure at the point", point.line_pressure_bar, "bar");
    if point.method == Some(Method::TubePump) {
        amount("insert the tube to", point.tube_mark_cm, "cm");
    }
    amount("bottle", point.bottle_ml, "mL");
    if let Some(minutes) = facts.settling_limit_min {
        let words = format!(
            "{} min after a stop, at normal temperature",
            minutes.floor()
        );
        told.push(("particles settle within", words));
    }
    if let Some(fluid) = &point.fluid {
        told.push(("product", fluid.clone()));
    }
    told
}

//! What holds for every draw at a point, worked out once a point.

use rustc_hash::FxHashMap;

use super::surroundings::Bearers;
use crate::model::{Class, History, RuleSet};
use crate::rules::{InForce, PreparedPoint, Rulebook};

/// One point as judging needs it.
pub(super) struct Ground<'a> {
    pub prepared: PreparedPoint<'a>,
    /// The rules in force at the point.
    pub in_force: &'a InForce,
    /// The rules that are on and whose kinds list the point's kind.
    pub rules: RuleSet,
    /// The number of its compartment.
    pub compartment: u32,
}

/// All points of a history and the bearers of its bottles.
pub(super) struct Groundwork<'a> {
    pub points: Vec<Ground<'a>>,
    pub bearers: Bearers,
    /// How many compartments there are.
    pub compartments: usize,
    /// The rules of class sample.
    pub sample: RuleSet,
}

impl<'a> Groundwork<'a> {
    pub fn new(history: &'a History, rulebook: &'a Rulebook) -> Self {
        let mut numbers = FxHashMap::default();
        let mut has_agreed = Vec::new();
        let mut compartment_of = Vec::with_capacity(history.points.len());
        for point in &history.points {
            let number = *numbers
                .entry(point.compartment.as_str())
                .or_insert(has_agreed.len());
            if number == has_agreed.len() {
                has_agreed.push(false);
            }
            has_agreed[number] |= point.is_agreed();
            compartment_of.push(number);
        }
        let all_in_force = rulebook.all_in_force();
        let points = history.points.iter().zip(compartment_of);
        Groundwork {
            points: points
                .map(|(point, compartment)| {
                    let place = rulebook.in_force_at(point.machine_class, point.site.as_deref());
                    let in_force = &all_in_force[place];
                    Ground {
                        prepared: PreparedPoint::new(point, has_agreed[compartment]),
                        in_force,
                        rules: in_force.of_kind(point.kind),
                        compartment: u32::try_from(compartment)
                            .expect("compartments are counted in 32 bits"),
                    }
                })
                .collect(),
            bearers: Bearers::count(&history.draws),
            compartments: has_agreed.len(),
            sample: InForce::of_class(Class::Sample),
        }
    }

    /// The number of the compartment of the point at this place.
    pub fn compartment_of(&self, point: u32) -> usize {
        self.points[point as usize].compartment as usize
    }
}

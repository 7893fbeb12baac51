//! Draws opened up: every rule's answer with the value seen and the value wanted.

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::groundwork::Groundwork;
use super::order;
use super::surroundings::Surroundings;
use super::weigh::{Scores, scores, verdict_within};
use crate::model::{Answer, Class, History, Outcome, RuleSet, Verdict};
use crate::rules::{COUNT, InForce, Rulebook, Situation};

/// One draw with the answer of every rule.
#[derive(Clone, Debug)]
pub struct Explained {
    /// The answers, in the contract's order.
    pub answers: [Answer; COUNT],
    /// The weights in force, in the contract's order.
    pub weights: [u32; COUNT],
    /// Rules whose breach alone is decisive.
    pub decisive: RuleSet,
    /// The verdict.
    pub verdict: Verdict,
    /// Scores of class sample.
    pub sample: Scores,
    /// Scores of class record.
    pub record: Scores,
    /// Scores of class conduct.
    pub conduct: Scores,
    /// Place in the history of the previous draw.
    pub previous: Option<usize>,
}

/// Explains the draws at these places of a history, in that order.
///
/// # Panics
/// When there is no draw at one of the places.
#[must_use]
pub fn explain(history: &History, places: &[usize], rulebook: &Rulebook) -> Vec<Explained> {
    let explainer = Explainer::of(history, rulebook, places);
    places
        .iter()
        .map(|&place| explainer.explain(place))
        .collect()
}

/// The surroundings of draws made ready, to explain them one at a time.
pub struct Explainer<'a> {
    history: &'a History,
    groundwork: Groundwork<'a>,
    /// For each compartment its draws in order, with their surroundings; empty for one
    /// that was not asked for.
    compartments: Vec<(Vec<u32>, Surroundings)>,
    /// For each draw its place in its compartment.
    place_in_compartment: FxHashMap<u32, u32>,
}

impl<'a> Explainer<'a> {
    /// Makes ready to explain the draws at these places of a history, and any other of
    /// their compartments.
    ///
    /// # Panics
    /// When there is no draw at one of the places.
    #[must_use]
    pub fn of(history: &'a History, rulebook: &'a Rulebook, places: &[usize]) -> Self {
        let groundwork = Groundwork::new(history, rulebook);
        let mut asked = vec![false; groundwork.compartments];
        for &place in places {
            asked[groundwork.compartment_of(history.draws[place].point)] = true;
        }
        let mut draws = vec![Vec::new(); groundwork.compartments];
        for (place, draw) in history.draws.iter().enumerate() {
            let compartment = groundwork.compartment_of(draw.point);
            if asked[compartment] {
                draws[compartment].push(order::number(place));
            }
        }
        let compartments: Vec<_> = draws
            .into_par_iter()
            .map(|mut draws| {
                let mut surroundings = Surroundings::default();
                order::sort(history, &mut draws);
                surroundings.look_at(history, &groundwork.bearers, &draws);
                surroundings.let_go_of_scratch();
                (draws, surroundings)
            })
            .collect();
        let mut place_in_compartment = FxHashMap::default();
        for (draws, _) in &compartments {
            place_in_compartment.extend(draws.iter().copied().zip(0..));
        }
        Explainer {
            history,
            groundwork,
            compartments,
            place_in_compartment,
        }
    }

    /// Explains the draw at this place of the history.
    ///
    /// # Panics
    /// When its compartment is none of those made ready.
    #[must_use]
    pub fn explain(&self, place: usize) -> Explained {
        let draw = &self.history.draws[place];
        let ground = &self.groundwork.points[draw.point as usize];
        let (draws, surroundings) = &self.compartments[ground.compartment as usize];
        let inside = self.place_in_compartment[&order::number(place)] as usize;
        let situation = surroundings.situation_in(self.history, draws, inside, &ground.prepared);
        let previous = surroundings
            .previous(inside)
            .map(|previous| draws[previous] as usize);
        explain_one(&situation, ground.in_force, ground.rules, previous)
    }
}

/// All rules over one draw, with their answers kept. `rules` are those that are on and
/// whose kinds list the point's kind.
fn explain_one(
    situation: &Situation,
    in_force: &InForce,
    rules: RuleSet,
    previous: Option<usize>,
) -> Explained {
    let answers: [Answer; COUNT] = std::array::from_fn(|place| match &in_force.rules[place] {
        Some(rule) if rules.has(place) => rule.judge(situation),
        _ => Answer::NOT_APPLICABLE,
    });
    let those = |outcome: Outcome| {
        let mut set = RuleSet::NONE;
        for (place, answer) in answers.iter().enumerate() {
            if answer.outcome == outcome {
                set.insert(place);
            }
        }
        set
    };
    let (broken, unrecorded) = (those(Outcome::Broken), those(Outcome::Unrecorded));
    let applicable = those(Outcome::Met).or(broken).or(unrecorded);
    let of_class = |class| {
        let class = InForce::of_class(class);
        scores(in_force, class, applicable, broken, unrecorded)
    };
    let sample = InForce::of_class(Class::Sample);
    Explained {
        answers,
        weights: in_force.weights,
        decisive: in_force.decisive,
        verdict: verdict_within(in_force, sample, applicable, broken, unrecorded),
        sample: of_class(Class::Sample),
        record: of_class(Class::Record),
        conduct: of_class(Class::Conduct),
        previous,
    }
}

//! What each rule costs: how many unrepresentative draws it is behind.

use rayon::prelude::*;

use super::breakdown::by_rule;
use super::share::CHUNK;
use super::{Assessed, Selection};
use crate::model::{Class, RuleSet, Verdict};
use crate::rules::{COUNT, InForce, cards};
use crate::scoring::weigh::each_alone_regains;

/// One rule over a set of draws.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cost {
    /// The place of the rule in the contract's order.
    pub rule: usize,
    /// Draws the rule applies to.
    pub draws: u64,
    /// Draws on which it is broken.
    pub broken: u64,
    /// Draws on which it is unrecorded.
    pub unrecorded: u64,
    /// Unrepresentative draws on which it is broken.
    pub unrepresentative: u64,
    /// Unrepresentative draws that would not be so had this rule alone been met: what
    /// keeping it regains at once. A draw with two grave breaches counts for neither.
    pub regained: u64,
}

impl Cost {
    /// The id of the rule.
    #[must_use]
    pub fn id(&self) -> &'static str {
        cards()[self.rule].id
    }

    /// Draws the rule applies to and whose record tells whether it is met.
    #[must_use]
    pub const fn recorded(&self) -> u64 {
        self.draws - self.unrecorded
    }

    /// The part of the recorded draws on which it is broken, from 0 to 1; none where no draw is
    /// recorded.
    #[must_use]
    pub fn share(&self) -> Option<f64> {
        let recorded = self.recorded();
        (recorded > 0).then(|| self.broken as f64 / recorded as f64)
    }
}

/// The cost of every rule over the selected draws, in the contract's order.
#[must_use]
pub fn cost(assessed: &Assessed, selection: &Selection) -> Vec<Cost> {
    let sample = InForce::of_class(Class::Sample);
    let behind = selection
        .par_chunks(CHUNK)
        .map(|rows| {
            let mut behind = [[0; 2]; COUNT];
            for &row in rows {
                look_behind(assessed, sample, row as usize, &mut behind);
            }
            behind
        })
        .reduce(|| [[0; 2]; COUNT], add);
    by_rule(assessed, selection)
        .into_iter()
        .zip(behind)
        .enumerate()
        .map(|(rule, (tally, [unrepresentative, regained]))| Cost {
            rule,
            draws: tally.draws,
            broken: tally.unrepresentative,
            unrecorded: tally.unproven,
            unrepresentative,
            regained,
        })
        .collect()
}

/// Counts, if this row is unrepresentative, the rules broken on it and those of them that
/// are alone behind it.
fn look_behind(assessed: &Assessed, sample: RuleSet, row: usize, behind: &mut [[u64; 2]; COUNT]) {
    let judged = &assessed.judged;
    if judged.verdict[row] != Verdict::Unrepresentative {
        return;
    }
    let place = assessed.in_force[judged.point[row] as usize];
    let in_force = &assessed.rulebook.all_in_force()[place];
    let (applicable, broken) = (judged.applicable[row], judged.broken[row]);
    let regaining = each_alone_regains(in_force, sample, applicable, broken);
    for rule in broken.iter() {
        behind[rule][0] += 1;
        behind[rule][1] += u64::from(regaining.has(rule));
    }
}

fn add(mut one: [[u64; 2]; COUNT], other: [[u64; 2]; COUNT]) -> [[u64; 2]; COUNT] {
    for (one, other) in one.iter_mut().flatten().zip(other.iter().flatten()) {
        *one += other;
    }
    one
}

//! What each rule costs: how many unrepresentative draws it is behind.

use super::breakdown::by_rule;
use super::how_often::how_often;
use super::{Assessed, Selection};
use crate::model::{RuleSet, Verdict};
use crate::rules::cards;

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
    let judged = &assessed.judged;
    let is_lost = |row: usize| judged.verdict[row] == Verdict::Unrepresentative;
    let behind = how_often(selection, |row| match is_lost(row) {
        true => [judged.broken[row]],
        false => [RuleSet::NONE],
    });
    let alone = assessed.shared_out().alone_behind(selection);
    by_rule(assessed, selection)
        .into_iter()
        .enumerate()
        .map(|(rule, tally)| Cost {
            rule,
            draws: tally.draws,
            broken: tally.unrepresentative,
            unrecorded: tally.unproven,
            unrepresentative: behind[0][rule],
            regained: alone[rule],
        })
        .collect()
}

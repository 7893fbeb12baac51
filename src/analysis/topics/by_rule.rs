//! What each rule costs the programme, with the sum shared out.

use crate::analysis::shared_out::draws;
use crate::analysis::{Assessed, Cost, Selection, cost};
use crate::model::{Class, Owner};
use crate::rules::cards;

/// One rule of class sample over a set of draws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RuleCost {
    /// Counts: where it applies, where it is broken, what it regains alone.
    pub counts: Cost,
    /// Its part of the unrepresentative draws, in draws. The parts of all rules add up to
    /// the number of unrepresentative draws.
    pub cost: f64,
}

impl RuleCost {
    /// The id of the rule.
    #[must_use]
    pub fn id(&self) -> &'static str {
        self.counts.id()
    }

    /// Who can put it right.
    #[must_use]
    pub fn owner(&self) -> Owner {
        cards()[self.counts.rule].owner
    }
}

/// The rules of class sample that apply to any selected draw, the costliest first; equal
/// ones in the contract's order.
#[must_use]
pub fn rule_costs(assessed: &Assessed, selection: &Selection) -> Vec<RuleCost> {
    let parts = assessed.shared_out().by_rule(selection);
    let mut rules: Vec<(i64, Cost)> = cost(assessed, selection)
        .into_iter()
        .filter(|counts| cards()[counts.rule].class == Class::Sample && counts.draws > 0)
        .map(|counts| (parts[counts.rule], counts))
        .collect();
    rules.sort_by_key(|(parts, counts)| (-parts, counts.rule));
    rules
        .into_iter()
        .map(|(parts, counts)| RuleCost {
            counts,
            cost: draws(parts),
        })
        .collect()
}

//! What the model says of each level of a factor.

use super::data::Data;
use super::error::Side;
use super::logistic::share;
use crate::stats::{multiple, normal};

/// One level of a factor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level {
    /// Its trials.
    pub trials: u64,
    /// Those with the event.
    pub events: u64,
    /// Events expected if this level were an average one meeting the same partners under
    /// the same fixed effects: the sum over its trials of 1/(1 + exp(−(x'β + effect of
    /// the partner))).
    pub expected: f64,
    /// Its effect on the log-odds scale: the conditional mode, shrunk towards 0.
    pub effect: f64,
    /// Conditional standard deviation of the effect, given σ and β.
    pub effect_se: f64,
    /// Two-sided tail of effect/standard deviation: twice the probability, given the
    /// data, that the effect lies on the other side of 0. 1 where the factor has no
    /// spread; `None` without trials.
    pub p: Option<f64>,
    /// `p` adjusted after Benjamini and Hochberg over all levels of the factor with
    /// trials. Effects are shrunk already, so this is on the careful side.
    pub q: Option<f64>,
    /// Its trials at partners which other levels meet too: the ones that can tell level
    /// and partner apart.
    pub shared_trials: u64,
    /// The island it is on; `None` without trials.
    pub island: Option<usize>,
}

impl Level {
    /// Odds of the event against an average level, with the interval at ± `z` standard
    /// deviations: (ratio, low, high).
    #[must_use]
    pub fn odds_ratio(&self, z: f64) -> (f64, f64, f64) {
        let at = |z: f64| libm::exp(self.effect + z * self.effect_se);
        (at(0.0), at(-z), at(z))
    }
}

/// The levels of one factor, given the modes of both on the log-odds scale and β as
/// given, intercept first.
pub fn of(
    data: &Data,
    side: Side,
    modes: &[Vec<(f64, f64)>; 2],
    beta: &[f64],
    islands: &[Option<usize>],
) -> Vec<Level> {
    let (own, partner) = (side.index(), side.other().index());
    let fixed: Vec<f64> = data
        .patterns
        .iter()
        .map(|row| row.iter().zip(beta).map(|(x, b)| x * b).sum())
        .collect();
    let met_by_others = met_by_several(data, side);
    let mut levels: Vec<Level> = modes[own]
        .iter()
        .zip(islands)
        .map(|(&(effect, effect_se), &island)| Level {
            trials: 0,
            events: 0,
            expected: 0.0,
            effect,
            effect_se,
            p: None,
            q: None,
            shared_trials: 0,
            island,
        })
        .collect();
    for cell in &data.cells {
        let level = &mut levels[cell.levels[own] as usize];
        let other = cell.levels[partner] as usize;
        let eta = fixed[cell.pattern as usize] + modes[partner][other].0;
        level.trials += cell.trials;
        level.events += cell.events;
        level.expected += cell.trials as f64 * share(eta);
        if met_by_others[other] {
            level.shared_trials += cell.trials;
        }
    }
    set_p(&mut levels);
    levels
}

fn set_p(levels: &mut [Level]) {
    for level in levels.iter_mut().filter(|level| level.trials > 0) {
        level.p = Some(if level.effect_se > 0.0 {
            normal::two_sided(level.effect / level.effect_se)
        } else {
            1.0
        });
    }
    let p: Vec<f64> = levels
        .iter()
        .map(|level| level.p.unwrap_or(f64::NAN))
        .collect();
    for (level, q) in levels.iter_mut().zip(multiple::adjusted(&p)) {
        level.q = level.p.map(|_| q);
    }
}

/// For each level of the other factor, whether two or more levels of this one meet it.
fn met_by_several(data: &Data, side: Side) -> Vec<bool> {
    let (own, partner) = (side.index(), side.other().index());
    let mut first_met: Vec<Option<u32>> = vec![None; data.levels[partner]];
    let mut several = vec![false; data.levels[partner]];
    for cell in &data.cells {
        let other = cell.levels[partner] as usize;
        let met = *first_met[other].get_or_insert(cell.levels[own]);
        several[other] |= met != cell.levels[own];
    }
    several
}

//! The full model, the models without a factor, and what comparing them says.

use std::f64::consts::{PI, SQRT_2};

use super::answer::{Caution, Deviance, Factor, Fit};
use super::data::Data;
use super::error::{CrossedError, Side};
use super::inner::Inner;
use super::islands::{Islands, islands};
use super::levels::{self, Level};
use super::logistic::{self, Scaling};
use super::models::{Best, Candidate, Models};
use super::search::Point;
use crate::stats::chi_square;

/// Levels of the smaller factor that a dense system can take: at 3,000 each of its three
/// matrices needs 72 MB, and a step takes seconds.
const MOST_LEVELS: usize = 3_000;
/// The normal quantile at three quarters, for the median odds ratio.
const QUARTILE: f64 = 0.674_489_750_196_081_7;

/// Fits the model. Its cost grows with cells + Σ over levels of the larger factor of
/// (partners met)² + (levels of the smaller factor)³/3.
///
/// # Errors
///
/// If nothing varies, fixed effects can't be estimated, the factors can't be told apart,
/// the smaller factor has more than 3,000 levels, or no trustworthy minimum is found.
pub fn fit(data: &Data) -> Result<Fit, CrossedError> {
    fit_while(data, &mut || true)
}

/// [`fit`], asking before each evaluation whether to go on.
///
/// # Errors
///
/// As [`fit`], and [`CrossedError::Stopped`] once `keep_going` answers no.
pub fn fit_while(data: &Data, keep_going: &mut dyn FnMut() -> bool) -> Result<Fit, CrossedError> {
    let (events, trials) = data.totals();
    if trials == 0 {
        return Err(CrossedError::Empty);
    }
    if events == 0 || events == trials {
        return Err(CrossedError::OneOutcome { events, trials });
    }
    let scaling = Scaling::of(data)?;
    let plain = logistic::fit(data, &scaling)?;
    let islands = islands(data, 1);
    let present = Side::BOTH.map(|side| islands.of[side.index()].iter().flatten().count());
    let active: Vec<Side> = Side::BOTH
        .into_iter()
        .filter(|side| present[side.index()] > 1)
        .collect();
    if active.len() == 2 && present == [islands.count; 2] {
        return Err(CrossedError::Inseparable);
    }
    if active.len() == 2 {
        refuse_too_many_levels(data)?;
    }
    let mut models = Models {
        data,
        scaling: &scaling,
        plain: &plain,
        keep_going,
        evaluations: 0,
    };
    let alone: Vec<Candidate> = active
        .iter()
        .map(|side| models.alone(*side))
        .collect::<Result<_, _>>()?;
    let together = match &alone[..] {
        [first, second] => Some(models.together(first, second)?),
        _ => None,
    };
    let comparison = Comparison::of(plain.deviance, &alone, together.as_ref());
    let best = models.finish(&comparison.sides, comparison.start)?;
    let factors = Side::BOTH.map(|side| {
        let levels = levels::of(
            data,
            side,
            &best.modes,
            &best.beta(),
            &islands.of[side.index()],
        );
        factor(&best, side, levels, &comparison)
    });
    let cautions = cautions(&factors, &active, &islands);
    Ok(Fit {
        events,
        trials,
        coefficients: best.coefficients,
        factors,
        deviance: best.deviance,
        log_coefficients: data.log_coefficients(),
        deviance_fixed_only: plain.deviance,
        islands,
        cautions,
        evaluations: models.evaluations,
        left: best.left,
    })
}

fn refuse_too_many_levels(data: &Data) -> Result<(), CrossedError> {
    let levels = data.levels[0].min(data.levels[1]);
    if levels > MOST_LEVELS {
        return Err(CrossedError::TooManyLevels {
            levels,
            most: MOST_LEVELS,
        });
    }
    Ok(())
}

/// The deviance at given σ of both factors and β (intercept first), without any search:
/// what to compare with another program before comparing fits.
///
/// # Errors
///
/// If the data can't carry the fixed effects or the mode is not reached.
pub fn deviance_at(data: &Data, sigma: [f64; 2], beta: &[f64]) -> Result<Deviance, CrossedError> {
    if data.totals().1 == 0 {
        return Err(CrossedError::Empty);
    }
    refuse_too_many_levels(data)?;
    let scaling = Scaling::of(data)?;
    let mut inner = Inner::new(data, scaling.patterns(&data.patterns), &Side::BOTH);
    let of = |side: Option<Side>| side.map_or(0.0, |side| sigma[side.index()]);
    let sigma = [of(inner.layout.small), of(inner.layout.large)];
    inner.deviance(sigma, &scaling.there(beta))
}

/// Which model holds, and the deviance of each with a factor left out.
struct Comparison<'a> {
    sides: Vec<Side>,
    start: Option<&'a Point>,
    best: f64,
    without: [f64; 2],
}

impl<'a> Comparison<'a> {
    /// The model with the fewest factors that is as good as any: a σ that gains nothing
    /// is exactly 0, not a small number.
    fn of(plain: f64, alone: &'a [Candidate], together: Option<&'a Candidate>) -> Comparison<'a> {
        let one = |side: Side| alone.iter().find(|model| model.sides == [side]);
        let without =
            |side: Side| one(side.other()).map_or(plain, |model| model.point.deviance.min(plain));
        let all = alone.iter().chain(together);
        let best = all
            .clone()
            .fold(plain, |best, model| best.min(model.point.deviance));
        let good = best + 1e-8 + 1e-13 * best.abs();
        let mut choice = Comparison {
            sides: Vec::new(),
            start: None,
            best,
            without: Side::BOTH.map(without),
        };
        if plain > good {
            let fewest = all
                .filter(|model| model.point.deviance <= good)
                .min_by_key(|model| model.sides.len());
            choice.sides = fewest.map_or_else(Vec::new, |model| model.sides.clone());
            choice.start = fewest.map(|model| &model.point);
        }
        choice
    }
}

fn factor(best: &Best, side: Side, levels: Vec<Level>, comparison: &Comparison) -> Factor {
    let sigma = best.sigma[side.index()];
    let variance: f64 = best.sigma.iter().map(|sigma| sigma * sigma).sum();
    let gained = if sigma > 0.0 {
        (comparison.without[side.index()] - comparison.best).max(0.0)
    } else {
        0.0
    };
    Factor {
        sigma,
        sigma_se: best.sigma_se[side.index()],
        median_odds_ratio: libm::exp(SQRT_2 * sigma * QUARTILE),
        variance_share: sigma * sigma / (variance + PI * PI / 3.0),
        gained,
        p: chi_square::on_the_border(gained),
        levels,
    }
}

fn cautions(factors: &[Factor; 2], active: &[Side], islands: &Islands) -> Vec<Caution> {
    let mut cautions = Vec::new();
    if islands.count > 1 {
        cautions.push(Caution::Islands {
            count: islands.count,
        });
    }
    for side in Side::BOTH {
        let factor = &factors[side.index()];
        if !active.contains(&side) {
            cautions.push(Caution::OneLevel { side });
            continue;
        }
        if factor.sigma > 2.0 {
            cautions.push(Caution::WideSpread { side });
        }
        let mut trials: Vec<u64> = factor
            .levels
            .iter()
            .map(|level| level.trials)
            .filter(|n| *n > 0)
            .collect();
        trials.sort_unstable();
        let median = trials[trials.len() / 2];
        if median < 5 {
            cautions.push(Caution::FewTrials { side, median });
        }
    }
    cautions
}

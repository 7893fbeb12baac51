//! True shares of many units: a beta law over them, and each unit's share shrunk to it.
//!
//! xᵢ ~ Binomial(nᵢ, pᵢ), pᵢ ~ Beta(α, β); α and β by maximum marginal likelihood, then
//! unit i has the posterior Beta(α + x, β + n − x), of which n/(n + α + β) rests on its
//! own trials. Sources: J. G. Skellam, Journal of the Royal Statistical Society B 10
//! (1948) 257–261; R. E. Tarone, Biometrika 66 (1979) 585–590 for the test of the border.
//!
//! Cures the luck of small numbers, not confounding: a careful person given the hard
//! places still looks careless. For that the crossed model. The intervals take α and β as
//! known and are a little short when there are few units.

use super::beta;

/// The law of the true shares.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fit {
    /// The units differ by no more than chance: each has the pooled share.
    Alike {
        /// All events by all trials.
        pooled: f64,
    },
    /// The units differ.
    Spread(Spread),
    /// Every unit had all or nothing, so no finite law fits best.
    AllOrNothing {
        /// The share of units that had all.
        share: f64,
    },
}

/// A beta law fitted to shares.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// First shape.
    pub alpha: f64,
    /// Second shape.
    pub beta: f64,
    /// Standard error of ln `alpha`.
    pub se_log_alpha: f64,
    /// Standard error of ln `beta`.
    pub se_log_beta: f64,
    /// Covariance of the two logarithms.
    pub covariance: f64,
    /// Log-likelihood at the maximum, without the binomial coefficients.
    pub log_likelihood: f64,
}

/// A unit's share, drawn towards the mean of all as far as its own trials are few.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shrunken {
    /// Posterior mean.
    pub share: f64,
    /// Lower end of the interval, equal tails.
    pub low: f64,
    /// Upper end of the interval.
    pub high: f64,
    /// How much of it rests on the unit's own trials, 0..1.
    pub own_weight: f64,
    /// Probability that the true share lies above the mean of the law.
    pub above: f64,
}

/// The slope of the log-likelihood at no spread: the maximum lies inside only if it is
/// above 0. ½ Σ [x(x − 1)/p + (n − x)(n − x − 1)/(1 − p) − n(n − 1)] at the pooled p;
/// `None` if the event happened never or always.
#[must_use]
pub fn slope_at_no_spread(units: &[(u64, u64)]) -> Option<f64> {
    let pooled = pooled(units)?;
    if pooled <= 0.0 || pooled >= 1.0 {
        return None;
    }
    let twice = |x: u64| x as f64 * (x as f64 - 1.0);
    let part = |&(x, n): &(u64, u64)| twice(x) / pooled + twice(n - x) / (1.0 - pooled) - twice(n);
    Some(units.iter().map(part).sum::<f64>() / 2.0)
}

/// Tarone's z of no spread, one-sided, standard normal for many units; `None` if the
/// event happened never or always or no unit has two trials.
#[must_use]
pub fn tarone_z(units: &[(u64, u64)]) -> Option<f64> {
    let p = pooled(units)?;
    let pairs: f64 = units
        .iter()
        .map(|&(_, n)| n as f64 * (n as f64 - 1.0))
        .sum();
    if p <= 0.0 || p >= 1.0 || pairs <= 0.0 {
        return None;
    }
    let spread = |&(x, n): &(u64, u64)| (x as f64 - n as f64 * p).powi(2);
    let trials: f64 = units.iter().map(|&(_, n)| n as f64).sum();
    let over = units.iter().map(spread).sum::<f64>() / (p * (1.0 - p)) - trials;
    Some(over / (2.0 * pairs).sqrt())
}

fn pooled(units: &[(u64, u64)]) -> Option<f64> {
    let trials: f64 = units.iter().map(|unit| unit.1 as f64).sum();
    let events: f64 = units.iter().map(|unit| unit.0 as f64).sum();
    (trials > 0.0).then(|| events / trials)
}

/// Fits the law to units of (events, trials), events at most trials; units without
/// trials are passed over. `None` if there are no trials, or if the search fails, which
/// no known data make it do.
#[must_use]
pub fn fit(units: &[(u64, u64)]) -> Option<Fit> {
    let units: Vec<(u64, u64)> = units.iter().copied().filter(|unit| unit.1 > 0).collect();
    let pooled = pooled(&units)?;
    // within rounding of a sum of squares, a slope of 0 is no spread
    let scale: f64 = units.iter().map(|unit| (unit.1 as f64).powi(2)).sum();
    match slope_at_no_spread(&units) {
        Some(slope) if slope > 1e-12 * scale => {}
        _ => return Some(Fit::Alike { pooled }),
    }
    if units.iter().all(|&(x, n)| x == 0 || x == n) {
        let all = units.iter().filter(|unit| unit.0 > 0).count();
        return Some(Fit::AllOrNothing {
            share: all as f64 / units.len() as f64,
        });
    }
    let likelihood = Likelihood::new(&units);
    let best = [0.5, 5.0, 50.0, 500.0]
        .iter()
        .filter_map(|precision| likelihood.climb(pooled, *precision))
        .max_by(|a, b| a.log_likelihood.total_cmp(&b.log_likelihood))?;
    Some(Fit::Spread(best))
}

impl Spread {
    /// The mean of the law.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.alpha / (self.alpha + self.beta)
    }

    /// The correlation of two trials of one unit, 1/(α + β + 1).
    #[must_use]
    pub fn correlation(&self) -> f64 {
        1.0 / (self.alpha + self.beta + 1.0)
    }

    /// The shrunken share of a unit with an interval at `confidence`.
    #[must_use]
    pub fn shrunken(&self, (events, trials): (u64, u64), confidence: f64) -> Shrunken {
        let a = self.alpha + events as f64;
        let b = self.beta + (trials - events) as f64;
        let tail = (1.0 - confidence) / 2.0;
        Shrunken {
            share: a / (a + b),
            low: beta::quantile(tail, a, b),
            high: beta::upper_quantile(tail, a, b),
            own_weight: trials as f64 / (a + b),
            above: beta::tails(a, b, self.mean()).1,
        }
    }
}

/// The likelihood as sums over j of ln(α + j), each with the number of units that reach
/// past j: exact where differences of log-gamma values would cancel.
struct Likelihood {
    events: Vec<f64>,
    others: Vec<f64>,
    trials: Vec<f64>,
}

/// Value, gradient and Hessian in (ln α, ln β).
struct Local {
    value: f64,
    gradient: [f64; 2],
    /// [αα, αβ, ββ]
    hessian: [f64; 3],
}

impl Likelihood {
    fn new(units: &[(u64, u64)]) -> Likelihood {
        let reach = |count: fn(&(u64, u64)) -> u64| {
            let most = units.iter().map(count).max().unwrap_or(0) as usize;
            let mut past = vec![0.0; most];
            for unit in units {
                if let Some(last) = (count(unit) as usize).checked_sub(1) {
                    past[last] += 1.0;
                }
            }
            for j in (1..most).rev() {
                past[j - 1] += past[j];
            }
            past
        };
        Likelihood {
            events: reach(|unit| unit.0),
            others: reach(|unit| unit.1 - unit.0),
            trials: reach(|unit| unit.1),
        }
    }

    fn at(&self, log_alpha: f64, log_beta: f64) -> Local {
        let (alpha, beta) = (libm::exp(log_alpha), libm::exp(log_beta));
        let sums = |past: &[f64], shape: f64| {
            past.iter()
                .enumerate()
                .fold([0.0; 3], |[log, one, two], (j, count)| {
                    let at = shape + j as f64;
                    [
                        log + count * libm::log(at),
                        one + count / at,
                        two + count / (at * at),
                    ]
                })
        };
        let a = sums(&self.events, alpha);
        let b = sums(&self.others, beta);
        let n = sums(&self.trials, alpha + beta);
        let (slope_a, slope_b) = (a[1] - n[1], b[1] - n[1]);
        Local {
            value: a[0] + b[0] - n[0],
            gradient: [alpha * slope_a, beta * slope_b],
            hessian: [
                alpha * alpha * (n[2] - a[2]) + alpha * slope_a,
                alpha * beta * n[2],
                beta * beta * (n[2] - b[2]) + beta * slope_b,
            ],
        }
    }

    /// Newton, damped until it climbs, from a mean and a precision.
    fn climb(&self, mean: f64, precision: f64) -> Option<Spread> {
        let mut at = [
            libm::log(mean * precision),
            libm::log((1.0 - mean) * precision),
        ];
        let mut local = self.at(at[0], at[1]);
        let mut damping = 0.0;
        for _ in 0..500 {
            let [x, y] = local.gradient;
            let [aa, ab, bb] = local.hessian;
            let (m_aa, m_bb) = (damping - aa, damping - bb);
            let determinant = m_aa * m_bb - ab * ab;
            if m_aa <= 0.0 || determinant <= 0.0 {
                damping = (2.0 * damping).max(0.1);
                continue;
            }
            let step = [
                (m_bb * x + ab * y) / determinant,
                (ab * x + m_aa * y) / determinant,
            ];
            let gain = step[0] * x + step[1] * y;
            if damping == 0.0 && gain < 1e-20 {
                return Some(local.spread(at));
            }
            let next = [
                at[0] + step[0].clamp(-2.0, 2.0),
                at[1] + step[1].clamp(-2.0, 2.0),
            ];
            let there = self.at(next[0], next[1]);
            if there.value >= local.value - 1e-13 * local.value.abs() {
                (at, local) = (next, there);
                damping = if damping < 1e-3 { 0.0 } else { damping / 4.0 };
                if gain < 1e-16 * local.value.abs() && damping == 0.0 {
                    return Some(local.spread(at));
                }
            } else {
                damping = (4.0 * damping).max(0.1);
            }
        }
        None
    }
}

impl Local {
    fn spread(&self, at: [f64; 2]) -> Spread {
        let [aa, ab, bb] = self.hessian;
        let determinant = aa * bb - ab * ab;
        Spread {
            alpha: libm::exp(at[0]),
            beta: libm::exp(at[1]),
            se_log_alpha: (-bb / determinant).sqrt(),
            se_log_beta: (-aa / determinant).sqrt(),
            covariance: ab / determinant,
            log_likelihood: self.value,
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn the_edges_are_answers() {
        assert_eq!(fit(&[]), None);
        assert_eq!(fit(&[(0, 0)]), None);
        assert_eq!(fit(&[(0, 5), (0, 9)]), Some(Fit::Alike { pooled: 0.0 }));
        assert_eq!(fit(&[(5, 5), (9, 9)]), Some(Fit::Alike { pooled: 1.0 }));
        assert_eq!(fit(&[(1, 1), (0, 1)]), Some(Fit::Alike { pooled: 0.5 }));
        assert_eq!(fit(&[(2, 4), (2, 4)]), Some(Fit::Alike { pooled: 0.5 }));
        let extreme = fit(&[(5, 5), (0, 5), (0, 9)]);
        assert_eq!(extreme, Some(Fit::AllOrNothing { share: 1.0 / 3.0 }));
        assert_eq!(tarone_z(&[(1, 1), (0, 1)]), None);
    }

    #[test]
    fn a_u_shaped_law_is_found() {
        let Some(Fit::Spread(found)) = fit(&[(0, 9), (9, 9), (0, 7), (8, 9), (1, 8), (6, 6)])
        else {
            panic!("no spread");
        };
        assert!(found.alpha < 1.0 && found.beta < 1.0, "{found:?}");
    }

    #[test]
    fn swapping_event_and_other_swaps_the_shapes() {
        let units = [(0, 9), (5, 19), (2, 7), (8, 30), (1, 18), (6, 11)];
        let swapped = units.map(|(x, n)| (n - x, n));
        let (Some(Fit::Spread(one)), Some(Fit::Spread(other))) = (fit(&units), fit(&swapped))
        else {
            panic!("no spread");
        };
        assert!((one.alpha / other.beta - 1.0).abs() < 1e-7);
        assert!((one.log_likelihood - other.log_likelihood).abs() < 1e-10);
    }
}

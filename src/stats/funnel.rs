//! Funnel limits: how far a share may stray from the common share by chance, given the
//! number of trials behind it.
//!
//! For a tail probability p: r is the smallest whole number with P(R ≤ r) > p for
//! R ~ Binomial(n, θ), α = (P(R ≤ r) − p)/P(R = r), and the limit is (r − α)/n. Source:
//! D. J. Spiegelhalter, Statistics in Medicine 24 (2005) 1185–1202, appendix A.1.1.
//!
//! With a true spread between units most lie outside: that says the units differ, not
//! that each is to blame. φ, the mean of z², tells how much wider the spread is than
//! chance, and the limits can be widened by √φ.

use super::binomial;
use super::bisect::first;
use super::control::Side;

/// The tail probability of a 95 % limit.
pub const TAIL_95: f64 = 0.025;
/// The tail probability of a 99.8 % limit.
pub const TAIL_998: f64 = 0.001;

/// The four limits at one number of trials, as shares. A lower one can be negative: draw
/// it at 0; it never flags.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Lower limit at 99.8 %.
    pub low_998: f64,
    /// Lower limit at 95 %.
    pub low_95: f64,
    /// Upper limit at 95 %.
    pub high_95: f64,
    /// Upper limit at 99.8 %.
    pub high_998: f64,
}

/// The interpolated limit with probability `tail` below it, at `trials` around `theta`;
/// `None` without trials or unless 0 < `theta` < 1 and 0 < `tail` < 1.
#[must_use]
pub fn limit(theta: f64, trials: u64, tail: f64) -> Option<f64> {
    let inside = |value: f64| value > 0.0 && value < 1.0;
    if trials == 0 || !inside(theta) || !inside(tail) {
        return None;
    }
    let r = first(0, trials, |r| binomial::at_most(r, trials, theta) > tail);
    let over = binomial::at_most(r, trials, theta) - tail;
    let alpha = over / binomial::exactly(r, trials, theta);
    Some((r as f64 - alpha) / trials as f64)
}

impl Limits {
    /// The limits at `trials` around `theta`; `None` as for [`limit`].
    #[must_use]
    pub fn at(theta: f64, trials: u64) -> Option<Limits> {
        Some(Limits {
            low_998: limit(theta, trials, TAIL_998)?,
            low_95: limit(theta, trials, TAIL_95)?,
            high_95: limit(theta, trials, 1.0 - TAIL_95)?,
            high_998: limit(theta, trials, 1.0 - TAIL_998)?,
        })
    }

    /// The limits moved away from `theta` by √`phi`; unchanged if `phi` is below 1.
    #[must_use]
    pub fn widened(self, theta: f64, phi: f64) -> Limits {
        let factor = phi.max(1.0).sqrt();
        let away = |limit: f64| theta + factor * (limit - theta);
        Limits {
            low_998: away(self.low_998),
            low_95: away(self.low_95),
            high_95: away(self.high_95),
            high_998: away(self.high_998),
        }
    }

    /// On which side `share` lies strictly outside the 95 % limits.
    #[must_use]
    pub fn outside_95(self, share: f64) -> Option<Side> {
        beyond(share, self.low_95, self.high_95)
    }

    /// On which side `share` lies strictly outside the 99.8 % limits.
    #[must_use]
    pub fn outside_998(self, share: f64) -> Option<Side> {
        beyond(share, self.low_998, self.high_998)
    }
}

fn beyond(share: f64, low: f64, high: f64) -> Option<Side> {
    if share > high {
        Some(Side::Above)
    } else if share < low {
        Some(Side::Below)
    } else {
        None
    }
}

/// (share − `theta`)/√(`theta`(1 − `theta`)/n) of (events, trials); `None` without trials
/// or at a `theta` of 0 or 1.
#[must_use]
pub fn z(theta: f64, (events, trials): (u64, u64)) -> Option<f64> {
    let variance = theta * (1.0 - theta) / trials as f64;
    (trials > 0 && variance > 0.0)
        .then(|| (events as f64 / trials as f64 - theta) / variance.sqrt())
}

/// The dispersion factor φ: the mean of z² over units of (events, trials). With
/// `winsorised`, the tenth of the units with the smallest z (rounded down) are first
/// raised to the next smallest and the largest lowered likewise, so that a few culprits
/// don't excuse each other. `None` if no unit has a z.
#[must_use]
pub fn phi(theta: f64, units: &[(u64, u64)], winsorised: bool) -> Option<f64> {
    let mut all: Vec<f64> = units.iter().filter_map(|&unit| z(theta, unit)).collect();
    if all.is_empty() {
        return None;
    }
    all.sort_by(f64::total_cmp);
    if winsorised {
        let cut = all.len() / 10;
        let (low, high) = (all[cut], all[all.len() - 1 - cut]);
        all.iter_mut().for_each(|z| *z = z.clamp(low, high));
    }
    Some(all.iter().map(|z| z * z).sum::<f64>() / all.len() as f64)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn a_common_share_of_nothing_or_all_has_no_funnel() {
        assert_eq!(Limits::at(0.0, 10), None);
        assert_eq!(Limits::at(1.0, 10), None);
        assert_eq!(Limits::at(0.1, 0), None);
        assert_eq!(phi(0.1, &[], true), None);
        assert_eq!(phi(0.0, &[(0, 5)], false), None);
    }

    #[test]
    fn widening_never_narrows() {
        let limits = Limits::at(0.1, 200).unwrap();
        assert_eq!(limits.widened(0.1, 0.5), limits);
        let wide = limits.widened(0.1, 4.0);
        assert!((wide.high_95 - 0.1 - 2.0 * (limits.high_95 - 0.1)).abs() < 1e-15);
        assert!(wide.low_998 < limits.low_998);
    }

    #[test]
    fn limits_close_in_on_the_common_share() {
        let mut before = f64::INFINITY;
        for trials in [10, 100, 1_000, 10_000, 100_000, 1_000_000] {
            let width = Limits::at(0.1, trials).unwrap();
            let width = width.high_998 - width.low_998;
            assert!(width < before);
            before = width;
        }
    }
}

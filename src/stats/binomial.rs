//! Binomial probabilities that stay exact for a million trials.
//!
//! Differences of log-gamma values lose about nine digits at a million trials. The
//! saddle-point form keeps them: the error of Stirling's formula and the deviance are
//! taken apart, and each is small and known to full precision.
//!
//! Source: C. Loader, "Fast and accurate computation of binomial probabilities" (2000),
//! equations (2)–(5). Tails through the incomplete beta function.

use std::f64::consts::PI;

use super::beta;

/// ln Γ(n + 1) minus Stirling's (n + ½) ln n − n + ½ ln 2π, for `n` > 0 not
/// necessarily whole.
fn stirling_error(n: f64) -> f64 {
    if n < 16.0 {
        return libm::lgamma(n + 1.0) - (n + 0.5) * libm::log(n) + n - 0.5 * libm::log(2.0 * PI);
    }
    let n2 = n * n;
    let tail = 1.0 / 1680.0 - 1.0 / (1188.0 * n2);
    (1.0 / 12.0 - (1.0 / 360.0 - (1.0 / 1260.0 - tail / n2) / n2) / n2) / n
}

/// x ln(x / mean) + mean − x, without the cancellation near x = mean.
fn deviance_part(x: f64, mean: f64) -> f64 {
    let difference = x - mean;
    if difference.abs() >= 0.1 * (x + mean) {
        return x * libm::log(x / mean) - difference;
    }
    let ratio = difference / (x + mean);
    let mut sum = difference * ratio;
    let mut power = 2.0 * x * ratio;
    for j in 1..1000 {
        power *= ratio * ratio;
        let next = sum + power / f64::from(2 * j + 1);
        if next == sum {
            break;
        }
        sum = next;
    }
    sum
}

/// n! / (x! (n − x)!) pˣ qⁿ⁻ˣ for 0 < `x` < `n`, not necessarily whole, q = 1 − p.
pub(super) fn power(x: f64, n: f64, p: f64, q: f64) -> f64 {
    let rest = n - x;
    let exponent = stirling_error(n)
        - stirling_error(x)
        - stirling_error(rest)
        - deviance_part(x, n * p)
        - deviance_part(rest, n * q);
    libm::exp(exponent) * (n / (2.0 * PI * x * rest)).sqrt()
}

/// P(X = `k`) for X ~ Binomial(`n`, `p`), `p` in 0..=1; 0 for `k` > `n`.
#[must_use]
pub fn exactly(k: u64, n: u64, p: f64) -> f64 {
    if k > n {
        return 0.0;
    }
    if p <= 0.0 {
        return if k == 0 { 1.0 } else { 0.0 };
    }
    if p >= 1.0 {
        return if k == n { 1.0 } else { 0.0 };
    }
    if k == 0 {
        return libm::exp(n as f64 * libm::log1p(-p));
    }
    if k == n {
        return libm::exp(n as f64 * libm::log(p));
    }
    power(k as f64, n as f64, p, 1.0 - p)
}

/// P(X ≤ `k`) for X ~ Binomial(`n`, `p`), `p` in 0..=1.
#[must_use]
pub fn at_most(k: u64, n: u64, p: f64) -> f64 {
    if k >= n {
        return 1.0;
    }
    beta::tails((k + 1) as f64, (n - k) as f64, p).1
}

/// P(X ≥ `k`) for X ~ Binomial(`n`, `p`), `p` in 0..=1.
#[must_use]
pub fn at_least(k: u64, n: u64, p: f64) -> f64 {
    if k == 0 {
        return 1.0;
    }
    if k > n {
        return 0.0;
    }
    beta::tails(k as f64, (n - k + 1) as f64, p).0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ln C(n, k) by whole numbers, for the check below.
    fn choose(n: u64, k: u64) -> f64 {
        (0..k).fold(1.0, |c, j| c * (n - j) as f64 / (j + 1) as f64)
    }

    #[test]
    fn small_probabilities_agree_with_counting() {
        for n in 1..=30_u64 {
            for k in 0..=n {
                let p: f64 = 0.07;
                let counted = choose(n, k) * p.powi(k as i32) * (1.0 - p).powi((n - k) as i32);
                assert!(
                    (exactly(k, n, p) / counted - 1.0).abs() < 1e-13,
                    "{k} of {n}"
                );
                let below: f64 = (0..=k).map(|j| exactly(j, n, p)).sum();
                assert!((at_most(k, n, p) - below).abs() < 1e-14);
                let above: f64 = (k..=n).map(|j| exactly(j, n, p)).sum();
                assert!((at_least(k, n, p) / above - 1.0).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn a_million_trials_still_sum_to_one() {
        let (n, p) = (1_000_000, 0.1);
        let sum: f64 = (97_000..103_000).map(|k| exactly(k, n, p)).sum();
        assert!((sum - 1.0).abs() < 1e-12, "{sum}");
        let lower: f64 = (0..=99_700)
            .rev()
            .take(5_000)
            .map(|k| exactly(k, n, p))
            .sum();
        assert!((at_most(99_700, n, p) / lower - 1.0).abs() < 1e-11);
    }

    #[test]
    fn certain_outcomes_are_certain() {
        assert_eq!(exactly(0, 5, 0.0), 1.0);
        assert_eq!(exactly(5, 5, 1.0), 1.0);
        assert_eq!(exactly(6, 5, 0.5), 0.0);
        assert_eq!(at_most(5, 5, 0.5), 1.0);
        assert_eq!(at_least(0, 5, 0.0), 1.0);
        assert_eq!(at_least(6, 5, 0.5), 0.0);
        assert_eq!(at_most(0, 0, 0.3), 1.0);
    }
}

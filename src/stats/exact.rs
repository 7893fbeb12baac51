//! The exact (Clopper-Pearson) interval of a share, and one-sided bounds.
//!
//! Formula: the share at which `x` or more of `n` has the tail probability (lower end),
//! and at which `x` or fewer has it (upper end): quantiles of Beta(x, n − x + 1) and
//! Beta(x + 1, n − x). Source: C. J. Clopper, E. S. Pearson, Biometrika 26 (1934)
//! 404–413. Never covers less than it says, usually more: wider than Wilson's.

use super::beta;

/// The two-sided interval on `events` of `trials` at `confidence` (between 0 and 1);
/// `None` without trials. Exactly 0 and 1 at the extremes.
#[must_use]
pub fn interval(events: u64, trials: u64, confidence: f64) -> Option<(f64, f64)> {
    let tail = (1.0 - confidence) / 2.0;
    Some((lower(events, trials, tail)?, upper(events, trials, tail)?))
}

/// The one-sided lower bound at `confidence`: the true share is at least this.
#[must_use]
pub fn lower_bound(events: u64, trials: u64, confidence: f64) -> Option<f64> {
    lower(events, trials, 1.0 - confidence)
}

/// The one-sided upper bound at `confidence`: the true share is at most this.
#[must_use]
pub fn upper_bound(events: u64, trials: u64, confidence: f64) -> Option<f64> {
    upper(events, trials, 1.0 - confidence)
}

fn lower(events: u64, trials: u64, tail: f64) -> Option<f64> {
    if trials == 0 || events > trials {
        return None;
    }
    let (x, n) = (events as f64, trials as f64);
    Some(if events == 0 {
        0.0
    } else if events == trials {
        libm::exp(libm::log(tail) / n)
    } else {
        beta::quantile(tail, x, n - x + 1.0)
    })
}

fn upper(events: u64, trials: u64, tail: f64) -> Option<f64> {
    if trials == 0 || events > trials {
        return None;
    }
    let (x, n) = (events as f64, trials as f64);
    Some(if events == trials {
        1.0
    } else if events == 0 {
        -libm::expm1(libm::log(tail) / n)
    } else {
        beta::upper_quantile(tail, x + 1.0, n - x)
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    /// The rule of three: 0 of n leaves at most about 3/n (J. A. Hanley, A. Lippman-Hand,
    /// Journal of the American Medical Association 249 (1983) 1743–1745).
    #[test]
    fn nothing_found_leaves_three_in_n() {
        let bound = upper_bound(0, 1000, 0.95).unwrap();
        assert!((bound * 1000.0 - 2.991).abs() < 1e-3, "{bound}");
    }

    #[test]
    fn no_trials_and_impossible_counts_have_no_interval() {
        assert_eq!(interval(0, 0, 0.95), None);
        assert_eq!(interval(3, 2, 0.95), None);
        assert_eq!(lower_bound(0, 9, 0.95), Some(0.0));
        assert_eq!(upper_bound(9, 9, 0.95), Some(1.0));
    }

    #[test]
    fn the_lower_end_mirrors_the_upper() {
        for (x, n) in [(0, 4), (1, 4), (3, 17), (40, 41)] {
            let (low, high) = interval(x, n, 0.95).unwrap();
            let (mirrored_low, mirrored_high) = interval(n - x, n, 0.95).unwrap();
            assert!((low - (1.0 - mirrored_high)).abs() < 1e-13);
            assert!((high - (1.0 - mirrored_low)).abs() < 1e-13);
            assert!(low < x as f64 / n as f64 || x == 0);
        }
    }
}

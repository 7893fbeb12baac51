//! The difference of two independent shares, with Newcombe's hybrid score interval.
//!
//! Formula: with Wilson intervals (l, u) of each share p, the ends are
//! d − √((p₁ − l₁)² + (u₂ − p₂)²) and d + √((u₁ − p₁)² + (p₂ − l₂)²).
//! Source: R. G. Newcombe, Statistics in Medicine 17 (1998) 873–890, method 10.
//! Misleads when the two groups met different conditions: then stratify.

use super::wilson;

/// A difference of shares, first minus second, −1..=1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Difference {
    /// The first share minus the second.
    pub difference: f64,
    /// Lower end of the interval.
    pub low: f64,
    /// Upper end of the interval.
    pub high: f64,
}

/// The difference between two pairs of (events, trials) for a normal quantile `z`;
/// `None` if either has no trials.
#[must_use]
pub fn interval(first: (u64, u64), second: (u64, u64), z: f64) -> Option<Difference> {
    let of = |(events, trials): (u64, u64)| {
        let (low, high) = wilson::interval(events, trials, z)?;
        Some(Estimate {
            value: events as f64 / trials as f64,
            low,
            high,
        })
    };
    Some(of_estimates(of(first)?, of(second)?))
}

/// A value with its interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The value.
    pub value: f64,
    /// Lower end of its interval, at most `value`.
    pub low: f64,
    /// Upper end, at least `value`.
    pub high: f64,
}

impl From<Difference> for Estimate {
    fn from(difference: Difference) -> Self {
        Estimate {
            value: difference.difference,
            low: difference.low,
            high: difference.high,
        }
    }
}

/// The difference of two independent estimates, first minus second, with the interval that
/// follows from theirs: Newcombe's square-and-add for any quantity, so also for a
/// difference of differences (G. Y. Zou, A. Donner, Statistics in Medicine 27 (2008)
/// 1693–1702; from memory).
#[must_use]
pub fn of_estimates(first: Estimate, second: Estimate) -> Difference {
    let difference = first.value - second.value;
    Difference {
        difference,
        low: difference - libm::hypot(first.value - first.low, second.high - second.value),
        high: difference + libm::hypot(first.high - first.value, second.value - second.low),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    /// The examples of Newcombe (1998), table II, method 10; four decimals, typed from
    /// memory.
    #[test]
    fn newcombes_examples_are_met() {
        for (first, second, low, high) in [
            ((56, 70), (48, 80), 0.0524, 0.3339),
            ((9, 10), (3, 10), 0.1705, 0.8090),
            ((0, 10), (0, 20), -0.1611, 0.2775),
            ((10, 10), (0, 20), 0.6791, 1.0),
        ] {
            let found = interval(first, second, wilson::Z_95).unwrap();
            assert!((found.low - low).abs() < 5.1e-5, "{found:?}");
            assert!((found.high - high).abs() < 5.1e-5, "{found:?}");
        }
    }

    #[test]
    fn swapping_the_groups_mirrors_the_interval() {
        let there = interval((3, 40), (9, 31), wilson::Z_95).unwrap();
        let back = interval((9, 31), (3, 40), wilson::Z_95).unwrap();
        assert!((there.low + back.high).abs() < 1e-15);
        assert!((there.high + back.low).abs() < 1e-15);
        assert_eq!(interval((0, 0), (1, 2), wilson::Z_95), None);
    }
}

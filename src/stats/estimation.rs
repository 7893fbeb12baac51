//! How many of a finite whole to look at for a share within so much.
//!
//! Formula: n₀ = z² p (1 − p)/d², n = n₀/(1 + (n₀ − 1)/N), rounded up. Source: W. G. Cochran,
//! Sampling Techniques, 3rd ed. 1977, sections 4.4 and 4.5. That rests on the normal law;
//! so the size is then raised, where need be, until the exact chance that the share found
//! lies within d of p, by the hypergeometric law, is at least the confidence. Right only
//! for things picked at random, and only if the share is about the one expected: one half
//! asks for the most.

use super::hypergeometric::Sampling;
use super::normal;

/// Room for rounding where a share found lies exactly d away.
const SLACK: f64 = 1e-9;

/// A size with what it achieves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Planned {
    /// How many to look at.
    pub size: u64,
    /// The chance that the share found lies within d of the share expected.
    pub chance: f64,
}

/// Cochran's size, not rounded; `all` things, a share `expected` strictly between 0 and 1,
/// to be told `within` d at `confidence`.
#[must_use]
pub fn cochran(all: u64, expected: f64, within: f64, confidence: f64) -> f64 {
    let z = normal::quantile(f64::midpoint(1.0, confidence));
    let unlimited = z * z * expected * (1.0 - expected) / (within * within);
    unlimited / (1.0 + (unlimited - 1.0) / all as f64)
}

/// The size of a sample from `all` things that tells a share `within` d (above 0) at
/// `confidence` (between 0 and 1), were `expected` of one marked. `None` where there is
/// nothing or a number lies outside its range.
#[must_use]
pub fn sample_size(all: u64, expected: f64, within: f64, confidence: f64) -> Option<Planned> {
    let inside = |part: f64| part > 0.0 && part < 1.0;
    if all == 0 || !inside(expected) || !inside(within) || !inside(confidence) {
        return None;
    }
    let marked = ((expected * all as f64).round() as u64).min(all);
    let first = cochran(all, expected, within, confidence).ceil() as u64;
    let mut size = first.clamp(1, all);
    loop {
        let sampling = Sampling {
            all,
            marked,
            sampled: size,
        };
        let chance = chance_within(sampling, within);
        if chance >= confidence || size == all {
            return Some(Planned { size, chance });
        }
        size += 1;
    }
}

/// The chance that the share in the sample lies within d of the share in the whole.
#[must_use]
pub fn chance_within(sampling: Sampling, within: f64) -> f64 {
    let share = sampling.marked as f64 / sampling.all as f64;
    let size = sampling.sampled as f64;
    let most = (size * (share + within) + SLACK).floor().min(size) as u64;
    let least = (size * (share - within) - SLACK).ceil().max(0.0) as u64;
    let below = match least {
        0 => 0.0,
        least => sampling.at_most(least - 1),
    };
    (sampling.at_most(most) - below).clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    /// R. V. Krejcie, D. W. Morgan, Determining Sample Size for Research Activities,
    /// Educational and Psychological Measurement 30 (1970) 607–610, table 1 (5 points, 95 %,
    /// one half expected); entries from memory. Their formula is Cochran's, rounded to the
    /// nearest.
    #[test]
    fn sizes_of_krejcie_and_morgan() {
        for (all, size) in [
            (10, 10.0),
            (100, 80.0),
            (200, 132.0),
            (500, 217.0),
            (1_000, 278.0),
            (2_000, 322.0),
            (5_000, 357.0),
            (10_000, 370.0),
            (1_000_000, 384.0),
        ] {
            // The table takes chi-square 3.841, which is z squared to four figures.
            let ours: f64 = cochran(all, 0.5, 0.05, 0.95);
            assert!((ours - size).abs() < 0.51, "{all}: {ours}");
        }
    }

    #[test]
    fn the_exact_chance_reaches_the_confidence() {
        for all in [7, 40, 300, 5_000, 1_000_000] {
            for (expected, within) in [(0.5, 0.05), (0.4, 0.05), (0.1, 0.03), (0.02, 0.02)] {
                let planned = sample_size(all, expected, within, 0.95).unwrap();
                assert!(planned.chance >= 0.95 && planned.size <= all);
                let asked = cochran(all, expected, within, 0.95);
                assert!(planned.size as f64 >= asked.min(all as f64) - 1e-9);
            }
        }
    }

    #[test]
    fn nonsense_has_no_size() {
        assert_eq!(sample_size(0, 0.5, 0.05, 0.95), None);
        for (expected, within, confidence) in [(0.0, 0.1, 0.9), (0.5, 1.0, 0.9), (0.5, 0.1, 1.0)] {
            assert_eq!(sample_size(10, expected, within, confidence), None);
        }
    }
}

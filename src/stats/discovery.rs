//! Discovery sampling: how many records to pull, and what those pulled prove.
//!
//! The smallest sample in which that many bad records would have shown, and exact bounds
//! on the number bad in the whole, from the hypergeometric law (H. Arkin, Handbook of
//! Sampling for Auditing and Accounting, 3rd ed. 1984). Right only for records picked at
//! random: those pulled because something looked odd must be kept apart.

use super::bisect::first;
use super::hypergeometric::Sampling;

/// Room for rounding where a probability meets the risk exactly.
const SLACK: f64 = 1e-12;

/// The smallest sample from `all` in which, were `bad` of them bad, more than `allowed`
/// bad ones would show with `confidence` (between 0 and 1). `None` if no sample can show
/// so many: `bad` ≤ `allowed`, or more bad than there are.
#[must_use]
pub fn sample_size(all: u64, bad: u64, allowed: u64, confidence: f64) -> Option<u64> {
    if bad <= allowed || bad > all {
        return None;
    }
    let risk = 1.0 - confidence;
    let shows = |sampled: u64| {
        let sampling = Sampling {
            all,
            marked: bad,
            sampled,
        };
        sampling.at_most(allowed) <= risk * (1.0 + SLACK)
    };
    Some(first(0, all, shows))
}

/// The least and the most bad among `all`, each a one-sided bound at `confidence`, after
/// `found` bad ones among `sampled`. For a two-sided interval give (1 + confidence)/2.
/// `None` if the counts contradict each other or nothing was sampled.
#[must_use]
pub fn bad_in_all(all: u64, sampled: u64, found: u64, confidence: f64) -> Option<(u64, u64)> {
    if sampled == 0 || sampled > all || found > sampled {
        return None;
    }
    let risk = 1.0 - confidence;
    let possible = |probability: f64| probability > risk * (1.0 + SLACK);
    let (fewest, most) = (found, all - (sampled - found));
    let of = |marked: u64| Sampling {
        all,
        marked,
        sampled,
    };
    let least = first(fewest, most, |bad| possible(of(bad).at_least(found)));
    let beyond = first(fewest, most + 1, |bad| {
        bad > most || !possible(of(bad).at_most(found))
    });
    Some((least, beyond.saturating_sub(1).max(fewest)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_cannot_show_has_no_sample() {
        assert_eq!(sample_size(100, 2, 2, 0.95), None);
        assert_eq!(sample_size(100, 0, 0, 0.95), None);
        assert_eq!(sample_size(100, 101, 0, 0.95), None);
        assert_eq!(sample_size(100, 100, 0, 0.95), Some(1));
    }

    #[test]
    fn a_full_count_leaves_no_doubt() {
        assert_eq!(bad_in_all(50, 50, 7, 0.95), Some((7, 7)));
        assert_eq!(bad_in_all(50, 0, 0, 0.95), None);
        assert_eq!(bad_in_all(50, 20, 21, 0.95), None);
        assert_eq!(bad_in_all(50, 60, 2, 0.95), None);
    }

    #[test]
    fn a_sample_of_the_size_found_proves_what_it_was_sized_for() {
        for (all, bad) in [(200, 10), (5_000, 50), (60_000, 600)] {
            let size = sample_size(all, bad, 0, 0.95).unwrap_or(0);
            let most = |sampled| bad_in_all(all, sampled, 0, 0.95).map(|(_, most)| most);
            assert!(most(size) < Some(bad));
            assert!(most(size - 1) >= Some(bad));
        }
    }
}

//! The share of unrepresentative draws, with its interval and its bounds.

use rayon::prelude::*;

use super::{Assessed, Selection};
use crate::model::Verdict;
use crate::stats::wilson::{self, Z_95};

/// Counts of verdicts over a set of draws; over a rule, counts of its outcomes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// All draws (n).
    pub draws: u64,
    /// Unrepresentative ones (x).
    pub unrepresentative: u64,
    /// Doubtful ones.
    pub doubtful: u64,
    /// Representative ones.
    pub representative: u64,
    /// Unproven ones (m).
    pub unproven: u64,
}

/// The share over a [`Tally`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// `x/j` with `j = n − m`; none if `j = 0`.
    pub share: Option<f64>,
    /// Lower end of the 95 % Wilson interval; none if `j = 0`.
    pub low: Option<f64>,
    /// Upper end of the 95 % Wilson interval; none if `j = 0`.
    pub high: Option<f64>,
    /// `x/n`; none if `n = 0`.
    pub least: Option<f64>,
    /// `(x + m)/n`; none if `n = 0`.
    pub most: Option<f64>,
}

impl Tally {
    /// Draws with a verdict other than unproven (j).
    #[must_use]
    pub fn judged(&self) -> u64 {
        self.draws - self.unproven
    }

    /// The share with its interval and bounds.
    #[must_use]
    pub fn share(&self) -> Share {
        let (x, m) = (self.unrepresentative, self.unproven);
        let interval = wilson::interval(x, self.judged(), Z_95);
        Share {
            share: part(x, self.judged()),
            low: interval.map(|ends| ends.0),
            high: interval.map(|ends| ends.1),
            least: part(x, self.draws),
            most: part(x + m, self.draws),
        }
    }

    /// The counts of both sets of draws together.
    #[must_use]
    pub const fn plus(self, other: Tally) -> Tally {
        Tally {
            draws: self.draws + other.draws,
            unrepresentative: self.unrepresentative + other.unrepresentative,
            doubtful: self.doubtful + other.doubtful,
            representative: self.representative + other.representative,
            unproven: self.unproven + other.unproven,
        }
    }

    /// From the counts of each verdict, by [`Verdict::index`].
    pub(super) fn of_verdicts(counts: [u64; Verdict::ALL.len()]) -> Tally {
        let of = |verdict: Verdict| counts[usize::from(verdict.index())];
        Tally {
            draws: counts.iter().sum(),
            unrepresentative: of(Verdict::Unrepresentative),
            doubtful: of(Verdict::Doubtful),
            representative: of(Verdict::Representative),
            unproven: of(Verdict::Unproven),
        }
    }
}

/// `part/whole`, none of nothing.
fn part(part: u64, whole: u64) -> Option<f64> {
    (whole > 0).then(|| part as f64 / whole as f64)
}

/// Counts the verdicts of the selected draws.
#[must_use]
pub fn tally(assessed: &Assessed, selection: &Selection) -> Tally {
    tally_of(assessed, selection)
}

/// Counts the verdicts of these rows.
pub(super) fn tally_of(assessed: &Assessed, rows: &[u32]) -> Tally {
    let verdicts = &assessed.judged.verdict;
    let counts = rows
        .par_chunks(CHUNK)
        .map(|rows| {
            let mut counts = [0; Verdict::ALL.len()];
            for &row in rows {
                counts[usize::from(verdicts[row as usize].index())] += 1;
            }
            counts
        })
        .reduce(|| [0; Verdict::ALL.len()], sum);
    Tally::of_verdicts(counts)
}

/// Rows counted by one thread at a time.
pub(in crate::analysis) const CHUNK: usize = 1 << 16;

/// As [`CHUNK`], where each piece carries long counts of its own: as few pieces as there are
/// threads.
pub(in crate::analysis) fn large_piece(rows: usize) -> usize {
    CHUNK.max(rows / rayon::current_num_threads() + 1)
}

/// Adds counts place by place.
fn sum<const N: usize>(mut one: [u64; N], other: [u64; N]) -> [u64; N] {
    for (one, other) in one.iter_mut().zip(other) {
        *one += other;
    }
    one
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_share_is_over_judged_draws_and_the_bounds_over_all() {
        let tally = Tally::of_verdicts([15, 40, 33, 100]);
        assert_eq!((tally.draws, tally.judged()), (188, 148));
        let share = tally.share();
        assert_eq!(share.share, Some(15.0 / 148.0));
        assert_eq!(share.least, Some(15.0 / 188.0));
        assert_eq!(share.most, Some(55.0 / 188.0));
        // The interval on 15 of 148 by R. G. Newcombe, "Two-sided confidence intervals for
        // the single proportion", Statistics in Medicine 17 (1998) 857-872, table I, method 3.
        let (low, high) = (share.low.unwrap_or(9.0), share.high.unwrap_or(9.0));
        assert!((low - 0.0624).abs() < 5e-5 && (high - 0.1605).abs() < 5e-5);
    }

    #[test]
    fn without_judged_draws_only_the_bounds_remain_and_without_draws_nothing() {
        let unproven = Tally::of_verdicts([0, 3, 0, 0]).share();
        assert_eq!(
            (unproven.share, unproven.low, unproven.high),
            (None, None, None)
        );
        assert_eq!((unproven.least, unproven.most), (Some(0.0), Some(1.0)));
        let none = Tally::default().share();
        assert_eq!((none.share, none.least, none.most), (None, None, None));
    }
}

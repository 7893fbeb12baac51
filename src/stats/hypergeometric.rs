//! Hypergeometric probabilities: drawing without putting back.
//!
//! X counts the marked things in a sample of n from N with D marked. The probability is
//! the quotient of three binomial ones, b(x; D, p) b(n − x; N − D, p) / b(n; N, p) with
//! p = n/N (C. Loader, 2000), which keeps full precision at any size; tails are summed
//! by the ratio of neighbours.

use super::binomial;

/// A sample without putting back: `marked` and `sampled` are at most `all`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sampling {
    /// Things there are (N).
    pub all: u64,
    /// Marked ones among them (D).
    pub marked: u64,
    /// Size of the sample (n).
    pub sampled: u64,
}

impl Sampling {
    /// The fewest and the most marked ones a sample can hold.
    #[must_use]
    pub fn range(self) -> (u64, u64) {
        let least = (self.marked + self.sampled).saturating_sub(self.all);
        (least, self.marked.min(self.sampled))
    }

    /// P(X = `x`).
    #[must_use]
    pub fn exactly(self, x: u64) -> f64 {
        let (least, most) = self.range();
        if x < least || x > most {
            return 0.0;
        }
        if self.sampled == 0 || self.sampled == self.all {
            return 1.0;
        }
        let p = self.sampled as f64 / self.all as f64;
        binomial::exactly(x, self.marked, p)
            * binomial::exactly(self.sampled - x, self.all - self.marked, p)
            / binomial::exactly(self.sampled, self.all, p)
    }

    /// P(X ≤ `x`).
    #[must_use]
    pub fn at_most(self, x: u64) -> f64 {
        let (least, most) = self.range();
        if x >= most {
            return 1.0;
        }
        if x < least {
            return 0.0;
        }
        let down = |x: u64| 1.0 / self.ratio(x - 1);
        self.sum(x, |x| (x > least).then(|| (x - 1, down(x))))
    }

    /// P(X ≥ `x`).
    #[must_use]
    pub fn at_least(self, x: u64) -> f64 {
        let (least, most) = self.range();
        if x <= least {
            return 1.0;
        }
        if x > most {
            return 0.0;
        }
        self.sum(x, |x| (x < most).then(|| (x + 1, self.ratio(x))))
    }

    /// P(X = `x` + 1) / P(X = `x`), for an `x` below the most.
    #[must_use]
    pub fn ratio(self, x: u64) -> f64 {
        let left = (self.marked - x) as f64 * (self.sampled - x) as f64;
        let right = (self.all + x + 1 - self.marked - self.sampled) as f64;
        left / ((x + 1) as f64 * right)
    }

    /// The x of the largest probability, the larger of two alike.
    #[must_use]
    pub fn mode(self) -> u64 {
        let (marked, sampled) = (u128::from(self.marked), u128::from(self.sampled));
        let mode = (marked + 1) * (sampled + 1) / (u128::from(self.all) + 2);
        mode as u64
    }

    /// Sums from `x` outward; stops once terms fall and no longer count.
    fn sum(self, x: u64, next: impl Fn(u64) -> Option<(u64, f64)>) -> f64 {
        let (mut at, mut term, mut sum) = (x, 1.0, 1.0);
        while let Some((beyond, ratio)) = next(at) {
            term *= ratio;
            sum += term;
            if ratio < 1.0 && term < 1e-18 * sum {
                break;
            }
            at = beyond;
        }
        (self.exactly(x) * sum).min(1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn probabilities_sum_to_one() {
        for (all, marked, sampled) in [(20, 5, 7), (10, 8, 6), (5000, 1200, 300), (7, 0, 3)] {
            let sampling = Sampling {
                all,
                marked,
                sampled,
            };
            let (least, most) = sampling.range();
            let sum: f64 = (least..=most).map(|x| sampling.exactly(x)).sum();
            assert!((sum - 1.0).abs() < 1e-12, "{all} {marked} {sampled}: {sum}");
            let top = sampling.exactly(sampling.mode());
            assert!((least..=most).all(|x| sampling.exactly(x) <= top * (1.0 + 1e-12)));
            for x in least..most {
                let both = sampling.at_most(x) + sampling.at_least(x + 1);
                assert!((both - 1.0).abs() < 1e-11, "{x}: {both}");
            }
        }
    }

    #[test]
    fn the_impossible_has_no_chance() {
        let sampling = Sampling {
            all: 10,
            marked: 8,
            sampled: 6,
        };
        assert_eq!(sampling.range(), (4, 6));
        assert_eq!(sampling.exactly(3), 0.0);
        assert_eq!(sampling.exactly(7), 0.0);
        assert_eq!(sampling.at_most(3), 0.0);
        assert_eq!(sampling.at_least(7), 0.0);
        assert_eq!(sampling.at_least(4), 1.0);
    }
}

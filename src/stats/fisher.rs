//! Fisher's exact test of a two-by-two table.
//!
//! With all margins fixed the corner count is hypergeometric; the two-sided p sums the
//! tables at most as probable as the one seen (with R's slack of 1e-7), not twice a tail.
//! The odds ratio is the conditional maximum-likelihood one, its interval has two exact
//! tails. Sources: R. A. Fisher, The Design of Experiments (1935), chapter 2; J. Cornfield,
//! Proceedings of the Third Berkeley Symposium 4 (1956) 135–148 for the odds ratio.
//!
//! Right for one place before and after; misleads when the mix of places changed: then
//! stratify (`super::stratified`).

use super::bisect::first;
use super::hypergeometric::Sampling;

/// The two-by-two table `[[a, b], [c, d]]`: rows are groups, columns the two outcomes.
pub type Table = [[u64; 2]; 2];

/// What the test says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fisher {
    /// Two-sided p-value.
    pub p: f64,
    /// One-sided p-value towards a larger odds ratio.
    pub p_greater: f64,
    /// One-sided p-value towards a smaller odds ratio.
    pub p_less: f64,
    /// The odds ratio; `None` if a margin is empty, where every ratio fits alike.
    pub odds: Option<OddsRatio>,
}

/// An odds ratio of the first row against the second, 0 to infinity.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OddsRatio {
    /// The estimate.
    pub ratio: f64,
    /// Lower end of the interval.
    pub low: f64,
    /// Upper end of the interval.
    pub high: f64,
}

/// The test with an interval at `confidence` (between 0 and 1).
#[must_use]
pub fn test(table: Table, confidence: f64) -> Fisher {
    let [[a, b], [c, d]] = table;
    let sampling = Sampling {
        all: a + b + c + d,
        marked: a + b,
        sampled: a + c,
    };
    Fisher {
        p: two_sided(sampling, a),
        p_greater: sampling.at_least(a),
        p_less: sampling.at_most(a),
        odds: Tilted::new(sampling).map(|tilted| tilted.odds(a, confidence)),
    }
}

/// The tail on the side seen and, beyond the mode, the tail of what is no more probable.
fn two_sided(sampling: Sampling, seen: u64) -> f64 {
    let (least, most) = sampling.range();
    let limit = sampling.exactly(seen) * (1.0 + 1e-7);
    let mode = sampling.mode();
    let rare = |x: &u64| sampling.exactly(*x) <= limit;
    if rare(&mode) {
        return 1.0;
    }
    // probabilities fall away from the mode, so the rare ones beyond it are a tail
    let both = if seen < mode {
        let other = first(mode + 1, most + 1, |x| rare(&x));
        sampling.at_most(seen) + sampling.at_least(other)
    } else {
        let gap = first(1, mode - least + 1, |gap| rare(&(mode - gap)));
        let other = if gap > mode - least {
            0.0
        } else {
            sampling.at_most(mode - gap)
        };
        sampling.at_least(seen) + other
    };
    both.min(1.0)
}

/// The law of the corner count under any odds ratio: each probability times ratio to the
/// x. Summed from its mode outward until terms no longer count, so that the work grows
/// with the spread of the law, not with the table.
#[derive(Clone, Copy)]
struct Tilted(Sampling);

/// Sums over a tilted law, its mode weighing 1.
struct Sums {
    mode: u64,
    all: f64,
    /// From a given x on.
    from: f64,
    /// Σ (x − mode) weight.
    moment: f64,
}

impl Tilted {
    /// `None` if only one table is possible.
    fn new(sampling: Sampling) -> Option<Tilted> {
        let (least, most) = sampling.range();
        (least < most).then_some(Tilted(sampling))
    }

    fn sums(self, log_ratio: f64, from: u64) -> Sums {
        let (least, most) = self.0.range();
        let tilt = libm::exp(log_ratio);
        let step = |x: u64| self.0.ratio(x) * tilt;
        let mode = first(least, most, |x| step(x) <= 1.0);
        let at_mode = if mode >= from { 1.0 } else { 0.0 };
        let mut sums = Sums {
            mode,
            all: 1.0,
            from: at_mode,
            moment: 0.0,
        };
        let mut weight = 1.0;
        for x in mode..most {
            weight *= step(x);
            sums.add(x + 1, weight, from);
            if weight < 1e-18 {
                break;
            }
        }
        weight = 1.0;
        for x in (least..mode).rev() {
            weight /= step(x);
            sums.add(x, weight, from);
            if weight < 1e-18 {
                break;
            }
        }
        sums
    }

    fn odds(self, seen: u64, confidence: f64) -> OddsRatio {
        let (least, most) = self.0.range();
        let tail = (1.0 - confidence) / 2.0;
        let mean = |t: f64| {
            let sums = self.sums(t, seen);
            sums.moment / sums.all + (sums.mode as f64 - seen as f64)
        };
        let at_least = |t: f64, x: u64| {
            let sums = self.sums(t, x);
            sums.from / sums.all
        };
        OddsRatio {
            ratio: if seen == least {
                0.0
            } else if seen == most {
                f64::INFINITY
            } else {
                libm::exp(crossing(mean))
            },
            low: if seen == least {
                0.0
            } else {
                libm::exp(crossing(|t| at_least(t, seen) - tail))
            },
            high: if seen == most {
                f64::INFINITY
            } else {
                libm::exp(crossing(|t| at_least(t, seen + 1) - (1.0 - tail)))
            },
        }
    }
}

impl Sums {
    fn add(&mut self, x: u64, weight: f64, from: u64) {
        self.all += weight;
        self.moment += (x as f64 - self.mode as f64) * weight;
        if x >= from {
            self.from += weight;
        }
    }
}

/// Where a rising function crosses 0, to the last digits, by widening and halving.
fn crossing(rising: impl Fn(f64) -> f64) -> f64 {
    let mut reach = 1.0;
    while reach < 700.0 && (rising(-reach) > 0.0 || rising(reach) < 0.0) {
        reach *= 2.0;
    }
    let (mut low, mut high) = (-reach, reach);
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if rising(middle) > 0.0 {
            high = middle;
        } else {
            low = middle;
        }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn turning_the_table_turns_the_ratio() {
        let there = test([[8, 21], [3, 30]], 0.95);
        let back = test([[3, 30], [8, 21]], 0.95);
        assert!((there.p - back.p).abs() < 1e-14);
        assert!((there.p_greater - back.p_less).abs() < 1e-14);
        let (there, back) = (there.odds.unwrap(), back.odds.unwrap());
        assert!((there.ratio * back.ratio - 1.0).abs() < 1e-12);
        assert!((there.low * back.high - 1.0).abs() < 1e-12);
        let turned = test([[8, 3], [21, 30]], 0.95).odds.unwrap();
        assert!((turned.ratio - there.ratio).abs() < 1e-12);
    }

    /// The two-sided p by its definition, table by table.
    #[test]
    fn two_tails_hold_every_table_no_more_probable() {
        for (all, marked, sampled) in [(20, 5, 7), (31, 15, 16), (10, 8, 6), (40, 20, 20)] {
            let sampling = Sampling {
                all,
                marked,
                sampled,
            };
            let (least, most) = sampling.range();
            for seen in least..=most {
                let limit = sampling.exactly(seen) * (1.0 + 1e-7);
                let each = (least..=most).map(|x| sampling.exactly(x));
                let counted: f64 = each.filter(|p| *p <= limit).sum();
                assert!(
                    (two_sided(sampling, seen) - counted).abs() < 1e-13,
                    "{seen}"
                );
            }
        }
    }

    #[test]
    fn a_million_in_the_table_is_no_trouble() {
        let odds = test([[50_000, 450_000], [40_000, 460_000]], 0.95)
            .odds
            .unwrap();
        // beside the plain odds ratio and its normal interval, as near as they come
        let plain: f64 = 50_000.0 * 460_000.0 / (450_000.0 * 40_000.0);
        let se = [50_000.0, 450_000.0, 40_000.0, 460_000.0].map(|n: f64| 1.0 / n);
        let se = se.iter().sum::<f64>().sqrt();
        assert!((odds.ratio / plain - 1.0).abs() < 1e-5);
        assert!((odds.low / (plain * (-1.96 * se).exp()) - 1.0).abs() < 1e-4);
        assert!((odds.high / (plain * (1.96 * se).exp()) - 1.0).abs() < 1e-4);
    }

    #[test]
    fn an_empty_table_says_nothing() {
        let nothing = test([[0, 0], [0, 0]], 0.95);
        assert_eq!((nothing.p, nothing.odds), (1.0, None));
    }
}

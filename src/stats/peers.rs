//! A unit against its peers: the chance that one like them would have so many events.
//!
//! A unit of n trials with e events expected at the rates of its peers has events by the
//! beta-binomial law of mean e/n. Its spread is what the peers' own counts show beyond chance
//! (by moments, J. C. Kleinman, Journal of the American Statistical Association 68 (1973)
//! 46–54), whether it comes from themselves or from the places they go to, and never less than
//! [`LEAST_VARIATION`]: units that all look alike may still differ. It is multiplied by
//! 1 + 10/k for k peers, since few of them show little. What is expected is known from the
//! peers' events only, so its own uncertainty, 1/(events + ½) in relative variance, is added.
//!
//! All of this makes the chance larger than the binomial's. It misleads where one odd unit
//! stands among very few peers, and where what is counted comes in clumps: then count clumps.

use std::f64::consts::E;

/// The least coefficient of variation of honest rates.
pub const LEAST_VARIATION: f64 = 0.5;
/// Fewer peers than this say nothing about a unit.
pub const LEAST_PEERS: usize = 4;
/// Fewer trials than this say nothing about a unit.
pub const LEAST_TRIALS: u64 = 8;

/// One unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    /// Trials.
    pub trials: u64,
    /// Events among them, at most as many.
    pub events: u64,
    /// Events expected at the rates of its peers, above 0 and below `trials`.
    pub expected: f64,
}

impl Unit {
    /// The expected share, kept off 0 and 1.
    fn mean(&self) -> f64 {
        (self.expected / self.trials as f64).clamp(1e-12, 1.0 - 1e-12)
    }
}

/// Sums over units from which one can be taken away again.
#[derive(Clone, Copy, Default)]
struct Sums {
    units: f64,
    trials: f64,
    events: f64,
    /// Sum of events² / trials.
    squares: f64,
}

impl Sums {
    fn with(self, unit: &Unit, sign: f64) -> Sums {
        let (n, x) = (unit.trials as f64, unit.events as f64);
        Sums {
            units: self.units + sign,
            trials: self.trials + sign * n,
            events: self.events + sign * x,
            squares: self.squares + sign * x * x / n,
        }
    }

    /// The correlation of two trials of one unit beyond chance, 0 at least.
    fn correlation(&self) -> f64 {
        let share = self.events / self.trials;
        let chance = share * (1.0 - share);
        let pairs = self.trials - self.units;
        if chance <= 0.0 || pairs <= 0.0 {
            return 0.0;
        }
        // Σ (x − n·p)²/n, which is (1 − p)·p for each unit by chance alone.
        let distance = self.squares - 2.0 * share * self.events + share * share * self.trials;
        ((distance / chance - self.units) / pairs).max(0.0)
    }
}

/// For each unit the chance that one like the others would have at least its events; `None`
/// where it has too few trials or too few peers.
#[must_use]
pub fn chances(units: &[Unit]) -> Vec<Option<f64>> {
    let counts = units.iter().filter(|unit| unit.trials > 0);
    let all = counts.fold(Sums::default(), |sums, unit| sums.with(unit, 1.0));
    units
        .iter()
        .map(|unit| {
            if unit.trials < LEAST_TRIALS || (all.units as usize) <= LEAST_PEERS {
                return None;
            }
            let others = all.with(unit, -1.0);
            let few = 1.0 + 10.0 / others.units;
            let known = others.events.max(0.0);
            let unknown = (others.trials - others.events).max(0.0);
            let chance = |seen: f64| {
                let spread = spread(unit.mean(), (seen, few), known, unknown);
                at_least(unit.events, unit.trials, unit.mean(), spread)
            };
            // A wide law puts much at nothing, so for few events the narrow one is larger.
            Some(chance(others.correlation()).max(chance(0.0)))
        })
        .collect()
}

/// The correlation of two trials of one unit: what was seen, or the least variation if that
/// is more, widened for the peers being `few`, and what is not known of the mean.
fn spread(mean: f64, (seen, few): (f64, f64), events: f64, others: f64) -> f64 {
    let (rarer, known) = if mean <= 0.5 {
        (mean, events)
    } else {
        (1.0 - mean, others)
    };
    let odds = rarer / (1.0 - rarer);
    let least = LEAST_VARIATION.powi(2) * odds;
    (few * seen.max(least) + odds / (known + 0.5)).min(0.999)
}

/// P(X ≥ `events`) for X beta-binomial on `trials` with this mean (between 0 and 1) and this
/// correlation of two trials (0 included, 1 excluded).
#[must_use]
pub fn at_least(events: u64, trials: u64, mean: f64, correlation: f64) -> f64 {
    if events == 0 {
        return 1.0;
    }
    if events > trials {
        return 0.0;
    }
    if correlation <= 0.0 {
        return super::binomial::at_least(events, trials, mean);
    }
    let shapes = 1.0 / correlation - 1.0;
    let (a, b) = (mean * shapes, (1.0 - mean) * shapes);
    let n = trials as f64;
    if (events as f64) <= n * mean {
        // Here the other tail is the shorter one.
        let below = sum(events - 1, 0, |k| {
            k * (b + n - k) / ((n - k + 1.0) * (a + k - 1.0))
        });
        return (1.0 - below * exactly(events - 1, trials, a, b)).clamp(0.0, 1.0);
    }
    let above = sum(events, trials, |k| {
        (n - k) * (a + k) / ((k + 1.0) * (b + n - k - 1.0))
    });
    (above * exactly(events, trials, a, b)).clamp(0.0, 1.0)
}

/// 1 + r + r·r′ + … from `from` to `to`, r the ratio of the next term to the one at k.
fn sum(from: u64, to: u64, ratio: impl Fn(f64) -> f64) -> f64 {
    let (mut sum, mut term) = (1.0, 1.0);
    let mut k = from;
    while k != to {
        term *= ratio(k as f64);
        sum += term;
        if term < sum * f64::EPSILON / E {
            break;
        }
        k = if to > from { k + 1 } else { k - 1 };
    }
    sum
}

/// P(X = `events`) for X beta-binomial with shapes `a` and `b`.
fn exactly(events: u64, trials: u64, a: f64, b: f64) -> f64 {
    let (x, n) = (events as f64, trials as f64);
    let choose = libm::lgamma(n + 1.0) - libm::lgamma(x + 1.0) - libm::lgamma(n - x + 1.0);
    let seen = libm::lgamma(a + x) + libm::lgamma(b + n - x) - libm::lgamma(a + b + n);
    let unseen = libm::lgamma(a) + libm::lgamma(b) - libm::lgamma(a + b);
    libm::exp(choose + seen - unseen)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    /// Upper tails by `scipy.stats.betabinom.sf(x − 1, n, m·s, (1 − m)·s)`, s = 1/r − 1, with
    /// SciPy under Python 3.
    #[test]
    fn tails_agree_with_another_library() {
        for (events, trials, mean, correlation, expected) in [
            (3, 100, 0.00017, 0.0004, 1.377_418_387_982_221e-5),
            (5, 40, 0.1, 0.05, 0.361_751_338_761_002_1),
            (1, 10, 0.5, 0.2, 0.961_538_461_538_461_6),
            (2, 1000, 0.01, 0.02, 0.675_234_718_923_260_1),
            (700, 1000, 0.5, 0.004, 2.860_035_985_818_854e-9),
        ] {
            let found = at_least(events, trials, mean, correlation);
            assert!((found / expected - 1.0).abs() < 1e-6, "{found} {expected}");
        }
    }

    #[test]
    fn the_edges_are_answers() {
        assert_eq!(at_least(0, 10, 0.1, 0.1), 1.0);
        assert_eq!(at_least(11, 10, 0.1, 0.1), 0.0);
        let binomial = crate::stats::binomial::at_least(4, 10, 0.1);
        assert_eq!(at_least(4, 10, 0.1, 0.0), binomial);
        assert!((at_least(4, 10, 0.1, 1e-9) / binomial - 1.0).abs() < 1e-5);
        // The product of (1.8 + i)/(9 + i) for i below 140, in exact fractions under Python 3;
        // SciPy is 0.16 % off here.
        let all = at_least(140, 140, 0.2, 0.1);
        assert!(
            (all / 1.194_029_397_483_536_2e-11 - 1.0).abs() < 1e-9,
            "{all:e}"
        );
        // By hand: a = b = 2, P(0) = B(2, 12)/B(2, 2) = 1/26.
        assert!((at_least(1, 10, 0.5, 0.2) - 25.0 / 26.0).abs() < 1e-12);
    }

    fn unit(trials: u64, events: u64, expected: f64) -> Unit {
        Unit {
            trials,
            events,
            expected,
        }
    }

    #[test]
    fn an_odd_unit_stands_out_and_does_not_widen_its_own_law() {
        let mut units = vec![unit(100, 90, 5.0)];
        units.extend([3, 5, 7, 4, 6].map(|events| unit(100, events, 5.0)));
        let found = chances(&units);
        assert!(found[0].unwrap() < 1e-6, "{found:?}");
        assert!(found[1].unwrap() > 0.3, "{found:?}");
    }

    #[test]
    fn few_trials_or_few_peers_say_nothing() {
        let units = [unit(100, 90, 5.0); 4];
        assert_eq!(chances(&units), [None; 4]);
        let mut units = vec![unit(LEAST_TRIALS - 1, 7, 1.0); 6];
        units[0].trials = LEAST_TRIALS;
        let found = chances(&units);
        assert!(found[0].is_some() && found[1].is_none());
        assert!(chances(&[]).is_empty());
        let empty = [unit(0, 0, 0.0); 6];
        assert_eq!(chances(&empty), [None; 6]);
    }

    #[test]
    fn peers_that_differ_make_a_unit_less_odd() {
        let alike: Vec<Unit> = (0..12).map(|_| unit(100, 20, 20.0)).collect();
        let differ = [2, 50, 5, 40, 10, 30, 1, 45, 8, 35, 15];
        let mut spread: Vec<Unit> = differ.map(|it| unit(100, it, 20.0)).to_vec();
        spread.insert(0, alike[0]);
        let mut alike = alike;
        (alike[0].events, spread[0].events) = (70, 70);
        let (alike, spread) = (chances(&alike)[0].unwrap(), chances(&spread)[0].unwrap());
        assert!(alike < 0.01 && spread > 5.0 * alike, "{alike} {spread}");
    }
}

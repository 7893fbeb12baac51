//! The beta distribution: both tails and the quantile.
//!
//! The regularised incomplete beta function by its continued fraction (W. H. Press and
//! others, Numerical Recipes, 3rd ed. 2007, 6.4, evaluated after Lentz), with the power
//! term in the saddle-point form of [`super::binomial`]. Own, because in `statrs` 0.19.1
//! the function stops after 140 terms (0.24 % off at its centre for shapes of 5e5) and its
//! inverse was up to 3.6e-4 of the answer off for a few in a million; a limit on a rare
//! share is just that. The number of terms grows with the root of the
//! larger shape.

use super::binomial;

/// Terms after which the continued fraction is taken as it stands; a shape of 1e9 needs
/// about a third of them.
const MOST_TERMS: u32 = 100_000;

/// P(X ≤ `x`) and P(X ≥ `x`) for X ~ Beta(`a`, `b`), shapes above 0, `x` clipped to
/// 0..=1. The smaller of the two has a relative error of about 1e-13.
#[must_use]
pub fn tails(a: f64, b: f64, x: f64) -> (f64, f64) {
    if x <= 0.0 {
        return (0.0, 1.0);
    }
    if x >= 1.0 {
        return (1.0, 0.0);
    }
    tails_of(a, b, x, 1.0 - x)
}

/// The tails with `y` = 1 − `x` given, which near 1 carries the digits.
fn tails_of(a: f64, b: f64, x: f64, y: f64) -> (f64, f64) {
    let power = power(a, b, x, y);
    if x < (a + 1.0) / (a + b + 2.0) {
        let lower = (power * fraction(a, b, x) / a).min(1.0);
        (lower, 1.0 - lower)
    } else {
        let upper = (power * fraction(b, a, y) / b).min(1.0);
        (1.0 - upper, upper)
    }
}

/// xᵃ yᵇ / B(a, b): the slope of the lower tail over the log odds of x.
fn power(a: f64, b: f64, x: f64, y: f64) -> f64 {
    a * b / (a + b) * binomial::power(a, a + b, x, y)
}

/// The continued fraction of the incomplete beta function, for x below the mean.
fn fraction(a: f64, b: f64, x: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let away = |value: f64| if value.abs() < TINY { TINY } else { value };
    let mut c = 1.0;
    let mut d = 1.0 / away(1.0 - (a + b) * x / (a + 1.0));
    let mut value = d;
    for term in 1..MOST_TERMS {
        let m = f64::from(term);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        d = 1.0 / away(1.0 + even * d);
        c = away(1.0 + even / c);
        value *= d * c;
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        d = 1.0 / away(1.0 + odd * d);
        c = away(1.0 + odd / c);
        let change = d * c;
        value *= change;
        if (change - 1.0).abs() < 2e-16 {
            break;
        }
    }
    value
}

/// The x with P(X ≤ x) = `p` for X ~ Beta(`a`, `b`), shapes above 0; 0 and 1 at the
/// ends. Relative error about 1e-12, however small the answer.
#[must_use]
pub fn quantile(p: f64, a: f64, b: f64) -> f64 {
    if p > 0.5 {
        return upper_quantile(1.0 - p, a, b);
    }
    expit(log_odds_at(p, a, b))
}

/// The x with P(X ≥ x) = `p`; keeps the digits of a small upper tail.
#[must_use]
pub fn upper_quantile(p: f64, a: f64, b: f64) -> f64 {
    if p > 0.5 {
        return quantile(1.0 - p, a, b);
    }
    expit(-log_odds_at(p, b, a))
}

fn expit(t: f64) -> f64 {
    if t >= 0.0 {
        1.0 / (1.0 + libm::exp(-t))
    } else {
        let e = libm::exp(t);
        e / (1.0 + e)
    }
}

/// The log odds of the lower quantile: Newton on the logarithm of the tail, which is
/// concave, kept inside a shrinking bracket.
fn log_odds_at(p: f64, a: f64, b: f64) -> f64 {
    if p <= 0.0 {
        return f64::NEG_INFINITY;
    }
    let (mut low, mut high) = (-745.0, 745.0);
    let mut t = libm::log(a / b).clamp(-700.0, 700.0);
    for _ in 0..400 {
        let (x, y) = (expit(t), expit(-t));
        let lower = tails_of(a, b, x, y).0;
        let miss = libm::log(lower / p);
        if miss > 0.0 {
            high = t;
        } else {
            low = t;
        }
        let step = miss * lower / power(a, b, x, y);
        let next = t - step;
        let next = if next > low && next < high {
            next
        } else {
            f64::midpoint(low, high)
        };
        if (next - t).abs() <= 1e-15 * t.abs().max(0.1) {
            return next;
        }
        t = next;
    }
    t
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_forms_are_met() {
        for x in [1e-12, 1e-3, 0.2, 0.5, 0.9, 1.0 - 1e-9] {
            let (lower, upper) = tails(1.0, 7.0, x);
            assert!((upper / libm::pow(1.0 - x, 7.0) - 1.0).abs() < 1e-12, "{x}");
            assert!((lower / -libm::expm1(7.0 * libm::log1p(-x)) - 1.0).abs() < 1e-12);
            let (lower, _) = tails(3.0, 1.0, x);
            assert!((lower / (x * x * x) - 1.0).abs() < 1e-12, "{x}");
            // the arcsine law; near 1 the arcsine itself is what loses digits
            let (lower, _) = tails(0.5, 0.5, x);
            if x > 0.99 {
                continue;
            }
            let arc = 2.0 / std::f64::consts::PI * libm::asin(x.sqrt());
            assert!((lower / arc - 1.0).abs() < 1e-12, "{x}");
        }
        assert!((tails(5e5, 5e5, 0.5).0 - 0.5).abs() < 1e-12);
    }

    #[test]
    fn quantiles_return_through_the_tails() {
        for (a, b) in [(0.3, 0.4), (1.0, 1.0), (2.5, 140.0), (4.0, 1e6), (3e5, 7e5)] {
            for p in [1e-9, 0.001, 0.025, 0.4, 0.5, 0.77, 0.975, 0.999] {
                let x = quantile(p, a, b);
                let (lower, upper) = tails(a, b, x);
                if x < 0.999 {
                    assert!((lower / p - 1.0).abs() < 1e-9, "{a} {b} {p}: {lower}");
                }
                let x = upper_quantile(p, a, b);
                let (_, again) = tails(a, b, x);
                if x < 0.999 {
                    assert!((again / p - 1.0).abs() < 1e-8, "{a} {b} {p}: {again}");
                }
                assert!(upper <= 1.0);
            }
        }
        assert_eq!(quantile(0.0, 2.0, 3.0), 0.0);
        assert_eq!(quantile(1.0, 2.0, 3.0), 1.0);
    }
}

//! The upper tail of the chi-square distribution.
//!
//! One degree of freedom through the error function, more through the regularised
//! upper incomplete gamma function: P(χ² ≥ x) = Q(df/2, x/2).

use super::normal;

/// P(χ² ≥ `x`) on `df` degrees of freedom; `None` without a degree of freedom or when
/// `x` is not a number. A negative `x`, a rounding remainder, counts as 0.
#[must_use]
pub fn at_least(x: f64, df: u64) -> Option<f64> {
    if df == 0 || x.is_nan() {
        return None;
    }
    if x <= 0.0 {
        return Some(1.0);
    }
    if df == 1 {
        return Some(normal::two_sided(x.sqrt()));
    }
    Some(statrs::function::gamma::gamma_ur(df as f64 / 2.0, x / 2.0))
}

/// The p-value of a likelihood ratio `d` when the hypothesis puts one variance on the
/// border of its range, at 0: half the upper tail on one degree of freedom, and 1 if
/// nothing was gained.
///
/// Source: S. G. Self, K.-Y. Liang, Journal of the American Statistical Association 82
/// (1987) 605–610, case 5. Somewhat cautious when a factor has few levels.
#[must_use]
pub fn on_the_border(d: f64) -> f64 {
    if d <= 0.0 {
        1.0
    } else {
        normal::two_sided(d.sqrt()) / 2.0
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    /// Upper 5 % points: Abramowitz and Stegun (1964), table 26.8.
    #[test]
    fn handbook_points_are_met() {
        for (df, x) in [(1, 3.841_46), (2, 5.991_46), (10, 18.307_0), (100, 124.342)] {
            assert!((at_least(x, df).unwrap() - 0.05).abs() < 1e-5, "{df}");
        }
    }

    #[test]
    fn the_edges_are_answers() {
        assert_eq!(at_least(3.0, 0), None);
        assert_eq!(at_least(f64::NAN, 3), None);
        assert_eq!(at_least(0.0, 3), Some(1.0));
        assert_eq!(on_the_border(0.0), 1.0);
        assert_eq!(on_the_border(-1e-12), 1.0);
        assert!((on_the_border(2.705_543_454_095_404) - 0.05).abs() < 1e-12);
    }
}

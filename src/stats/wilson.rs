//! The Wilson score interval of a share.
//!
//! Source: E. B. Wilson, "Probable inference, the law of succession, and statistical
//! inference", Journal of the American Statistical Association 22 (1927) 209–212.

/// The normal quantile at 0.975, for intervals at 95 %.
pub const Z_95: f64 = 1.959_963_984_540_054;

/// The score interval on `successes` of `trials` for a normal quantile `z`; `None` if
/// there are no trials. Both ends lie in 0..=1 and are exactly 0 and 1 at the extremes.
#[must_use]
pub fn interval(successes: u64, trials: u64, z: f64) -> Option<(f64, f64)> {
    let (x, n) = (successes as f64, trials as f64);
    (trials > 0).then(|| of_mean(x / n, n, z))
}

/// The same interval on the mean of `trials` values that each lie in 0..=1 (not only 0 or
/// 1), where `trials` may be an effective number. Their variance is at most that of a
/// success, `mean`·(1 − `mean`), so the interval is wide enough. `trials` is above 0.
#[must_use]
pub fn of_mean(mean: f64, trials: f64, z: f64) -> (f64, f64) {
    let z2n = z * z / trials;
    let centre = mean + z2n / 2.0;
    let spread = z * (mean * (1.0 - mean) / trials + z2n / (4.0 * trials)).sqrt();
    let low = if mean <= 0.0 {
        0.0
    } else {
        (centre - spread) / (1.0 + z2n)
    };
    let high = if mean >= 1.0 {
        1.0
    } else {
        (centre + spread) / (1.0 + z2n)
    };
    (low, high)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    /// R. G. Newcombe, "Two-sided confidence intervals for the single proportion",
    /// Statistics in Medicine 17 (1998) 857–872, table I, method 3; four decimals.
    #[test]
    fn newcombes_table_is_met() {
        for (x, n, low, high) in [
            (81, 263, 0.2553, 0.3662),
            (15, 148, 0.0624, 0.1605),
            (0, 20, 0.0, 0.1611),
            (1, 29, 0.0061, 0.1718),
        ] {
            let (l, h) = interval(x, n, Z_95).unwrap();
            assert!(
                (l - low).abs() < 5e-5 && (h - high).abs() < 5e-5,
                "{x}/{n}: {l} {h}"
            );
        }
    }

    #[test]
    fn no_trials_have_no_interval_and_the_extremes_are_closed() {
        assert_eq!(interval(0, 0, Z_95), None);
        assert_eq!(interval(0, 5, Z_95).unwrap().0, 0.0);
        assert_eq!(interval(5, 5, Z_95).unwrap().1, 1.0);
    }
}

//! The normal distribution: tails and quantile.
//!
//! Tails through the complementary error function of `libm`, the same on every
//! platform; the quantile is one Halley step past the inverse of `statrs`.

use std::f64::consts::{PI, SQRT_2};

/// P(Z ≤ `z`) for a standard normal Z, accurate in the far tail too.
#[must_use]
pub fn at_most(z: f64) -> f64 {
    libm::erfc(-z / SQRT_2) / 2.0
}

/// P(Z ≥ `z`) for a standard normal Z, accurate in the far tail too.
#[must_use]
pub fn at_least(z: f64) -> f64 {
    libm::erfc(z / SQRT_2) / 2.0
}

/// P(|Z| ≥ |`z`|) for a standard normal Z.
#[must_use]
pub fn two_sided(z: f64) -> f64 {
    libm::erfc(z.abs() / SQRT_2)
}

/// The z with P(Z ≤ z) = `p`; minus and plus infinity at 0 and 1, not a number
/// outside 0..=1. Relative error about 1e-15 for `p` up to one half.
#[must_use]
pub fn quantile(p: f64) -> f64 {
    if p > 0.5 {
        return -quantile(1.0 - p);
    }
    if p <= 0.0 {
        return if p == 0.0 {
            f64::NEG_INFINITY
        } else {
            f64::NAN
        };
    }
    let z = -SQRT_2 * statrs::function::erf::erfc_inv(2.0 * p);
    let density = libm::exp(-z * z / 2.0) / (2.0 * PI).sqrt();
    let step = (at_most(z) - p) / density;
    z - step / (1.0 + z * step / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions (1964), tables
    /// 26.1 and 26.6: quantiles of the normal distribution.
    #[test]
    fn handbook_quantiles_are_met() {
        for (p, z) in [
            (0.975, 1.959_963_984_540_054),
            (0.995, 2.575_829_303_548_901),
            (0.999, 3.090_232_306_167_813_5),
            (0.75, 0.674_489_750_196_081_7),
        ] {
            assert!((quantile(p) - z).abs() < 2e-15, "{p}: {}", quantile(p));
            assert!((at_most(z) - p).abs() < 1e-15);
            assert!((two_sided(z) - 2.0 * (1.0 - p)).abs() < 1e-15);
        }
    }

    #[test]
    fn the_ends_are_infinite_and_outside_is_no_number() {
        assert_eq!(quantile(0.0), f64::NEG_INFINITY);
        assert_eq!(quantile(1.0), f64::INFINITY);
        assert!(quantile(-0.1).is_nan());
        assert!(quantile(1.1).is_nan());
    }
}

//! The upper tail of the Poisson law.
//!
//! P(X ≥ k) for a mean m is the regularised lower incomplete gamma function at (k, m).
//! Source: M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions (1964), 26.4.21.

/// P(X ≥ `events`) for X Poisson with this mean, 0 or more.
#[must_use]
pub fn at_least(events: u64, mean: f64) -> f64 {
    if events == 0 {
        return 1.0;
    }
    if mean.is_nan() || mean <= 0.0 {
        return 0.0;
    }
    statrs::function::gamma::gamma_lr(events as f64, mean).clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_tails_agree_with_counting() {
        for mean in [1e-6_f64, 0.02, 0.7, 3.0] {
            // 1 − e⁻ᵐ and 1 − e⁻ᵐ(1 + m), without cancellation.
            let one = -libm::expm1(-mean);
            assert!((at_least(1, mean) / one - 1.0).abs() < 1e-12, "{mean}");
        }
        // By series: e⁻ᵐ·(m²/2 + m³/6 + m⁴/24 + …) at m = 0.02.
        let mean: f64 = 0.02;
        let term = |k: i32, factorial: f64| mean.powi(k) / factorial;
        let sum = term(2, 2.0) + term(3, 6.0) + term(4, 24.0) + term(5, 120.0);
        assert!((at_least(2, mean) / (sum * libm::exp(-mean)) - 1.0).abs() < 1e-9);
        assert_eq!(at_least(0, 0.0), 1.0);
        assert_eq!(at_least(1, 0.0), 0.0);
    }
}

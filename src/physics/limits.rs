//! Comparing decimal quantities with a limit, once for all rules and formulas.
//!
//! Arithmetic on decimals leaves dust: 35.7 − 30.7 is a little more than 5. A value
//! within 1e-9 of the limit, relative to the limit, therefore counts as at the limit,
//! and at the limit a rule is met.

/// Within this part of the limit a value counts as at the limit.
const RELATIVE: f64 = 1e-9;

/// Whether the value counts as at the limit.
#[must_use]
pub fn at(value: f64, limit: f64) -> bool {
    // Without the first condition every value would be at a limit without end.
    limit.is_finite() && (value - limit).abs() <= RELATIVE * limit.abs()
}

/// Whether the value is at the limit or above.
#[must_use]
pub fn at_least(value: f64, limit: f64) -> bool {
    value >= limit || at(value, limit)
}

/// Whether the value is at the limit or below.
#[must_use]
pub fn at_most(value: f64, limit: f64) -> bool {
    value <= limit || at(value, limit)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn dust_of_arithmetic_does_not_decide() {
        assert!(35.7 - 30.7 > 5.0 && at_most(35.7 - 30.7, 5.0));
        assert!(at_most(5.0 + 4.9e-9, 5.0) && !at_most(5.0 + 5.1e-9, 5.0));
        assert!(at_least(5.0 - 4.9e-9, 5.0) && !at_least(5.0 - 5.1e-9, 5.0));
        assert!(at_least(-5.0 - 4.9e-9, -5.0) && !at_least(-5.0 - 5.1e-9, -5.0));
        assert!(at_most(9.0, f64::INFINITY) && !at_least(9.0, f64::INFINITY));
        assert!(at_most(0.0, 0.0) && !at_most(f64::MIN_POSITIVE, 0.0));
    }

    proptest! {
        #[test]
        fn a_value_at_the_limit_passes_from_both_sides(value in -1e6..1e6f64, limit in -1e6..1e6f64) {
            prop_assert!(at_least(value, limit) || at_most(value, limit));
            prop_assert_eq!(at_least(value, limit) && at_most(value, limit), at(value, limit));
            prop_assert_eq!(at_least(-value, -limit), at_most(value, limit));
        }
    }
}

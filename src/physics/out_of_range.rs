//! The refusal of a value that a formula can't answer for.

use std::fmt;

/// A value outside the range in which a formula holds.
///
/// `Display` says the value, the range and the reason, in one sentence.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfRange {
    /// What the value is, for example `oil temperature`.
    pub quantity: &'static str,
    /// The value that was refused.
    pub value: f64,
    /// Smallest value taken.
    pub low: f64,
    /// Largest value taken; infinite if there is no upper end.
    pub high: f64,
    /// Unit of value and range; empty for a bare number.
    pub unit: &'static str,
    /// Why the range ends there, and what to do.
    pub reason: &'static str,
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let gap = if self.unit.is_empty() { "" } else { " " };
        let (quantity, unit) = (self.quantity, self.unit);
        write!(
            f,
            "{quantity} {}{gap}{unit} is refused: ",
            figures(self.value)
        )?;
        if self.high.is_infinite() {
            write!(f, "it must be {}{gap}{unit} or more", figures(self.low))?;
        } else {
            let (low, high) = (figures(self.low), figures(self.high));
            write!(f, "it must be {low} to {high}{gap}{unit}")?;
        }
        write!(f, " ({})", self.reason)
    }
}

impl std::error::Error for OutOfRange {}

/// At most five figures, so that a worked out value does not run on.
fn figures(value: f64) -> String {
    let magnitude = value.abs();
    if magnitude != 0.0 && !(1e-3..1e7).contains(&magnitude) {
        return format!("{value:.2e}");
    }
    let decimals = (0..5).find(|decimals| magnitude >= 10f64.powi(4 - decimals));
    let text = format!(
        "{value:.*}",
        decimals.map_or(5, |decimals| decimals as usize)
    );
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// A quantity with the range in which it is taken.
#[derive(Clone, Copy, Debug)]
pub(super) struct Range {
    pub quantity: &'static str,
    pub low: f64,
    pub high: f64,
    pub unit: &'static str,
    pub reason: &'static str,
}

impl Range {
    /// The value itself if it lies in the range, both ends included. What is not a number
    /// lies in none.
    pub fn check(&self, value: f64) -> Result<f64, OutOfRange> {
        if value >= self.low && value <= self.high && value.is_finite() {
            Ok(value)
        } else {
            Err(self.refusal(value))
        }
    }

    /// The refusal of a value.
    pub const fn refusal(&self, value: f64) -> OutOfRange {
        OutOfRange {
            quantity: self.quantity,
            value,
            low: self.low,
            high: self.high,
            unit: self.unit,
            reason: self.reason,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEMP: Range = Range {
        quantity: "oil temperature",
        low: -40.0,
        high: 200.0,
        unit: "°C",
        reason: "too far",
    };

    #[test]
    fn both_ends_belong_to_the_range_and_no_number_does_not() {
        for value in [-40.0, 200.0] {
            assert_eq!(TEMP.check(value), Ok(value));
        }
        for value in [-40.001, 200.001, f64::NAN, f64::INFINITY] {
            assert!(TEMP.check(value).is_err(), "{value}");
        }
    }

    #[test]
    fn a_refusal_says_value_range_and_reason() {
        assert_eq!(
            TEMP.refusal(213.456_78).to_string(),
            "oil temperature 213.46 °C is refused: it must be -40 to 200 °C (too far)"
        );
        let open = OutOfRange {
            quantity: "ratio",
            value: 0.000_012,
            low: 0.5,
            high: f64::INFINITY,
            unit: "",
            reason: "no",
        };
        assert_eq!(
            open.to_string(),
            "ratio 1.20e-5 is refused: it must be 0.5 or more (no)"
        );
    }
}

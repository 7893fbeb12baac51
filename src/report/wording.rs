//! Numbers and days in the words of a report.

use crate::model::time::{Tz, local_text};

/// The blank that keeps a number and its unit on one line.
const TIED: char = '\u{a0}';

/// A percentage with one decimal, `12.3 %`.
#[must_use]
pub fn percent(part: f64) -> String {
    format!("{:.1}{TIED}%", part * 100.0)
}

/// A percentage, or a dash where there is none.
#[must_use]
pub fn percent_or_dash(part: Option<f64>) -> String {
    part.map_or_else(|| "–".to_owned(), percent)
}

/// A whole number with its thousands apart, `12 345` with narrow blanks.
#[must_use]
pub fn count(number: u64) -> String {
    let digits = number.to_string();
    if digits.len() <= 4 {
        return digits;
    }
    let mut text = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            text.push(TIED);
        }
        text.push(digit);
    }
    text
}

/// So many of a thing.
#[must_use]
pub fn of(number: u64, one: &str, many: &str) -> String {
    format!(
        "{}{TIED}{}",
        count(number),
        if number == 1 { one } else { many }
    )
}

/// A quantity with so many decimals; what rounds to 0 has no sign.
#[must_use]
pub fn decimals(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(zero) if zero.bytes().all(|byte| matches!(byte, b'0' | b'.')) => zero.to_owned(),
        Some(rest) => format!("−{rest}"),
        None => text,
    }
}

/// The day of an instant in a zone, as `2026-03-04`.
#[must_use]
pub fn day(seconds: i64, zone: Tz) -> String {
    let mut text = local_text(seconds, zone);
    text.truncate("2026-03-04".len());
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_stand_apart_from_five_digits_on() {
        for (number, text) in [
            (0, "0"),
            (4962, "4962"),
            (12345, "12\u{a0}345"),
            (1_000_000, "1\u{a0}000\u{a0}000"),
        ] {
            assert_eq!(count(number), text);
        }
        assert_eq!(of(1, "draw", "draws"), "1\u{a0}draw");
    }

    #[test]
    fn what_rounds_to_nothing_has_no_sign() {
        assert_eq!(decimals(-0.04, 1), "0.0");
        assert_eq!(decimals(-1.26, 1), "−1.3");
    }
}

//! From the text of one cell to a value: numbers, yes/no, words, days.

use chrono::NaiveDate;

use super::columns::Range;
use crate::model::{Look, Looks};

/// The most bytes a text may have. Longer ones are refused, so that one runaway cell
/// (a quote left open, a picture pasted as text) does not fill the programme.
pub const TEXT_LIMIT: usize = 65_536;

/// Whether a text can be kept.
///
/// # Errors
/// Why it can't.
pub fn sound_text(text: &str) -> Result<(), String> {
    if text.len() > TEXT_LIMIT {
        return Err(format!("too long: a text may have {} bytes", TEXT_LIMIT));
    }
    if text.as_bytes().contains(&0) {
        return Err("holds a NUL byte, which no text has".to_owned());
    }
    Ok(())
}

/// Reads a decimal number: sign, digits, point, exponent. No thousands marks, no units,
/// none of the words (`inf`, `nan`) that number readers usually allow.
///
/// # Errors
/// Why it is none, or why it is refused.
pub fn number(text: &str, range: Range) -> Result<f64, String> {
    if !is_number(text.as_bytes()) {
        return Err(why_no_number(text));
    }
    let value: f64 = text.parse().map_err(|_| why_no_number(text))?;
    if value.is_infinite() {
        return Err("too large for a number".to_owned());
    }
    if !range.holds(value) {
        return Err(format!("out of range: {} is expected", range.as_str()));
    }
    // Minus zero becomes zero, as the store would make it anyway.
    Ok(value + 0.0)
}

/// Whether the bytes are `[+-] digits [. digits] [e [+-] digits]` with at least one digit
/// before the exponent.
fn is_number(text: &[u8]) -> bool {
    fn sign(text: &[u8]) -> &[u8] {
        match text {
            [b'+' | b'-', rest @ ..] => rest,
            _ => text,
        }
    }
    fn digits(text: &[u8]) -> (usize, &[u8]) {
        let count = text.iter().take_while(|byte| byte.is_ascii_digit()).count();
        (count, &text[count..])
    }
    let (whole, mut rest) = digits(sign(text));
    let mut part = 0;
    if let [b'.', tail @ ..] = rest {
        (part, rest) = digits(tail);
    }
    if whole + part == 0 {
        return false;
    }
    match rest {
        [] => true,
        [b'e' | b'E', exponent @ ..] => {
            let (count, end) = digits(sign(exponent));
            count > 0 && end.is_empty()
        }
        _ => false,
    }
}

fn why_no_number(text: &str) -> String {
    if text.contains(',') {
        "not a number: a decimal point is expected, and no thousands marks".to_owned()
    } else {
        "not a number: sign, digits, point and exponent are expected, without a unit".to_owned()
    }
}

/// Reads `yes no y n true false 1 0` in any case.
///
/// # Errors
/// Any other text.
pub fn yes_no(text: &str) -> Result<bool, String> {
    const YES: [&str; 4] = ["yes", "y", "true", "1"];
    const NO: [&str; 4] = ["no", "n", "false", "0"];
    let is = |word: &&str| word.eq_ignore_ascii_case(text);
    if YES.iter().any(is) {
        Ok(true)
    } else if NO.iter().any(is) {
        Ok(false)
    } else {
        Err("neither yes nor no: yes no y n true false 1 0 are expected".to_owned())
    }
}

/// Why a text is none of these words.
#[must_use]
pub fn not_listed(words: &[&str]) -> String {
    format!("not one of the words expected: {}", words.join(" "))
}

/// Reads several looks joined with `;`. Empty parts beside others are passed over.
///
/// # Errors
/// A part that is no look; nothing but empty parts.
pub fn looks(text: &str) -> Result<Looks, String> {
    let not_listed = || {
        let words: Vec<&str> = Look::ALL.iter().map(|look| look.as_str()).collect();
        format!(
            "{}; several are joined with a semicolon",
            not_listed(&words)
        )
    };
    let mut looks = Looks::NONE;
    for part in text
        .split(';')
        .map(str::trim)
        .filter(|part| !part.is_empty())
    {
        looks = looks.with(Look::parse(part).ok_or_else(not_listed)?);
    }
    if looks.is_blank() {
        return Err(not_listed());
    }
    Ok(looks)
}

/// Reads a day written `YYYY-MM-DD`.
///
/// # Errors
/// Any other text, or a day that does not exist.
pub fn day(text: &str) -> Result<NaiveDate, String> {
    let bytes = text.as_bytes();
    let day = (bytes.len() == 10)
        .then(|| day_of(bytes))
        .flatten()
        .ok_or("not a day: YYYY-MM-DD is expected")?;
    let (year, month, of_month) = day;
    NaiveDate::from_ymd_opt(year, month, of_month)
        .ok_or_else(|| "there is no such day in the calendar".to_owned())
}

/// Year, month and day of month at the start of `YYYY-MM-DD…`, not yet checked against
/// the calendar.
pub(super) fn day_of(bytes: &[u8]) -> Option<(i32, u32, u32)> {
    let (text, _) = bytes.split_at_checked(10)?;
    if text[4] != b'-' || text[7] != b'-' {
        return None;
    }
    let year = two(&text[0..2])? * 100 + two(&text[2..4])?;
    Some((year.cast_signed(), two(&text[5..7])?, two(&text[8..10])?))
}

/// Two decimal digits.
pub(super) fn two(bytes: &[u8]) -> Option<u32> {
    match bytes {
        [tens @ b'0'..=b'9', ones @ b'0'..=b'9'] => {
            Some(u32::from(tens - b'0') * 10 + u32::from(ones - b'0'))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_sign_digits_point_and_exponent_and_nothing_else() {
        let good = [
            ("0", 0.0),
            ("-0", 0.0),
            ("+5", 5.0),
            ("5.", 5.0),
            (".5", 0.5),
            ("1e2", 100.0),
            ("1.5E-1", 0.15),
            ("007", 7.0),
        ];
        for (text, value) in good {
            assert_eq!(number(text, Range::NotNegative), Ok(value), "{text}");
        }
        let bad = [
            "", ".", "+", "1,5", "1 000", "1_000", "5 mL", "inf", "NaN", "infinity", "0x10", "1e",
            "1e+", "e5", "--1", "1.2.3", "½", "１", "1e5x", "−5",
        ];
        for text in bad {
            assert!(number(text, Range::NotNegative).is_err(), "{text}");
        }
        assert_eq!(
            number("1e999", Range::Positive),
            Err("too large for a number".to_owned())
        );
    }

    #[test]
    fn ranges_include_their_ends_as_the_contract_says() {
        let cases = [
            (Range::Positive, "0", false),
            (Range::Positive, "1e-300", true),
            (Range::Positive, "1e-999", false),
            (Range::NotNegative, "0", true),
            (Range::NotNegative, "-0.1", false),
            (Range::Percent, "0", true),
            (Range::Percent, "100", true),
            (Range::Percent, "100.01", false),
            (Range::Temperature, "-60", true),
            (Range::Temperature, "250", true),
            (Range::Temperature, "-60.1", false),
            (Range::Temperature, "250.1", false),
            (Range::OneOrTwo, "1", true),
            (Range::OneOrTwo, "2", true),
            (Range::OneOrTwo, "3", false),
            (Range::OneOrTwo, "1.5", false),
        ];
        for (range, text, holds) in cases {
            assert_eq!(number(text, range).is_ok(), holds, "{range:?} {text}");
        }
    }

    #[test]
    fn yes_and_no_have_eight_spellings_in_any_case() {
        for text in ["yes", "Y", "TRUE", "1"] {
            assert_eq!(yes_no(text), Ok(true));
        }
        for text in ["No", "n", "False", "0"] {
            assert_eq!(yes_no(text), Ok(false));
        }
        for text in ["", "maybe", "01", "x", "oui"] {
            assert!(yes_no(text).is_err());
        }
    }

    #[test]
    fn looks_are_joined_with_semicolons() {
        let seen = looks("Cloudy; water;").map(|looks| looks.to_string());
        assert_eq!(seen, Ok("cloudy;water".to_owned()));
        for text in ["clear;", ";clear", "clear; ;clear"] {
            assert_eq!(looks(text), Ok(Looks::NONE.with(Look::Clear)), "{text}");
        }
        let both = Looks::NONE.with(Look::Clear).with(Look::Metal);
        assert_eq!(looks("clear;;metal"), Ok(both));
        assert!(looks(";").is_err() && looks(" ; ;").is_err());
        assert!(looks("cloudy,water").is_err());
        assert!(looks("cloudy;blue").is_err());
    }

    #[test]
    fn a_day_is_four_two_and_two_digits_and_exists() {
        assert_eq!(day("2024-02-29").ok(), NaiveDate::from_ymd_opt(2024, 2, 29));
        for text in [
            "2023-02-29",
            "26-03-04",
            "2026-3-4",
            "2026-03-04T00:00",
            "04.03.2026",
            "2026-13-01",
        ] {
            assert!(day(text).is_err(), "{text}");
        }
    }
}

//! Days of one's own, as they are written: `2026-01-15 2026-03-31`, `2026-02`, `2025`.

use chrono::NaiveDate;

use crate::analysis::Days;
use crate::model::printable::printable;

/// What is wrong with the line, and where: in characters from 0.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Wrong {
    pub(super) message: String,
    pub(super) at: usize,
}

/// What such a line looks like.
pub(super) const HOW: &str = "Write the first and the last day, such as 2026-01-15 2026-03-31. \
    A month or a year will do for either, and alone stands for itself: 2026-02, 2025.";

/// Words that may stand between the two days and say nothing.
const BETWEEN: [&str; 6] = ["to", "-", "–", "—", "..", "until"];

/// Reads the line; `None` while nothing is written.
pub(super) fn read(text: &str) -> Result<Option<Days>, Wrong> {
    let mut parts: Vec<(usize, Days)> = Vec::new();
    for (at, word) in words(text) {
        if BETWEEN.contains(&word.as_str()) && parts.len() == 1 {
            continue;
        }
        let Some(days) = span(&word) else {
            let message = format!(
                "\"{}\" is no day; write 2026-03-04, 2026-03 or 2026.",
                printable(&word)
            );
            return Err(Wrong { message, at });
        };
        if parts.len() == 2 {
            let message = "A period has a first and a last day; this is a third.".to_owned();
            return Err(Wrong { message, at });
        }
        parts.push((at, days));
    }
    let (Some((_, begin)), Some((at, end))) = (parts.first(), parts.last()) else {
        return Ok(None);
    };
    if end.last < begin.first {
        let message = "The last day comes before the first; turn them around.".to_owned();
        return Err(Wrong { message, at: *at });
    }
    Ok(Some(Days {
        first: begin.first,
        last: end.last,
    }))
}

/// The words of a text, each with its place in characters.
fn words(text: &str) -> Vec<(usize, String)> {
    let mut words: Vec<(usize, String)> = Vec::new();
    let mut inside = false;
    for (at, sign) in text.chars().enumerate() {
        if sign.is_whitespace() {
            inside = false;
        } else if inside && let Some((_, word)) = words.last_mut() {
            word.push(sign);
        } else {
            words.push((at, sign.to_string()));
            inside = true;
        }
    }
    words
}

/// A day, a month or a year as the days it spans. Nothing looser, so that no order of day and
/// month is guessed.
fn span(word: &str) -> Option<Days> {
    let mut numbers = Vec::new();
    for (part, digits) in word.split('-').zip([4, 2, 2]) {
        let plain = part.len() == digits && part.bytes().all(|byte| byte.is_ascii_digit());
        numbers.push(part.parse::<i32>().ok().filter(|_| plain)?);
    }
    let month = |year: i32, month: i32| {
        let number = year * 12 + month - 1;
        (1..=12).contains(&month).then_some(number)
    };
    match (numbers.as_slice(), word.split('-').count()) {
        ([year], 1) => Days::months(month(*year, 1)?, month(*year, 12)?),
        ([year, of], 2) => Days::months(month(*year, *of)?, month(*year, *of)?),
        ([year, of, day], 3) => {
            let (of, day) = (u32::try_from(*of).ok()?, u32::try_from(*day).ok()?);
            let day = NaiveDate::from_ymd_opt(*year, of, day).filter(|_| *year > 0)?;
            Some(Days {
                first: Some(day),
                last: Some(day),
            })
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn days_months_and_years_are_read_alone_and_in_pairs() {
        for (text, first, last) in [
            ("2026-01-15 2026-03-31", "2026-01-15", "2026-03-31"),
            ("2026-01-15 to 2026-02", "2026-01-15", "2026-02-28"),
            (" 2025 – 2026-01 ", "2025-01-01", "2026-01-31"),
            ("2024-02", "2024-02-01", "2024-02-29"),
            ("2024", "2024-01-01", "2024-12-31"),
            ("2026-03-04", "2026-03-04", "2026-03-04"),
            ("2026-03-31 2026-03", "2026-03-31", "2026-03-31"),
        ] {
            let days = read(text).unwrap().unwrap();
            assert_eq!(days.first.unwrap().to_string(), first, "{text}");
            assert_eq!(days.last.unwrap().to_string(), last, "{text}");
        }
        assert_eq!(read("  "), Ok(None));
    }

    #[test]
    fn a_mistake_is_said_with_its_place() {
        for (text, at, words) in [
            ("2026-13", 0, "\"2026-13\" is no day"),
            ("2026-01 2026-02-30", 8, "is no day"),
            ("to 2026-01", 0, "\"to\" is no day"),
            ("2026-01 to to", 8, ""),
            ("2026-02 2026-01", 8, "comes before"),
            ("2026-01 2026-02 2026-03", 16, "third"),
            ("20260101", 0, "is no day"),
            ("0000", 0, "is no day"),
            ("2026-01-01-01", 0, "is no day"),
        ] {
            match read(text) {
                Err(wrong) => {
                    assert_eq!(wrong.at, at, "{text}");
                    assert!(wrong.message.contains(words), "{text}: {}", wrong.message);
                }
                // Words that say nothing may stand twice.
                Ok(days) => assert!(words.is_empty() && days.is_some(), "{text}"),
            }
        }
    }

    proptest! {
        #[test]
        fn no_line_panics_and_every_mistake_lies_in_it(text in "[-0-9a-z –油]{0,30}") {
            if let Err(wrong) = read(&text) {
                prop_assert!(wrong.at < text.chars().count());
            }
        }
    }
}

//! Text by the cell: cut by grapheme, padded by width, wrapped by words.

use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

use crate::model::printable::printable;

/// How many cells a text takes.
pub(crate) fn width(text: &str) -> usize {
    text.width()
}

/// The text made harmless and cut to at most `cells`, with `…` where something is gone.
pub(crate) fn cut(text: &str, cells: usize) -> String {
    let text = printable(text);
    if width(&text) <= cells {
        return text.into_owned();
    }
    if cells == 0 {
        return String::new();
    }
    let mut kept = String::new();
    let mut used = 0;
    for grapheme in text.graphemes(true) {
        let wide = width(grapheme);
        if used + wide > cells - 1 {
            break;
        }
        kept.push_str(grapheme);
        used += wide;
    }
    kept.push('…');
    kept
}

/// The text made harmless and cut at its beginning to at most `cells`.
pub(crate) fn cut_left(text: &str, cells: usize) -> String {
    let text = printable(text);
    let mut rest: &str = &text;
    if width(rest) <= cells {
        return text.into_owned();
    }
    while let Some(first) = rest.graphemes(true).next() {
        if width(rest) < cells {
            break;
        }
        rest = &rest[first.len()..];
    }
    format!("…{rest}")
}

/// Cut and filled with blanks on the right to exactly `cells`.
pub(crate) fn left(text: &str, cells: usize) -> String {
    let mut text = cut(text, cells);
    let missing = cells.saturating_sub(width(&text));
    text.extend(std::iter::repeat_n(' ', missing));
    text
}

/// Cut and filled with blanks on the left to exactly `cells`.
pub(crate) fn right(text: &str, cells: usize) -> String {
    let text = cut(text, cells);
    let missing = cells.saturating_sub(width(&text));
    let mut padded = " ".repeat(missing);
    padded.push_str(&text);
    padded
}

/// A blank at which no line is broken.
const TIED: char = '\u{a0}';

/// The first of several ways to say the same that fits whole into so many lines; the last one
/// cut where none does.
pub(crate) fn first_to_fit(ways: &[String], cells: usize, lines: usize) -> Vec<String> {
    let wrapped = ways.iter().map(|way| wrap(way, cells));
    match wrapped.into_iter().find(|way| way.len() <= lines) {
        Some(way) => way,
        None if lines == 0 => Vec::new(),
        None => ways.last().map(|way| cut(way, cells)).into_iter().collect(),
    }
}

/// The text made harmless and broken into lines of at most `cells`, between words where
/// that can be, inside a word where it is longer than a line. A unit stays with its number
/// where it is `%` or a degree, and what is multiplied stays together. Never empty.
pub(crate) fn wrap(text: &str, cells: usize) -> Vec<String> {
    let cells = cells.max(1);
    let text = printable(text)
        .replace(" %", &format!("{TIED}%"))
        .replace(" °", &format!("{TIED}°"))
        .replace(" × ", &format!("{TIED}×{TIED}"));
    let mut lines = Vec::new();
    let mut line = String::new();
    let mut used = 0;
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let wide = width(word);
        if used > 0 && used + 1 + wide > cells {
            lines.push(std::mem::take(&mut line));
            used = 0;
        }
        if used > 0 {
            line.push(' ');
            used += 1;
        }
        for grapheme in word.graphemes(true) {
            let wide = width(grapheme);
            if used > 0 && used + wide > cells {
                lines.push(std::mem::take(&mut line));
                used = 0;
            }
            line.push_str(grapheme);
            used += wide;
        }
    }
    lines.push(line);
    for line in &mut lines {
        *line = line.replace(TIED, " ");
    }
    lines
}

/// Words with a capital first.
pub(crate) fn capital(words: &str) -> String {
    let mut signs = words.chars();
    let first = signs
        .next()
        .map_or_else(String::new, |sign| sign.to_uppercase().collect());
    format!("{first}{}", signs.as_str())
}

/// Words as a sentence: a capital first, a full stop last.
pub(crate) fn sentence(words: &str) -> String {
    let stop = if words.ends_with(['.', '?', '!']) {
        ""
    } else {
        "."
    };
    format!("{}{stop}", capital(words))
}

/// The name of a file without its folder.
pub(crate) fn file_name(path: &str) -> &str {
    path.rsplit(['/', '\\']).next().unwrap_or(path)
}

/// A count with a comma between thousands.
pub(crate) fn count(number: u64) -> String {
    let digits = number.to_string();
    let mut text = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}

/// A share of 0 to 1 as `41.2 %`, or `–` for none.
pub(crate) fn percent(share: Option<f64>) -> String {
    share.map_or_else(|| "–".to_owned(), |share| format!("{:.1} %", share * 100.0))
}

/// Two shares as `39.8–42.6 %`, or `–` where there is none.
pub(crate) fn percent_range(low: Option<f64>, high: Option<f64>) -> String {
    match (low, high) {
        (Some(low), Some(high)) => format!("{:.1}–{:.1} %", low * 100.0, high * 100.0),
        _ => "–".to_owned(),
    }
}

/// A score of 0 to 100 with at most one decimal, or `–`.
pub(crate) fn score(score: Option<f64>) -> String {
    score.map_or_else(|| "–".to_owned(), |score| format!("{score:.1}"))
}

/// `1 draw`, `2 draws`, `1,200 draws`.
pub(crate) fn plural(number: u64, one: &str, many: &str) -> String {
    let word = if number == 1 { one } else { many };
    format!("{} {word}", count(number))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_are_cut_by_grapheme_and_padded_by_width() {
        assert_eq!(cut("gearbox", 7), "gearbox");
        assert_eq!(cut("gearbox", 5), "gear…");
        assert_eq!(left("油温", 5), "油温 ");
        assert_eq!(cut("油温計", 4), "油…");
        assert_eq!(right("7", 3), "  7");
        assert_eq!(cut("e\u{301}e\u{301}e\u{301}", 2), "e\u{301}…");
        assert_eq!(cut("a\u{1b}[2J", 9), "a\u{fffd}[2J");
        assert_eq!(cut("x", 0), "");
        assert_eq!(cut_left("gearbox", 7), "gearbox");
        assert_eq!(cut_left("gearbox", 5), "…rbox");
    }

    #[test]
    fn words_wrap_and_long_ones_are_broken() {
        assert_eq!(
            wrap("run off the dead volume", 10),
            ["run off", "the dead", "volume"]
        );
        assert_eq!(wrap("not below 70 °C", 12), ["not below", "70 °C"]);
        assert_eq!(wrap("a share of 5 %", 12), ["a share of", "5 %"]);
        assert_eq!(wrap("95 mL (5 × 19 mL)", 12), ["95 mL", "(5 × 19 mL)"]);
        assert_eq!(wrap("abcdefgh", 3), ["abc", "def", "gh"]);
        assert_eq!(wrap("", 3), [""]);
        assert_eq!(wrap("a bcdefg", 3), ["a", "bcd", "efg"]);
    }

    #[test]
    fn counts_and_shares_read_well() {
        assert_eq!(count(0), "0");
        assert_eq!(count(999), "999");
        assert_eq!(count(1_204_812), "1,204,812");
        assert_eq!(percent(Some(0.4123)), "41.2 %");
        assert_eq!(percent(None), "–");
        assert_eq!(plural(1, "draw", "draws"), "1 draw");
    }
}

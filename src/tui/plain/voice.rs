//! Words as they are said: printable signs only, punctuation in ASCII, no drawing.

use ratatui::text::{Line, Span};

use crate::model::printable::printable;

/// How letters are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Voice {
    /// Letters beyond ASCII stay as they are.
    pub unicode: bool,
}

impl Voice {
    /// From the environment, as the screens take it: whether `LC_ALL`, `LC_CTYPE` or `LANG`
    /// (the first that is set) names UTF-8; where none is set, UTF-8 is taken for granted.
    #[must_use]
    pub fn from_environment(variable: impl Fn(&str) -> Option<String>) -> Self {
        let filled = |name| variable(name).filter(|value| !value.is_empty());
        let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(filled);
        let unicode = locale.is_none_or(|name| {
            let name = name.to_ascii_lowercase();
            name.contains("utf-8") || name.contains("utf8")
        });
        Voice { unicode }
    }

    /// One line of text, made harmless: no control character, no drawing, ASCII punctuation,
    /// one blank between words.
    #[must_use]
    pub fn line(self, text: &str) -> String {
        let text = printable(text);
        let signs: Vec<char> = text.chars().collect();
        let mut said = String::with_capacity(text.len());
        for (at, sign) in signs.iter().enumerate() {
            if sign.is_ascii() {
                said.push(*sign);
            } else {
                let before = at.checked_sub(1).and_then(|at| signs.get(at)).copied();
                self.beyond_ascii(&mut said, before, *sign, signs.get(at + 1).copied());
            }
        }
        let mut words: Vec<&str> = said.split_whitespace().collect();
        // What a middle dot parts is parted by a comma.
        let mut joined = String::with_capacity(said.len());
        for word in words.drain(..) {
            if !joined.is_empty() && word != "," {
                joined.push(' ');
            }
            joined.push_str(word);
        }
        joined
    }

    fn beyond_ascii(self, said: &mut String, before: Option<char>, sign: char, next: Option<char>) {
        let is_digit = |sign: Option<char>| sign.is_some_and(|sign| sign.is_ascii_digit());
        match sign {
            '–' if is_digit(before) && (is_digit(next) || next == Some('−')) => {
                said.push_str(" to ");
            }
            '–' | '—' if is_blank(before) && next.is_none_or(|next| !next.is_alphanumeric()) => {
                said.push_str("none");
            }
            '–' | '—' | '−' | '‐' | '‑' | '‒' => said.push('-'),
            '·' => said.push(','),
            '…' => said.push_str("..."),
            '‘' | '’' => said.push('\''),
            '“' | '”' | '„' => said.push('"'),
            '×' => said.push('x'),
            '±' => said.push_str("+/-"),
            '≤' => said.push_str("at most "),
            '≥' => said.push_str("at least "),
            '\u{a0}' | '\u{202f}' => said.push(' '),
            '\u{fffd}' => said.push('?'),
            sign if is_drawing(sign) => said.push(' '),
            sign if self.unicode => said.push(sign),
            '°' => said.push_str("deg "),
            'µ' | 'μ' => said.push('u'),
            '²' => said.push('2'),
            '³' => said.push('3'),
            _ => said.push('?'),
        }
    }
}

fn is_blank(sign: Option<char>) -> bool {
    sign.is_none_or(char::is_whitespace)
}

/// Arrows, boxes, blocks, shapes, ticks and Braille: they draw, and say nothing.
const fn is_drawing(sign: char) -> bool {
    matches!(sign, '\u{2190}'..='\u{21ff}' | '\u{2298}' | '\u{2500}'..='\u{27bf}' | '\u{2800}'..='\u{28ff}')
}

/// Labels that stand close to what they name.
const LABELS: [&str; 2] = ["Next time", "Caution"];

/// The words of a line of a screen. What is set apart by blanks at its beginning is a label:
/// `due     2026-03-04` is said as `due: 2026-03-04`.
pub(crate) fn words(line: &Line<'_>) -> String {
    let mut said = String::new();
    let mut is_first = true;
    let mut label = false;
    for span in &line.spans {
        let text = without_mark(span.content.trim());
        if text.is_empty() {
            continue;
        }
        if label && !said.ends_with(':') {
            said.push(':');
        }
        if !said.is_empty() {
            said.push(' ');
        }
        said.push_str(text);
        label = is_first && (span.content.ends_with("  ") || LABELS.contains(&text));
        is_first = false;
    }
    said
}

/// Without the mark of the screens that stands before a word and says what the word says.
fn without_mark(text: &str) -> &str {
    const MARKS: [char; 8] = ['x', '?', '~', '+', '!', '/', '*', '-'];
    let rest = text.strip_prefix(MARKS);
    let is_mark = |rest: &&str| rest.is_empty() || rest.starts_with(' ');
    rest.filter(is_mark).map_or(text, str::trim_start)
}

/// The words of lines of a screen, without empty ones.
pub(crate) fn all_words(lines: &[Line<'_>]) -> Vec<String> {
    let said = lines.iter().map(words);
    said.filter(|words| !words.is_empty()).collect()
}

/// The text of a cell of a table; nothing for the mark of an empty one.
pub(crate) fn cell(spans: &[Span<'_>]) -> String {
    let text: String = spans.iter().map(|span| span.content.as_ref()).collect();
    value(&text)
}

/// A value of a table; nothing for the mark of an empty one.
pub(crate) fn value(text: &str) -> String {
    match text.trim() {
        "." | "·" => String::new(),
        text => text.to_owned(),
    }
}

/// A value without the glyph that stands before its word.
pub(crate) fn without_glyph(text: &str) -> String {
    match text.trim().split_once(' ') {
        Some((glyph, words)) if glyph.chars().count() == 1 => words.trim().to_owned(),
        _ => text.trim().to_owned(),
    }
}

/// The words with a full stop where they end with none.
pub(crate) fn stopped(words: &str) -> String {
    let words = words.trim();
    let stop = match words.chars().next_back() {
        None | Some('.' | '!' | '?' | ':') => "",
        _ => ".",
    };
    format!("{words}{stop}")
}

/// Labels and their values in one sentence: `due 2026-03-04, owner Bo Tarn`.
pub(crate) fn labelled(pairs: &[(&str, String)]) -> String {
    let said = pairs.iter().filter(|(_, value)| !value.is_empty());
    let said: Vec<String> = said
        .map(|(label, value)| match *label {
            "" => value.clone(),
            label => format!("{label} {value}"),
        })
        .collect();
    said.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const UTF8: Voice = Voice { unicode: true };
    const ASCII: Voice = Voice { unicode: false };

    #[test]
    fn signs_are_said_in_ascii_and_letters_stay() {
        for (written, said, plain) in [
            ("39.8–42.6 %", "39.8 to 42.6 %", "39.8 to 42.6 %"),
            ("share –", "share none", "share none"),
            ("−5.0 to +1", "-5.0 to +1", "-5.0 to +1"),
            ("T001 · crew Ö", "T001, crew Ö", "T001, crew ?"),
            ("┌── 46 °C ──┐", "46 °C", "46 deg C"),
            ("a   b\t c", "a b? c", "a b? c"),
            ("20 µm", "20 µm", "20 um"),
            ("✗ bad", "bad", "bad"),
            ("a\u{1b}[2Jb\u{202e}c", "a?[2Jb?c", "a?[2Jb?c"),
            ("p–q", "p-q", "p-q"),
        ] {
            assert_eq!(UTF8.line(written), said);
            assert_eq!(ASCII.line(written), plain);
        }
    }

    #[test]
    fn what_is_set_apart_at_the_beginning_is_a_label() {
        let line = Line::from(vec![Span::raw("due         "), Span::raw("2026-03-04")]);
        assert_eq!(words(&line), "due: 2026-03-04");
        let line = Line::from(vec![Span::raw("F-2"), Span::raw("      open")]);
        assert_eq!(words(&line), "F-2 open");
        assert_eq!(words(&Line::default()), "");
    }

    #[test]
    fn marks_that_stand_before_words_are_not_said() {
        let line = Line::from(vec![
            Span::raw("T002 "),
            Span::raw("x "),
            Span::raw("unrepresentative"),
        ]);
        assert_eq!(words(&line), "T002 unrepresentative");
        for (written, said) in [
            ("x flush-met        ", "flush-met"),
            ("! overdue by 3 days", "overdue by 3 days"),
            ("/ result set aside", "result set aside"),
            ("-13.7", "-13.7"),
            ("+0.7 more", "+0.7 more"),
            ("x-ray", "x-ray"),
            ("xenon", "xenon"),
        ] {
            assert_eq!(words(&Line::from(Span::raw(written))), said);
        }
    }

    #[test]
    fn empty_values_are_not_said() {
        let pairs = [
            ("", "F-2".to_owned()),
            ("due", String::new()),
            ("owner", "Bo".to_owned()),
        ];
        assert_eq!(labelled(&pairs), "F-2, owner Bo");
        assert_eq!(value(" · "), "");
        assert_eq!(without_glyph("! open"), "open");
        assert_eq!(without_glyph("not verified"), "not verified");
    }

    proptest! {
        #[test]
        fn no_text_brings_a_control_character(text in any::<String>()) {
            let said = UTF8.line(&text);
            prop_assert!(!said.chars().any(char::is_control), "{said:?}");
            prop_assert_eq!(printable(&said), said.as_str());
            prop_assert!(ASCII.line(&text).bytes().all(|byte| (32..127).contains(&byte)));
        }
    }
}

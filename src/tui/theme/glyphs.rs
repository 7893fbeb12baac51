//! Glyphs: what stands beside every colour, and what stands for a sign in ASCII.

use super::Theme;
use crate::model::{Outcome, Verdict};

impl Theme {
    /// A verdict's glyph.
    pub(crate) const fn verdict_glyph(self, verdict: Verdict) -> &'static str {
        match (verdict, self.unicode) {
            (Verdict::Unrepresentative, true) => "✗",
            (Verdict::Unrepresentative, false) => "x",
            (Verdict::Unproven, _) => "?",
            (Verdict::Doubtful, _) => "~",
            (Verdict::Representative, true) => "✓",
            (Verdict::Representative, false) => "+",
        }
    }

    /// An outcome's glyph.
    pub(crate) const fn outcome_glyph(self, outcome: Outcome) -> &'static str {
        match outcome {
            Outcome::Met => self.verdict_glyph(Verdict::Representative),
            Outcome::Broken => self.verdict_glyph(Verdict::Unrepresentative),
            Outcome::Unrecorded => self.verdict_glyph(Verdict::Unproven),
            Outcome::NotApplicable => self.pick("·", "."),
        }
    }

    /// The glyph, or what stands for it in ASCII.
    pub(crate) const fn pick(self, unicode: &'static str, ascii: &'static str) -> &'static str {
        if self.unicode { unicode } else { ascii }
    }

    /// Whether the terminal shows more than ASCII.
    pub(crate) const fn is_unicode(self) -> bool {
        self.unicode
    }

    /// What stands for a sign on a terminal that knows ASCII only; `None` where it can stay. One
    /// cell for one cell, so that nothing moves.
    pub(crate) fn plainer(self, symbol: &str) -> Option<&'static str> {
        if self.unicode || symbol.is_ascii() {
            return None;
        }
        Some(match symbol {
            "–" | "—" | "−" | "─" | "━" => "-",
            "…" => "~",
            "·" => ".",
            // A letter x would read as the glyph of a broken rule.
            "×" => "*",
            "’" => "'",
            "│" | "┃" => "|",
            "┌" | "┐" | "└" | "┘" | "├" | "┤" | "┬" | "┴" | "┼" => "+",
            "±" => "~",
            // The raised o of a typewriter: 70 oC.
            "°" => "o",
            "²" => "2",
            "³" => "3",
            "µ" | "μ" => "u",
            "≤" => "<",
            "≥" => ">",
            "→" => ">",
            "←" => "<",
            "↑" => "^",
            "↓" => "v",
            "█" | "▓" => "#",
            "▒" => "=",
            "░" => "-",
            "●" | "•" => "o",
            other => bare(other),
        })
    }
}

/// Letters with marks, and the letters they are read by: names stay names.
const BARE: [(&str, &str); 34] = [
    ("ÀÁÂÃÄÅĀĂĄÆ", "A"),
    ("ÇĆĈĊČ", "C"),
    ("ÐĎĐ", "D"),
    ("ÈÉÊËĒĔĖĘĚ", "E"),
    ("ĜĞĠĢ", "G"),
    ("ÌÍÎÏĨĪĬĮİ", "I"),
    ("ŁĹĻĽ", "L"),
    ("ÑŃŅŇ", "N"),
    ("ÒÓÔÕÖØŌŎŐŒ", "O"),
    ("ŔŖŘ", "R"),
    ("ŚŜŞŠȘ", "S"),
    ("ŢŤŦȚÞ", "T"),
    ("ÙÚÛÜŨŪŬŮŰŲ", "U"),
    ("ÝŶŸ", "Y"),
    ("ŹŻŽ", "Z"),
    ("àáâãäåāăąæ", "a"),
    ("çćĉċč", "c"),
    ("ðďđ", "d"),
    ("èéêëēĕėęě", "e"),
    ("ĝğġģ", "g"),
    ("ìíîïĩīĭįı", "i"),
    ("łĺļľ", "l"),
    ("ñńņň", "n"),
    ("òóôõöøōŏőœ", "o"),
    ("ŕŗř", "r"),
    ("śŝşšșß", "s"),
    ("ţťŧțþ", "t"),
    ("ùúûüũūŭůűų", "u"),
    ("ýÿŷ", "y"),
    ("źżž", "z"),
    ("‘‚‹›", "'"),
    ("“”„«»", "\""),
    ("\u{a0}\u{2009}\u{202f}", " "),
    ("‐‑‒", "-"),
];

/// The letter without its mark; a question mark for what has no likeness in ASCII.
fn bare(symbol: &str) -> &'static str {
    // A mark may follow its letter as a sign of its own; the letter says enough.
    let mut signs = symbol.chars();
    let first = signs.next().filter(|_| signs.all(is_mark));
    let Some(letter) = first else { return "?" };
    if let Some(at) = LETTERS.find(letter) {
        return &LETTERS[at..=at];
    }
    let found = BARE.iter().find(|(marked, _)| marked.contains(letter));
    found.map_or("?", |(_, bare)| bare)
}

const LETTERS: &str = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz";

/// Whether it is a mark that stands over or under the letter before it.
fn is_mark(sign: char) -> bool {
    ('\u{300}'..='\u{36f}').contains(&sign)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn every_verdict_and_outcome_has_a_glyph_of_its_own() {
        for theme in [Theme::new(true, true), Theme::new(true, false)] {
            let mut glyphs = Verdict::ALL.map(|verdict| theme.verdict_glyph(verdict));
            glyphs.sort_unstable();
            assert!(glyphs.windows(2).all(|pair| pair[0] != pair[1]));
        }
    }

    #[test]
    fn what_is_not_ascii_has_a_plain_stand_in_of_one_cell() {
        let plain = Theme::new(true, false);
        for (symbol, expected) in [
            ("…", "~"),
            ("–", "-"),
            ("°", "o"),
            ("×", "*"),
            ("é", "e"),
            ("e\u{301}", "e"),
            ("Ł", "L"),
            ("ß", "s"),
            ("油", "?"),
            ("x油", "?"),
        ] {
            assert_eq!(plain.plainer(symbol), Some(expected));
        }
        assert_eq!(plain.plainer("a"), None);
        assert_eq!(Theme::new(true, true).plainer("油"), None);
    }
}

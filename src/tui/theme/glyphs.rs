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
            _ => "?",
        })
    }
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
        for (symbol, expected) in [("…", "~"), ("–", "-"), ("°", "o"), ("×", "*"), ("油", "?")]
        {
            assert_eq!(plain.plainer(symbol), Some(expected));
        }
        assert_eq!(plain.plainer("a"), None);
        assert_eq!(Theme::new(true, true).plainer("油"), None);
    }
}

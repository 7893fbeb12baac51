//! Colours and glyphs. The 16 ANSI colours on the terminal's own background, so that dark
//! and light terminals work; what a colour says, a glyph or a word beside it says too.

use ratatui::style::{Color, Modifier, Style};
use ratatui::text::Line;

use crate::model::{Outcome, Verdict};

/// How things look on this terminal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Theme {
    colours: bool,
    unicode: bool,
}

impl Theme {
    /// Colours or none (`NO_COLOR`); glyphs beyond ASCII or not.
    #[must_use]
    pub const fn new(colours: bool, unicode: bool) -> Self {
        Theme { colours, unicode }
    }

    /// From the environment: `NO_COLOR`, and whether `LC_ALL`, `LC_CTYPE` or `LANG` (the
    /// first that is set) names UTF-8. Where none is set, UTF-8 is taken for granted.
    #[must_use]
    pub fn from_environment(variable: impl Fn(&str) -> Option<String>) -> Self {
        let filled = |name| variable(name).filter(|value| !value.is_empty());
        let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(filled);
        let unicode = locale.is_none_or(|name| {
            let name = name.to_ascii_lowercase();
            name.contains("utf-8") || name.contains("utf8")
        });
        Theme::new(filled("NO_COLOR").is_none(), unicode)
    }

    fn coloured(self, colour: Color) -> Style {
        if self.colours {
            Style::new().fg(colour)
        } else {
            Style::new()
        }
    }

    /// Plain text.
    pub(crate) const fn plain(self) -> Style {
        Style::new()
    }

    /// Things that stand back.
    pub(crate) const fn faint(self) -> Style {
        Style::new().add_modifier(Modifier::DIM)
    }

    /// Things that stand out.
    pub(crate) const fn strong(self) -> Style {
        Style::new().add_modifier(Modifier::BOLD)
    }

    /// Titles of panes.
    pub(crate) fn title(self) -> Style {
        self.coloured(Color::Cyan).add_modifier(Modifier::BOLD)
    }

    /// The row the keys act on.
    pub(crate) const fn chosen(self) -> Style {
        Style::new().add_modifier(Modifier::REVERSED)
    }

    /// The line as the row the keys act on: reversed as a whole, without colours of its own
    /// that would leave blocks in it.
    pub(crate) fn choose(self, mut line: Line<'static>) -> Line<'static> {
        for span in &mut line.spans {
            span.style.fg = None;
            span.style = span.style.remove_modifier(Modifier::DIM);
        }
        line.style(self.chosen())
    }

    /// The row in a pane that the keys don't act on at present.
    pub(crate) const fn resting(self) -> Style {
        Style::new()
            .add_modifier(Modifier::BOLD)
            .add_modifier(Modifier::UNDERLINED)
    }

    /// Something the user has to know.
    pub(crate) fn warning(self) -> Style {
        self.coloured(Color::Red).add_modifier(Modifier::BOLD)
    }

    /// Advice on safety.
    pub(crate) fn caution(self) -> Style {
        self.coloured(Color::Yellow).add_modifier(Modifier::BOLD)
    }

    /// The axes of a chart and what is written along them.
    pub(crate) const fn axis(self) -> Style {
        self.faint()
    }

    /// The line from value to value of a chart, and its intervals.
    pub(crate) const fn chart_line(self) -> Style {
        self.plain()
    }

    /// The marks of a chart that say nothing out of the common.
    pub(crate) const fn chart_mark(self) -> Style {
        self.plain()
    }

    /// The limits and the centre of a chart.
    pub(crate) const fn chart_limit(self) -> Style {
        self.faint()
    }

    /// A value beyond the limits of a chart.
    pub(crate) const fn chart_signal(self) -> Style {
        self.strong()
    }

    /// The crosshair of a chart.
    pub(crate) fn crosshair(self) -> Style {
        self.coloured(Color::Cyan)
    }

    /// A verdict's colour.
    pub(crate) fn verdict(self, verdict: Verdict) -> Style {
        self.coloured(match verdict {
            Verdict::Unrepresentative => Color::Red,
            Verdict::Unproven => Color::Magenta,
            Verdict::Doubtful => Color::Yellow,
            Verdict::Representative => Color::Green,
        })
    }

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

    /// An outcome's colour.
    pub(crate) fn outcome(self, outcome: Outcome) -> Style {
        match outcome {
            Outcome::Met => self.verdict(Verdict::Representative),
            Outcome::Broken => self.verdict(Verdict::Unrepresentative),
            Outcome::Unrecorded => self.verdict(Verdict::Unproven),
            Outcome::NotApplicable => self.faint(),
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

    /// What stands for a sign on a terminal that knows ASCII only; `None` where it can stay.
    pub(crate) fn plainer(self, symbol: &str) -> Option<&'static str> {
        if self.unicode || symbol.is_ascii() {
            return None;
        }
        Some(match symbol {
            "–" | "—" | "−" | "─" | "━" => "-",
            "…" => "~",
            "·" => ".",
            "×" => "x",
            "’" => "'",
            "│" | "┌" | "┐" | "└" | "┘" => "|",
            "±" => "+",
            "°" => " ",
            "²" => "2",
            "³" => "3",
            "µ" | "μ" => "u",
            "≤" => "<",
            "≥" => ">",
            _ => "?",
        })
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn of(pairs: &'static [(&'static str, &'static str)]) -> Theme {
        Theme::from_environment(|name| {
            let found = pairs.iter().find(|(known, _)| *known == name);
            found.map(|(_, value)| (*value).to_owned())
        })
    }

    #[test]
    fn the_environment_decides_on_colours_and_glyphs() {
        assert_eq!(of(&[]), Theme::new(true, true));
        assert_eq!(of(&[("NO_COLOR", "1")]), Theme::new(false, true));
        assert_eq!(of(&[("NO_COLOR", "")]), Theme::new(true, true));
        assert_eq!(of(&[("LANG", "C")]), Theme::new(true, false));
        assert_eq!(
            of(&[("LC_ALL", "POSIX"), ("LANG", "en_GB.UTF-8")]),
            Theme::new(true, false)
        );
        assert_eq!(of(&[("LC_CTYPE", "de_DE.utf8")]), Theme::new(true, true));
    }

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
        for (symbol, expected) in [("…", "~"), ("–", "-"), ("油", "?")] {
            assert_eq!(plain.plainer(symbol), Some(expected));
        }
        assert_eq!(plain.plainer("a"), None);
        assert_eq!(Theme::new(true, true).plainer("油"), None);
    }
}

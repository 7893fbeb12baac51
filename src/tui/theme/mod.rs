//! How things look: colours for a dark or a light background, or none, and glyphs beside them.
//! What a colour says, a glyph or a word says too.
//!
//! `palette.rs` holds the colours, `background.rs` tells which of them suit the terminal,
//! `checked.rs` measures that they can be read and told apart.

mod ask;
mod background;
#[cfg(test)]
mod checked;
mod glyphs;
mod late;
mod palette;
mod rgb;
mod surroundings;

use ratatui::style::{Color, Modifier, Style};
use ratatui::text::Line;

pub(crate) use ask::ask;
pub(crate) use late::{Late, Passed};
pub use palette::{Background, Depth};
pub use rgb::Rgb;
pub(crate) use surroundings::Surroundings;

use crate::model::{Colours, Outcome, Verdict};
use palette::{Ink, Palette};

/// How things look on this terminal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Theme {
    /// The background the colours are for; `None` for no colours.
    colours: Option<Background>,
    depth: Depth,
    unicode: bool,
}

impl Theme {
    /// Colours for a dark background or none; glyphs beyond ASCII or not.
    #[must_use]
    pub const fn new(colours: bool, unicode: bool) -> Self {
        Theme {
            colours: if colours {
                Some(Background::Dark)
            } else {
                None
            },
            depth: Depth::Many,
            unicode,
        }
    }

    /// The same in the colours for this background, or in none.
    #[must_use]
    pub const fn on(mut self, background: Option<Background>) -> Self {
        self.colours = background;
        self
    }

    /// The same with as many colours as the terminal has.
    #[must_use]
    pub const fn with_depth(mut self, depth: Depth) -> Self {
        self.depth = depth;
        self
    }

    /// The choice that looks like this.
    #[must_use]
    pub const fn colours(self) -> Colours {
        match self.colours {
            Some(Background::Dark) => Colours::Dark,
            Some(Background::Light) => Colours::Light,
            None => Colours::None,
        }
    }

    /// The same in the next colours: dark, light, none, and dark again.
    #[must_use]
    pub(crate) const fn turned(self) -> Self {
        self.on(match self.colours {
            Some(Background::Dark) => Some(Background::Light),
            Some(Background::Light) => None,
            None => Some(Background::Dark),
        })
    }

    fn inked(self, ink: impl Fn(&Palette) -> Ink) -> Style {
        match self.colours {
            Some(background) => Style::new().fg(self.colour(ink(palette::of(background)))),
            None => Style::new(),
        }
    }

    const fn colour(self, ink: Ink) -> Color {
        ink.on(self.depth)
    }

    /// Plain text.
    pub(crate) const fn plain(self) -> Style {
        Style::new()
    }

    /// Things that stand back. A dim look is left to terminals without colours: how far it dims
    /// is the terminal's choice, and may be too far to read.
    pub(crate) fn faint(self) -> Style {
        match self.colours {
            Some(_) => self.inked(|palette| palette.faint),
            None => Style::new().add_modifier(Modifier::DIM),
        }
    }

    /// Lines, frames and thumbs that part things and say nothing.
    pub(crate) fn line(self) -> Style {
        match self.colours {
            Some(_) => self.inked(|palette| palette.line),
            None => Style::new().add_modifier(Modifier::DIM),
        }
    }

    /// Things that stand out.
    pub(crate) const fn strong(self) -> Style {
        Style::new().add_modifier(Modifier::BOLD)
    }

    /// Titles of panes.
    pub(crate) fn title(self) -> Style {
        self.inked(|palette| palette.title)
            .add_modifier(Modifier::BOLD)
    }

    /// A key that can be pressed.
    pub(crate) fn key(self) -> Style {
        self.title()
    }

    /// The row the keys act on.
    pub(crate) fn chosen(self) -> Style {
        match self.colours {
            Some(background) => {
                let (text, ground) = palette::of(background).chosen;
                Style::new().fg(self.colour(text)).bg(self.colour(ground))
            }
            None => Style::new().add_modifier(Modifier::REVERSED),
        }
    }

    /// The line as the row the keys act on: one ground for all of it, without colours of its
    /// own that would leave blocks in it.
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
        self.inked(|palette| palette.vermilion)
            .add_modifier(Modifier::BOLD)
    }

    /// Advice on safety.
    pub(crate) fn caution(self) -> Style {
        self.inked(|palette| palette.amber)
            .add_modifier(Modifier::BOLD)
    }

    /// The axes of a chart and what is written along them.
    pub(crate) fn axis(self) -> Style {
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
    pub(crate) fn chart_limit(self) -> Style {
        self.faint()
    }

    /// A value beyond the limits of a chart.
    pub(crate) fn chart_signal(self) -> Style {
        self.warning()
    }

    /// The crosshair of a chart.
    pub(crate) fn crosshair(self) -> Style {
        self.inked(|palette| palette.title)
    }

    /// A verdict's colour.
    pub(crate) fn verdict(self, verdict: Verdict) -> Style {
        self.inked(|palette| match verdict {
            Verdict::Unrepresentative => palette.vermilion,
            Verdict::Unproven => palette.violet,
            Verdict::Doubtful => palette.amber,
            Verdict::Representative => palette.blue,
        })
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
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_turn_from_dark_to_light_to_none() {
        let dark = Theme::new(true, true);
        let names = [dark, dark.turned(), dark.turned().turned()].map(Theme::colours);
        assert_eq!(names, [Colours::Dark, Colours::Light, Colours::None]);
        assert_eq!(dark.turned().turned().turned(), dark);
    }

    #[test]
    fn without_colours_no_style_has_one() {
        let none = Theme::new(false, true);
        for style in checked::texts(none) {
            assert_eq!((style.fg, style.bg), (None, None));
        }
        assert!(none.faint().add_modifier.contains(Modifier::DIM));
        assert!(
            !Theme::new(true, true)
                .faint()
                .add_modifier
                .contains(Modifier::DIM)
        );
    }
}

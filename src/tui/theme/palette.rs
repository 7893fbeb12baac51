//! The inks of a dark and of a light background.
//!
//! Vermilion, amber, violet and blue keep apart for eyes that tell red and green badly, in the
//! manner of Okabe and Ito (Color Universal Design, 2008); there is no pair of red and green.
//! `checked.rs` measures what is claimed here. Where a terminal has 256 colours, those from 16 on are
//! used, whose values are fixed; else the first 16, which the terminal's owner may have changed.

use ratatui::style::Color;

/// Which background the inks are made for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Background {
    /// Light text on it.
    Dark,
    /// Dark text on it.
    Light,
}

/// How many colours the terminal has.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Depth {
    /// The 16 of ANSI.
    Few,
    /// 256 or more.
    Many,
}

/// One colour, as an index of 256 and as one of 16.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Ink {
    many: u8,
    few: Color,
}

impl Ink {
    pub(super) const fn on(self, depth: Depth) -> Color {
        match depth {
            Depth::Many => Color::Indexed(self.many),
            Depth::Few => self.few,
        }
    }
}

const fn ink(many: u8, few: Color) -> Ink {
    Ink { many, few }
}

/// The inks for one background.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Palette {
    /// Text that stands back.
    pub(super) faint: Ink,
    /// Lines and bars that part things: marks, no text.
    pub(super) line: Ink,
    /// Titles and keys.
    pub(super) title: Ink,
    /// Unrepresentative, broken, and what the user has to know.
    pub(super) vermilion: Ink,
    /// Doubtful, and advice on safety.
    pub(super) amber: Ink,
    /// Unproven, unrecorded.
    pub(super) violet: Ink,
    /// Representative, met.
    pub(super) blue: Ink,
    /// Text and ground of the row the keys act on.
    pub(super) chosen: (Ink, Ink),
}

pub(super) const fn of(background: Background) -> &'static Palette {
    match background {
        Background::Dark => &DARK,
        Background::Light => &LIGHT,
    }
}

// The dark grey of 16 colours can't be trusted: some terminals show it as their background. So
// with few colours faint text has the usual one.
const DARK: Palette = Palette {
    faint: ink(248, Color::Reset),
    line: ink(245, Color::Reset),
    title: ink(80, Color::LightCyan),
    vermilion: ink(209, Color::LightRed),
    amber: ink(221, Color::LightYellow),
    violet: ink(177, Color::LightMagenta),
    blue: ink(153, Color::LightCyan),
    chosen: (ink(16, Color::Black), ink(110, Color::LightCyan)),
};

// No yellow of 16 can be read on white: amber is the terminal's own colour there, and the glyph
// and the word beside it say what it is.
const LIGHT: Palette = Palette {
    faint: ink(241, Color::Reset),
    line: ink(244, Color::Reset),
    title: ink(23, Color::Blue),
    vermilion: ink(161, Color::Red),
    amber: ink(94, Color::Reset),
    violet: ink(93, Color::Magenta),
    blue: ink(25, Color::Blue),
    chosen: (ink(231, Color::White), ink(25, Color::Blue)),
};

//! The typeface of the PDF: which glyph a character has and how wide it is.
//!
//! Every character is set on its own: no ligatures, no kerning, no writing from right to left.
//! What the typeface lacks, or what would have to run from right to left, is shown as a box.

use std::borrow::Cow;
use std::cell::Cell;

use krilla::text::{Font, GlyphId, KrillaGlyph};
use rustc_hash::FxHashMap;
use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};

use crate::model::printable::printable;

const REGULAR: &[u8] = include_bytes!("../fonts/LiberationSans-Regular.ttf");
const BOLD: &[u8] = include_bytes!("../fonts/LiberationSans-Bold.ttf");

/// What stands for a character that can't be shown: an empty box.
const BOX: char = '\u{25a1}';

/// A cut of the typeface.
pub struct Face {
    /// The font as the PDF embeds it.
    pub font: Font,
    /// Glyph and advance, in parts of the size, of each character met so far and known.
    glyphs: FxHashMap<char, (u32, f32)>,
}

/// Both cuts.
pub struct Faces {
    regular: Face,
    bold: Face,
    /// Whether anything was shown as a box.
    lacks: Cell<bool>,
}

impl Faces {
    /// Reads the typeface that this program carries.
    pub fn new() -> Self {
        Faces {
            regular: Face::of(REGULAR),
            bold: Face::of(BOLD),
            lacks: Cell::new(false),
        }
    }

    /// A cut.
    pub fn face(&self, bold: bool) -> &Face {
        if bold { &self.bold } else { &self.regular }
    }

    /// Whether anything was shown as a box.
    pub fn lacks_characters(&self) -> bool {
        self.lacks.get()
    }

    /// The text as it can be shown: no control characters, boxes for what can't be.
    pub fn shown<'t>(&self, text: &'t str) -> Cow<'t, str> {
        let text = printable(text);
        let is_shown = |c: char| self.regular.glyphs.contains_key(&c) && !runs_leftwards(c);
        if text.chars().all(is_shown) {
            return text;
        }
        self.lacks.set(true);
        let boxed = text.chars().map(|c| if is_shown(c) { c } else { BOX });
        Cow::Owned(boxed.collect())
    }
}

impl Face {
    fn of(data: &'static [u8]) -> Self {
        let known = "the typeface is part of this program";
        let read = FontRef::new(data).expect(known);
        let metrics = read.glyph_metrics(Size::unscaled(), LocationRef::default());
        let units = f32::from(
            read.metrics(Size::unscaled(), LocationRef::default())
                .units_per_em,
        );
        let glyphs = read.charmap().mappings().filter_map(|(code, glyph)| {
            let advance = metrics.advance_width(glyph)?;
            Some((char::from_u32(code)?, (glyph.to_u32(), advance / units)))
        });
        Face {
            glyphs: glyphs.collect(),
            font: Font::new(data.to_vec().into(), 0).expect(known),
        }
    }

    fn glyph(&self, c: char) -> (u32, f32) {
        let found = self.glyphs.get(&c).or_else(|| self.glyphs.get(&BOX));
        found.copied().unwrap_or((0, 0.5))
    }

    /// How wide a text is at a size of 1.
    pub fn width(&self, text: &str) -> f64 {
        text.chars().map(|c| f64::from(self.glyph(c).1)).sum()
    }

    /// The text as glyphs.
    pub fn glyphs(&self, text: &str) -> Vec<KrillaGlyph> {
        let set = text.char_indices().map(|(at, c)| {
            let (glyph, advance) = self.glyph(c);
            let range = at..at + c.len_utf8();
            KrillaGlyph::new(GlyphId::new(glyph), advance, 0.0, 0.0, 0.0, range, None)
        });
        set.collect()
    }
}

/// Letters of the scripts that run from right to left (Unicode's ranges for them).
fn runs_leftwards(c: char) -> bool {
    matches!(c, '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{feff}'
        | '\u{10800}'..='\u{10fff}' | '\u{1e800}'..='\u{1efff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_the_typeface_lacks_is_a_box() {
        let faces = Faces::new();
        assert_eq!(
            faces.shown("Öl 46 °C, Ωмега − “x”…"),
            "Öl 46 °C, Ωмега − “x”…"
        );
        assert!(!faces.lacks_characters());
        assert_eq!(faces.shown("油 🛢 שמן\u{7}"), "□ □ □□□□");
        assert!(faces.lacks_characters());
    }

    #[test]
    fn digits_are_of_one_width() {
        let faces = Faces::new();
        for bold in [false, true] {
            let face = faces.face(bold);
            let widths = ('0'..='9').map(|digit| face.width(&digit.to_string()));
            assert!(widths.clone().all(|width| (width - 0.556).abs() < 1e-3));
        }
    }
}

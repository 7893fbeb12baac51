//! Colours as numbers: the terminal's palette of 256, and how light a colour is.

/// Red, green, blue, each from 0 to 255.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rgb(pub u8, pub u8, pub u8);

/// At this relative luminance black and white text stand out equally well: the positive root of
/// (1.05 / (L + 0.05)) = ((L + 0.05) / 0.05). A lighter background wants dark text.
const MIDDLE: f64 = 0.179_128_784_747_792;

impl Rgb {
    /// The colour of an index of xterm's palette from 16 on: a cube of 6 × 6 × 6, then 24 greys.
    /// Terminals let their users change the first 16, so those are `None`.
    #[must_use]
    pub fn of_index(index: u8) -> Option<Self> {
        const STEPS: [u8; 6] = [0, 95, 135, 175, 215, 255];
        let cube = index.checked_sub(16)?;
        if let Some(grey) = cube.checked_sub(216) {
            let level = 8 + 10 * grey;
            return Some(Rgb(level, level, level));
        }
        let step = |of: u8| STEPS[usize::from(of % 6)];
        Some(Rgb(step(cube / 36), step(cube / 6), step(cube)))
    }

    /// The three parts as light, from 0 to 1: the curve of sRGB undone.
    #[must_use]
    pub fn linear(self) -> [f64; 3] {
        [self.0, self.1, self.2].map(|part| {
            let part = f64::from(part) / 255.0;
            if part <= 0.040_45 {
                part / 12.92
            } else {
                ((part + 0.055) / 1.055).powf(2.4)
            }
        })
    }

    /// Relative luminance after WCAG 2.2, from 0 for black to 1 for white.
    #[must_use]
    pub fn luminance(self) -> f64 {
        let [red, green, blue] = self.linear();
        0.2126 * red + 0.7152 * green + 0.0722 * blue
    }

    /// Contrast ratio after WCAG 2.2 between this colour and another, from 1 to 21.
    #[must_use]
    pub fn contrast(self, other: Rgb) -> f64 {
        let (one, two) = (self.luminance(), other.luminance());
        (one.max(two) + 0.05) / (one.min(two) + 0.05)
    }

    /// Whether dark text stands out better on it than light text.
    #[must_use]
    pub fn is_light(self) -> bool {
        self.luminance() > MIDDLE
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BLACK: Rgb = Rgb(0, 0, 0);
    const WHITE: Rgb = Rgb(255, 255, 255);

    /// The ends of the scale are in the definition of "contrast ratio" of WCAG 2.2 (1 to 21).
    /// The greys are those that public contrast checkers name as the last to fail and the first
    /// to pass 4.5 on white (4.48 and 4.54); red on white (4.00) is from memory.
    #[test]
    fn contrast_is_that_of_wcag() {
        let hundredths = |one: Rgb, two: Rgb| (one.contrast(two) * 100.0).round();
        assert_eq!(hundredths(BLACK, WHITE), 2100.0);
        assert_eq!(hundredths(WHITE, WHITE), 100.0);
        assert_eq!(hundredths(Rgb(0x77, 0x77, 0x77), WHITE), 448.0);
        assert_eq!(hundredths(WHITE, Rgb(0x76, 0x76, 0x76)), 454.0);
        assert_eq!(hundredths(Rgb(255, 0, 0), WHITE), 400.0);
    }

    /// Entries of the table in xterm's `256colres.h`, from memory.
    #[test]
    fn indices_are_those_of_xterm() {
        for (index, expected) in [
            (16, BLACK),
            (17, Rgb(0, 0, 0x5f)),
            (110, Rgb(0x87, 0xaf, 0xd7)),
            (196, Rgb(0xff, 0, 0)),
            (231, WHITE),
            (232, Rgb(8, 8, 8)),
            (255, Rgb(0xee, 0xee, 0xee)),
        ] {
            assert_eq!(Rgb::of_index(index), Some(expected), "{index}");
        }
        assert_eq!(Rgb::of_index(15), None);
    }

    #[test]
    fn a_background_is_light_where_black_stands_out_better_than_white() {
        for grey in 0..=255 {
            let colour = Rgb(grey, grey, grey);
            let better_in_black = colour.contrast(BLACK) > colour.contrast(WHITE);
            assert_eq!(colour.is_light(), better_in_black, "{grey}");
        }
    }
}

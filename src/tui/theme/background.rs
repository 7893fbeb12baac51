//! Reads what a terminal says of its background: the answer to the question of its colour
//! (OSC 11 of xterm), and the variable `COLORFGBG` of rxvt.

use super::{Background, Rgb};

/// The question of the background, then that of the terminal's kind (DA1), which every terminal
/// answers: once that answer is there, no other will come.
pub(super) const QUESTION: &[u8] = b"\x1b]11;?\x1b\\\x1b[c";

impl Background {
    /// Which it is, by its colour.
    pub(crate) fn of(colour: Rgb) -> Self {
        if colour.is_light() {
            Background::Light
        } else {
            Background::Dark
        }
    }
}

/// The colour in an answer such as `11;rgb:1e1e/1e1e/2e2e`, between its marks of begin and end.
/// Each part has one to four digits of sixteen.
pub(super) fn of_answer(words: &str) -> Option<Rgb> {
    let parts = words.strip_prefix("11;rgb")?;
    // `rgba:` has a fourth part, how opaque it is.
    let parts = parts.strip_prefix('a').unwrap_or(parts).strip_prefix(':')?;
    let mut parts = parts.split('/').map(part);
    Some(Rgb(parts.next()??, parts.next()??, parts.next()??))
}

fn part(digits: &str) -> Option<u8> {
    let most = match digits.len() {
        length @ 1..=4 => 16_u32.pow(length as u32) - 1,
        _ => return None,
    };
    let value = u32::from_str_radix(digits, 16).ok()?;
    u8::try_from((value * 255 + most / 2) / most).ok()
}

/// The background of `COLORFGBG`, such as `15;0` or `0;default;15`: of the first 16 colours the
/// two greys that are light and the bright ones but the dark grey count as light.
pub(super) fn of_colorfgbg(words: &str) -> Option<Background> {
    match words.rsplit(';').next()?.parse::<u8>().ok()? {
        0..=6 | 8 => Some(Background::Dark),
        7 | 9..=15 => Some(Background::Light),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn answers_have_one_to_four_digits_a_part() {
        for (words, expected) in [
            ("11;rgb:0000/0000/0000", Some(Rgb(0, 0, 0))),
            ("11;rgb:ffff/ffff/ffff", Some(Rgb(255, 255, 255))),
            ("11;rgb:1e1e/1e1e/2e2e", Some(Rgb(0x1e, 0x1e, 0x2e))),
            ("11;rgb:fd/f6/e3", Some(Rgb(0xfd, 0xf6, 0xe3))),
            ("11;rgb:f/8/0", Some(Rgb(255, 136, 0))),
            ("11;rgb:fff/000/800", Some(Rgb(255, 0, 128))),
            ("11;rgba:fdfd/f6f6/e3e3/ffff", Some(Rgb(0xfd, 0xf6, 0xe3))),
            ("11;rgb:fd/f6", None),
            ("11;rgb:fffff/0/0", None),
            ("11;rgb:zz/00/00", None),
            ("11;?", None),
            ("10;rgb:ff/ff/ff", None),
            ("", None),
        ] {
            assert_eq!(of_answer(words), expected, "{words}");
        }
    }

    #[test]
    fn the_variable_of_rxvt_names_the_background_last() {
        for (words, expected) in [
            ("15;0", Some(Background::Dark)),
            ("0;15", Some(Background::Light)),
            ("0;default;7", Some(Background::Light)),
            ("15;default;8", Some(Background::Dark)),
            ("15;default", None),
            ("0;99", None),
            ("", None),
        ] {
            assert_eq!(of_colorfgbg(words), expected, "{words}");
        }
    }
}

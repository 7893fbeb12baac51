//! What the environment says about the terminal.

use super::background::of_colorfgbg;
use super::{Background, Depth, Theme};
use crate::model::Colours;

/// Terminals that may print a question they don't know instead of answering it.
const DUMB: [&str; 8] = [
    "", "dumb", "linux", "ansi", "vt52", "vt100", "vt102", "vt220",
];

/// Names of terminals with 256 colours whose `TERM` does not say so.
const MANY: [&str; 6] = ["256", "direct", "kitty", "alacritty", "foot", "ghostty"];

/// What is known before the terminal is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Surroundings {
    /// The look, as far as it is known: on a dark background where nothing says otherwise.
    pub(crate) theme: Theme,
    /// Whether the terminal is to be asked for its background.
    pub(crate) asks: bool,
}

impl Surroundings {
    /// From what was chosen and from the environment: `NO_COLOR`, `TERM`, `COLORTERM`,
    /// `COLORFGBG`, and whether `LC_ALL`, `LC_CTYPE` or `LANG` (the first that is set) names
    /// UTF-8. Where none is set, UTF-8 is taken for granted. A choice wins over all of them.
    pub(crate) fn new(colours: Colours, variable: impl Fn(&str) -> Option<String>) -> Self {
        let filled = |name: &str| variable(name).filter(|value| !value.is_empty());
        let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(filled);
        let unicode = locale.is_none_or(|name| {
            let name = name.to_ascii_lowercase();
            name.contains("utf-8") || name.contains("utf8")
        });
        let term = filled("TERM").unwrap_or_default();
        let is_many = MANY.iter().any(|name| term.contains(name))
            || filled("COLORTERM").is_some_and(|depth| depth == "truecolor" || depth == "24bit");
        let depth = if is_many { Depth::Many } else { Depth::Few };
        let wanted = match colours {
            Colours::Dark => Some(Some(Background::Dark)),
            Colours::Light => Some(Some(Background::Light)),
            Colours::None => Some(None),
            Colours::Auto if filled("NO_COLOR").is_some() || term == "dumb" => Some(None),
            Colours::Auto => None,
        };
        let told = filled("COLORFGBG").and_then(|colours| of_colorfgbg(&colours));
        let guess = Some(told.unwrap_or(Background::Dark));
        Surroundings {
            theme: Theme::new(true, unicode)
                .with_depth(depth)
                .on(wanted.unwrap_or(guess)),
            asks: wanted.is_none() && !DUMB.contains(&term.as_str()),
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn of(colours: Colours, pairs: &[(&str, &str)]) -> Surroundings {
        Surroundings::new(colours, |name| {
            let found = pairs.iter().find(|(known, _)| *known == name);
            found.map(|(_, value)| (*value).to_owned())
        })
    }

    /// Colours, number of colours, whether the terminal is asked.
    fn told(colours: Colours, pairs: &[(&str, &str)]) -> (Colours, Depth, bool) {
        let of = of(colours, pairs);
        (of.theme.colours(), of.theme.depth, of.asks)
    }

    #[test]
    fn the_environment_decides_on_colours() {
        use Colours as C;
        use Depth::{Few, Many};
        let xterm = ("TERM", "xterm-256color");
        for (colours, pairs, expected) in [
            (C::Auto, vec![xterm], (C::Dark, Many, true)),
            (C::Auto, vec![("TERM", "xterm")], (C::Dark, Few, true)),
            (
                C::Auto,
                vec![("TERM", "xterm-kitty")],
                (C::Dark, Many, true),
            ),
            (C::Auto, vec![("TERM", "linux")], (C::Dark, Few, false)),
            (C::Auto, vec![("TERM", "dumb")], (C::None, Few, false)),
            (C::Auto, vec![], (C::Dark, Few, false)),
            (
                C::Auto,
                vec![("TERM", "xterm"), ("COLORTERM", "truecolor")],
                (C::Dark, Many, true),
            ),
            (
                C::Auto,
                vec![xterm, ("COLORFGBG", "0;15")],
                (C::Light, Many, true),
            ),
            (
                C::Auto,
                vec![xterm, ("NO_COLOR", "1")],
                (C::None, Many, false),
            ),
            (
                C::Auto,
                vec![xterm, ("NO_COLOR", "")],
                (C::Dark, Many, true),
            ),
            // A choice wins over all of it, and nothing is asked.
            (
                C::Light,
                vec![xterm, ("NO_COLOR", "1"), ("COLORFGBG", "15;0")],
                (C::Light, Many, false),
            ),
            (C::Dark, vec![("TERM", "dumb")], (C::Dark, Few, false)),
            (C::None, vec![xterm], (C::None, Many, false)),
        ] {
            assert_eq!(told(colours, &pairs), expected, "{colours} {pairs:?}");
        }
    }

    #[test]
    fn the_locale_decides_on_glyphs() {
        for (pairs, expected) in [
            (vec![], true),
            (vec![("LANG", "C")], false),
            (vec![("LC_ALL", "POSIX"), ("LANG", "en_GB.UTF-8")], false),
            (vec![("LC_CTYPE", "de_DE.utf8")], true),
        ] {
            let unicode = of(Colours::Auto, &pairs).theme.is_unicode();
            assert_eq!(unicode, expected, "{pairs:?}");
        }
    }
}

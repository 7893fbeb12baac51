//! Which colours the terminal interface is asked to wear.

use std::fmt;

/// A choice of colours.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Colours {
    /// What suits the terminal: none under `NO_COLOR`, else by its background.
    #[default]
    Auto,
    /// Those for a dark background.
    Dark,
    /// Those for a light background.
    Light,
    /// None at all.
    None,
}

impl Colours {
    /// Every choice, in the order in which help names them.
    pub const ALL: [Colours; 4] = [Colours::Auto, Colours::Dark, Colours::Light, Colours::None];

    /// The word by which it is chosen.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Colours::Auto => "auto",
            Colours::Dark => "dark",
            Colours::Light => "light",
            Colours::None => "none",
        }
    }

    /// The choice of this word, if it is one.
    #[must_use]
    pub fn named(word: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|colours| colours.as_str() == word)
    }
}

impl fmt::Display for Colours {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_choice_is_found_by_its_word() {
        for colours in Colours::ALL {
            assert_eq!(Colours::named(&colours.to_string()), Some(colours));
        }
        assert_eq!(Colours::named("bright"), None);
    }
}

//! What a term of a filter can speak about.

use crate::model::{Kind, MachineClass, Method, Place, Verdict};
use crate::rules::cards;

/// Declares the keys with their word, the noun of a value, and what they match.
macro_rules! keys {
    ($($key:ident = $text:literal, $noun:literal, $about:literal;)+) => {
        /// The key of a term.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum FilterKey { $(#[doc = $about] $key),+ }

        impl FilterKey {
            /// Every key, in the order they are listed to the user.
            pub const ALL: &'static [FilterKey] = &[$(FilterKey::$key),+];

            /// The word before the colon.
            #[must_use]
            pub const fn as_str(self) -> &'static str {
                match self { $(FilterKey::$key => $text),+ }
            }

            /// What one value is called in a sentence.
            #[must_use]
            pub const fn noun(self) -> &'static str {
                match self { $(FilterKey::$key => $noun),+ }
            }

            /// What the key matches, in one line for help.
            #[must_use]
            pub const fn about(self) -> &'static str {
                match self { $(FilterKey::$key => $about),+ }
            }
        }
    };
}

keys! {
    Verdict = "verdict", "verdict", "the verdict of the draw";
    Site = "site", "site", "the site of its point";
    Area = "area", "area", "the area of its point";
    Machine = "machine", "machine", "the machine of its point";
    Crew = "crew", "crew", "the crew of its technician";
    Technician = "technician", "technician", "its technician, by id or by name";
    Point = "point", "point", "its point, by id";
    Compartment = "compartment", "compartment", "the compartment of its point";
    Class = "class", "machine class", "the machine class of its point";
    Kind = "kind", "kind", "the kind of its point";
    Place = "place", "place", "where its point sits";
    Method = "method", "method", "the method of the draw";
    Broken = "broken", "rule", "a rule broken on the draw";
    Unrecorded = "unrecorded", "rule", "a rule unrecorded on the draw";
    From = "from", "day", "drawn on this day or later; also a month";
    To = "to", "day", "drawn on this day or earlier; also a month";
}

impl FilterKey {
    /// Reads a key in any case. `machine-class`, as breakdowns call it, reads as `class`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        if text.eq_ignore_ascii_case("machine-class") {
            return Some(FilterKey::Class);
        }
        Self::ALL
            .iter()
            .copied()
            .find(|key| key.as_str().eq_ignore_ascii_case(text))
    }

    /// The words a value can be, in the order of their vocabulary; none where values are
    /// free texts or days.
    #[must_use]
    pub fn words(self) -> Option<Vec<&'static str>> {
        match self {
            FilterKey::Verdict => Some(Verdict::ALL.iter().map(|word| word.as_str()).collect()),
            FilterKey::Class => Some(MachineClass::ALL.iter().map(|word| word.as_str()).collect()),
            FilterKey::Kind => Some(Kind::ALL.iter().map(|word| word.as_str()).collect()),
            FilterKey::Place => Some(Place::ALL.iter().map(|word| word.as_str()).collect()),
            FilterKey::Method => Some(Method::ALL.iter().map(|word| word.as_str()).collect()),
            FilterKey::Broken | FilterKey::Unrecorded => {
                Some(cards().iter().map(|card| card.id).collect())
            }
            _ => None,
        }
    }

    /// Whether values are days or months.
    #[must_use]
    pub const fn is_day(self) -> bool {
        matches!(self, FilterKey::From | FilterKey::To)
    }

    /// Whether a draw can be blank here, so that `(blank)` may be asked for.
    #[must_use]
    pub const fn may_be_blank(self) -> bool {
        matches!(
            self,
            FilterKey::Site
                | FilterKey::Area
                | FilterKey::Machine
                | FilterKey::Crew
                | FilterKey::Class
                | FilterKey::Place
                | FilterKey::Method
        )
    }

    /// Whether one draw can have several values here, so that two terms narrow further.
    #[must_use]
    pub const fn is_many(self) -> bool {
        matches!(self, FilterKey::Broken | FilterKey::Unrecorded)
    }
}

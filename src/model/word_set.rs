//! Sets over a closed vocabulary, small enough to copy: places of points, fields of a
//! label. In rulebooks they are written as lists of words.

use std::fmt;

use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::words::{LabelField, Place};

/// Declares a set over the words of one enum.
macro_rules! word_set {
    ($(#[$doc:meta])* $name:ident of $word:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
        pub struct $name(u16);

        impl $name {
            /// The empty set.
            pub const NONE: $name = $name(0);

            /// The set of these words.
            #[must_use]
            pub const fn of(words: &[$word]) -> Self {
                let mut bits = 0;
                let mut next = 0;
                while next < words.len() {
                    bits |= 1 << words[next].index();
                    next += 1;
                }
                $name(bits)
            }

            /// This set with one more word.
            #[must_use]
            pub const fn with(self, word: $word) -> Self {
                $name(self.0 | 1 << word.index())
            }

            /// Whether the word is in the set.
            #[must_use]
            pub const fn has(self, word: $word) -> bool {
                self.0 & (1 << word.index()) != 0
            }

            /// The words that are in both sets.
            #[must_use]
            pub const fn and(self, other: Self) -> Self {
                $name(self.0 & other.0)
            }

            /// Whether there is none.
            #[must_use]
            pub const fn is_empty(self) -> bool {
                self.0 == 0
            }

            /// The words in the order of their vocabulary.
            pub fn iter(self) -> impl Iterator<Item = $word> {
                $word::ALL.iter().copied().filter(move |word| self.has(*word))
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                for (place, word) in self.iter().enumerate() {
                    if place > 0 {
                        f.write_str(", ")?;
                    }
                    f.write_str(word.as_str())?;
                }
                Ok(())
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_seq(self.iter().map($word::as_str))
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let mut set = $name::NONE;
                for text in Vec::<String>::deserialize(deserializer)? {
                    let word = $word::parse(&text)
                        .ok_or_else(|| D::Error::custom(format!("unknown word {text:?}")))?;
                    set = set.with(word);
                }
                Ok(set)
            }
        }
    };
}

word_set! {
    /// Places a point may sit at.
    Places of Place
}

word_set! {
    /// Fields of a label.
    LabelFields of LabelField
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn a_set_reads_back_from_its_words_in_the_order_of_the_vocabulary() {
        let set = Places::of(&[Place::TankLower, Place::TankUpper]);
        assert_eq!(set.to_string(), "tank-upper, tank-lower");
        assert!(set.has(Place::TankUpper) && !set.has(Place::TankMiddle));
        let text = serde_json::to_string(&set).unwrap();
        assert_eq!(text, r#"["tank-upper","tank-lower"]"#);
        assert_eq!(serde_json::from_str::<Places>(&text).unwrap(), set);
        assert!(serde_json::from_str::<Places>(r#"["attic"]"#).is_err());
        assert!(Places::NONE.is_empty());
        assert_eq!(
            set.and(Places::of(&[Place::TankUpper])),
            Places::of(&[Place::TankUpper])
        );
    }
}

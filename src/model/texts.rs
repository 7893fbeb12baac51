//! Texts that are compared but seldom shown: each distinct text gets a number.

use std::num::NonZeroU32;

use rustc_hash::FxHashMap;

/// The number of a text in its [`Texts`]; equal texts have equal numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TextId(NonZeroU32);

impl TextId {
    /// Counting from 0, for use as an index.
    #[must_use]
    pub const fn index(self) -> usize {
        self.0.get() as usize - 1
    }
}

/// Distinct texts, kept once each.
#[derive(Clone, Debug, Default)]
pub struct Texts {
    numbers: FxHashMap<Box<str>, TextId>,
}

impl Texts {
    /// The number of this text, new or known; `None` for a blank text.
    ///
    /// # Panics
    /// When more than four thousand million distinct texts are kept.
    pub fn intern(&mut self, text: &str) -> Option<TextId> {
        if text.is_empty() {
            return None;
        }
        if let Some(known) = self.numbers.get(text) {
            return Some(*known);
        }
        let next = u32::try_from(self.numbers.len() + 1).expect("fewer texts than u32 can count");
        let id = TextId(NonZeroU32::new(next).expect("counting starts at one"));
        self.numbers.insert(text.into(), id);
        Some(id)
    }

    /// How many distinct texts there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.numbers.len()
    }

    /// Whether no text was kept yet.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.numbers.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_texts_share_a_number_and_a_blank_has_none() {
        let mut texts = Texts::default();
        let first = texts.intern("B-1");
        assert_eq!(texts.intern("B-1"), first);
        assert_ne!(texts.intern("B-2"), first);
        assert_eq!(texts.intern(""), None);
        assert_eq!(texts.len(), 2);
        assert_eq!(first.map(TextId::index), Some(0));
    }
}

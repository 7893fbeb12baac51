//! What people decide, a struct a kind, as the trail keeps it.
//!
//! Fields are texts, whole numbers, yes/no, lists and objects (see [`super::trail`]). A field
//! added later has `#[serde(default)]`, so that what was decided before can still be read.

mod batch;
mod covered;
mod draw_seen;
mod exported;
pub mod finding;
pub mod pick;
mod rulebook;
mod set_aside;

pub use batch::{BatchTakenBack, BatchTakenIn, SheetTakenIn};
pub use covered::Covered;
pub use draw_seen::DrawSeen;
pub use exported::PackExported;
pub use rulebook::RulebookAdopted;
pub use set_aside::{ResultSetAside, SetAsideTakenBack};

use super::trail::{Decided, Link};

/// A kind of decision that this program knows.
struct Kind {
    word: &'static str,
    says: fn(&Link) -> Option<String>,
}

const fn kind<D: Decided>() -> Kind {
    Kind {
        word: D::KIND,
        says: |link| link.decision::<D>().map(|decision| decision.says()),
    }
}

/// Every kind.
const KINDS: &[Kind] = &[
    kind::<RulebookAdopted>(),
    kind::<ResultSetAside>(),
    kind::<SetAsideTakenBack>(),
    kind::<finding::FindingRaised>(),
    kind::<finding::FindingAnswered>(),
    kind::<finding::FindingClosed>(),
    kind::<finding::FindingWithdrawn>(),
    kind::<pick::PickDrawn>(),
    kind::<pick::PickVerified>(),
    kind::<BatchTakenIn>(),
    kind::<BatchTakenBack>(),
    kind::<PackExported>(),
];

/// The words of all kinds.
pub fn kinds() -> impl Iterator<Item = &'static str> {
    KINDS.iter().map(|kind| kind.word)
}

/// Whether a decision of this kind is known.
#[must_use]
pub fn is_known(word: &str) -> bool {
    KINDS.iter().any(|kind| kind.word == word)
}

/// What was decided, in a line of words; `None` if it is of no known kind or can't be read.
#[must_use]
pub fn says(link: &Link) -> Option<String> {
    let kind = KINDS.iter().find(|kind| kind.word == link.kind)?;
    (kind.says)(link)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_has_a_word_of_its_own() {
        let words: std::collections::BTreeSet<_> = KINDS.iter().map(|kind| kind.word).collect();
        assert_eq!(words.len(), KINDS.len());
    }
}

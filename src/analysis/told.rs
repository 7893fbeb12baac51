//! Decisions read back from the trail: who said it, when.

use crate::model::trail::{Decided, Link};

/// Where a decision stands in the trail.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// The number of its link.
    pub link: i64,
    /// When, in seconds since 1970 UTC.
    pub at: i64,
    /// Who decided.
    pub who: String,
}

impl Told {
    /// Where this link stands.
    #[must_use]
    pub fn by(link: &Link) -> Self {
        Told {
            link: link.number,
            at: link.at,
            who: link.who.clone(),
        }
    }

    /// The decision of this kind in the link and where it stands; `None` if it is of another
    /// kind or can't be read.
    #[must_use]
    pub fn read<D: Decided>(link: &Link) -> Option<(Told, D)> {
        link.decision().map(|decision| (Told::by(link), decision))
    }
}

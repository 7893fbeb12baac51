//! Picks: random samples of draws that anyone can draw again, and what their verification
//! says about the whole.
//!
//! The size comes from a plan ([`size`]), the parts from [`allot`], the draws from their
//! ranks (`ranks`), and the answer from the results entered ([`outcome`]).

mod allot;
mod fold;
mod outcome;
mod ranks;
mod size;

pub use allot::allot;
pub use fold::{Pick, fold};
pub use outcome::{Bounds, Counts, Outcome, outcome};
pub use ranks::{lowest, population_sha256, rank};
pub use size::{Size, size};

use super::FilterKey;

/// What a population can be parted by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Parted {
    /// By who drew.
    Technician,
    /// By the crew of who drew.
    Crew,
    /// By the site of the point.
    Site,
    /// By the point.
    Point,
}

impl Parted {
    /// Every way.
    pub const ALL: [Parted; 4] = [
        Parted::Technician,
        Parted::Crew,
        Parted::Site,
        Parted::Point,
    ];

    /// The key by which a filter names a part.
    #[must_use]
    pub const fn key(self) -> FilterKey {
        match self {
            Parted::Technician => FilterKey::Technician,
            Parted::Crew => FilterKey::Crew,
            Parted::Site => FilterKey::Site,
            Parted::Point => FilterKey::Point,
        }
    }

    /// The word used in commands and files.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        self.key().as_str()
    }

    /// Reads the word.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|parted| parted.as_str() == text)
    }
}

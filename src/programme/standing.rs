//! Whether the file that was opened is still the programme.

use std::path::Path;

use super::{Error, FileNumber, Programme};
use crate::store;

/// How the file stands that was opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It is in its place and whole, as far as its size and its first bytes tell.
    InPlace,
    /// Another file was put in its place.
    Replaced,
    /// It was moved or deleted.
    Gone,
    /// It was cut off or written over.
    Damaged,
}

impl Programme {
    /// How the file stands by now. Nothing is written to one that is not in its place.
    #[must_use]
    pub fn standing(&self) -> Standing {
        match self.store.look() {
            Ok(()) => Standing::InPlace,
            Err(store::Error::Replaced { .. }) => Standing::Replaced,
            Err(store::Error::Gone { .. }) => Standing::Gone,
            Err(_) => Standing::Damaged,
        }
    }

    /// What tells the file from another one at the same path; none for one in memory.
    #[must_use]
    pub fn number(&self) -> Option<FileNumber> {
        self.store.number()
    }

    /// Moves what was written lately from the log beside the file into the file, where nobody
    /// else is at it, so that the file alone is the programme.
    pub fn empty_log(&self) {
        self.store.empty_log();
    }

    /// Closes the file; where another was put in its place, what is left of this one does not
    /// get in the way of that one.
    pub fn close(self) {
        self.store.take_log_along();
    }
}

impl Error {
    /// Another file stands where this one was opened.
    #[must_use]
    pub fn replaced(file: &Path) -> Self {
        Error::Store(store::Error::Replaced {
            file: file.to_owned(),
        })
    }

    /// There is no file where this one was opened.
    #[must_use]
    pub fn gone(file: &Path) -> Self {
        Error::Store(store::Error::Gone {
            file: file.to_owned(),
        })
    }
}

//! The programme file as every thread of the interface opens it.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use crate::programme::{Error, FileNumber, Programme, number_at};

/// The path, and which file it led to when what is on screen was read. A thread that finds
/// another file there leaves it alone: what was decided was decided about the one on screen.
#[derive(Clone)]
pub(super) struct OwnFile {
    path: PathBuf,
    number: Arc<Mutex<Option<FileNumber>>>,
}

impl OwnFile {
    pub(super) fn new(path: &Path, programme: &Programme) -> Self {
        OwnFile {
            path: path.to_owned(),
            number: Arc::new(Mutex::new(programme.number())),
        }
    }

    pub(super) fn path(&self) -> &Path {
        &self.path
    }

    /// This one is on screen from now on.
    pub(super) fn is_now(&self, programme: &Programme) {
        *self.number.lock().unwrap_or_else(PoisonError::into_inner) = programme.number();
    }

    /// Looks whether the file on screen is still in its place.
    ///
    /// # Errors
    /// Another one is, or none.
    pub(super) fn look(&self) -> Result<(), Error> {
        let number = *self.number.lock().unwrap_or_else(PoisonError::into_inner);
        match number_at(&self.path) {
            found if found == number || number.is_none() => Ok(()),
            Some(_) => Err(Error::replaced(&self.path)),
            None => Err(Error::gone(&self.path)),
        }
    }

    /// Opens the file on screen once more.
    ///
    /// # Errors
    /// As [`Programme::open`]; or another one is in its place.
    pub(super) fn open(&self) -> Result<Programme, Error> {
        self.look()?;
        // A new file is made once something is taken in; until then there is nothing in it.
        Programme::open_or_blank(&self.path)
    }
}

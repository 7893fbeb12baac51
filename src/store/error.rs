//! What could not be done with the programme file.

use std::path::{Path, PathBuf};

use super::holder;

/// What was tried, on what, and what to do.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// There is no such file.
    #[error("there is no programme file {}; import sheets into it to make one", file.display())]
    Missing {
        /// The file.
        file: PathBuf,
    },
    /// The operating system can't open it.
    #[error("can't open the programme file {}: {reason}", file.display())]
    Unopened {
        /// The file.
        file: PathBuf,
        /// What the operating system or SQLite says.
        reason: String,
    },
    /// Nothing in it.
    #[error("the programme file {} is empty: nothing was taken in yet, or its first import was cut off; import sheets into it", file.display())]
    Empty {
        /// The file.
        file: PathBuf,
    },
    /// Another kind of file.
    #[error("{} is not a programme file; name the file that the import made", file.display())]
    NotAProgramme {
        /// The file.
        file: PathBuf,
    },
    /// Shorter than it says it is, or inconsistent.
    #[error("the programme file {} is damaged ({reason}); go back to a copy of it, or import the sheets into a new file", file.display())]
    Damaged {
        /// The file.
        file: PathBuf,
        /// What was found.
        reason: String,
    },
    /// Written by a later program.
    #[error("the programme file {} was written by a newer fairdraw (file version {found}, this program knows {known}); update fairdraw", file.display())]
    Newer {
        /// The file.
        file: PathBuf,
        /// Its version.
        found: i64,
        /// The latest version known.
        known: i64,
    },
    /// Another process writes to it.
    #[error("the programme file {} is in use by {by}; wait until its import is done and try again", file.display())]
    Locked {
        /// The file.
        file: PathBuf,
        /// Who writes, in words.
        by: String,
    },
    /// Another file stands in its place.
    #[error("the programme file {} was replaced by another file while it was open, and nothing is written to the old one; read it again", file.display())]
    Replaced {
        /// The file.
        file: PathBuf,
    },
    /// Nothing stands in its place.
    #[error("the programme file {} was moved or deleted while it was open, and nothing is written to it any more; put it back and read it again", file.display())]
    Gone {
        /// The file.
        file: PathBuf,
    },
    /// Nothing can be written to it.
    #[error("the programme file {} can't be written to; copy it to a folder of your own or change its permissions", file.display())]
    ReadOnly {
        /// The file.
        file: PathBuf,
    },
    /// An older file that can't be brought up to date.
    #[error("the programme file {} is of an older version and can't be written to, so it can't be brought up to date; copy it to a folder of your own", file.display())]
    OlderReadOnly {
        /// The file.
        file: PathBuf,
    },
    /// The copy before a migration.
    #[error("can't make the backup copy {} before bringing the file up to date: {reason}", backup.display())]
    NoBackup {
        /// The copy.
        backup: PathBuf,
        /// What the operating system or SQLite says.
        reason: String,
    },
    /// Its changes stand in a second file that can't be used here.
    #[error("the programme file {} has changes in the file beside it ({}-wal) that can't be read in a folder that can't be written to; copy both to a folder of your own", file.display(), file.display())]
    PendingChanges {
        /// The file.
        file: PathBuf,
    },
    /// The disk is full.
    #[error("no room left for the programme file {}; free some and try again", file.display())]
    Full {
        /// The file.
        file: PathBuf,
    },
    /// Anything else that SQLite says.
    #[error("the programme file {}: {source}", file.display())]
    Sqlite {
        /// The file.
        file: PathBuf,
        /// What SQLite says.
        source: rusqlite::Error,
    },
}

impl Error {
    /// What an error of SQLite means for the user of this file.
    #[must_use]
    pub fn of(file: &Path, source: rusqlite::Error) -> Self {
        use rusqlite::ErrorCode;
        let file = file.to_owned();
        match source.sqlite_error_code() {
            Some(ErrorCode::NotADatabase) => Error::NotAProgramme { file },
            Some(ErrorCode::DatabaseCorrupt) => Error::Damaged {
                file,
                reason: source.to_string(),
            },
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Error::Locked {
                by: holder::of(&file),
                file,
            },
            Some(ErrorCode::ReadOnly) => Error::ReadOnly { file },
            Some(ErrorCode::DiskFull) => Error::Full { file },
            Some(ErrorCode::CannotOpen | ErrorCode::PermissionDenied) => Error::Unopened {
                file,
                reason: source.to_string(),
            },
            _ => Error::Sqlite { file, source },
        }
    }
}

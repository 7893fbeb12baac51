//! Why no pack was made.

use std::io;
use std::path::PathBuf;

use crate::report::pdf::PdfError;

/// Why no pack was made. What stood at its place is still there.
#[derive(Debug, thiserror::Error)]
pub enum PackError {
    /// Something is there already.
    #[error(
        "{} is there already and holds something; choose another folder, or replace the pack in \
         it with --replace", target.display()
    )]
    IsThere {
        /// The folder.
        target: PathBuf,
    },
    /// What is there is no folder.
    #[error("{} is no folder that a pack can be written to; choose another", target.display())]
    NoFolder {
        /// What is there.
        target: PathBuf,
    },
    /// What is there is no pack of ours, or holds more than one.
    #[error(
        "{} is not replaced, because it is not just a pack: {reason}; move it away or choose \
         another folder", target.display()
    )]
    NotOurs {
        /// The folder.
        target: PathBuf,
        /// What does not belong to a pack.
        reason: String,
    },
    /// The folder can't be made, moved or removed.
    #[error("could not write the pack at {}: {source}", folder.display())]
    Folder {
        /// The folder.
        folder: PathBuf,
        /// What the operating system says.
        source: io::Error,
    },
    /// A file of the pack can't be written.
    #[error("could not write {file} of the pack, so there is none: {source}")]
    Unwritten {
        /// The file within the pack.
        file: String,
        /// What the operating system says.
        source: io::Error,
    },
    /// The report can't be written as a PDF.
    #[error(transparent)]
    Pdf(#[from] PdfError),
    /// The random source of the system gives nothing.
    #[error("the system gives no random numbers, so no key for codes can be made: {reason}")]
    NoRandom {
        /// What it says.
        reason: String,
    },
}

impl PackError {
    pub(super) fn unwritten(file: &str, source: io::Error) -> Self {
        PackError::Unwritten {
            file: file.to_owned(),
            source,
        }
    }
}

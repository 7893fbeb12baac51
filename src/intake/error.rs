//! Why a sheet can't be read at all. What is wrong inside a sheet is a [`Refusal`](super::Refusal).

use std::path::PathBuf;

/// A sheet that can't be read: what was tried, on what, and what to do.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The operating system can't read it.
    #[error("can't read the sheet {}: {source}", sheet.display())]
    Unreadable {
        /// The file as it was named.
        sheet: PathBuf,
        /// What the operating system says.
        source: std::io::Error,
    },
    /// A sheet of results that can't be taken.
    #[error("the sheet of results {} {reason}", sheet.display())]
    Verification {
        /// The file as it was named.
        sheet: PathBuf,
        /// What is wrong with it, and what to do.
        reason: String,
    },
    /// A folder without any sheet in it.
    #[error(
        "the folder {} holds no sheets; their names begin with points, technicians, trainings or draws and end with .csv",
        folder.display()
    )]
    NoSheets {
        /// The folder as it was named.
        folder: PathBuf,
    },
    /// A file whose name says nothing.
    #[error(
        "can't tell from its name what {} holds; say so with --as points, technicians, trainings or draws",
        sheet.display()
    )]
    UnknownKind {
        /// The file as it was named.
        sheet: PathBuf,
    },
    /// A spreadsheet's own format.
    #[error("{} is a workbook, not CSV; save the sheet as CSV in UTF-8 and import that", sheet.display())]
    Workbook {
        /// The file as it was named.
        sheet: PathBuf,
    },
}

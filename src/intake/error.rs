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
        "the folder {} holds no sheets; their names begin with points, technicians, trainings or draws and end with .csv, .tsv, .txt, .gz, .xlsx, .xls, .ods or the like",
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
    /// A workbook with a password.
    #[error(
        "{} is locked with a password; remove the password in the spreadsheet, or save the sheet as CSV, and import that",
        sheet.display()
    )]
    Locked {
        /// The file as it was named.
        sheet: PathBuf,
    },
    /// A workbook that can't be read.
    #[error(
        "the workbook {} is damaged ({reason}); open it in a spreadsheet, save it anew and import that",
        sheet.display()
    )]
    Damaged {
        /// The file as it was named.
        sheet: PathBuf,
        /// What its reader says.
        reason: String,
    },
    /// A workbook that unpacks to more than sheets do.
    #[error(
        "the workbook {} is not read: {reason}, which no sheet of draws does; save the sheet as CSV and import that",
        sheet.display()
    )]
    TooLarge {
        /// The file as it was named.
        sheet: PathBuf,
        /// Which part of it.
        reason: String,
    },
    /// A ZIP file with something else in it.
    #[error(
        "{} is a ZIP file, but no workbook; unpack it and import the sheets in it",
        sheet.display()
    )]
    NoWorkbook {
        /// The file as it was named.
        sheet: PathBuf,
    },
    /// A workbook without the sheet that was named.
    #[error(
        "the workbook {} has no sheet {wanted}; its sheets are: {}",
        sheet.display(),
        names.join(", ")
    )]
    NoSuchSheet {
        /// The file as it was named.
        sheet: PathBuf,
        /// The sheet as it was named.
        wanted: String,
        /// The sheets there are.
        names: Vec<String>,
    },
}

impl Error {
    /// Whether it is only that no name says what a file holds; its headers may.
    #[must_use]
    pub const fn is_about_names(&self) -> bool {
        matches!(self, Error::NoSheets { .. } | Error::UnknownKind { .. })
    }
}

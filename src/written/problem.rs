//! What is wrong with a written file, and where.

use std::fmt;

/// A place in a file, counted from 1; columns count characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// The line.
    pub line: u32,
    /// The column.
    pub column: u32,
}

impl Place {
    /// Where a file begins.
    pub const START: Place = Place { line: 1, column: 1 };
}

/// One mistake in a written file: what is wrong, where, and what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The file as it was named.
    pub file: String,
    /// The line, from 1.
    pub line: u32,
    /// The column in characters, from 1.
    pub column: u32,
    /// What is wrong and what to do.
    pub message: String,
}

impl Problem {
    /// A problem at this place of the file.
    #[must_use]
    pub fn new(file: &str, at: Place, message: &str) -> Self {
        Problem {
            file: file.to_owned(),
            line: at.line,
            column: at.column,
            message: message.to_owned(),
        }
    }
}

impl fmt::Display for Problem {
    /// One line, `file:line:column: message`. The message may quote the file, so control
    /// characters are replaced.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = format!(
            "{}:{}:{}: {}",
            self.file, self.line, self.column, self.message
        );
        f.write_str(&crate::model::printable::printable(&text))
    }
}

//! From what happened to the exit status: the one table.

use std::io::{self, Write};
use std::process::ExitCode;

use unicode_width::UnicodeWidthStr;

use crate::analysis::FilterError;
use crate::model::printable::printable;
use crate::programme;

/// Done.
const DONE: u8 = 0;
/// Found what it looks for: refused rows, faults, problems.
const FOUND: u8 = 1;
/// Wrong use of the command line.
pub const WRONG_USE: u8 = 2;
/// Could not do it.
const COULD_NOT: u8 = 3;

/// How a command ended that did its work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Finish {
    /// All is well.
    Done,
    /// It found what it looks for: refusals, faults, problems.
    Found,
}

/// Why a command could not do its work.
#[derive(Debug, thiserror::Error)]
pub enum Failure {
    /// Arguments that make no sense together or lie outside their range.
    #[error("{0}")]
    WrongUse(String),
    /// A filter that cannot be read.
    #[error("{error}")]
    Filter {
        /// The filter as it was given.
        text: String,
        /// What is wrong and where.
        error: FilterError,
    },
    /// Something outside failed: what was tried, on what, what to do.
    #[error("{0}")]
    CouldNot(String),
    /// The programme file.
    #[error(transparent)]
    Programme(#[from] programme::Error),
    /// The terminal interface.
    #[error("{0}")]
    Interface(Box<dyn std::error::Error + Send + Sync>),
    /// Writing the output.
    #[error("could not write the output: {0}")]
    Output(#[from] io::Error),
}

/// The exit status; says on stderr why a command failed.
pub fn status(result: &Result<Finish, Failure>) -> ExitCode {
    let (code, said) = match result {
        Ok(Finish::Done) => (DONE, None),
        Ok(Finish::Found) => (FOUND, None),
        // Whoever reads has seen enough (`fairdraw score | head`).
        Err(Failure::Output(error)) if error.kind() == io::ErrorKind::BrokenPipe => (DONE, None),
        Err(failure @ (Failure::WrongUse(_) | Failure::Filter { .. })) => {
            (WRONG_USE, Some(failure))
        }
        Err(
            failure @ (Failure::CouldNot(_)
            | Failure::Programme(_)
            | Failure::Interface(_)
            | Failure::Output(_)),
        ) => (COULD_NOT, Some(failure)),
    };
    if let Some(failure) = said {
        let mut stderr = io::stderr().lock();
        // Nobody is left to be told that stderr is closed.
        let _ = stderr.write_all(told(failure).as_bytes());
    }
    ExitCode::from(code)
}

/// The failure as it is told: `error:` and its text; for a filter, a caret below the place.
fn told(failure: &Failure) -> String {
    match failure {
        Failure::Filter { text, error } => {
            let before: String = text.chars().take(error.column.saturating_sub(1)).collect();
            let indent = printable(&before).width();
            format!(
                "error: --where: {}\n  {}\n  {:indent$}^\n",
                printable(&error.message),
                printable(text),
                ""
            )
        }
        other => {
            let text = other.to_string();
            let lines: Vec<_> = text.lines().map(printable).collect();
            format!("error: {}\n", lines.join("\n"))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_caret_stands_below_the_place_in_a_filter() {
        let failure = Failure::Filter {
            text: "area:Öl sitee:x".to_owned(),
            error: FilterError {
                message: "no such key".to_owned(),
                column: 9,
            },
        };
        assert_eq!(
            told(&failure),
            "error: --where: no such key\n  area:Öl sitee:x\n          ^\n"
        );
    }

    #[test]
    fn control_characters_of_a_failure_do_not_reach_the_terminal() {
        let failure = Failure::CouldNot("no file a\u{1b}[2J\nlook again".to_owned());
        assert_eq!(told(&failure), "error: no file a\u{fffd}[2J\nlook again\n");
    }
}

//! What could not be done with a programme.

use super::PackError;
use crate::{intake, store};

/// What could not be done with a programme, in words for the user: what was tried, on
/// what, and what to do.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// Someone asked to stop; nothing was changed.
    #[error("stopped; the programme is as it was")]
    Stopped,
    /// The programme file.
    #[error(transparent)]
    Store(#[from] store::Error),
    /// A sheet.
    #[error(transparent)]
    Intake(#[from] intake::Error),
    /// The rulebook kept in the file.
    #[error("the programme's own rulebook can't be read any more: {reason}; adopt a corrected one")]
    Rulebook {
        /// What is wrong with it.
        reason: String,
    },
    /// Two draws of one hash, which chance does not bring about.
    #[error(
        "line {line} of {sheet}: the identity {identity:?} can't be told from that of another draw; give the draw another draw_id"
    )]
    Indistinct {
        /// The sheet.
        sheet: String,
        /// The line.
        line: u64,
        /// The identity.
        identity: String,
    },
    /// A pack.
    #[error(transparent)]
    Pack(#[from] PackError),
    /// Where the caller writes to.
    #[error("can't write: {0}")]
    Output(#[from] std::io::Error),
}

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
    /// A decision that can't be taken as things stand: why, and what to do.
    #[error("{reason}")]
    Undecided {
        /// Why not.
        reason: String,
    },
    /// No such batch in the ledger.
    #[error("there is no batch {number} in the ledger; it has batches 1 to {last}")]
    NoBatch {
        /// The number asked for.
        number: i64,
        /// The last one.
        last: i64,
    },
    /// A batch that is not there any more to be taken back.
    #[error("batch {number} was taken back already, by batch {by}")]
    TakenBackAlready {
        /// The batch.
        number: i64,
        /// The batch that took it back.
        by: i64,
    },
    /// A batch that is a taking back itself.
    #[error(
        "batch {number} took batch {taken_back} back; to have that again, import its sheets again"
    )]
    IsTakingBack {
        /// The batch.
        number: i64,
        /// The batch that it took back.
        taken_back: i64,
    },
    /// Of batches from before the ledger it is not known which rows they said again.
    #[error(
        "batch {number} is of a time when the ledger did not yet keep which rows later batches said again, and batches {later} did so; it can't be taken back without taking their rows along"
    )]
    BeforeLedger {
        /// The batch.
        number: i64,
        /// Those later batches.
        later: String,
    },
    /// Rows of other batches name points or technicians that only this batch brought.
    #[error(
        "batch {number} can't be taken back: draws or trainings of batch {by} name points or technicians that no other batch brings ({names}); take batch {by} back first, or import those points and technicians from another sheet"
    )]
    StillNamed {
        /// The batch.
        number: i64,
        /// The other batches.
        by: String,
        /// The first of the points and technicians.
        names: String,
    },
    /// Mended rows that were read through a column map which can't be read any more.
    #[error(
        "these rows were refused in batch {batch}, whose column map this program can't read any more; name a map with --map"
    )]
    MapLost {
        /// The batch.
        batch: i64,
    },
    /// A pack.
    #[error(transparent)]
    Pack(#[from] PackError),
    /// Mended rows whose local times were read in different zones.
    #[error(
        "these sheets mend rows whose times were read in {one} and rows whose times were read in {other}; take them in one after the other"
    )]
    TwoZones {
        /// One zone.
        one: String,
        /// Another.
        other: String,
    },
    /// A file that is there already.
    #[error("{} is there already and is not written over; name another file or remove it", file.display())]
    WrittenOver {
        /// The file.
        file: std::path::PathBuf,
    },
    /// Where the caller writes to.
    #[error("can't write: {0}")]
    Output(#[from] std::io::Error),
}

impl Error {
    /// A decision that can't be taken, for this reason.
    pub(super) fn undecided(reason: impl Into<String>) -> Self {
        Error::Undecided {
            reason: reason.into(),
        }
    }
}

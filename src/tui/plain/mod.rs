//! The interface as linear text: the same state, actions and effects as the screens, read
//! from lines and said in sentences, for screen readers, dumb terminals, serial lines and pipes.
//!
//! ```text
//! a line → reader → asked → session → update → effects (work) → told → what changed is said
//! ```
//!
//! Nothing here moves a cursor, changes a colour or draws a box, and nothing but a line break
//! is written that is not printable. A place is told in a file of its own: a title, a few
//! sentences, then numbered rows, ten at a time.

mod door;
mod draws;
mod findings;
mod forms;
mod import;
mod opened;
mod people;
mod points;
mod reader;
mod records;
mod resample;
mod rows;
mod session;
mod share;
mod sorted;
mod stdio;
mod told;
mod topics;
mod views;
mod voice;
mod words;
mod work;

use super::error::Error;
use crate::programme::Beginning;

pub(crate) use forms::mistake;
pub(crate) use import::row as entry;
pub(crate) use rows::Rows;
pub use session::Session;
pub(crate) use told::{Told, read_off};
pub use voice::Voice;
pub(crate) use voice::all_words;
pub use work::Stop;

/// Runs the interface as linear text on standard input and output, until the user leaves or
/// the input ends. Where there is no programme yet, or it can't be opened, it begins with what
/// can be done about that.
///
/// # Errors
/// The programme can't be read, the input ended without one, or standard output can't be
/// written to.
pub fn run(beginning: Beginning) -> Result<(), Error> {
    stdio::run(beginning)
}

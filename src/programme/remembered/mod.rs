//! What a person is spared to do again: how the screens of a programme were left, which filters
//! were saved under a name, which were used lately.
//!
//! None of it belongs to the programme: it lies in the person's own folder for such things, one
//! small file a programme, and never in the programme file. It can be lost without loss, so a
//! file that can't be read, or that a newer program wrote, is passed over without a word.
//!
//! * [`memory`]: what is remembered, as plain data, and how much of it at most;
//! * [`names`]: what a saved filter may be called;
//! * [`change`]: what can be done with saved filters;
//! * [`folder`]: where memories lie, and of which programmes there is none;
//! * [`keeper`]: reading and writing the file, also where two programs do so.

pub mod change;
pub mod folder;
pub mod keeper;
pub mod memory;
pub mod names;

pub use change::{CantChange, Change, Changed};
pub use folder::{NotKept, VARIABLE};
pub use keeper::Keeper;
pub use memory::{Layout, Memory, SavedFilter};

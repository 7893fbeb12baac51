//! What a link of the trail answers for beside its own words: rows of the programme file.

use serde::{Deserialize, Serialize};

/// Rows of one table that an import brought. A later look at the file tells by it whether
/// any was changed, left out or put in.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Covered {
    /// The table.
    pub table: String,
    /// How many rows.
    pub rows: u64,
    /// SHA-256 over them, in hexadecimal; docs/trail.md says how they are spelt.
    pub sha256: String,
}

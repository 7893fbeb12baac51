//! A pack handed out.

use serde::{Deserialize, Serialize};

use crate::model::trail::Decided;

/// A pack was exported. With this note it can be told from one that was altered together with
/// its list of hashes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PackExported {
    /// SHA-256 of the pack's `SHA256SUMS`, in hexadecimal.
    pub sums_sha256: String,
    /// The filter that chose the draws; empty for all.
    #[serde(rename = "where")]
    pub filter: String,
    /// Whether people were replaced by codes.
    pub anonymous: bool,
    /// Draws in it.
    pub draws: u64,
}

impl Decided for PackExported {
    const KIND: &'static str = "pack exported";

    fn says(&self) -> String {
        let whose = match self.filter.as_str() {
            "" => String::new(),
            filter => format!(" that pass {filter}"),
        };
        let people = if self.anonymous {
            ", people replaced by codes"
        } else {
            ""
        };
        format!(
            "a pack on {} draws{whose}{people} (SHA-256 of its SHA256SUMS {})",
            self.draws, self.sums_sha256
        )
    }
}

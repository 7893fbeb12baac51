//! A draw as it stood when somebody decided something about it.

use serde::{Deserialize, Serialize};

/// A draw as it stood: enough to tell later whether the record or its verdict has changed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct DrawSeen {
    /// Its identity: `draw_id`, or `bottle_id@point_id@drawn_at` where that is blank.
    pub draw: String,
    /// The row it was stored in.
    pub record: u32,
    /// When it was drawn, in seconds since 1970 UTC.
    pub drawn_at: i64,
    /// Its point.
    pub point: String,
    /// Its technician.
    pub technician: String,
    /// Its verdict, in a word.
    pub verdict: String,
    /// Its score of class sample in percent, two decimals; empty where none is recorded.
    pub score: String,
    /// Ids of the rules broken on it.
    pub broken: Vec<String>,
    /// Ids of the rules unrecorded on it.
    pub unrecorded: Vec<String>,
    /// SHA-256 over what its record said, in hexadecimal: the columns of its sheet, each as
    /// `name=value` and a line feed, in the order of the sheet, times in UTC.
    pub content_sha256: String,
    /// What the rule in question saw on it, in words; empty where there is nothing to say.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub seen: String,
    /// What that rule wanted.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub wanted: String,
}

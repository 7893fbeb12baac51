//! What judging found, a column a fact, so that a million draws filter in milliseconds.

use super::rule_set::RuleSet;
use super::verdict::{Outcome, Verdict};

/// One entry a draw in every column, ordered by `drawn_at`, then by identity (byte order).
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Judged {
    /// The row the draw is stored in.
    pub record: Vec<u32>,
    /// Place of its point in the programme's list.
    pub point: Vec<u32>,
    /// Place of its technician in the programme's list.
    pub technician: Vec<u32>,
    /// Seconds since 1970 UTC.
    pub drawn_at: Vec<i64>,
    /// The method as [`Method::index`](super::Method::index); 255 for blank.
    pub method: Vec<u8>,
    /// The verdict.
    pub verdict: Vec<Verdict>,
    /// Rules that apply to the draw.
    pub applicable: Vec<RuleSet>,
    /// Rules broken on it; a part of `applicable`.
    pub broken: Vec<RuleSet>,
    /// Rules unrecorded on it; a part of `applicable`.
    pub unrecorded: Vec<RuleSet>,
}

impl Judged {
    /// How many draws.
    #[must_use]
    pub fn len(&self) -> usize {
        self.record.len()
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.record.is_empty()
    }

    /// What the rule at this place of the registry says of the draw in this row.
    #[must_use]
    pub fn outcome(&self, row: usize, rule: usize) -> Outcome {
        if self.broken[row].has(rule) {
            Outcome::Broken
        } else if self.unrecorded[row].has(rule) {
            Outcome::Unrecorded
        } else if self.applicable[row].has(rule) {
            Outcome::Met
        } else {
            Outcome::NotApplicable
        }
    }
}

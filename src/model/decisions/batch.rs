//! Batches of the ledger: taken in, taken back.

use serde::{Deserialize, Serialize};

use super::Covered;
use crate::model::trail::Decided;

/// Sheets were taken into the programme as a batch.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct BatchTakenIn {
    /// Its number in the ledger.
    pub batch: i64,
    /// The IANA name of the zone in which local times were read.
    pub zone: String,
    /// Fingerprint of the rulebook in force.
    pub rulebook: String,
    /// Its sheets, in the order they were taken in.
    pub sheets: Vec<SheetTakenIn>,
    /// The rows it brought.
    #[serde(default)]
    pub brought: Vec<Covered>,
}

/// One sheet of a batch.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SheetTakenIn {
    /// The file as it was named.
    pub sheet: String,
    /// What it held.
    pub kind: String,
    /// Size of the file in bytes.
    pub bytes: u64,
    /// SHA-256 of the file, in hexadecimal.
    pub sha256: String,
    /// How it was read.
    pub how_read: Option<String>,
    /// Fingerprint of the column map it was read through.
    pub map: Option<String>,
    /// Rows new to the programme.
    pub taken: u64,
    /// Rows that said what the programme held.
    pub unchanged: u64,
    /// Rows that superseded an older state.
    pub changed: u64,
    /// Rows refused whole.
    pub refused_rows: u64,
    /// Values refused alone.
    pub refused_values: u64,
}

impl Decided for BatchTakenIn {
    const KIND: &'static str = "import taken in";

    fn says(&self) -> String {
        let sum = |of: fn(&SheetTakenIn) -> u64| self.sheets.iter().map(of).sum::<u64>();
        format!(
            "batch {}: {}; rows: {} new, {} changed, {} refused",
            self.batch,
            match self.sheets.as_slice() {
                [one] => one.sheet.clone(),
                [first, others @ ..] => format!("{} and {} more", first.sheet, others.len()),
                [] => "no sheet".to_owned(),
            },
            sum(|sheet| sheet.taken),
            sum(|sheet| sheet.changed),
            sum(|sheet| sheet.refused_rows),
        )
    }
}

/// A batch was taken back: the programme is as if it had never been taken in.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct BatchTakenBack {
    /// The number of the taking back in the ledger.
    pub batch: i64,
    /// The batch that was taken back.
    pub taken_back: i64,
    /// Why.
    pub because: String,
    /// How many rows of draws were marked as not standing any more.
    pub draws_out: u64,
    /// How many draws stand again as they were before that batch.
    pub draws_restored: u64,
    /// The rows it brought: its own entry, and those it put aside.
    #[serde(default)]
    pub brought: Vec<Covered>,
}

impl Decided for BatchTakenBack {
    const KIND: &'static str = "import taken back";

    fn says(&self) -> String {
        format!(
            "batch {} taken back by batch {}: {}",
            self.taken_back, self.batch, self.because
        )
    }
}

//! What an import is asked to do, and what it did.

use std::path::PathBuf;
use std::sync::Arc;

use crate::intake::{ColumnMap, ReadAs, Refusal, SheetKind};
use crate::model::Verdict;
use crate::model::time::Tz;

/// What to take in.
#[derive(Clone, Debug, Default)]
pub struct ImportRequest {
    /// Sheets, or folders that hold them.
    pub sheets: Vec<PathBuf>,
    /// `--as`: the kind of every sheet, instead of from its name.
    pub kind: Option<SheetKind>,
    /// How the files are to be read, where the user says so.
    pub read_as: ReadAs,
    /// How columns of other names and units are made ours.
    pub map: Option<Arc<ColumnMap>>,
    /// `--zone`: how local times are read where a column map does not say;
    /// as a map reads its draws if not given, else UTC.
    pub zone: Option<Tz>,
    /// Read, check and judge everything, store nothing.
    pub dry_run: bool,
}

/// What an import did, a sheet at a time.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ImportReport {
    /// One entry a sheet, in the order they were taken in.
    pub sheets: Vec<SheetReport>,
    /// Where the refused rows and values were written, if there were any.
    pub rejects_file: Option<PathBuf>,
    /// The first refusals, each with its sheet, at most `FIRST_REFUSALS`.
    pub first_refusals: Vec<(String, Refusal)>,
    /// The verdicts after the import (under `dry_run`: as they would be).
    pub verdicts: VerdictCounts,
    /// How many draws were judged or judged anew.
    pub judged: u64,
}

/// How many refusals a report carries; all stand in the rejects sheet.
pub const FIRST_REFUSALS: usize = 100;

/// What was done with one sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetReport {
    /// The file as it was named.
    pub sheet: String,
    /// What kind of sheet it was.
    pub kind: SheetKind,
    /// Rows new to the programme.
    pub taken: u64,
    /// Rows equal to what the programme holds.
    pub unchanged: u64,
    /// Rows that superseded an older state.
    pub changed: u64,
    /// Rows refused whole. A sheet refused because of its header counts as one.
    pub refused_rows: u64,
    /// Values refused alone (stored as blank), on rows that were taken.
    pub refused_values: u64,
    /// Remarks: unknown columns kept aside, clock changes and the like.
    pub remarks: Vec<String>,
}

impl SheetReport {
    pub(super) fn new(sheet: String, kind: SheetKind) -> Self {
        SheetReport {
            sheet,
            kind,
            taken: 0,
            unchanged: 0,
            changed: 0,
            refused_rows: 0,
            refused_values: 0,
            remarks: Vec::new(),
        }
    }
}

/// How many draws have which verdict.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct VerdictCounts([u64; Verdict::ALL.len()]);

impl VerdictCounts {
    /// Counts the verdicts.
    #[must_use]
    pub fn of(verdicts: &[Verdict]) -> Self {
        let mut counts = [0; Verdict::ALL.len()];
        for verdict in verdicts {
            counts[usize::from(verdict.index())] += 1;
        }
        VerdictCounts(counts)
    }

    /// How many have this verdict.
    #[must_use]
    pub fn count(&self, verdict: Verdict) -> u64 {
        self.0[usize::from(verdict.index())]
    }

    /// How many draws there are.
    #[must_use]
    pub fn total(&self) -> u64 {
        self.0.iter().sum()
    }
}

//! What an import is asked to do, and what it did.

use std::path::PathBuf;
use std::sync::Arc;

use super::Error;
use crate::intake::{ColumnMap, Digest, ReadAs, Refusal, Sheet, SheetKind};
use crate::model::Verdict;
use crate::model::time::Tz;
use crate::model::trail::Who;
use crate::store::imports::ImportedSheet;

/// What to take in.
#[derive(Clone, Debug, Default)]
pub struct ImportRequest {
    /// Sheets, or folders that hold them.
    pub sheets: Vec<PathBuf>,
    /// The folder from which on sheets are named in the ledger; as they were given without it.
    pub named_from: Option<PathBuf>,
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
    /// Who takes it in.
    pub who: Option<Who>,
}

/// What an import did, a sheet at a time.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ImportReport {
    /// The number of the batch in the ledger (under `dry_run`: that it would have).
    pub batch: i64,
    /// One entry a sheet, in the order they were taken in.
    pub sheets: Vec<SheetReport>,
    /// Tables of the folders given that were left aside: their names do not say what they hold.
    pub left_aside: Vec<PathBuf>,
    /// Where the refused rows and values were written, if there were any.
    pub rejects_file: Option<PathBuf>,
    /// A rejects sheet of an earlier import that stands beside the programme, where this one
    /// refused nothing.
    pub earlier_rejects: Option<PathBuf>,
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
    /// Rows taken that an earlier batch had refused.
    pub mended: u64,
    /// Remarks: unknown columns kept aside, clock changes and the like.
    pub remarks: Vec<String>,
    /// Size and SHA-256 of the file as it stood.
    pub digest: Option<Digest>,
    /// How it was read: encoding, delimiter and the like.
    pub how_read: Option<String>,
    /// The column map it was read through.
    pub map: Option<MapRead>,
    /// The header as it stood.
    pub header: Vec<String>,
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
            mended: 0,
            remarks: Vec::new(),
            digest: None,
            how_read: None,
            map: None,
            header: Vec::new(),
        }
    }

    /// Tells of the file what is known once it was read.
    pub(super) fn about_file(&mut self, sheet: &mut Sheet) -> Result<(), Error> {
        self.digest = Some(sheet.digest()?);
        self.header = sheet.header().to_vec();
        self.how_read = (!sheet.how().is_plain()).then(|| sheet.how().words());
        Ok(())
    }

    /// The sheet as the ledger keeps it.
    pub(super) fn imported(&self) -> ImportedSheet {
        ImportedSheet {
            sheet: self.sheet.clone(),
            kind: self.kind.as_str().to_owned(),
            taken: self.taken,
            unchanged: self.unchanged,
            changed: self.changed,
            refused_rows: self.refused_rows,
            refused_values: self.refused_values,
            remarks: self.remarks.clone(),
            bytes: self.digest.as_ref().map(|digest| digest.bytes),
            sha256: self.digest.as_ref().map(|digest| digest.sha256.clone()),
            how_read: self.how_read.clone(),
            map: (self.map.as_ref()).map(|map| map.fingerprint.clone()),
            map_entry: self.map.as_ref().map(|map| map.entry as u64),
            header: (self.refused_rows > 0).then(|| self.header.clone()),
        }
    }
}

/// A column map that a sheet was read through.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MapRead {
    /// Its fingerprint.
    pub fingerprint: String,
    /// Its text.
    pub text: String,
    /// Place of its entry for the sheet, counting from 0.
    pub entry: usize,
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

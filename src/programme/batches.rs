//! The ledger: what is kept of every batch, and what is told of it.

use std::collections::BTreeMap;

use rustc_hash::FxHashSet;

use super::report::SheetReport;
use super::{Error, Programme};
use crate::intake::mended::Origin;
use crate::intake::{ColumnMap, Found};
use crate::model::decisions::{BatchTakenIn, Covered, SheetTakenIn};
use crate::model::time::{self, Tz};
use crate::model::trail::Who;
use crate::report::ledger_rows;
use crate::store::imports::{self, Import, ImportedSheet};
use crate::store::{Connection, refused};

/// The name in the trail where nobody gave one.
const NOBODY: &str = "unrecorded";

/// A batch with its sheets and what became of its refused rows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Batch {
    /// The batch itself.
    pub import: Import,
    /// Its sheets, in the order they were taken in; none where it takes a batch back.
    pub sheets: Vec<ImportedSheet>,
    /// How many refused rows were mended, by the batches that took them in.
    pub mended: Vec<(i64, u64)>,
    /// For each sheet, how many refused rows are open: neither mended, nor taken back with
    /// their batch, nor refused again when a later batch took the very file in.
    pub open: Vec<u64>,
}

impl Batch {
    /// The sum of a count over all sheets.
    #[must_use]
    pub fn sum(&self, of: fn(&ImportedSheet) -> u64) -> u64 {
        self.sheets.iter().map(of).sum()
    }

    /// What a row of the ledger tells of it.
    #[must_use]
    pub fn row(&self) -> ledger_rows::Batch<'_> {
        let import = &self.import;
        ledger_rows::Batch {
            number: import.number.cast_unsigned(),
            taken_at: import.taken_at,
            who: import.who.as_deref(),
            takes_back: import.takes_back.map(i64::cast_unsigned),
            because: import.because.as_deref(),
            taken_back_in: import.taken_back_in.map(i64::cast_unsigned),
            sheets: self
                .sheets
                .iter()
                .map(|sheet| sheet.sheet.as_str())
                .collect(),
            counts: [
                self.sum(|sheet| sheet.taken),
                self.sum(|sheet| sheet.unchanged),
                self.sum(|sheet| sheet.changed),
                self.sum(|sheet| sheet.refused_rows),
                self.sum(|sheet| sheet.refused_values),
            ],
            mended: self
                .mended
                .iter()
                .map(|(by, rows)| (by.cast_unsigned(), *rows))
                .collect(),
            open: self.open_rows(),
            zone: &import.zone,
            rulebook: import.rulebook.as_deref(),
            program: &import.program,
            link: import.link.map(i64::cast_unsigned),
        }
    }

    /// How many refused rows are open.
    #[must_use]
    pub fn open_rows(&self) -> u64 {
        self.open.iter().sum()
    }
}

/// What a row of the ledger tells of one of its sheets.
#[must_use]
pub fn sheet_row(sheet: &ImportedSheet) -> ledger_rows::Sheet<'_> {
    ledger_rows::Sheet {
        sheet: &sheet.sheet,
        kind: &sheet.kind,
        bytes: sheet.bytes,
        sha256: sheet.sha256.as_deref(),
        how_read: sheet.how_read.as_deref(),
        map: sheet.map.as_deref(),
        counts: [
            sheet.taken,
            sheet.unchanged,
            sheet.changed,
            sheet.refused_rows,
            sheet.refused_values,
        ],
        remarks: &sheet.remarks,
    }
}

impl Programme {
    /// The ledger: every batch, the first first.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn batches(&self) -> Result<Vec<Batch>, Error> {
        let _reading = self.store.begin_reading()?;
        self.batches_within()
    }

    /// The same within a transaction under way.
    pub(super) fn batches_within(&self) -> Result<Vec<Batch>, Error> {
        let connection = self.store.connection();
        let mut batches = Vec::new();
        // The files of later batches that stand.
        let mut later = FxHashSet::default();
        for import in self.sql(imports::all(connection))? {
            let sheets = self.sql(imports::sheets(connection, import.number))?;
            let mended = self.sql(refused::mended(connection, import.number))?;
            let mut open: Vec<u64> = sheets.iter().map(|sheet| sheet.refused_rows).collect();
            let mut by: BTreeMap<i64, u64> = BTreeMap::new();
            for (place, batch, rows) in mended {
                *by.entry(batch).or_default() += rows;
                if let Some(open) = open.get_mut(place) {
                    *open = open.saturating_sub(rows);
                }
            }
            for (open, sheet) in open.iter_mut().zip(&sheets) {
                if !import.stands() || file_of(sheet).is_some_and(|file| later.contains(&file)) {
                    *open = 0;
                }
            }
            if import.stands() {
                later.extend(sheets.iter().filter_map(file_of));
            }
            batches.push(Batch {
                import,
                sheets,
                mended: by.into_iter().collect(),
                open,
            });
        }
        batches.reverse();
        Ok(batches)
    }

    /// One batch.
    ///
    /// # Errors
    /// A store that can't be read; no such batch.
    pub fn batch(&self, number: i64) -> Result<Batch, Error> {
        let batches = self.batches()?;
        let last = batches.len() as i64;
        batches
            .into_iter()
            .find(|batch| batch.import.number == number)
            .ok_or(Error::NoBatch { number, last })
    }
}

/// What tells whether two sheets are the very same: the file, how it was mapped, as what.
fn file_of(sheet: &ImportedSheet) -> Option<(String, Option<String>, String)> {
    let sha256 = sheet.sha256.clone()?;
    Some((sha256, sheet.map.clone(), sheet.kind.clone()))
}

/// Keeps what was done with every sheet, and remarks where a file came before.
pub(super) fn add_sheets(
    programme: &Programme,
    import: i64,
    sheets: &mut [SheetReport],
) -> Result<(), Error> {
    let connection = programme.store.connection();
    for (place, report) in sheets.iter_mut().enumerate() {
        if let Some(map) = &report.map {
            programme.sql(imports::keep_map(connection, &map.fingerprint, &map.text))?;
        }
        if let Some(digest) = &report.digest {
            let map = report.map.as_ref().map(|map| map.fingerprint.as_str());
            let before = imports::of_file(connection, import, &digest.sha256, map);
            if let Some(before) = programme.sql(before)? {
                report
                    .remarks
                    .push(format!("batch {before} took this very file in"));
            }
        }
        let added = imports::add_sheet(connection, import, place, &report.imported());
        programme.sql(added)?;
    }
    Ok(())
}

/// The zone in which the rows were read that these sheets mend, if they mend any.
pub(super) fn zone_of_mended(programme: &Programme, found: &[Found]) -> Result<Option<Tz>, Error> {
    let origins: Vec<_> = found.iter().filter_map(|sheet| sheet.mends).collect();
    if origins.is_empty() {
        return Ok(None);
    }
    let imports = programme.sql(imports::all(programme.store.connection()))?;
    let zone = |origin: &Origin| {
        let import = imports.iter().find(|batch| batch.number == origin.batch)?;
        time::zone(&import.zone)
    };
    let mut zones: Vec<Tz> = origins.iter().filter_map(zone).collect();
    zones.dedup();
    match zones.as_slice() {
        [] => Ok(None),
        [zone] => Ok(Some(*zone)),
        [one, other, ..] => Err(Error::TwoZones {
            one: one.name().to_owned(),
            other: other.name().to_owned(),
        }),
    }
}

/// The column map through which a refused row was read.
pub(super) fn map_of_mended(
    programme: &Programme,
    origin: Origin,
) -> Result<Option<(ColumnMap, usize)>, Error> {
    let connection = programme.store.connection();
    let sheets = programme.sql(imports::sheets(connection, origin.batch))?;
    let Some(sheet) = sheets.get(origin.place) else {
        return Ok(None);
    };
    let (Some(fingerprint), Some(entry)) = (&sheet.map, sheet.map_entry) else {
        return Ok(None);
    };
    let text = programme.sql(imports::map_text(connection, fingerprint))?;
    let map = text.and_then(|text| ColumnMap::from_yaml(&text, "its column map").ok());
    let entry = usize::try_from(entry).unwrap_or(usize::MAX);
    match map {
        Some(map) if entry < map.sheets.len() => Ok(Some((map, entry))),
        _ => Err(Error::MapLost {
            batch: origin.batch,
        }),
    }
}

/// Adds the link by which the trail answers for an import.
pub(super) fn taken_in(
    programme: &Programme,
    transaction: &Connection,
    who: Option<&Who>,
    number: i64,
    brought: Vec<Covered>,
) -> Result<(), Error> {
    let import = find(programme, transaction, number)?;
    let sheets = programme.sql(imports::sheets(transaction, number))?;
    let decision = BatchTakenIn {
        brought,
        ..decision(import, sheets)
    };
    let nobody = Who::named(NOBODY).expect("it is a name");
    let link = programme.append(transaction, who.unwrap_or(&nobody), &decision)?;
    programme.sql(imports::set_link(transaction, number, link))
}

fn find(programme: &Programme, connection: &Connection, number: i64) -> Result<Import, Error> {
    let imports = programme.sql(imports::all(connection))?;
    let last = imports.len() as i64;
    let found = imports.into_iter().find(|batch| batch.number == number);
    found.ok_or(Error::NoBatch { number, last })
}

/// What the trail says of an import.
pub(super) fn decision(import: Import, sheets: Vec<ImportedSheet>) -> BatchTakenIn {
    BatchTakenIn {
        batch: import.number,
        zone: import.zone,
        rulebook: import.rulebook.unwrap_or_default(),
        sheets: sheets.into_iter().map(of_sheet).collect(),
        brought: Vec::new(),
    }
}

fn of_sheet(sheet: ImportedSheet) -> SheetTakenIn {
    SheetTakenIn {
        sheet: sheet.sheet,
        kind: sheet.kind,
        bytes: sheet.bytes.unwrap_or_default(),
        sha256: sheet.sha256.unwrap_or_default(),
        how_read: sheet.how_read,
        map: sheet.map,
        taken: sheet.taken,
        unchanged: sheet.unchanged,
        changed: sheet.changed,
        refused_rows: sheet.refused_rows,
        refused_values: sheet.refused_values,
    }
}

//! The ledger: what is kept of every batch, and what is told of it.

use super::report::SheetReport;
use super::{Error, Programme};
use crate::model::decisions::{BatchTakenIn, Covered, SheetTakenIn};
use crate::model::trail::Who;
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
}

impl Batch {
    /// The sum of a count over all sheets.
    #[must_use]
    pub fn sum(&self, of: fn(&ImportedSheet) -> u64) -> u64 {
        self.sheets.iter().map(of).sum()
    }

    /// How many refused rows are neither mended nor taken back with their batch.
    #[must_use]
    pub fn open_rows(&self) -> u64 {
        let mended: u64 = self.mended.iter().map(|(_, rows)| rows).sum();
        match self.import.taken_back_in {
            Some(_) => 0,
            None => self.sum(|sheet| sheet.refused_rows).saturating_sub(mended),
        }
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
        let mut imports = self.sql(imports::all(connection))?;
        imports.reverse();
        imports
            .into_iter()
            .map(|import| {
                Ok(Batch {
                    sheets: self.sql(imports::sheets(connection, import.number))?,
                    mended: self.sql(refused::mended(connection, import.number))?,
                    import,
                })
            })
            .collect()
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

/// Keeps what was done with every sheet, and remarks where a file came before.
pub(super) fn add_sheets(
    programme: &Programme,
    import: i64,
    sheets: &mut [SheetReport],
) -> Result<(), Error> {
    let connection = programme.store.connection();
    for (place, report) in sheets.iter_mut().enumerate() {
        if let Some((fingerprint, text)) = &report.map {
            programme.sql(imports::keep_map(connection, fingerprint, text))?;
        }
        if let Some(digest) = &report.digest {
            let map = report.map.as_ref().map(|(print, _)| print.as_str());
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

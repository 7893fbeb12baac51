//! Where refusals go: the programme file, the rejects sheet beside it, the report.

use std::fs::File;
use std::io::{self, BufWriter};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::report::{FIRST_REFUSALS, SheetReport};
use super::{Error, Programme};
use crate::intake::mended::Origin;
use crate::intake::{Refusal, RefusedRow, Rejects};
use crate::store::refused::{self, Refusals, Refused as Stored};

/// Takes refusals of one import.
pub(super) struct Refused<'p> {
    programme: &'p Programme,
    table: Refusals<'p>,
    /// Sheet and line of the row that was refused last: its faults come one after another.
    last_row: Option<(usize, u64)>,
    pub(super) first: Vec<(String, Refusal)>,
    /// Mended rows that name no row that was refused here.
    strangers: u64,
}

impl<'p> Refused<'p> {
    pub(super) fn new(programme: &'p Programme, import: i64) -> Result<Self, Error> {
        let table = Refusals::new(programme.store.connection(), import);
        Ok(Refused {
            programme,
            table: programme.sql(table)?,
            last_row: None,
            first: Vec::new(),
            strangers: 0,
        })
    }

    /// A row was taken in that was refused before.
    pub(super) fn mend(&mut self, report: &mut SheetReport, origin: Origin) -> Result<(), Error> {
        let from = (origin.batch, origin.place, origin.line);
        match self.programme.sql(self.table.add_mended(from))? {
            true => report.mended += 1,
            false => self.strangers += 1,
        }
        Ok(())
    }

    /// Says of a sheet that was read how many of its rows are mended ones.
    pub(super) fn remark_on_mended(&mut self, report: &mut SheetReport) {
        if report.mended > 0 {
            let said = format!("mended rows taken in: {}", report.mended);
            report.remarks.push(said);
        }
        if self.strangers > 0 {
            report.remarks.push(format!(
                "rows that name a refused row which this programme does not know, taken in as any other: {}",
                self.strangers
            ));
            self.strangers = 0;
        }
    }

    /// Takes what was refused of the sheet at this place, and counts it.
    pub(super) fn take(
        &mut self,
        place: usize,
        report: &mut SheetReport,
        refusals: &mut Vec<Refusal>,
        rows: Vec<RefusedRow>,
    ) -> Result<(), Error> {
        for row in rows {
            let added = self.table.add_row(place, row.line, row.cells.as_deref());
            self.programme.sql(added)?;
        }
        for refusal in refusals.drain(..) {
            if !refusal.whole_row {
                report.refused_values += 1;
            } else if self.last_row.replace((place, refusal.line)) != Some((place, refusal.line)) {
                report.refused_rows += 1;
            }
            let texts = (&*refusal.column, &*refusal.value, &*refusal.reason);
            let added = self
                .table
                .add(place, refusal.line, texts, refusal.whole_row);
            self.programme.sql(added)?;
            if self.first.len() < FIRST_REFUSALS {
                self.first.push((report.sheet.clone(), refusal));
            }
        }
        Ok(())
    }
}

/// Writes what an import refused to the rejects sheet beside the programme, and gives its
/// path; a programme in memory has none.
///
/// Only once the import is stored: an import that is killed then leaves nothing beside the
/// programme. What goes wrong here does not undo the import, so it is returned as a remark.
pub(super) fn write_rejects(programme: &Programme, import: i64) -> Result<Option<PathBuf>, String> {
    let Some(path) = programme.path().map(path_beside) else {
        return Ok(None);
    };
    match written(programme, import, &path) {
        Ok(()) => Ok(Some(path)),
        Err(reason) => Err(format!(
            "the rejects sheet {} could not be written ({reason}); the programme keeps the refusals",
            path.display()
        )),
    }
}

/// The rejects sheet beside the programme, if there is one.
pub(super) fn earlier_rejects(programme: &Programme) -> Option<PathBuf> {
    programme
        .path()
        .map(path_beside)
        .filter(|path| path.exists())
}

fn written(programme: &Programme, import: i64, path: &Path) -> Result<(), String> {
    let failed = |error: io::Error| error.to_string();
    let folder = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    let file = NamedTempFile::new_in(folder.unwrap_or(Path::new("."))).map_err(failed)?;
    let writer = BufWriter::new(file.as_file().try_clone().map_err(failed)?);
    let mut rejects = Rejects::new(writer);
    let mut outcome = Ok(());
    let mut add = |refused: Stored| {
        let texts = (&*refused.column, &*refused.value, &*refused.reason);
        outcome = rejects.add(&refused.sheet, refused.line, texts);
        outcome.is_ok()
    };
    refused::each_refusal(programme.store.connection(), import, &mut add)
        .map_err(|error| error.to_string())?;
    outcome.map_err(failed)?;
    let writer = rejects.finish().map_err(failed)?;
    let complete = (writer.into_inner()).map_err(|error| failed(error.into_error()))?;
    complete.sync_all().map_err(failed)?;
    allow_reading(&complete);
    file.persist(path).map_err(|error| failed(error.error))?;
    Ok(())
}

/// Temporary files are made for their owner alone; a rejects sheet is for everyone who may
/// read sheets.
pub(super) fn allow_reading(file: &File) {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // Where this is not possible the sheet stays private, which harms nothing.
        let _ = file.set_permissions(std::fs::Permissions::from_mode(0o644));
    }
    #[cfg(not(unix))]
    let _ = file;
}

/// `<stem>.rejects.csv` beside the programme.
fn path_beside(programme: &Path) -> PathBuf {
    let mut name = programme.file_stem().unwrap_or_default().to_owned();
    name.push(".rejects.csv");
    programme.with_file_name(name)
}

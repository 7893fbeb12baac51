//! Where refusals go: the programme file, the rejects sheet beside it, the report.

use std::fs::File;
use std::io::BufWriter;
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::report::{FIRST_REFUSALS, SheetReport};
use super::{Error, Programme};
use crate::intake::{Refusal, Rejects};
use crate::store::imports::Refusals;

/// Takes refusals of one import.
pub(super) struct Refused<'p> {
    programme: &'p Programme,
    table: Refusals<'p>,
    /// Written under another name until the import is done; none before the first refusal,
    /// nor where nothing is to be written.
    sheet: Option<(NamedTempFile, Rejects<BufWriter<File>>)>,
    path: Option<PathBuf>,
    /// Sheet and line of the row that was refused last: its faults come one after another.
    last_row: Option<(usize, u64)>,
    pub(super) first: Vec<(String, Refusal)>,
}

impl<'p> Refused<'p> {
    /// `dry_run` writes no rejects sheet.
    pub(super) fn new(programme: &'p Programme, import: i64, dry_run: bool) -> Result<Self, Error> {
        let table = Refusals::new(programme.store.connection(), import);
        Ok(Refused {
            programme,
            table: programme.sql(table)?,
            sheet: None,
            path: programme.path().filter(|_| !dry_run).map(path_beside),
            last_row: None,
            first: Vec::new(),
        })
    }

    /// Takes what was refused of the sheet at this place, and counts it.
    pub(super) fn take(
        &mut self,
        place: usize,
        report: &mut SheetReport,
        refusals: &mut Vec<Refusal>,
    ) -> Result<(), Error> {
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
            self.write(&report.sheet, &refusal)?;
            if self.first.len() < FIRST_REFUSALS {
                self.first.push((report.sheet.clone(), refusal));
            }
        }
        Ok(())
    }

    fn write(&mut self, sheet: &str, refusal: &Refusal) -> Result<(), Error> {
        let Some(path) = &self.path else {
            return Ok(());
        };
        let failed = |source| Error::Rejects {
            file: path.clone(),
            source,
        };
        let (_, rejects) = match &mut self.sheet {
            Some(sheet) => sheet,
            none => {
                let folder = path
                    .parent()
                    .filter(|folder| !folder.as_os_str().is_empty());
                let file =
                    NamedTempFile::new_in(folder.unwrap_or(Path::new("."))).map_err(failed)?;
                let writer = BufWriter::new(file.as_file().try_clone().map_err(failed)?);
                none.insert((file, Rejects::new(writer)))
            }
        };
        rejects.add(sheet, refusal).map_err(failed)
    }

    /// Writes the rejects sheet out under its other name.
    pub(super) fn finish(self) -> Result<Finished, Error> {
        let Some(path) = self.path else {
            return Ok(Finished { file: None });
        };
        let failed = |source| Error::Rejects {
            file: path.clone(),
            source,
        };
        let Some((file, rejects)) = self.sheet else {
            return Ok(Finished { file: None });
        };
        let writer = rejects.finish().map_err(failed)?;
        let written = writer
            .into_inner()
            .map_err(|error| failed(error.into_error()))?;
        written.sync_all().map_err(failed)?;
        allow_reading(&written);
        Ok(Finished {
            file: Some((file, path)),
        })
    }
}

/// A rejects sheet that is complete but does not stand in its place yet.
pub(super) struct Finished {
    file: Option<(NamedTempFile, PathBuf)>,
}

impl Finished {
    /// Puts the sheet in its place, after the import is safe. What goes wrong here does not
    /// undo the import, so it is returned as a remark.
    pub(super) fn publish(self) -> Result<Option<PathBuf>, String> {
        match self.file {
            None => Ok(None),
            Some((file, path)) => match file.persist(&path) {
                Ok(_) => Ok(Some(path)),
                Err(error) => Err(format!(
                    "the rejects sheet {} could not be written ({}); the programme keeps the refusals",
                    path.display(),
                    error.error
                )),
            },
        }
    }
}

/// Temporary files are made for their owner alone; a rejects sheet is for everyone who may
/// read sheets.
fn allow_reading(file: &File) {
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

//! Refused rows written out as they stood, to be mended and taken in again.

use std::collections::HashMap;
use std::io::BufWriter;
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::refused::allow_reading;
use super::{Batch, Error, Programme};
use crate::intake::SheetKind;
use crate::intake::mended::{Origin, Writer};
use crate::store::imports::ImportedSheet;
use crate::store::refused::{self, RefusedRow};

/// Files of refused rows.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RefusedFiles {
    /// Each with how many rows it holds.
    pub files: Vec<(PathBuf, u64)>,
    /// Rows that were not kept whole, by batch.
    pub not_kept: Vec<(i64, u64)>,
}

/// Rows that can stand in one file: read alike, under one header.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
struct Alike {
    kind: SheetKind,
    header: Vec<String>,
    map: Option<String>,
    zone: String,
}

/// One file being written.
struct Part {
    writer: Writer<BufWriter<NamedTempFile>>,
    rows: u64,
    path: PathBuf,
}

impl Programme {
    /// Writes the refused rows of this batch, or of all, that are still open. Nothing that is
    /// there is written over.
    ///
    /// # Errors
    /// No such batch, a store that can't be read, a file that can't be made or is there.
    pub fn write_refused(&self, batch: Option<i64>, to: &Path) -> Result<RefusedFiles, Error> {
        let batches = match batch {
            Some(number) => vec![self.batch(number)?],
            None => self.batches()?,
        };
        let mut work = Work {
            programme: self,
            to,
            parts: Vec::new(),
            of: HashMap::new(),
            not_kept: Vec::new(),
        };
        for batch in batches.iter().filter(|batch| batch.open_rows() > 0) {
            work.add(batch)?;
        }
        work.finish()
    }
}

struct Work<'p> {
    programme: &'p Programme,
    to: &'p Path,
    parts: Vec<Part>,
    of: HashMap<Alike, usize>,
    not_kept: Vec<(i64, u64)>,
}

impl Work<'_> {
    fn add(&mut self, batch: &Batch) -> Result<(), Error> {
        let connection = self.programme.store.connection();
        let mut written = 0;
        let mut rows: Vec<Vec<RefusedRow>> = vec![Vec::new(); batch.sheets.len()];
        let read = refused::each_row(connection, batch.import.number, &mut |row| {
            if let (None, Some(sheet)) = (row.mended_in, rows.get_mut(row.place)) {
                sheet.push(row);
            }
        });
        self.programme.sql(read)?;
        let open =
            |(place, rows): &(usize, Vec<RefusedRow>)| !rows.is_empty() && batch.open[*place] > 0;
        for (place, rows) in rows.into_iter().enumerate().filter(open) {
            written += self.add_sheet(batch, place, rows)?;
        }
        if written < batch.open_rows() {
            let not_kept = batch.open_rows() - written;
            self.not_kept.push((batch.import.number, not_kept));
        }
        Ok(())
    }

    fn add_sheet(
        &mut self,
        batch: &Batch,
        place: usize,
        rows: Vec<RefusedRow>,
    ) -> Result<u64, Error> {
        let sheet = &batch.sheets[place];
        let (Some(kind), Some(header)) = (SheetKind::parse(&sheet.kind), &sheet.header) else {
            return Ok(0);
        };
        let connection = self.programme.store.connection();
        let reasons = refused::reasons(connection, batch.import.number, place);
        let mut reasons = self.programme.sql(reasons)?.into_iter().peekable();
        let part = self.part(batch, sheet, kind, header)?;
        let mut written = 0;
        for row in rows {
            let mut because = Vec::new();
            while let Some((_, reason)) = reasons.next_if(|(line, _)| *line <= row.line) {
                because.push(reason);
            }
            let Some(cells) = row.cells else { continue };
            let origin = Origin {
                batch: row.import,
                place,
                kind,
                line: row.line,
            };
            part.writer.add(origin, &because.join("; "), &cells)?;
            part.rows += 1;
            written += 1;
        }
        Ok(written)
    }

    fn part(
        &mut self,
        batch: &Batch,
        sheet: &ImportedSheet,
        kind: SheetKind,
        header: &[String],
    ) -> Result<&mut Part, Error> {
        let alike = Alike {
            kind,
            header: header.to_vec(),
            map: sheet.map.clone(),
            zone: batch.import.zone.clone(),
        };
        let place = match self.of.get(&alike) {
            Some(place) => *place,
            None => {
                let path = numbered(self.to, self.parts.len() + 1);
                if path.exists() {
                    return Err(Error::WrittenOver { file: path });
                }
                let folder = self.to.parent().filter(|it| !it.as_os_str().is_empty());
                let file = NamedTempFile::new_in(folder.unwrap_or(Path::new(".")))?;
                self.parts.push(Part {
                    writer: Writer::new(BufWriter::new(file), header)?,
                    rows: 0,
                    path,
                });
                self.of.insert(alike, self.parts.len() - 1);
                self.parts.len() - 1
            }
        };
        Ok(&mut self.parts[place])
    }

    fn finish(self) -> Result<RefusedFiles, Error> {
        let mut files = Vec::new();
        for part in self.parts.into_iter().filter(|part| part.rows > 0) {
            let whole = part.writer.finish()?.into_inner();
            let file = whole.map_err(std::io::IntoInnerError::into_error)?;
            allow_reading(file.as_file());
            file.persist_noclobber(&part.path)
                .map_err(|error| match error.error.kind() {
                    std::io::ErrorKind::AlreadyExists => Error::WrittenOver {
                        file: part.path.clone(),
                    },
                    _ => Error::Output(error.error),
                })?;
            files.push((part.path, part.rows));
        }
        Ok(RefusedFiles {
            files,
            not_kept: self.not_kept,
        })
    }
}

/// The name of the first file, or of a later one: `refused.csv`, `refused-2.csv`.
fn numbered(path: &Path, number: usize) -> PathBuf {
    if number == 1 {
        return path.to_owned();
    }
    let mut name = path.file_stem().unwrap_or_default().to_owned();
    name.push(format!("-{number}"));
    if let Some(extension) = path.extension() {
        name.push(".");
        name.push(extension);
    }
    path.with_file_name(name)
}

//! From the bytes of a file to rows of cells under a header, whatever the file is: CSV with
//! any delimiter, quote and encoding, packed or not, or a sheet of a workbook.
//!
//! A [`Table`] is opened with what the user says about it ([`ReadAs`]) and with the names of
//! the columns that are hoped for ([`Wanted`]), which tell the header from titles above it.
//! Everything that is not said is found out; [`How`] tells what was found. Rows are then read
//! one after the other; memory does not grow with the file.

mod bytes;
mod cells;
mod dialect;
mod encoding;
mod header;
mod how;
pub mod read_as;
mod source;
mod text;
mod workbook;

use std::path::{Path, PathBuf};

pub use cells::{Cell, Cells};
pub use header::Wanted;
pub use how::{Format, How};
pub use read_as::{Quote, ReadAs, SheetChoice};
pub use workbook::READER as WORKBOOK_READER;

use super::mended::{self, Origin, ROW_LIMIT, RefusedRow};
use super::{Digest, Error, Refusal};
use bytes::{Bytes, Kind};
use text::TextRows;
use workbook::SheetRows;

/// A table whose header was read.
pub struct Table {
    path: PathBuf,
    how: How,
    names: Vec<String>,
    cells: Cells,
    rows: Rows,
    /// What makes the whole table unreadable, told instead of its first row.
    refusal: Option<Refusal>,
    /// Rows refused whole that nobody has taken yet.
    refused: Vec<RefusedRow>,
    /// Whether it holds rows that were refused before.
    mends: bool,
    /// Where the row last read was refused before.
    origin: Option<Origin>,
}

enum Rows {
    Text(Box<TextRows>),
    Sheet(Box<SheetRows>),
}

/// What was found before the first row.
struct Begun<R> {
    rows: R,
    cells: Cells,
    names: Vec<String>,
    how: How,
    refusal: Option<Refusal>,
}

impl<R> Begun<R> {
    fn table(mut self, path: &Path, rows: impl FnOnce(Box<R>) -> Rows) -> Table {
        let mends = mended::is_mended(&self.names);
        if mends {
            let names = self.names.split_off(mended::COLUMNS.len());
            self.names = (names.iter())
                .map(|name| mended::untamed(name).to_owned())
                .collect();
        }
        Table {
            refused: Vec::new(),
            mends,
            origin: None,
            path: path.to_owned(),
            how: self.how,
            names: self.names,
            cells: self.cells,
            rows: rows(Box::new(self.rows)),
            refusal: self.refusal,
        }
    }
}

/// What stands next in a table.
pub enum Next {
    /// A row, in [`Table::cells`].
    Row,
    /// A row that can't be read, or the rest of the table.
    Refused(Refusal),
    /// Nothing.
    End,
}

impl Table {
    /// Opens a table, finds out how it is to be read, and reads its header.
    ///
    /// # Errors
    /// The file can't be read, or is damaged so that nothing of it can.
    pub fn open(path: &Path, read_as: &ReadAs, wanted: &Wanted) -> Result<Table, Error> {
        let bytes = Bytes::open(path).map_err(|error| unreadable(path, error))?;
        Ok(match bytes.kind {
            Kind::Zip | Kind::Compound => {
                SheetRows::open(path, bytes, read_as, wanted)?.table(path, Rows::Sheet)
            }
            Kind::Text | Kind::Gzip => {
                TextRows::open(path, bytes, read_as, wanted)?.table(path, Rows::Text)
            }
        })
    }

    /// How the table was read.
    #[must_use]
    pub fn how(&self) -> &How {
        &self.how
    }

    /// The names of the columns as the header has them, trimmed; some may be blank or stand
    /// twice. Empty where the file is.
    #[must_use]
    pub fn names(&self) -> &[String] {
        &self.names
    }

    /// Reads the next row that is not empty. A row with more fields than the header, everything
    /// behind a quote that is never closed, and everything behind the place where a packed file
    /// is cut off come back as refusals.
    ///
    /// # Errors
    /// The file can't be read any further.
    pub fn next_row(&mut self) -> Result<Next, Error> {
        if let Some(refusal) = self.refusal.take() {
            return Ok(Next::Refused(refusal));
        }
        let next = match &mut self.rows {
            Rows::Text(rows) => rows.next(&self.path, &mut self.cells, &self.names)?,
            Rows::Sheet(rows) => rows.next(&mut self.cells),
        };
        match &next {
            Next::Row if self.mends => match self.cells.without_origin() {
                Ok(origin) => self.origin = origin,
                Err(reason) => return Ok(Next::Refused(self.refuse_row(reason))),
            },
            // Not a row but the rest of the table.
            Next::Refused(refusal) => self.refused.push(RefusedRow {
                line: refusal.line,
                cells: None,
            }),
            Next::Row | Next::End => {}
        }
        let width = self.names.len();
        if matches!(next, Next::Row) && width > 0 && self.cells.len() > width {
            let reason = format!(
                "{} fields where the header has {width}; the row is refused",
                self.cells.len()
            );
            return Ok(Next::Refused(self.refuse_row(reason)));
        }
        Ok(next)
    }

    fn refuse_row(&mut self, reason: String) -> Refusal {
        self.keep_row();
        Refusal::whole(self.line(), "", &self.cells.joined(), reason)
    }

    /// Keeps the row last read as one that is refused whole.
    pub(super) fn keep_row(&mut self) {
        self.refused.push(RefusedRow {
            line: self.line(),
            cells: (self.cells.bytes() <= ROW_LIMIT).then(|| self.cells.as_they_stand()),
        });
    }

    /// Hands over the rows that were refused whole since the last call.
    pub(super) fn take_refused_rows(&mut self) -> Vec<RefusedRow> {
        std::mem::take(&mut self.refused)
    }

    /// Whether it holds rows that were refused before.
    #[must_use]
    pub fn mends(&self) -> bool {
        self.mends
    }

    /// Where the row last read was refused before, if it says so.
    #[must_use]
    pub fn origin(&self) -> Option<Origin> {
        self.origin
    }

    /// Size and SHA-256 of the file; what is left of it is read.
    ///
    /// # Errors
    /// The file can't be read any further.
    pub fn digest(&mut self) -> Result<Digest, Error> {
        let digest = match &self.rows {
            Rows::Text(rows) => rows.digest(),
            // Read here and there, and by another thread.
            Rows::Sheet(_) => Digest::of_file(&self.path),
        };
        digest.map_err(|error| unreadable(&self.path, error))
    }

    /// The cells of the row last read. There may be fewer than the header has names; those
    /// that are missing are blank.
    #[must_use]
    pub fn cells(&self) -> &Cells {
        &self.cells
    }

    /// The line on which the row last read begins, from 1; in a workbook the number of the row.
    /// Before any row is read, that of the header.
    #[must_use]
    pub fn line(&self) -> u64 {
        match &self.rows {
            Rows::Text(rows) => rows.line,
            Rows::Sheet(rows) => rows.line,
        }
    }

    /// How many bytes of the file were read, for a progress display.
    #[must_use]
    pub fn bytes_read(&self) -> u64 {
        match &self.rows {
            Rows::Text(rows) => rows.bytes_read(),
            Rows::Sheet(rows) => rows.bytes_read(),
        }
    }
}

/// The names of the sheets of a workbook, in their order; `None` where the file is no workbook.
///
/// # Errors
/// The file can't be read, or is a workbook that can't be.
pub fn sheet_names(path: &Path) -> Result<Option<Vec<String>>, Error> {
    let bytes = Bytes::open(path).map_err(|error| unreadable(path, error))?;
    match bytes.kind {
        Kind::Zip | Kind::Compound => workbook::sheet_names(path, bytes).map(Some),
        Kind::Text | Kind::Gzip => Ok(None),
    }
}

fn unreadable(path: &Path, source: std::io::Error) -> Error {
    Error::Unreadable {
        sheet: path.to_owned(),
        source,
    }
}

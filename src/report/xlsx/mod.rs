//! The tables of a pack as one workbook: typed cells, headings that stay in sight, filters, a
//! first sheet that says what is what.

mod opening;
mod sheet;
mod styles;

use std::io::{Seek, Write};
use std::path::Path;

use rust_xlsxwriter::{DocProperties, ExcelDateTime, Workbook, Worksheet};

use super::Cell;
use super::pack::Sheet;
use opening::Listed;
use sheet::Filling;

pub use opening::left_out;
pub use rust_xlsxwriter::XlsxError;
use styles::Styles;

/// Draws beyond this number are left out of the workbook: it would take minutes to open and
/// a sheet ends at 1,048,576 rows in any case.
pub const MOST_DRAWS: usize = 200_000;

/// What stands on the first sheet above the list of sheets.
pub struct Opening<'a> {
    /// What the workbook is.
    pub title: &'a str,
    /// What to know before reading: label and value.
    pub facts: &'a [(&'static str, String)],
    /// What is not in it, or else to be said.
    pub remarks: Vec<String>,
    /// When it was made, in seconds since 1970 UTC.
    pub made_at: i64,
}

/// A workbook under way.
pub struct Book {
    workbook: Workbook,
    styles: Styles,
    sheets: Vec<Worksheet>,
    listed: Vec<Listed>,
}

/// A sheet whose rows come one at a time and are kept on disk meanwhile.
pub struct Long {
    sheet: Sheet,
    filling: Filling,
}

impl Book {
    /// An empty workbook, which keeps what it must keep on disk in this folder.
    ///
    /// # Errors
    /// The folder can't be written to.
    pub fn new(folder: &Path) -> Result<Self, XlsxError> {
        let mut workbook = Workbook::new();
        workbook.set_tempdir(folder)?;
        Ok(Book {
            workbook,
            styles: Styles::new(),
            sheets: Vec::new(),
            listed: Vec::new(),
        })
    }

    /// Adds a table; one that only JSON can hold is left out.
    ///
    /// # Errors
    /// What the library says.
    pub fn add(&mut self, sheet: Sheet, rows: &[Vec<Cell<'_>>]) -> Result<(), XlsxError> {
        if !sheet::has_columns(sheet) {
            return Ok(());
        }
        let mut filling = Filling::new(Worksheet::new(), sheet, &self.styles)?;
        for row in rows {
            filling.row(sheet, row, &self.styles)?;
        }
        self.end(sheet, filling)
    }

    /// Begins a long table.
    ///
    /// # Errors
    /// What the library says.
    pub fn begin(&mut self, sheet: Sheet) -> Result<Long, XlsxError> {
        let worksheet = self.workbook.new_worksheet_with_constant_memory()?;
        let filling = Filling::new(worksheet, sheet, &self.styles)?;
        Ok(Long { sheet, filling })
    }

    /// Adds a row to a long table.
    ///
    /// # Errors
    /// What the library says.
    pub fn row(&self, long: &mut Long, cells: &[Cell<'_>]) -> Result<(), XlsxError> {
        long.filling.row(long.sheet, cells, &self.styles)
    }

    /// Ends a long table.
    ///
    /// # Errors
    /// What the library says.
    pub fn finish(&mut self, long: Long) -> Result<(), XlsxError> {
        self.end(long.sheet, long.filling)
    }

    fn end(&mut self, sheet: Sheet, filling: Filling) -> Result<(), XlsxError> {
        let (worksheet, rows) = filling.finish(sheet, &self.styles)?;
        self.sheets.push(worksheet);
        self.listed.push(Listed { sheet, rows });
        Ok(())
    }

    /// Writes the workbook. Equal tables give equal bytes.
    ///
    /// # Errors
    /// What the library says.
    pub fn save<W: Write + Seek + Send>(
        mut self,
        opening: &Opening<'_>,
        out: W,
    ) -> Result<(), XlsxError> {
        let first = opening::first_sheet(opening, &self.listed, &self.styles)?;
        let last = opening::columns_sheet(&self.listed, &self.styles)?;
        let made = ExcelDateTime::from_timestamp(opening.made_at)?;
        let properties = DocProperties::new()
            .set_title(opening.title)
            .set_author("fairdraw")
            .set_creation_datetime(&made);
        self.workbook.set_properties(&properties);
        for sheet in [first].into_iter().chain(self.sheets).chain([last]) {
            self.workbook.push_worksheet(sheet);
        }
        self.workbook.save_to_writer(out)
    }
}

//! A workbook, whatever its format: its sheets, and the rows of one as texts.

use std::fs::File;
use std::io::BufReader;

use calamine::{
    Data, DataRef, DataType as _, Dimensions, Ods, OdsError, Range, Reader, SheetType,
    SheetVisible, Xls, XlsError, Xlsb, Xlsx, XlsxCellReader, XlsxError,
};
use csv::StringRecord;

use super::super::bytes::{Bytes, Kind};
use super::super::how::Format;
use super::package::{self, Fault, Held};
use super::value;
use super::{biff, compound};

type Inner = BufReader<super::super::bytes::Counted>;

/// An opened workbook.
pub(super) struct Book {
    kind: BookKind,
    pub(super) format: Format,
    pub(super) held: Held,
}

enum BookKind {
    Xlsx(Box<Xlsx<Inner>>),
    Xlsb(Box<Xlsb<Inner>>),
    Xls(Box<Xls<Inner>>),
    Ods(Box<Ods<Inner>>),
}

/// Why a workbook can't be read.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum BookFault {
    Locked,
    Damaged(String),
    TooLarge(String),
    NoWorkbook,
}

impl From<Fault> for BookFault {
    fn from(fault: Fault) -> Self {
        match fault {
            Fault::Damaged(reason) => BookFault::Damaged(reason),
            Fault::TooLarge(reason) => BookFault::TooLarge(reason),
            Fault::NoWorkbook => BookFault::NoWorkbook,
        }
    }
}

fn damaged(error: impl std::fmt::Display) -> BookFault {
    BookFault::Damaged(error.to_string())
}

/// A sheet of a workbook, as it is listed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Listed {
    pub(super) name: String,
    pub(super) is_hidden: bool,
}

/// A row that holds something.
#[derive(Clone, Debug, Default)]
pub(super) struct SheetRow {
    /// Its number, from 1.
    pub(super) number: u64,
    /// Its texts from the first column on, up to the last that holds something.
    pub(super) texts: StringRecord,
    /// Places of cells that hold an error.
    pub(super) failed: Vec<usize>,
}

impl Book {
    pub(super) fn open(bytes: &Bytes) -> Result<Book, BookFault> {
        let inner = || -> Result<Inner, BookFault> {
            Ok(BufReader::with_capacity(
                1 << 16,
                bytes.counted().map_err(damaged)?,
            ))
        };
        if bytes.kind == Kind::Compound {
            compound::look_through(bytes.file().map_err(damaged)?).map_err(BookFault::Damaged)?;
            biff::look_through(bytes.file().map_err(damaged)?).map_err(BookFault::Damaged)?;
            return match Xls::new(inner()?) {
                Ok(book) => Ok(Book {
                    kind: BookKind::Xls(Box::new(book)),
                    format: Format::Xls,
                    held: Held::default(),
                }),
                Err(XlsError::Password) => Err(BookFault::Locked),
                Err(error) => match Xlsx::new(inner()?) {
                    Err(XlsxError::Password) => Err(BookFault::Locked),
                    _ => Err(damaged(error)),
                },
            };
        }
        let file: File = bytes.file().map_err(damaged)?;
        let package = package::look_through(file)?;
        let kind = match package.format {
            Format::Ods => match Ods::new(inner()?) {
                Ok(book) => BookKind::Ods(Box::new(book)),
                Err(OdsError::Password) => return Err(BookFault::Locked),
                Err(error) => return Err(damaged(error)),
            },
            Format::Xlsb => BookKind::Xlsb(Box::new(Xlsb::new(inner()?).map_err(damaged)?)),
            _ => match Xlsx::new(inner()?) {
                Ok(book) => BookKind::Xlsx(Box::new(book)),
                Err(XlsxError::Password) => return Err(BookFault::Locked),
                Err(error) => return Err(damaged(error)),
            },
        };
        Ok(Book {
            kind,
            format: package.format,
            held: package.held,
        })
    }

    /// The sheets that hold cells, in their order.
    pub(super) fn sheets(&self) -> Vec<Listed> {
        let all = match &self.kind {
            BookKind::Xlsx(book) => book.sheets_metadata(),
            BookKind::Xlsb(book) => book.sheets_metadata(),
            BookKind::Xls(book) => book.sheets_metadata(),
            BookKind::Ods(book) => book.sheets_metadata(),
        };
        all.iter()
            .filter(|sheet| sheet.typ == SheetType::WorkSheet)
            .map(|sheet| Listed {
                name: sheet.name.clone(),
                is_hidden: sheet.visible != SheetVisible::Visible,
            })
            .collect()
    }

    /// The rows of a sheet.
    pub(super) fn rows(&mut self, sheet: &str) -> Result<Rows<'_>, BookFault> {
        let is_ods = matches!(self.kind, BookKind::Ods(_));
        let range = match &mut self.kind {
            BookKind::Xlsx(book) => {
                let reader = book.worksheet_cells_reader(sheet).map_err(damaged)?;
                let formats = reader
                    .styles()
                    .iter()
                    .map(|style| {
                        style
                            .number_format
                            .as_ref()
                            .map(|format| format.format_code.clone())
                    })
                    .collect();
                return Ok(Rows::Streamed(Box::new(Streamed {
                    reader,
                    formats,
                    held: None,
                    ended: false,
                })));
            }
            BookKind::Xlsb(book) => book.worksheet_range(sheet).map_err(damaged)?,
            BookKind::Xls(book) => book.worksheet_range(sheet).map_err(damaged)?,
            BookKind::Ods(book) => book.worksheet_range(sheet).map_err(damaged)?,
        };
        Ok(Rows::Whole {
            timed: timed(&range),
            range,
            next: 0,
            is_ods,
        })
    }

    /// The merged cells of a sheet, where the format tells them.
    pub(super) fn merged(&mut self, sheet: &str) -> Option<Vec<Dimensions>> {
        match &mut self.kind {
            BookKind::Xlsx(book) => book.merge_cells_by_sheet_name(sheet).ok(),
            BookKind::Xls(book) => book.merge_cells_by_sheet_name(sheet).ok(),
            BookKind::Xlsb(_) | BookKind::Ods(_) => None,
        }
    }
}

/// The rows of a sheet, one after the other.
pub(super) enum Rows<'b> {
    /// Read as they come.
    Streamed(Box<Streamed<'b>>),
    /// Held in memory: the format allows no other way.
    Whole {
        range: Range<Data>,
        /// Of each column, whether it holds moments, not days alone.
        timed: Vec<bool>,
        next: usize,
        is_ods: bool,
    },
}

/// The cells of a sheet that is read as it comes.
pub(super) struct Streamed<'b> {
    reader: XlsxCellReader<'b, Inner>,
    /// Number formats by style.
    formats: Vec<Option<String>>,
    /// The first cell of the next row, which ended the row before.
    held: Option<(u32, (usize, String, bool))>,
    ended: bool,
}

impl Rows<'_> {
    /// The next row that holds something; `None` at the end.
    pub(super) fn next(&mut self) -> Result<Option<SheetRow>, String> {
        match self {
            Rows::Streamed(streamed) => streamed.next(),
            Rows::Whole {
                range,
                timed,
                next,
                is_ods,
            } => {
                let Some((top, left)) = range.start() else {
                    return Ok(None);
                };
                let width = range.width();
                while *next < range.height() {
                    let place = *next;
                    *next += 1;
                    let mut row = Gathered::at(top as usize + place);
                    for (column, is_timed) in timed.iter().enumerate().take(width) {
                        let Some(data) = range.get((place, column)) else {
                            continue;
                        };
                        let (mut text, failed) = value::text(&borrowed(data), None);
                        if *is_timed && is_moment(data) && value::is_day(&text) {
                            text.push_str(" 00:00");
                        }
                        let failed = failed || (*is_ods && value::is_error_text(&text));
                        row.put(left as usize + column, text, failed);
                    }
                    if let Some(row) = row.finish() {
                        return Ok(Some(row));
                    }
                }
                Ok(None)
            }
        }
    }
}

fn is_moment(data: &Data) -> bool {
    matches!(data, Data::DateTime(_) | Data::DateTimeIso(_))
}

/// Of each column, whether any of its dates has a time of day. These formats write midnight as
/// they write a day alone, so only the rest of the column tells which of the two is meant.
fn timed(range: &Range<Data>) -> Vec<bool> {
    let mut timed = vec![false; range.width()];
    for (_, column, data) in range.used_cells() {
        if is_moment(data) && !timed[column] {
            let (text, _) = value::text(&borrowed(data), None);
            timed[column] = text.contains('-') && !value::is_day(&text);
        }
    }
    timed
}

fn borrowed(data: &Data) -> DataRef<'_> {
    match data {
        Data::Int(value) => DataRef::Int(*value),
        Data::Float(value) => DataRef::Float(*value),
        Data::String(text) => DataRef::SharedString(text),
        Data::Bool(value) => DataRef::Bool(*value),
        Data::DateTime(moment) => DataRef::DateTime(*moment),
        Data::DateTimeIso(text) => DataRef::DateTimeIso(text.clone()),
        Data::DurationIso(text) => DataRef::DurationIso(text.clone()),
        Data::Error(error) => DataRef::Error(error.clone()),
        Data::Empty => DataRef::Empty,
    }
}

impl Streamed<'_> {
    fn next(&mut self) -> Result<Option<SheetRow>, String> {
        loop {
            let Some((row, first)) = self
                .held
                .take()
                .map(|(row, cell)| (row, Some(cell)))
                .or_else(|| (!self.ended).then_some((u32::MAX, None)))
            else {
                return Ok(None);
            };
            let mut number = row;
            let mut gathered = Gathered::at(row as usize);
            if let Some((column, text, failed)) = first {
                gathered.put(column, text, failed);
            }
            while !self.ended {
                let Some((cell, style)) = self
                    .reader
                    .next_cell_with_style_id()
                    .map_err(|error| error.to_string())?
                else {
                    self.ended = true;
                    break;
                };
                let ((row, column), value) = (cell.get_position(), cell.get_value());
                if value.is_empty() {
                    continue;
                }
                let format = self.formats.get(style).and_then(Option::as_deref);
                let (text, failed) = value::text(value, format);
                if number == u32::MAX {
                    number = row;
                    gathered = Gathered::at(row as usize);
                }
                if row != number {
                    self.held = Some((row, (column as usize, text, failed)));
                    break;
                }
                gathered.put(column as usize, text, failed);
            }
            if let Some(row) = gathered.finish() {
                return Ok(Some(row));
            }
        }
    }
}

/// A row as its cells come, in any order.
struct Gathered {
    place: usize,
    texts: Vec<String>,
    failed: Vec<usize>,
}

impl Gathered {
    fn at(place: usize) -> Self {
        Gathered {
            place,
            texts: Vec::new(),
            failed: Vec::new(),
        }
    }

    fn put(&mut self, column: usize, text: String, failed: bool) {
        if text.trim().is_empty() {
            return;
        }
        if self.texts.len() <= column {
            self.texts.resize(column + 1, String::new());
        }
        self.texts[column] = text;
        if failed {
            self.failed.push(column);
        }
    }

    /// The row, if it holds anything.
    fn finish(self) -> Option<SheetRow> {
        (!self.texts.is_empty()).then(|| SheetRow {
            number: self.place as u64 + 1,
            texts: StringRecord::from(self.texts),
            failed: self.failed,
        })
    }
}

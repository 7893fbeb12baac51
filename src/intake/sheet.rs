//! A sheet being read: its header, its rows one after the other, what it refuses.

use std::fs::File;
use std::path::{Path, PathBuf};

use csv::ReaderBuilder;

use super::Error;
use super::columns::{Column, SheetKind};
use super::digest::{Digest, Digested};
use super::refusal::Refusal;
use super::row::Cells;
use super::source::{Source, line_ends, open_quote};

/// A sheet whose header was read.
pub struct Sheet {
    path: PathBuf,
    kind: SheetKind,
    reader: csv::Reader<Source<Digested<File>>>,
    header: Header,
    /// The header as it stands.
    names: Vec<String>,
    cells: Cells,
    /// Rows refused whole that nobody has taken yet.
    refused: Vec<RefusedRow>,
    /// Line on which the row last read begins, and where in the file that is.
    line: u64,
    start: u64,
    ended: bool,
}

/// Which column of the file holds what.
#[derive(Clone, Debug, Default)]
pub struct Header {
    /// For each column of the kind, its place in the file.
    pub places: Vec<Option<usize>>,
    /// Columns the contract does not know: place in the file, name under which their
    /// values are kept aside.
    pub unknown: Vec<(usize, String)>,
    /// How many columns the file has.
    pub width: usize,
}

/// A row refused whole, as it stands in the sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RefusedRow {
    /// Line on which it begins.
    pub line: u64,
    /// Its cells; `None` where they are longer than [`ROW_LIMIT`] together.
    pub cells: Option<Vec<String>>,
}

/// The most bytes of a refused row that are kept.
pub const ROW_LIMIT: usize = 65_536;

/// A sheet ready to be read, or refused whole because of its header.
pub enum Opened {
    /// Rows can be read.
    Ready(Box<Sheet>),
    /// Nothing can be read from it.
    Refused(Refusal),
}

/// What stands next in a sheet.
pub enum Next {
    /// A row, in `Sheet::cells`.
    Row,
    /// A row that can't be read, or the rest of the sheet.
    Refused(Refusal),
    /// Nothing.
    End,
}

impl Sheet {
    /// Opens a sheet and reads its header.
    ///
    /// # Errors
    /// The file can't be read, or is not CSV in UTF-8.
    pub fn open(path: &Path, kind: SheetKind) -> Result<Opened, Error> {
        let unreadable = |source| Error::Unreadable {
            sheet: path.to_owned(),
            source,
        };
        let file = File::open(path).map_err(unreadable)?;
        refuse_other_formats(path, &file)?;
        let reader = ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .buffer_capacity(1 << 18)
            .from_reader(Source::new(Digested::new(file)));
        let mut sheet = Sheet {
            path: path.to_owned(),
            kind,
            reader,
            header: Header::default(),
            names: Vec::new(),
            cells: Cells::default(),
            refused: Vec::new(),
            line: 1,
            start: 0,
            ended: false,
        };
        let names = match sheet.next_row()? {
            Next::Row => {
                sheet.names = sheet.cells.as_they_stand();
                sheet.cells.all_as_text()
            }
            Next::Refused(refusal) => return Ok(Opened::Refused(refusal)),
            Next::End => Vec::new(),
        };
        match Header::read(&names, kind) {
            Ok(header) => sheet.header = header,
            Err((column, reason)) => {
                return Ok(Opened::Refused(Refusal::whole(
                    sheet.line, &column, "", reason,
                )));
            }
        }
        Ok(Opened::Ready(Box::new(sheet)))
    }

    /// The kind of the sheet.
    #[must_use]
    pub fn kind(&self) -> SheetKind {
        self.kind
    }

    /// Names of the columns that the contract does not know.
    #[must_use]
    pub fn unknown_columns(&self) -> Vec<&str> {
        self.header
            .unknown
            .iter()
            .map(|(_, name)| name.as_str())
            .collect()
    }

    /// The header as it stands.
    #[must_use]
    pub fn header(&self) -> &[String] {
        &self.names
    }

    /// Keeps the row last read as one that is refused whole.
    pub fn keep_row(&mut self) {
        let length: usize = self.cells.lengths().sum();
        self.refused.push(RefusedRow {
            line: self.line,
            cells: (length <= ROW_LIMIT).then(|| self.cells.as_they_stand()),
        });
    }

    /// Hands over the rows that were refused whole since the last call.
    pub fn take_refused_rows(&mut self) -> Vec<RefusedRow> {
        std::mem::take(&mut self.refused)
    }

    /// Size and SHA-256 of the file; what is left of it is read.
    ///
    /// # Errors
    /// The file can't be read any further.
    pub fn digest(&mut self) -> Result<Digest, Error> {
        let digested = self.reader.get_mut().inner_mut();
        digested.finish().map_err(|source| Error::Unreadable {
            sheet: self.path.clone(),
            source,
        })
    }

    /// How many bytes were read.
    #[must_use]
    pub fn bytes_read(&self) -> u64 {
        self.reader.position().byte()
    }

    /// The row last read, with the header to find its cells by.
    pub(super) fn row(&mut self) -> (&mut Cells, &Header, u64) {
        (&mut self.cells, &self.header, self.line)
    }

    /// Reads the next row that is not empty. A row with more fields than the header and
    /// everything behind a quote that is never closed come back as refusals.
    ///
    /// # Errors
    /// The file can't be read any further.
    pub fn next_row(&mut self) -> Result<Next, Error> {
        while !self.ended {
            let before = self.reader.position().byte();
            let mut record = self.cells.take();
            let more = self.reader.read_byte_record(&mut record);
            self.cells.put(record);
            if !more.map_err(|error| self.unreadable(error))? {
                break;
            }
            self.find_line(before);
            let end = self.reader.position().byte();
            if self.reader.get_ref().ends_at(end)
                && let Some(refusal) = self.open_quote()
            {
                self.ended = true;
                self.refused.push(RefusedRow {
                    line: refusal.line,
                    cells: None,
                });
                return Ok(Next::Refused(refusal));
            }
            if self.cells.is_empty_line() {
                continue;
            }
            let width = self.header.width;
            if width > 0 && self.cells.len() > width {
                let reason = format!(
                    "{} fields where the header has {width}; the row is refused",
                    self.cells.len()
                );
                self.keep_row();
                return Ok(Next::Refused(Refusal::whole(
                    self.line,
                    "",
                    &self.cells.joined(),
                    reason,
                )));
            }
            return Ok(Next::Row);
        }
        self.ended = true;
        Ok(Next::End)
    }

    /// Moves on to the physical line of the row that was found at or behind this offset.
    fn find_line(&mut self, before: u64) {
        let source = self.reader.get_ref();
        let ends = source
            .from(before)
            .iter()
            .take_while(|byte| matches!(byte, b'\r' | b'\n'))
            .count() as u64;
        let start = before + ends;
        let passed = usize::try_from(start - self.start).unwrap_or(0);
        let raw = source.from(self.start);
        self.line += line_ends(&raw[..passed.min(raw.len())]);
        self.start = start;
        self.reader.get_mut().release(start);
    }

    fn open_quote(&self) -> Option<Refusal> {
        let raw = self.reader.get_ref().from(self.start);
        // A byte order mark stands in front of the first field.
        let mark = if self.start == 0 && raw.starts_with(BYTE_ORDER_MARK) {
            3
        } else {
            0
        };
        let (place, field) = open_quote(&raw[mark..])?;
        let column = self.header.name_of(field, self.kind);
        let line = self.line + line_ends(&raw[..mark + place]);
        let rest = &raw[mark + place..];
        let shown = String::from_utf8_lossy(&rest[..rest.len().min(4096)]);
        Some(Refusal::whole(
            line,
            &column,
            &shown,
            "the quote that begins on this line is never closed; everything from here on is refused",
        ))
    }

    fn unreadable(&self, error: csv::Error) -> Error {
        Error::Unreadable {
            sheet: self.path.clone(),
            source: match error.into_kind() {
                csv::ErrorKind::Io(source) => source,
                other => std::io::Error::other(format!("{other:?}")),
            },
        }
    }
}

const BYTE_ORDER_MARK: &[u8] = b"\xef\xbb\xbf";

fn refuse_other_formats(path: &Path, mut file: &File) -> Result<(), Error> {
    use std::io::{Read, Seek};
    let unreadable = |source| Error::Unreadable {
        sheet: path.to_owned(),
        source,
    };
    let mut head = Vec::new();
    file.take(4).read_to_end(&mut head).map_err(unreadable)?;
    // A pipe can't be read from its beginning again; sheets are files.
    file.rewind().map_err(unreadable)?;
    let sheet = path.to_owned();
    match head.as_slice() {
        [0xff, 0xfe, ..] | [0xfe, 0xff, ..] => Err(Error::Utf16 { sheet }),
        [b'P', b'K', 3, 4] | [0xd0, 0xcf, 0x11, 0xe0] => Err(Error::Workbook { sheet }),
        _ => Ok(()),
    }
}

impl Header {
    /// Finds the columns of this kind by name, in any case and order.
    ///
    /// # Errors
    /// The column at fault and the reason, where the sheet must be refused whole.
    fn read(names: &[String], kind: SheetKind) -> Result<Header, (String, String)> {
        let columns = kind.columns();
        let mut header = Header {
            places: vec![None; columns.len()],
            unknown: Vec::new(),
            width: names.len(),
        };
        for (place, name) in names.iter().enumerate() {
            let known = columns
                .iter()
                .position(|column| column.name.eq_ignore_ascii_case(name));
            match known {
                Some(column) if header.places[column].is_some() => {
                    return Err((
                        columns[column].name.to_owned(),
                        "the column stands twice in the header; the sheet is refused".to_owned(),
                    ));
                }
                Some(column) => header.places[column] = Some(place),
                None => {
                    let name = header.name_for_unknown(name, place);
                    header.unknown.push((place, name));
                }
            }
        }
        for (column, place) in columns.iter().zip(&header.places) {
            if column.required && place.is_none() {
                return Err((column.name.to_owned(), why_missing(names, column, kind)));
            }
        }
        Ok(header)
    }

    /// A name of its own for a column the contract does not know.
    fn name_for_unknown(&self, name: &str, place: usize) -> String {
        let name = if name.is_empty() {
            format!("column {}", place + 1)
        } else {
            name.to_owned()
        };
        if self.unknown.iter().all(|(_, other)| *other != name) {
            return name;
        }
        format!("{name} (column {})", place + 1)
    }

    fn name_of(&self, place: usize, kind: SheetKind) -> String {
        let known = self.places.iter().position(|at| *at == Some(place));
        match known {
            Some(column) => kind.columns()[column].name.to_owned(),
            None => self
                .unknown
                .iter()
                .find(|(at, _)| *at == place)
                .map(|(_, name)| name.clone())
                .unwrap_or_default(),
        }
    }
}

fn why_missing(names: &[String], column: &Column, kind: SheetKind) -> String {
    let what = format!(
        "the header lacks the required column {} of a {} sheet; the sheet is refused",
        column.name,
        kind.as_str()
    );
    match names {
        [] => format!("the sheet is empty: {what}"),
        [one] if one.contains([';', '\t']) => {
            format!("{what} (fields must be separated by commas)")
        }
        _ => what,
    }
}

//! The cells of one row as a file has them.

use csv::{ByteRecord, StringRecord};

use crate::intake::mended::{self, Origin};

/// The cells of one row: texts, untrimmed, whatever the file they come from.
#[derive(Debug)]
pub struct Cells {
    /// All cells, where all of them are UTF-8.
    text: StringRecord,
    /// All cells, where some are not.
    bytes: Option<ByteRecord>,
    /// Places of cells that hold an error of the workbook, such as `#N/A`.
    failed: Vec<usize>,
    /// What the file is written in; a text that is not is unreadable.
    encoding: &'static str,
}

/// One cell, trimmed of white space.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Cell<'a> {
    /// Nothing, or white space.
    Blank,
    /// A text.
    Text(&'a str),
    /// No text: as it may be shown, and why it can't be read.
    Unreadable(String, String),
}

impl Default for Cells {
    fn default() -> Self {
        Cells {
            text: StringRecord::new(),
            bytes: None,
            failed: Vec::new(),
            encoding: "UTF-8",
        }
    }
}

impl Cells {
    /// Cells of a file in this encoding, none yet.
    pub(super) fn in_encoding(encoding: &'static str) -> Self {
        Cells {
            encoding,
            ..Cells::default()
        }
    }

    /// An empty record to read the next row into.
    pub(super) fn take(&mut self) -> ByteRecord {
        self.failed.clear();
        match self.bytes.take() {
            Some(bytes) => bytes,
            None => std::mem::take(&mut self.text).into_byte_record(),
        }
    }

    /// Takes the record of the next row.
    pub(super) fn put(&mut self, record: ByteRecord) {
        match StringRecord::from_byte_record(record) {
            Ok(text) => self.text = text,
            Err(error) => self.bytes = Some(error.into_byte_record()),
        }
    }

    /// Takes the texts of a workbook's row, some of which stand for errors.
    pub(super) fn put_texts(&mut self, text: StringRecord, failed: Vec<usize>) {
        (self.text, self.bytes, self.failed) = (text, None, failed);
    }

    /// How many cells there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.bytes.as_ref().map_or(self.text.len(), ByteRecord::len)
    }

    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Whether the line holds nothing but white space.
    #[must_use]
    pub fn is_empty_line(&self) -> bool {
        self.len() <= 1 && matches!(self.get(0), Cell::Blank)
    }

    /// The cell at this place, counted from 0; blank behind the last one.
    #[must_use]
    pub fn get(&self, place: usize) -> Cell<'_> {
        let text = match &self.bytes {
            None => self.text.get(place).unwrap_or(""),
            Some(bytes) => match std::str::from_utf8(bytes.get(place).unwrap_or(&[])) {
                Ok(text) => text,
                Err(_) => {
                    let shown = String::from_utf8_lossy(bytes.get(place).unwrap_or(&[]));
                    return Cell::Unreadable(
                        shown.trim().to_owned(),
                        format!("not in {}", self.encoding),
                    );
                }
            },
        };
        match text.trim() {
            "" => Cell::Blank,
            text if self.failed.contains(&place) => Cell::Unreadable(
                text.to_owned(),
                format!("the workbook has the error {text} here instead of a value"),
            ),
            text => Cell::Text(text),
        }
    }

    /// Every cell as text, trimmed; what is unreadable as it may be shown.
    #[must_use]
    pub fn all_as_text(&self) -> Vec<String> {
        (0..self.len())
            .map(|place| match self.get(place) {
                Cell::Blank => String::new(),
                Cell::Text(text) => text.to_owned(),
                Cell::Unreadable(shown, _) => shown,
            })
            .collect()
    }

    /// Every cell with the blanks around it, what is not in the encoding replaced.
    pub(super) fn as_they_stand(&self) -> Vec<String> {
        match &self.bytes {
            None => self.text.iter().map(str::to_owned).collect(),
            Some(bytes) => bytes
                .iter()
                .map(|cell| String::from_utf8_lossy(cell).into_owned())
                .collect(),
        }
    }

    /// How many bytes all cells have together.
    pub(super) fn bytes(&self) -> usize {
        let record = self.bytes.as_ref().unwrap_or(self.text.as_byte_record());
        record.iter().map(<[u8]>::len).sum()
    }

    /// Takes the cells off that say where a mended row was refused, and gives that. The others
    /// become again what they were.
    pub(super) fn without_origin(&mut self) -> Result<Option<Origin>, String> {
        let origin = mended::origin(&self.get(0), &self.get(1))?;
        let columns = mended::COLUMNS.len();
        match &self.bytes {
            None => {
                self.text = self
                    .text
                    .iter()
                    .skip(columns)
                    .map(mended::untamed)
                    .collect()
            }
            Some(bytes) => {
                let cells = bytes.iter().skip(columns).map(mended::untamed_bytes);
                self.bytes = Some(cells.collect());
            }
        }
        self.failed = (self.failed.iter())
            .filter_map(|place| place.checked_sub(columns))
            .collect();
        Ok(origin)
    }

    /// The whole row for a refusal.
    pub(super) fn joined(&self) -> String {
        self.all_as_text().join(",")
    }
}

//! Refused rows as they stood, on their way out to be mended and in again.
//!
//! In front of the cells of such a row stands where it was refused and why. A cell that a
//! spreadsheet would take for a formula has an apostrophe in front; one more is put in front
//! of a cell that begins with apostrophes and then what makes a formula, so that every cell
//! can be made again what it was.

use std::borrow::Cow;
use std::fs::File;
use std::io::{Read as _, Write};
use std::path::Path;

use super::Error;
use super::columns::SheetKind;
use super::table::{Cell, Next, ReadAs, Table, Wanted};

/// The columns in front of the others.
pub const COLUMNS: [&str; 3] = ["refused_in", "refused_line", "refused_because"];

/// The most bytes of a refused row that are kept.
pub const ROW_LIMIT: usize = 65_536;

/// A row refused whole, as it stands in the sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RefusedRow {
    /// Line on which it begins.
    pub line: u64,
    /// Its cells; `None` where they have more than [`ROW_LIMIT`] bytes together, or where it is
    /// no row but the rest of the sheet.
    pub cells: Option<Vec<String>>,
}

/// Where a row was refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Origin {
    /// The batch.
    pub batch: i64,
    /// Place of its sheet in the batch, counting from 0.
    pub place: usize,
    /// What the sheet held.
    pub kind: SheetKind,
    /// Line on which the row began.
    pub line: u64,
}

/// Whether a header is one of refused rows.
#[must_use]
pub fn is_mended(names: &[String]) -> bool {
    names.len() > COLUMNS.len()
        && COLUMNS
            .iter()
            .zip(names)
            .all(|(column, name)| name.trim().eq_ignore_ascii_case(column))
}

/// What the first column of a refused row says, such as `batch 3, draws sheet 2`.
#[must_use]
pub fn refused_in(batch: i64, kind: SheetKind, place: usize) -> String {
    format!("batch {batch}, {} sheet {}", kind.as_str(), place + 1)
}

/// How much of a file is looked at before it is opened as a table.
const HEAD: u64 = 1 << 16;

/// Where the first row of a file was refused, if it is a file of refused rows.
///
/// # Errors
/// A file that looks like one and can't be read.
pub fn peek(path: &Path) -> Result<Option<Origin>, Error> {
    if !may_be_mended(path) {
        return Ok(None);
    }
    let mut table = Table::open(path, &ReadAs::default(), &Wanted::new(COLUMNS))?;
    while table.mends() {
        match table.next_row()? {
            Next::Row if table.origin().is_some() => return Ok(table.origin()),
            Next::Row | Next::Refused(_) => {}
            Next::End => break,
        }
    }
    Ok(None)
}

/// Whether a file names the first column near its beginning, or is a workbook, in which names
/// can't be seen from outside. What can't be read is left to be told when it is opened.
fn may_be_mended(path: &Path) -> bool {
    let mut head = Vec::new();
    let is_file = std::fs::metadata(path).is_ok_and(|found| found.is_file());
    let read = is_file
        .then(|| File::open(path))
        .map(|file| file.and_then(|file| file.take(HEAD).read_to_end(&mut head)));
    if !matches!(read, Some(Ok(_))) {
        return false;
    }
    let is_workbook = head.starts_with(b"PK") || head.starts_with(&[0xd0, 0xcf, 0x11, 0xe0]);
    // In UTF-16 every other byte of these letters is 0.
    head.retain(|byte| *byte != 0);
    let name = COLUMNS[0].as_bytes();
    is_workbook
        || head
            .windows(name.len())
            .any(|part| part.eq_ignore_ascii_case(name))
}

/// Where a row was refused, by its first two cells; `None` where both are blank: a row that
/// was added by hand.
pub(super) fn origin(refused_in: &Cell<'_>, line: &Cell<'_>) -> Result<Option<Origin>, String> {
    if matches!((refused_in, line), (Cell::Blank, Cell::Blank)) {
        return Ok(None);
    }
    let text = |cell: &Cell<'_>| match cell {
        Cell::Text(text) => (*text).to_owned(),
        Cell::Blank | Cell::Unreadable(..) => String::new(),
    };
    read_origin(&text(refused_in), &text(line)).map(Some).ok_or_else(|| {
        format!(
            "{} and {} do not say where this row was refused; leave these two as the ledger wrote them, or both blank; the row is refused",
            COLUMNS[0], COLUMNS[1]
        )
    })
}

fn read_origin(refused_in: &str, line: &str) -> Option<Origin> {
    let mut words = refused_in.split([' ', ',']).filter(|word| !word.is_empty());
    if words.next()? != "batch" {
        return None;
    }
    let batch = words.next()?.parse().ok()?;
    let kind = SheetKind::parse(words.next()?)?;
    if words.next()? != "sheet" {
        return None;
    }
    let place: usize = words.next()?.parse().ok()?;
    Some(Origin {
        batch,
        kind,
        place: place.checked_sub(1)?,
        line: line.parse().ok()?,
    })
}

/// The text with an apostrophe in front where a spreadsheet would take it for a formula, or
/// where it looks like such a text.
#[must_use]
pub fn tamed(text: &str) -> Cow<'_, str> {
    if is_formula(text.trim_start_matches('\'')) {
        Cow::Owned(format!("'{text}"))
    } else {
        Cow::Borrowed(text)
    }
}

/// What was [`tamed`], as it was.
#[must_use]
pub fn untamed(text: &str) -> &str {
    match text.strip_prefix('\'') {
        Some(rest) if is_formula(rest.trim_start_matches('\'')) => rest,
        _ => text,
    }
}

/// As [`untamed`], of bytes that may be no text.
pub(super) fn untamed_bytes(bytes: &[u8]) -> &[u8] {
    let behind = bytes.iter().find(|byte| **byte != b'\'');
    match bytes {
        [b'\'', rest @ ..] if behind.is_some_and(|byte| STARTS.contains(&char::from(*byte))) => {
            rest
        }
        _ => bytes,
    }
}

/// What a formula begins with.
const STARTS: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

fn is_formula(text: &str) -> bool {
    text.starts_with(STARTS)
}

/// Writes refused rows of one header.
pub struct Writer<W: Write> {
    writer: csv::Writer<W>,
    width: usize,
}

impl<W: Write> Writer<W> {
    /// Begins with the header.
    ///
    /// # Errors
    /// What the writer returns.
    pub fn new(inner: W, header: &[String]) -> std::io::Result<Self> {
        let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(inner);
        let names = header.iter().map(|name| tamed(name));
        let columns = COLUMNS.into_iter().map(Cow::Borrowed);
        let record: Vec<Cow<'_, str>> = columns.chain(names).collect();
        writer.write_record(record.iter().map(|cell| cell.as_bytes()))?;
        Ok(Writer {
            writer,
            width: header.len(),
        })
    }

    /// Adds a row. Where it has more cells than the header, its last ones stand behind.
    ///
    /// # Errors
    /// What the writer returns.
    pub fn add(&mut self, origin: Origin, because: &str, cells: &[String]) -> std::io::Result<()> {
        let from = refused_in(origin.batch, origin.kind, origin.place);
        let line = origin.line.to_string();
        let front = [Cow::Owned(from), Cow::Owned(line), tamed(because)];
        for cell in front {
            self.writer.write_field(cell.as_bytes())?;
        }
        for cell in cells {
            self.writer.write_field(tamed(cell).as_bytes())?;
        }
        for _ in cells.len()..self.width {
            self.writer.write_field(b"")?;
        }
        // RFC 4180 wants rows of equal length; a row too long is what is to be mended.
        self.writer.write_record(None::<&[u8]>)?;
        Ok(())
    }

    /// Writes out what is buffered and gives the inner writer back.
    ///
    /// # Errors
    /// What the writer returns.
    pub fn finish(self) -> std::io::Result<W> {
        self.writer
            .into_inner()
            .map_err(csv::IntoInnerError::into_error)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn where_a_row_was_refused_can_be_read_again() {
        let written = refused_in(12, SheetKind::Draws, 0);
        assert_eq!(written, "batch 12, draws sheet 1");
        assert_eq!(
            read_origin(&written, "7"),
            Some(Origin {
                batch: 12,
                kind: SheetKind::Draws,
                place: 0,
                line: 7
            })
        );
        for (text, line) in [
            ("", ""),
            ("batch 12", "7"),
            ("batch 12, draws sheet 0", "7"),
            ("batch x, draws sheet 1", "7"),
            ("batch 12, dreams sheet 1", "7"),
            ("batch 12, draws sheet 1", "seven"),
        ] {
            assert_eq!(read_origin(text, line), None, "{text}");
        }
    }

    proptest! {
        #[test]
        fn a_tamed_text_is_no_formula_and_can_be_made_what_it_was(text in "['=@+\\-\t\ra5]{0,6}") {
            let tamed = tamed(&text);
            prop_assert!(!is_formula(&tamed));
            prop_assert_eq!(untamed(&tamed), text.as_str());
            prop_assert_eq!(untamed_bytes(tamed.as_bytes()), text.as_bytes());
        }
    }
}

//! The rows of a text table.

use std::path::Path;

use super::bytes::{Bytes, Stream};
use super::cells::Cells;
use super::dialect::{self, Dialect, Sample};
use super::encoding::{self, Decoded, Written};
use super::header::{self, Wanted};
use super::how::{Format, How};
use super::read_as::{Quote, ReadAs};
use super::source::{Source, line_ends, open_quote};
use super::{Begun, Next, unreadable};
use crate::intake::{Digest, Error, Refusal};

/// How much of a text is looked at before it is read.
const SAMPLE: usize = 1 << 18;
/// How much is read at a time.
const BUFFER: usize = 1 << 18;

/// Rows of a text table, one after the other.
pub(super) struct TextRows {
    bytes: Bytes,
    reader: csv::Reader<Source<Stream>>,
    dialect: Dialect,
    /// Line on which the row last read begins, and where in the text that is.
    pub(super) line: u64,
    start: u64,
    ended: bool,
}

impl TextRows {
    /// Finds out how the text is to be read, and reads up to its header.
    pub(super) fn open(
        path: &Path,
        bytes: Bytes,
        read_as: &ReadAs,
        wanted: &Wanted,
    ) -> Result<Begun<TextRows>, Error> {
        let failed = |error| unreadable(path, error);
        let stream = || bytes.stream().map_err(failed);
        let written = match read_as.encoding {
            Some(encoding) => Written {
                encoding,
                guessed: false,
            },
            None => encoding::find(stream()?).map_err(failed)?,
        };
        let decoded = |stream: Stream| -> Stream {
            if written.encoding == encoding_rs::UTF_8 {
                stream
            } else {
                Box::new(Decoded::new(stream, written.encoding))
            }
        };
        let mut head = vec![0; SAMPLE];
        let filled = encoding::fill(&mut decoded(stream()?), &mut head).map_err(failed)?;
        let sample = Sample {
            text: &head[..filled],
            whole: filled < SAMPLE,
        };
        let dialect = dialect::find(&sample, read_as, wanted);
        let place = header::find(&dialect::rows(&sample, dialect), wanted, true);

        let digested = bytes.digested_stream().map_err(failed)?;
        let source = Source::new(decoded(digested));
        let reader = dialect.reader().buffer_capacity(BUFFER).from_reader(source);
        let mut how = How {
            format: Format::Text,
            compressed: bytes.is_packed(),
            encoding: Some(written.encoding.name()),
            encoding_guessed: written.guessed,
            delimiter: Some(char::from(dialect.delimiter)),
            header_row: 0,
            ..How::plain()
        };
        how.set_quote(dialect.quote);
        let rows = TextRows {
            bytes,
            reader,
            dialect,
            line: 1,
            start: 0,
            ended: false,
        };
        let mut begun = Begun {
            rows,
            cells: Cells::in_encoding(written.encoding.name()),
            names: Vec::new(),
            how,
            refusal: None,
        };
        let (skipped, rows) = place.map_or((0, 1), |place| (place.first, place.rows));
        match read_as.header_row {
            Some(row) => begun.read_header(path, &|line, _| line >= row, 1)?,
            None => begun.read_header(path, &|_, passed| passed >= skipped, rows)?,
        }
        Ok(begun)
    }

    /// How many bytes of the file were read.
    pub(super) fn bytes_read(&self) -> u64 {
        self.bytes.read()
    }

    /// Size and SHA-256 of the file.
    pub(super) fn digest(&self) -> std::io::Result<Digest> {
        self.bytes.digest()
    }

    /// Reads the next row that is not empty.
    pub(super) fn next(
        &mut self,
        path: &Path,
        cells: &mut Cells,
        names: &[String],
    ) -> Result<Next, Error> {
        while !self.ended {
            let before = self.reader.position().byte();
            let mut record = cells.take();
            let more = self.reader.read_byte_record(&mut record);
            cells.put(record);
            if !more.map_err(|error| unreadable(path, io_error(error)))? {
                break;
            }
            self.find_line(before);
            let end = self.reader.position().byte();
            if self.reader.get_ref().ends_at(end)
                && let Some(refusal) = self.cut_short(names)
            {
                self.ended = true;
                return Ok(Next::Refused(refusal));
            }
            if cells.is_empty_line() {
                continue;
            }
            return Ok(Next::Row);
        }
        if !self.ended
            && let Some(reason) = self.bytes.broken()
        {
            self.ended = true;
            let line = self.line + line_ends(self.reader.get_ref().from(self.start));
            return Ok(Next::Refused(rest_refused(line, &reason)));
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

    /// Why the last row can't be trusted to be whole, if so.
    fn cut_short(&self, names: &[String]) -> Option<Refusal> {
        let source = self.reader.get_ref();
        if let Some(refusal) = self.open_quote(names) {
            return Some(refusal);
        }
        if source.cut {
            let reason = "this row is longer than 64 MB";
            return Some(rest_refused(self.line, reason));
        }
        let reason = self.bytes.broken()?;
        let raw = source.from(self.start);
        let is_whole = raw.ends_with(b"\n") || raw.ends_with(b"\r");
        (!is_whole).then(|| rest_refused(self.line, &reason))
    }

    fn open_quote(&self, names: &[String]) -> Option<Refusal> {
        let Quote::Mark(quote) = self.dialect.quote else {
            return None;
        };
        let raw = self.reader.get_ref().from(self.start);
        // A byte order mark stands in front of the first field.
        let mark = if self.start == 0 && raw.starts_with(BYTE_ORDER_MARK) {
            BYTE_ORDER_MARK.len()
        } else {
            0
        };
        let (place, field) = open_quote(&raw[mark..], self.dialect.delimiter, quote)?;
        let column = names.get(field).map_or("", String::as_str);
        let line = self.line + line_ends(&raw[..mark + place]);
        let rest = &raw[mark + place..];
        let shown = String::from_utf8_lossy(&rest[..rest.len().min(4096)]);
        Some(Refusal::whole(
            line,
            column,
            &shown,
            "the quote that begins on this line is never closed; everything from here on is refused",
        ))
    }
}

impl Begun<TextRows> {
    /// Reads up to the first row that `is_header` of its line and of how many rows were passed,
    /// and takes it, or it and the next one, as the header.
    fn read_header(
        &mut self,
        path: &Path,
        is_header: &dyn Fn(u64, usize) -> bool,
        rows: usize,
    ) -> Result<(), Error> {
        let mut passed = 0;
        if self.rows.dialect.has_sep_line {
            self.rows.next(path, &mut self.cells, &[])?;
        }
        loop {
            match self.rows.next(path, &mut self.cells, &[])? {
                Next::End => return Ok(()),
                Next::Refused(refusal) => {
                    self.refusal = Some(refusal);
                    return Ok(());
                }
                Next::Row => {}
            }
            if is_header(self.rows.line, passed) {
                break;
            }
            passed += 1;
            self.how.before.push((self.rows.line, self.cells.joined()));
        }
        self.how.header_row = self.rows.line;
        self.names = self.cells.all_as_text();
        if rows == 2 {
            match self.rows.next(path, &mut self.cells, &[])? {
                Next::Row => {
                    self.names = header::joined(&self.names, &self.cells.all_as_text(), true);
                    self.how.header_rows = 2;
                }
                Next::Refused(refusal) => self.refusal = Some(refusal),
                Next::End => {}
            }
        }
        Ok(())
    }
}

const BYTE_ORDER_MARK: &[u8] = b"\xef\xbb\xbf";

fn rest_refused(line: u64, reason: &str) -> Refusal {
    let reason = format!("{reason}; everything from here on is refused");
    Refusal::whole(line, "", "", reason)
}

fn io_error(error: csv::Error) -> std::io::Error {
    match error.into_kind() {
        csv::ErrorKind::Io(source) => source,
        other => std::io::Error::other(format!("{other:?}")),
    }
}

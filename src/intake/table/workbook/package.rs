//! The ZIP package of a workbook, looked through before anything of it is read: what it is,
//! whether it unpacks to more than a computer can hold, how many rows are hidden.

use std::fs::File;
use std::io::{BufReader, Read};

use zip::ZipArchive;

use super::super::how::Format;

/// A part may unpack to a hundred times its size, as the guard of a well-known library for
/// such files allows (Apache POI, `ZipSecureFile`: ratio 0.01); sheets of real life stay below.
const MOST_TIMES: u64 = 100;
/// Parts that unpack to less than this are harmless.
const HARMLESS: u64 = 64 << 20;
/// The most a part may unpack to.
const MOST: u64 = 4 << 30;
/// The most that packing can save (deflate).
const DEFLATE: u64 = 1032;

/// What was found in a package.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Package {
    pub(super) format: Format,
    /// Rows that the spreadsheet hides, in all sheets.
    pub(super) hidden_rows: u64,
}

/// Why a package can't be read.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Fault {
    Damaged(String),
    TooLarge(String),
    NoWorkbook,
}

/// Looks a package through.
pub(super) fn look_through(file: File) -> Result<Package, Fault> {
    let damaged = |error: &dyn std::fmt::Display| Fault::Damaged(error.to_string());
    let mut archive = ZipArchive::new(BufReader::new(file)).map_err(|error| damaged(&error))?;
    let format = format_of(&archive).ok_or(Fault::NoWorkbook)?;
    let mut hidden_rows = 0;
    for place in 0..archive.len() {
        // What has a password is told by the reader of workbooks.
        let Ok(mut part) = archive.by_index(place) else {
            continue;
        };
        let name = part
            .name()
            .map(std::borrow::Cow::into_owned)
            .unwrap_or_default();
        let packed = part.compressed_size();
        let too_large = |size| {
            Fault::TooLarge(format!(
                "its part {name} of {packed} bytes unpacks to {size} bytes or more"
            ))
        };
        let most = packed.saturating_mul(MOST_TIMES).clamp(HARMLESS, MOST);
        if part.size() > most {
            return Err(too_large(part.size()));
        }
        let rows = Rows::of(&name, format);
        if rows.is_none() && packed.saturating_mul(DEFLATE) < HARMLESS {
            continue;
        }
        // The size that a package states may be wrong: only unpacking tells.
        let (mut buffer, mut carried, mut size) = (vec![0; 1 << 16], 0, 0_u64);
        loop {
            let count = match part.read(&mut buffer[carried..]) {
                Ok(0) => break,
                Ok(count) => count,
                Err(error) if error.kind() == std::io::ErrorKind::Interrupted => continue,
                // The reader of workbooks takes what stands before the damage.
                Err(_) => break,
            };
            size += count as u64;
            if size > most {
                return Err(too_large(size));
            }
            let filled = carried + count;
            let Some(rows) = &rows else { continue };
            let (hidden, rest) = rows.hidden(&buffer[..filled]);
            hidden_rows += hidden;
            carried = filled - rest;
            if carried == buffer.len() {
                // No element of a row is as long.
                carried = 0;
            } else {
                buffer.copy_within(rest..filled, 0);
            }
        }
    }
    Ok(Package {
        format,
        hidden_rows,
    })
}

fn format_of(archive: &ZipArchive<BufReader<File>>) -> Option<Format> {
    let has = |wanted: &str| archive.index_for_name(wanted).is_some();
    if has("xl/workbook.bin") {
        Some(Format::Xlsb)
    } else if has("content.xml") && has("mimetype") {
        Some(Format::Ods)
    } else if has("[Content_Types].xml")
        && !has("word/document.xml")
        && !has("ppt/presentation.xml")
    {
        Some(Format::Xlsx)
    } else {
        None
    }
}

/// How rows are written in a part.
struct Rows {
    element: &'static [u8],
    hidden: &'static [&'static [u8]],
}

impl Rows {
    fn of(name: &str, format: Format) -> Option<Rows> {
        match format {
            Format::Xlsx if name.contains("worksheets/") && name.ends_with(".xml") => Some(Rows {
                element: b"<row ",
                hidden: &[b" hidden=\"1\"", b" hidden=\"true\""],
            }),
            Format::Ods if name == "content.xml" => Some(Rows {
                element: b"<table:table-row ",
                hidden: &[b"visibility=\"collapse\"", b"visibility=\"filter\""],
            }),
            _ => None,
        }
    }

    /// How many hidden rows begin in these bytes, and from where on they must be seen again
    /// together with what follows.
    fn hidden(&self, bytes: &[u8]) -> (u64, usize) {
        let (mut count, mut from) = (0, 0);
        while let Some(start) = position(&bytes[from..], self.element).map(|at| from + at) {
            let Some(end) = bytes[start..].iter().position(|byte| *byte == b'>') else {
                return (count, start);
            };
            let element = &bytes[start..start + end];
            let is_hidden = self
                .hidden
                .iter()
                .any(|mark| position(element, mark).is_some());
            count += u64::from(is_hidden);
            from = start + end;
        }
        (
            count,
            from.max(bytes.len().saturating_sub(self.element.len())),
        )
    }
}

fn position(bytes: &[u8], wanted: &[u8]) -> Option<usize> {
    let first = *wanted.first()?;
    let mut from = 0;
    while let Some(at) = bytes[from..].iter().position(|byte| *byte == first) {
        if bytes[from + at..].starts_with(wanted) {
            return Some(from + at);
        }
        from += at + 1;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hidden_rows_are_counted_across_pieces() {
        let text =
            b"<row r=\"1\" hidden=\"1\"><c/></row><row r=\"2\"/><row hidden=\"true\" r=\"3\">";
        let rows = Rows {
            element: b"<row ",
            hidden: &[b" hidden=\"1\"", b" hidden=\"true\""],
        };
        assert_eq!(rows.hidden(text).0, 2);
        for cut in 0..text.len() {
            let (first, rest) = rows.hidden(&text[..cut]);
            assert_eq!(first + rows.hidden(&text[rest..]).0, 2, "{cut}");
        }
    }
}

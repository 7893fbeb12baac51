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
    /// What its sheets hold, all together.
    pub(super) held: Held,
}

/// What is counted in the sheets of a package.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Held {
    /// Rows that the spreadsheet hides.
    pub(super) hidden_rows: u64,
    /// Formulas whose result was never stored.
    pub(super) without_result: u64,
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
    let mut held = Held::default();
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
            let rest = rows.count(&buffer[..filled], &mut held);
            carried = filled - rest;
            if carried == buffer.len() {
                // No element of a row is as long.
                carried = 0;
            } else {
                buffer.copy_within(rest..filled, 0);
            }
        }
    }
    Ok(Package { format, held })
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

    /// Counts what these bytes hold, and gives the place from which on they must be seen again
    /// together with what follows.
    fn count(&self, bytes: &[u8], held: &mut Held) -> usize {
        let mut from = 0;
        while let Some(start) = bytes[from..].iter().position(|byte| *byte == b'<') {
            let start = from + start;
            let tag = &bytes[start..];
            let longest = self.element.len().max(FORMULA.len() + NO_RESULT[2].len());
            if tag.len() < longest {
                return start;
            }
            if tag.starts_with(self.element) {
                let Some(end) = tag.iter().position(|byte| *byte == b'>') else {
                    return start;
                };
                let has = |mark: &&[u8]| tag[..end].windows(mark.len()).any(|part| part == *mark);
                held.hidden_rows += u64::from(self.hidden.iter().any(has));
            } else if let Some(behind) = tag.strip_prefix(FORMULA) {
                let is_blank = NO_RESULT.iter().any(|ending| behind.starts_with(ending));
                held.without_result += u64::from(is_blank);
            }
            from = start + 1;
        }
        bytes.len()
    }
}

/// The end of a formula in XLSX, and what follows where its result was never stored.
const FORMULA: &[u8] = b"</f>";
const NO_RESULT: [&[u8]; 4] = [b"</c>", b"<v/>", b"<v></v>", b"<v />"];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_and_formulas_are_counted_across_pieces() {
        let text = b"<row r=\"1\" hidden=\"1\"><c><f>A1</f><v></v></c></row><row r=\"2\"/>\
            <row hidden=\"true\" r=\"3\"><c><f>A1</f><v>3</v></c><c><f>A2</f></c></row></sheetData>";
        let rows = Rows {
            element: b"<row ",
            hidden: &[b" hidden=\"1\"", b" hidden=\"true\""],
        };
        for cut in 0..text.len() {
            let mut held = Held::default();
            let rest = rows.count(&text[..cut], &mut held);
            rows.count(&text[rest..], &mut held);
            assert_eq!((held.hidden_rows, held.without_result), (2, 2), "{cut}");
        }
    }
}

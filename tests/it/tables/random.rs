//! Any texts, any bytes.

use std::io::{Cursor, Read as _, Write as _};
use std::path::PathBuf;

use encoding_rs::Encoding;
use fairdraw::intake::table::{Quote, ReadAs, Table, sheet_names};
use proptest::prelude::*;
use tempfile::TempDir;

use super::{Read, wanted};
use crate::support;

/// How a table is written.
#[derive(Clone, Copy, Debug)]
enum Bytes {
    Utf8,
    Utf8Marked,
    Utf16Little,
    Utf16Big,
    Utf16Unmarked,
    Windows,
}

impl Bytes {
    const ALL: [Bytes; 6] = [
        Bytes::Utf8,
        Bytes::Utf8Marked,
        Bytes::Utf16Little,
        Bytes::Utf16Big,
        Bytes::Utf16Unmarked,
        Bytes::Windows,
    ];

    fn of(self, text: &str) -> Vec<u8> {
        let marked = format!("\u{feff}{text}");
        let little = |text: &str| text.encode_utf16().flat_map(u16::to_le_bytes).collect();
        match self {
            Bytes::Utf8 => text.as_bytes().to_vec(),
            Bytes::Utf8Marked => marked.into_bytes(),
            Bytes::Utf16Little => little(&marked),
            Bytes::Utf16Big => marked.encode_utf16().flat_map(u16::to_be_bytes).collect(),
            Bytes::Utf16Unmarked => little(text),
            Bytes::Windows => encoding_rs::WINDOWS_1252.encode(text).0.into_owned(),
        }
    }

    /// What must be said, because the bytes do not tell it for sure.
    fn said(self) -> Option<&'static Encoding> {
        match self {
            Bytes::Utf16Unmarked => Some(encoding_rs::UTF_16LE),
            Bytes::Windows => Some(encoding_rs::WINDOWS_1252),
            _ => None,
        }
    }
}

/// Texts with what separates, quotes and ends more often than letters do.
fn cell() -> impl Strategy<Value = String> {
    prop_oneof![
        Just(String::new()),
        "[,;\t|\"'\r\n =a-z0-9]{0,10}",
        "[äöüßéèñ€°µ,;\"']{0,8}",
        "\\PC{0,10}",
    ]
}

fn written(bytes: &[u8]) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("draws.csv");
    std::fs::write(&path, bytes).unwrap();
    (folder, path)
}

/// What a cell becomes: trimmed of white space.
fn trimmed(rows: &[Vec<String>]) -> Vec<Vec<String>> {
    let trim = |row: &Vec<String>| row.iter().map(|cell| cell.trim().to_owned()).collect();
    rows.iter().map(trim).collect()
}

const NAMES: [&str; 4] = ["draw_id", "point_id", "drawn_at", "remarks"];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Whatever stands in the cells, what was written is read.
    #[test]
    fn a_table_written_in_any_dialect_and_encoding_is_read_back(
        rows in prop::collection::vec(prop::collection::vec(cell(), 4), 0..12),
        delimiter in prop::sample::select(&b",;\t|"[..]),
        single in any::<bool>(),
        always in any::<bool>(),
        windows_lines in any::<bool>(),
        encoding in prop::sample::select(&Bytes::ALL[..]),
    ) {
        let quote = if single { b'\'' } else { b'"' };
        let rows: Vec<Vec<String>> = if matches!(encoding, Bytes::Windows) {
            let kept = |cell: &String| -> String {
                cell.chars().filter(|letter| !encoding_rs::WINDOWS_1252.encode(&letter.to_string()).2).collect()
            };
            rows.iter().map(|row| row.iter().map(kept).collect()).collect()
        } else {
            rows
        };
        let mut writer = csv::WriterBuilder::new()
            .delimiter(delimiter)
            .quote(quote)
            .quote_style(if always { csv::QuoteStyle::Always } else { csv::QuoteStyle::Necessary })
            .terminator(if windows_lines { csv::Terminator::CRLF } else { csv::Terminator::Any(b'\n') })
            .from_writer(Vec::new());
        writer.write_record(NAMES).unwrap();
        for row in &rows {
            writer.write_record(row).unwrap();
        }
        let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
        let (_folder, path) = written(&encoding.of(&text));
        // Single quotes around some fields only can't be told from apostrophes.
        let read_as = ReadAs {
            encoding: encoding.said(),
            quote: (single && !always).then_some(Quote::Mark(quote)),
            ..ReadAs::default()
        };
        let read = Read::file(&path, &read_as);
        prop_assert_eq!(read.table.how().delimiter, Some(char::from(delimiter)));
        prop_assert_eq!(read.table.names(), NAMES);
        prop_assert_eq!(read.texts(), trimmed(&rows));
        prop_assert!(read.refusals.is_empty());
    }

    /// Whatever the bytes, nothing panics, and what is read ends.
    #[test]
    fn any_bytes_are_opened_or_refused(
        start in prop::sample::select(vec![
            &b""[..], b"\x1f\x8b\x08", b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", b"\xff\xfe", b"\xfe\xff",
            b"\xef\xbb\xbf", b"sep=;\n", b"draw_id;point_id\n",
        ]),
        bytes in prop::collection::vec(any::<u8>(), 0..600),
        texts in any::<bool>(),
        header_row in prop::option::of(1_u64..20),
    ) {
        let bytes: Vec<u8> = bytes.iter().map(|byte| match (texts, byte % 11) {
            (true, 0) => b'"',
            (true, 1) => b';',
            (true, 2) => b'\n',
            (true, 3) => b'\r',
            (true, 4) => b'\'',
            (true, 5) => b',',
            _ => *byte,
        }).collect();
        let (_folder, path) = written(&[start, &bytes].concat());
        let read_as = ReadAs { header_row, ..ReadAs::default() };
        if let Ok(table) = Table::open(&path, &read_as, &wanted()) {
            let how = table.how().told();
            prop_assert!(how.len() < 8);
            Read::table(table);
        }
    }

    /// Whatever byte of a workbook is wrong, of the file or of a part in it, it is opened or
    /// refused, and reading it ends.
    #[test]
    fn a_workbook_with_wrong_bytes_is_opened_or_refused(
        name in prop::sample::select(&["xlwt.xls", "office.xls", "pandas.xlsx", "office.ods", "openpyxl-grown.xlsx"][..]),
        part in any::<prop::sample::Index>(),
        inside in any::<bool>(),
        wrong in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..20),
    ) {
        let mut bytes = std::fs::read(support::fixture("sheets/others").join(name)).unwrap();
        let damage = |bytes: &mut Vec<u8>| {
            for (place, byte) in &wrong {
                if !bytes.is_empty() {
                    let place = place.index(bytes.len());
                    bytes[place] = *byte;
                }
            }
        };
        if inside && !name.ends_with(".xls") {
            bytes = with_part(&bytes, part, damage);
        } else {
            damage(&mut bytes);
        }
        let (_folder, path) = written(&bytes);
        let listed = sheet_names(&path);
        if let Ok(table) = Table::open(&path, &ReadAs::default(), &wanted()) {
            prop_assert!(listed.is_ok());
            Read::table(table);
        }
    }
}

/// A package in which one part is changed.
fn with_part(package: &[u8], part: prop::sample::Index, change: impl Fn(&mut Vec<u8>)) -> Vec<u8> {
    let mut archive = zip::ZipArchive::new(Cursor::new(package)).unwrap();
    let changed = part.index(archive.len());
    let mut writer = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for place in 0..archive.len() {
        let mut part = archive.by_index(place).unwrap();
        let name = part.name().unwrap().into_owned();
        let mut content = Vec::new();
        part.read_to_end(&mut content).unwrap();
        if place == changed {
            change(&mut content);
        }
        writer
            .start_file(name, zip::write::SimpleFileOptions::default())
            .unwrap();
        writer.write_all(&content).unwrap();
    }
    writer.finish().unwrap().into_inner()
}

//! Files that are damaged, locked, cut off, or made to fill the memory: each says so, and what
//! stands before the damage is read.

use std::fs::File;
use std::io::Write;
use std::path::{Path, PathBuf};

use fairdraw::intake::table::{ReadAs, Table, Wanted};
use flate2::Compression;
use flate2::write::GzEncoder;
use tempfile::TempDir;

use super::{Read, wanted};
use crate::support;

fn fixture(name: &str) -> PathBuf {
    support::fixture("sheets/others").join(name)
}

fn error(path: &Path) -> String {
    let opened = Table::open(path, &ReadAs::default(), &wanted());
    let error = opened.err().map(|error| error.to_string());
    let folder = path.parent().unwrap().to_str().unwrap();
    error
        .unwrap_or_else(|| "opened".to_owned())
        .replace(folder, "[folder]")
}

fn written(folder: &TempDir, name: &str, bytes: &[u8]) -> PathBuf {
    let path = folder.path().join(name);
    std::fs::write(&path, bytes).unwrap();
    path
}

fn packed(text: &[u8]) -> Vec<u8> {
    let mut encoder = GzEncoder::new(Vec::new(), Compression::default());
    encoder.write_all(text).unwrap();
    encoder.finish().unwrap()
}

/// Draws whose packed form is long enough to be cut in its middle.
fn draws(rows: usize) -> String {
    let mut text = "draw_id,point_id,technician_id,drawn_at,remarks\n".to_owned();
    for row in 0..rows {
        // Digits that do not repeat, so that packing does not shrink them to nothing.
        let noise = row.wrapping_mul(2_654_435_761) % 1_000_003;
        text.push_str(&format!("D-{row},P-1,T-1,2026-03-04 09:30,{noise}\n"));
    }
    text
}

#[test]
fn a_locked_or_damaged_workbook_says_what_to_do() {
    let folder = tempfile::tempdir().unwrap();
    let mut said = Vec::new();
    for name in ["locked.xlsx", "locked.xls", "locked.ods"] {
        said.push(error(&fixture(name)));
    }
    for name in ["office.xlsx", "office.xls", "office.ods"] {
        let whole = std::fs::read(fixture(name)).unwrap();
        said.push(error(&written(&folder, name, &whole[..whole.len() / 2])));
    }
    let mut archive = zip::ZipWriter::new(File::create(folder.path().join("letters.zip")).unwrap());
    archive
        .start_file("letter.txt", zip::write::SimpleFileOptions::default())
        .unwrap();
    archive.write_all(b"dear").unwrap();
    archive.finish().unwrap();
    said.push(error(&folder.path().join("letters.zip")));
    support::assert_snapshot("errors", "workbooks", &said.join("\n"));
}

#[test]
fn a_workbook_that_unpacks_to_more_than_any_sheet_is_not_read() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bomb.xlsx");
    let mut source = zip::ZipArchive::new(File::open(fixture("pandas.xlsx")).unwrap()).unwrap();
    let mut archive = zip::ZipWriter::new(File::create(&path).unwrap());
    for place in 0..source.len() {
        let part = source.by_index_raw(place).unwrap();
        if part.name().unwrap() != "xl/worksheets/sheet1.xml" {
            archive.raw_copy_file(part).unwrap();
        }
    }
    archive
        .start_file(
            "xl/worksheets/sheet1.xml",
            zip::write::SimpleFileOptions::default(),
        )
        .unwrap();
    for _ in 0..100 {
        archive.write_all(&vec![b' '; 1 << 20]).unwrap();
    }
    archive.finish().unwrap();
    let said = error(&path);
    assert!(
        said.contains("its part xl/worksheets/sheet1.xml of"),
        "{said}"
    );
    assert!(
        said.contains("unpacks to 104857600 bytes or more"),
        "{said}"
    );
}

/// Damage anywhere in a workbook is an error or a refusal, never a panic, and never in silence
/// fewer rows.
#[test]
fn a_workbook_damaged_anywhere_loses_no_row_in_silence() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["pandas.xlsx", "xlwt.xls", "office.ods"] {
        let whole = std::fs::read(fixture(name)).unwrap();
        for step in 1..40 {
            let cut = whole.len() * step / 40;
            let path = written(&folder, name, &whole[..cut]);
            if let Ok(table) = Table::open(&path, &ReadAs::default(), &wanted()) {
                let read = Read::table(table);
                assert!(
                    read.rows.len() == 5 || !read.refusals.is_empty(),
                    "{name} {cut}"
                );
            }
        }
    }
}

#[test]
fn of_a_packed_file_that_is_cut_off_the_rest_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let text = draws(4000);
    let whole = packed(text.as_bytes());
    let lines: Vec<&str> = text.lines().collect();
    for cut in [whole.len() / 2, whole.len() - 4, whole.len() - 9] {
        let read = Read::file(
            &written(&folder, "draws.csv.gz", &whole[..cut]),
            &ReadAs::default(),
        );
        assert_eq!(read.refusals.len(), 1, "{cut}");
        let refusal = &read.refusals[0];
        assert_eq!(
            refusal.reason,
            "the gzip file is cut off here; everything from here on is refused"
        );
        // Every row before the refused one was read, and is whole.
        let last = read.rows.last().unwrap();
        assert_eq!(
            last.1.join(","),
            lines[usize::try_from(last.0).unwrap() - 1]
        );
        assert_eq!(refusal.line, last.0 + 1, "{cut}");
    }
    let mut wrong = whole.clone();
    let at = whole.len() - 6;
    wrong[at] ^= 1;
    let read = Read::file(
        &written(&folder, "draws.csv.gz", &wrong),
        &ReadAs::default(),
    );
    assert_eq!((read.rows.len(), read.refusals.len()), (4000, 1));
    assert!(
        read.refusals[0]
            .reason
            .starts_with("the gzip file is damaged here"),
        "{:?}",
        read.refusals
    );

    // Several packed files one behind the other are one, as gzip itself has it.
    let (first, rest) = text.split_at(text.len() / 2);
    let both = [packed(first.as_bytes()), packed(rest.as_bytes())].concat();
    let read = Read::file(&written(&folder, "draws.csv.gz", &both), &ReadAs::default());
    assert_eq!((read.rows.len(), read.refusals.len()), (4000, 0));
}

#[test]
fn a_quote_that_is_never_closed_is_found_in_every_dialect() {
    let folder = tempfile::tempdir().unwrap();
    for (delimiter, quote) in [(',', '"'), (';', '"'), ('\t', '"'), ('|', '\'')] {
        let text = "'draw_id',point_id,remarks\nD-1,P-1,'fine, yes'\nD-2,P-1,'open\nD-3,P-1,x\n"
            .replace(',', &delimiter.to_string())
            .replace('\'', &quote.to_string());
        let read = Read::file(
            &written(&folder, "draws.csv", text.as_bytes()),
            &ReadAs::default(),
        );
        assert_eq!(read.numbers(), [2], "{delimiter}");
        let refusal = &read.refusals[0];
        assert_eq!(
            (refusal.line, refusal.column.as_str()),
            (3, "remarks"),
            "{delimiter}"
        );
        assert!(
            refusal
                .reason
                .starts_with("the quote that begins on this line is never closed")
        );
    }
}

#[test]
fn a_row_that_would_fill_the_memory_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("draws.csv.gz");
    let mut encoder = GzEncoder::new(File::create(&path).unwrap(), Compression::fast());
    encoder
        .write_all(b"draw_id,point_id,remarks\nD-1,P-1,x\nD-2,P-1,")
        .unwrap();
    for _ in 0..70 {
        encoder.write_all(&vec![b'y'; 1 << 20]).unwrap();
    }
    encoder.write_all(b"\nD-3,P-1,z\n").unwrap();
    encoder.finish().unwrap();
    let read = Read::file(&path, &ReadAs::default());
    assert_eq!(read.numbers(), [2]);
    assert_eq!(read.refusals.len(), 1);
    assert_eq!(
        (read.refusals[0].line, read.refusals[0].reason.as_str()),
        (
            3,
            "this row is longer than 64 MB; everything from here on is refused"
        )
    );
}

#[test]
fn what_is_no_text_in_its_encoding_is_refused_in_its_place() {
    let folder = tempfile::tempdir().unwrap();
    let mut bytes = vec![0xff, 0xfe];
    for unit in "draw_id\tpoint_id\r\nD-1\tP?\r\nD-2\tP-2\r\n".encode_utf16() {
        // A half of a pair that stands alone.
        let unit = if unit == u16::from(b'?') {
            0xd800
        } else {
            unit
        };
        bytes.extend(unit.to_le_bytes());
    }
    let path = written(&folder, "draws.txt", &bytes);
    let mut table = Table::open(&path, &ReadAs::default(), &wanted()).unwrap();
    let _ = table.next_row().unwrap();
    let cell = format!("{:?}", table.cells().get(1));
    assert_eq!(cell, "Unreadable(\"P\u{fffd}\", \"not in UTF-16LE\")");
    assert_eq!(Read::table(table).texts(), [["D-2", "P-2"]]);
}

#[test]
fn damaged_utf_8_is_not_taken_for_a_code_page_nor_a_code_page_for_damage() {
    let folder = tempfile::tempdir().unwrap();
    let encoding = |bytes: &[u8]| {
        let path = written(&folder, "t.csv", &[b"draw_id,remarks\n", bytes].concat());
        let table = Table::open(&path, &ReadAs::default(), &Wanted::default()).unwrap();
        (table.how().encoding.unwrap(), table.how().encoding_guessed)
    };
    assert_eq!(encoding(b"D,plain\n"), ("UTF-8", false));
    assert_eq!(encoding("D,Öl\n".as_bytes()), ("UTF-8", false));
    assert_eq!(encoding(b"D,\xff\n"), ("UTF-8", false));
    assert_eq!(encoding(b"D,a\xc3\n"), ("windows-1252", true));
    assert_eq!(encoding(b"D,\xd6l 60 \xb0C\n"), ("windows-1252", true));
    assert_eq!(
        encoding(
            "D,Öl\nE,Öl\nF,\u{d6}l caf?\n"
                .replace('?', "\u{e9}")
                .as_bytes()
        ),
        ("UTF-8", false)
    );
    let damaged = [b"D,\xc3\x96l\nE,\xc3\x96l caf\xe9\n".as_slice(), b"F,x\n"].concat();
    assert_eq!(encoding(&damaged), ("UTF-8", false));
    // Cyrillic letters by the hundred tell their code page: encoding_rs writes them here.
    let text = "D,масло прозрачное и корпус протёрт насухо, проба взята\n".repeat(4);
    let (bytes, _, _) = encoding_rs::WINDOWS_1251.encode(&text);
    assert_eq!(encoding(&bytes), ("windows-1251", true));
}

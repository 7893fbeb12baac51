//! Many rows, some damaged, in every format: exactly the damaged ones are refused.

use std::collections::BTreeSet;
use std::io::Write;
use std::path::{Path, PathBuf};

use fairdraw::intake::draws::blank_record;
use fairdraw::intake::{Draws, Known, Opened, ReadAs, Refusal, Sheet, SheetKind};
use fairdraw::model::time::Tz;
use flate2::Compression;
use flate2::write::GzEncoder;
use rust_xlsxwriter::Workbook;
use rustc_hash::FxHashMap;

const NAMES: [&str; 7] = [
    "draw_id",
    "point_id",
    "technician_id",
    "drawn_at",
    "fill_pct",
    "point_cleaned",
    "remarks",
];

/// Stands for what is no text: replaced by what is none in the encoding.
const NO_TEXT: char = '\u{fffe}';

/// Rows as fields, and the places of those that must be refused whole, counted from 0.
struct Rows {
    rows: Vec<Vec<String>>,
    damaged: BTreeSet<usize>,
    /// Places where a value alone must be refused.
    values: BTreeSet<usize>,
}

/// A dozen ways to damage a row so that it can't be taken.
fn damage(way: usize, row: &mut Vec<String>) {
    match way {
        // A field too many; a field lost, so that the rest moves.
        0 => row.push("more".to_owned()),
        1 => drop(row.remove(1)),
        // Cut short.
        2 => row.truncate(2),
        // Times: missing, impossible, a day alone, in another order.
        3 => row[3].clear(),
        4 => row[3] = "2026-02-30 09:30".to_owned(),
        5 => row[3].truncate(10),
        6 => row[3] = "04.03.2026 09:30".to_owned(),
        // Names: unknown, missing, no text, too long.
        7 => row[1] = "P-404".to_owned(),
        8 => row[2] = "t-1 ?".to_owned(),
        9 => row[2].clear(),
        10 => row[1] = format!("P-{NO_TEXT}"),
        _ => row[1] = "P-1".repeat(30_000),
    }
}

const WAYS: usize = 12;

fn rows(count: usize) -> Rows {
    let mut all = Rows {
        rows: Vec::with_capacity(count),
        damaged: BTreeSet::new(),
        values: BTreeSet::new(),
    };
    for place in 0..count {
        let minute = place % 60;
        let mut row = vec![
            format!("D-{place}"),
            format!("P-{}", place % 7),
            format!("T-{}", place % 5),
            format!(
                "2026-03-{:02} {:02}:{minute:02}",
                place % 28 + 1,
                place % 24
            ),
            (60 + place % 40).to_string(),
            ["yes", "no", "Y", ""][place % 4].to_owned(),
            [
                "",
                "clear; no water",
                "\"quoted\"",
                "two\nlines",
                "a, b",
                "tab\there",
            ][place % 6]
                .to_owned(),
        ];
        if place % 50 == 17 {
            damage(place / 50 % WAYS, &mut row);
            all.damaged.insert(place);
        } else if place % 997 == 3 {
            row[4] = "eighty".to_owned();
            all.values.insert(place);
        }
        all.rows.push(row);
    }
    all
}

/// The rows as delimited text, and the line on which each begins.
fn text(rows: &Rows, delimiter: u8, end: &str) -> (String, Vec<u64>) {
    let mut writer = csv::WriterBuilder::new()
        .delimiter(delimiter)
        .flexible(true)
        .from_writer(Vec::new());
    writer.write_record(NAMES).unwrap();
    let (mut lines, mut line) = (Vec::new(), 2);
    for row in &rows.rows {
        writer.write_record(row).unwrap();
        lines.push(line);
        line += 1 + row
            .iter()
            .map(|cell| cell.matches('\n').count() as u64)
            .sum::<u64>();
    }
    let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
    (text + end, lines)
}

fn utf_8(text: &str) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(text.len());
    for (place, part) in text.split(NO_TEXT).enumerate() {
        if place > 0 {
            bytes.push(0xff);
        }
        bytes.extend_from_slice(part.as_bytes());
    }
    bytes
}

fn utf_16(text: &str) -> Vec<u8> {
    let mut bytes = vec![0xfe, 0xff];
    for unit in text.encode_utf16() {
        let unit = if unit == 0xfffe { 0xdc00 } else { unit };
        bytes.extend(unit.to_be_bytes());
    }
    bytes
}

/// What is read: the lines of rows that are taken, and what is refused.
fn read(path: &Path) -> (Vec<u64>, Vec<Refusal>) {
    let names = |letter: &str, count: u32| -> FxHashMap<String, u32> {
        (0..count)
            .map(|place| (format!("{letter}-{place}"), place))
            .collect()
    };
    let (points, technicians) = (names("P", 7), names("T", 5));
    let known = Known {
        points: &points,
        technicians: &technicians,
    };
    let Opened::Ready(sheet) =
        Sheet::open(path, SheetKind::Draws, &ReadAs::default(), None).unwrap()
    else {
        panic!("refused whole");
    };
    let mut draws = Draws::new(sheet, Tz::UTC);
    let (mut record, mut refusals, mut taken) = (blank_record(), Vec::new(), Vec::new());
    while let Some(line) = draws.next(known, &mut record, &mut refusals).unwrap() {
        taken.push(line);
    }
    (taken, refusals)
}

/// Sees that exactly the damaged rows are refused; `lines` says where each row stands.
fn check(name: &str, path: &Path, rows: &Rows, lines: &[u64]) {
    let (taken, refusals) = read(path);
    let whole: BTreeSet<u64> = refusals
        .iter()
        .filter(|refusal| refusal.whole_row)
        .map(|refusal| refusal.line)
        .collect();
    let values: BTreeSet<u64> = refusals
        .iter()
        .filter(|refusal| !refusal.whole_row)
        .map(|refusal| refusal.line)
        .collect();
    let at = |places: &BTreeSet<usize>| -> BTreeSet<u64> {
        places.iter().map(|place| lines[*place]).collect()
    };
    assert_eq!(whole, at(&rows.damaged), "{name}");
    assert_eq!(values, at(&rows.values), "{name}");
    let sound: Vec<u64> = (0..lines.len())
        .filter(|place| !rows.damaged.contains(place))
        .map(|place| lines[place])
        .collect();
    assert_eq!(taken, sound, "{name}");
}

fn written(folder: &Path, name: &str, bytes: &[u8]) -> PathBuf {
    let path = folder.join(name);
    std::fs::write(&path, bytes).unwrap();
    path
}

#[test]
fn of_a_hundred_thousand_rows_exactly_the_damaged_ones_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    let mut rows = rows(100_000);
    assert_eq!(rows.damaged.len(), 2000);
    // At the very end a quote that is never closed.
    let (text, mut lines) = text(&rows, b',', "D-x,P-1,T-1,2026-03-04 09:30,60,yes,\"open\n");
    rows.damaged.insert(lines.len());
    lines.push(text.trim_end_matches('\n').matches('\n').count() as u64 + 1);
    let path = written(folder.path(), "draws.csv", &utf_8(&text));
    check("csv", &path, &rows, &lines);
}

#[test]
fn in_every_format_exactly_the_damaged_rows_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    let rows = rows(3000);
    let write = |name: &str, bytes: &[u8]| written(folder.path(), name, bytes);
    for delimiter in *b",;\t|" {
        let (text, lines) = text(&rows, delimiter, "");
        let name = char::from(delimiter).to_string();
        check(&name, &write("draws.txt", &utf_8(&text)), &rows, &lines);
        check(&name, &write("draws.txt", &utf_16(&text)), &rows, &lines);
        let marked = format!("\u{feff}{text}");
        check(&name, &write("draws.txt", &utf_8(&marked)), &rows, &lines);
        let mut encoder = GzEncoder::new(Vec::new(), Compression::fast());
        encoder.write_all(&utf_8(&text)).unwrap();
        check(
            &name,
            &write("draws.gz", &encoder.finish().unwrap()),
            &rows,
            &lines,
        );
    }
}

#[test]
fn in_a_workbook_exactly_the_damaged_rows_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    let rows = rows(3000);
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write_string(0, 0, "Draws of the north yard").unwrap();
    for (column, name) in (0..).zip(NAMES) {
        sheet.write_string(2, column, name).unwrap();
    }
    for (place, row) in (3..).zip(&rows.rows) {
        for (column, text) in (0..).zip(row) {
            // A cell of a workbook holds at most 32,767 characters and is always a text.
            let text = if text.contains(NO_TEXT) || text.len() > 32_000 {
                "P-405"
            } else {
                text
            };
            match text.parse::<f64>() {
                Ok(number) => sheet.write_number(place, column, number).unwrap(),
                Err(_) if text.is_empty() => sheet,
                Err(_) => sheet.write_string(place, column, text).unwrap(),
            };
        }
    }
    let path = folder.path().join("draws.xlsx");
    book.save(&path).unwrap();
    let lines: Vec<u64> = (4..3004).collect();
    check("xlsx", &path, &rows, &lines);
}

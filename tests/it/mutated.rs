//! Sheets, column maps, rulebooks and filters with bytes changed, doubled, cut out and put in:
//! whatever comes of it is taken or refused with a message, and never a panic. `tests/fuzz`
//! looks further, for as long as it is left to run.

use std::fs;
use std::path::{Path, PathBuf};

use fairdraw::analysis::Filter;
use fairdraw::intake::ColumnMap;
use fairdraw::model::Progress;
use fairdraw::programme::{ImportRequest, Programme, SheetKind};
use fairdraw::rules::{Rulebook, default_yaml};

use crate::hard_use::Dice;
use crate::support::fixture;

/// Pieces that make trouble where they come.
const PIECES: [&[u8]; 20] = [
    b"\"",
    b"\"\"",
    b",",
    b";",
    b"\t",
    b"\r",
    b"\n",
    b"\r\n",
    b"\0",
    b"\xff",
    b"\xef\xbb\xbf",
    b"'",
    b"=",
    b"-",
    b"1e999",
    b": ",
    b"- ",
    b"{",
    b"&a *a",
    b"\xf0\x9f\x9b\xa2",
];

/// One to eight changes.
fn mutated(text: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut text = text.to_vec();
    for _ in 0..=dice.below(7) {
        let at = dice.below(text.len() as u64 + 1) as usize;
        let length = dice.below(12) as usize;
        let end = (at + length).min(text.len());
        match dice.below(6) {
            0 if at < text.len() => text[at] ^= 1 << dice.below(8),
            1 if at < text.len() => text[at] = dice.below(256) as u8,
            2 => drop(text.drain(at..end)),
            3 => {
                let doubled = text[at..end].to_vec();
                text.splice(at..at, doubled);
            }
            4 => {
                let piece = PIECES[dice.below(PIECES.len() as u64) as usize];
                text.splice(at..at, piece.iter().copied());
            }
            5 if dice.below(8) == 0 => text.truncate(at),
            _ => {}
        }
    }
    text
}

fn files_in(folder: &Path) -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    files.sort();
    let (folders, mut files): (Vec<_>, Vec<_>) = files.into_iter().partition(|it| it.is_dir());
    files.extend(folders.iter().flat_map(|folder| files_in(folder)));
    files
}

#[test]
fn changed_sheets_are_taken_or_refused() {
    let mut dice = Dice(3);
    let folder = tempfile::tempdir().unwrap();
    let mut programme = Programme::in_memory().unwrap();
    let mut take = |path: PathBuf, kind: Option<SheetKind>, dry_run: bool| {
        let request = ImportRequest {
            sheets: vec![path],
            kind,
            dry_run,
            ..ImportRequest::default()
        };
        programme.import(&request, &Progress::default())
    };
    take(fixture("programmes/small"), None, false).unwrap();
    let mut sheets = files_in(&fixture("programmes/small"));
    sheets.extend(files_in(&fixture("programmes/refused")));
    sheets.extend(files_in(&fixture("sheets")));
    let sheets: Vec<(String, Vec<u8>)> = sheets
        .iter()
        .filter(|path| {
            path.extension()
                .is_none_or(|ending| ending != "py" && ending != "md")
        })
        .map(|path| {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            (name, fs::read(path).unwrap())
        })
        .filter(|(_, text)| text.len() < 40_000)
        .collect();
    let (mut taken, mut failed) = (0, 0);
    for round in 0..500 {
        let (name, text) = &sheets[round % sheets.len()];
        let path = folder.path().join(name);
        fs::write(&path, mutated(text, &mut dice)).unwrap();
        let kind = SheetKind::ALL[dice.below(4) as usize];
        match take(path, Some(kind), true) {
            Ok(_) => taken += 1,
            Err(error) => {
                assert!(!error.to_string().is_empty());
                failed += 1;
            }
        }
    }
    assert!(taken > 100 && failed > 0, "{taken} taken, {failed} failed");
}

const MAP: &str = "fairdraw_columns: 1\nname: ours\nrevision: \"1\"\nsheets:\n  - kind: draws\n    \
    files: [\"list*.csv\"]\n    header_row: 3\n    zone: Europe/Lisbon\n    columns:\n      \
    point_id: Stelle\n      technician_id: Wer\n      drawn_at: {from: Wann, dates: [\"DD.MM.YYYY HH:mm\"]}\n      \
    oil_temp_c: {from: \"Öl °F\", unit: °F}\n";

#[test]
fn changed_column_maps_are_read_or_told() {
    let mut dice = Dice(4);
    let header: Vec<String> = ["Stelle", "Wer", "Wann", "Öl °F"].map(str::to_owned).into();
    ColumnMap::from_yaml(MAP, "map.yaml").unwrap();
    let mut read = 0;
    for _ in 0..3000 {
        match ColumnMap::from_bytes(&mutated(MAP.as_bytes(), &mut dice), "map.yaml") {
            Ok(map) => {
                read += 1;
                for sheet in &map.sheets {
                    let _ = sheet.bind(&header);
                }
            }
            Err(problems) => assert!(problems.iter().all(|it| !it.to_string().is_empty())),
        }
    }
    assert!(read > 50, "{read} were read");
}

#[test]
fn changed_rulebooks_are_read_or_told() {
    let mut dice = Dice(5);
    let mut texts = vec![default_yaml().into_bytes()];
    texts.extend(
        files_in(&fixture("rulebooks"))
            .iter()
            .map(|path| fs::read(path).unwrap()),
    );
    let own = "fairdraw_rulebook: 1\nname: ours\nrevision: \"2\"\noverrides:\n  - where: {site: \
               [\"North\"]}\n    rules:\n      fill-level: {weight: 90}\n";
    texts.push(own.as_bytes().to_vec());
    let mut read = 0;
    for round in 0..600 {
        let text = mutated(&texts[round % texts.len()], &mut dice);
        match Rulebook::from_bytes(&text, "rulebook.yaml") {
            Ok(_) => read += 1,
            Err(problems) => assert!(problems.iter().all(|it| !it.to_string().is_empty())),
        }
    }
    assert!(read > 20, "{read} were read");
}

#[test]
fn changed_filters_are_read_or_told() {
    let mut dice = Dice(6);
    let texts = [
        "crew:B broken:flush-met",
        "-site:\"South pit\" from:2026-01 to:2026-03-04",
        "verdict:unrepresentative point:P-1,P-2",
        "fluid:*HV* unrecorded:looked-at",
    ];
    let mut read = 0;
    for round in 0..20_000 {
        let text = mutated(texts[round % texts.len()].as_bytes(), &mut dice);
        let text = String::from_utf8_lossy(&text);
        match Filter::parse(&text) {
            Ok(filter) => {
                read += 1;
                let written = filter.to_string();
                let again = Filter::parse(&written).unwrap();
                assert_eq!(again.to_string(), written, "{text:?}");
            }
            Err(error) => {
                assert!(!error.message.is_empty());
                let columns = 1..=text.chars().count() + 1;
                assert!(
                    columns.contains(&error.column),
                    "{text:?}: {}",
                    error.column
                );
            }
        }
    }
    assert!(read > 1000, "{read} were read");
}

/// Found by fuzzing: the reader of workbooks follows such a chain until no memory is left.
#[test]
fn a_workbook_whose_sectors_lead_in_a_circle_is_told() {
    let mut book = fs::read(fixture("sheets/others/office.xls")).unwrap();
    let number = |book: &[u8], at: usize| u32::from_le_bytes(book[at..at + 4].try_into().unwrap());
    // [MS-CFB] 2.2: the first sector of the table of sectors is named at offset 76, the first
    // of the directory at 48; sectors have 512 bytes and begin behind as many.
    let table = (number(&book, 76) as usize + 1) * 512;
    let first = number(&book, 48);
    let entry = table + first as usize * 4;
    book[entry..entry + 4].copy_from_slice(&first.to_le_bytes());
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("draws.xls");
    fs::write(&path, book).unwrap();
    let request = ImportRequest {
        sheets: vec![path],
        ..ImportRequest::default()
    };
    let mut programme = Programme::in_memory().unwrap();
    let told = programme
        .import(&request, &Progress::default())
        .unwrap_err();
    assert!(
        told.to_string().contains("leads back into itself"),
        "{told}"
    );
}

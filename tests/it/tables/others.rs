//! Files written by other programs; tests/fixtures/sheets/others/README.md names them.

use std::path::PathBuf;

use fairdraw::intake::table::read_as::encoding;
use fairdraw::intake::table::{Cell, Format, ReadAs, SheetChoice, Table, Wanted};
use serde_json::Value;

use super::{Read, wanted};
use crate::support;

fn fixture(name: &str) -> PathBuf {
    support::fixture("sheets/others").join(name)
}

fn read(name: &str) -> Read {
    Read::file(&fixture(name), &ReadAs::default())
}

const NAMES: [&str; 8] = [
    "draw_id",
    "point_id",
    "technician_id",
    "drawn_at",
    "oil_temp_c",
    "fill_pct",
    "point_cleaned",
    "remarks",
];

/// What stands in all sheets of draws, in the form that is read from an XLSX workbook.
const ROWS: [[&str; 8]; 5] = [
    [
        "D-1",
        "P-1",
        "T-1",
        "2026-03-04 09:30",
        "61.5",
        "80",
        "yes",
        "Öl klar; Gehäuse gewischt",
    ],
    [
        "D-2",
        "P-2",
        "T-2",
        "2026-03-04 10:05",
        "58",
        "75",
        "no",
        "5\" line, \"slow\"",
    ],
    [
        "D-3",
        "P-1",
        "T-1",
        "2026-03-05 00:00",
        "",
        "82.5",
        "yes",
        "",
    ],
    [
        "D-4",
        "P-2",
        "T-1",
        "2026-03-06 14:20:30",
        "47.25",
        "79",
        "no",
        "first line\nsecond line",
    ],
    [
        "D-5",
        "P-1",
        "T-2",
        "2026-03-07 07:15",
        "0.3",
        "81",
        "yes",
        "2026-03-07",
    ],
];

/// The rows, some columns written in another way.
fn rows(write: impl Fn(usize, &str) -> String) -> Vec<Vec<String>> {
    ROWS.iter()
        .map(|row| {
            row.iter()
                .enumerate()
                .map(|(place, text)| write(place, text))
                .collect()
        })
        .collect()
}

fn as_they_are() -> Vec<Vec<String>> {
    rows(|_, text| text.to_owned())
}

/// As pandas and DuckDB write them: seconds always, numbers with a point, this yes and no.
fn with_seconds(text_of: [&str; 2], point: &str) -> Vec<Vec<String>> {
    rows(|place, text| match (place, text) {
        (3, "2026-03-06 14:20:30") => text.to_owned(),
        (3, _) => format!("{text}:00"),
        (4, "0.3") => format!("0{point}30000000000000004"),
        (4 | 5, text) if !text.is_empty() && !text.contains('.') => format!("{text}{point}0"),
        (4 | 5, text) => text.replace('.', point),
        (6, "yes") => text_of[0].to_owned(),
        (6, _) => text_of[1].to_owned(),
        _ => text.to_owned(),
    })
}

/// As an office suite shows them in a language.
fn shown(text_of: [&str; 2], write: impl Fn(usize, &str) -> Option<String>) -> Vec<Vec<String>> {
    rows(|place, text| {
        if let Some(written) = write(place, text) {
            return written;
        }
        match (place, text) {
            (5, text) => text.replace('.', ","),
            (6, "yes") => text_of[0].to_owned(),
            (6, _) => text_of[1].to_owned(),
            _ => text.to_owned(),
        }
    })
}

/// `2026-03-04 09:30` with day, month and year in this order.
fn turned(text: &str, mark: &str) -> String {
    let (date, time) = text.split_once(' ').unwrap();
    let parts: Vec<&str> = date.split('-').collect();
    format!("{}{mark}{}{mark}{} {time}", parts[2], parts[1], parts[0])
}

#[test]
fn the_same_rows_are_read_whoever_wrote_them() {
    let german = shown(["WAHR", "FALSCH"], |place, text| match place {
        3 if text.len() > 16 => Some(turned(text, ".")),
        3 => Some(format!("{}:00", turned(text, "."))),
        4 => Some(text.replace('.', ",")),
        _ => None,
    });
    let french = shown(["VRAI", "FAUX"], |place, text| match (place, text) {
        (3, _) => Some(turned(&text[..16], "/")),
        (4, "") => Some(String::new()),
        (4, _) => Some(format!("{:.2}", text.parse::<f64>().unwrap()).replace('.', ",")),
        _ => None,
    });
    // Seconds are not shown by the format yyyy-mm-dd hh:mm.
    let unicode = rows(|place, text| match (place, text) {
        (3, _) => text[..16].to_owned(),
        (6, "yes") => "TRUE".to_owned(),
        (6, _) => "FALSE".to_owned(),
        _ => text.to_owned(),
    });
    let ods = rows(|place, text| match (place, text) {
        (6, "yes") => "1".to_owned(),
        (6, _) => "0".to_owned(),
        _ => text.to_owned(),
    });
    let unrounded = rows(|_, text| {
        text.replace("0.3", "0.30000000000000004")
            .replace("09:0.30000000000000004", "09:30")
    });
    let nulls = rows(|place, text| match (place, text) {
        (4 | 7, "") => "NULL".to_owned(),
        (4, "0.3") => "0.30000000000000004".to_owned(),
        _ => text.to_owned(),
    });
    let cases = [
        (
            "openpyxl.xlsx",
            as_they_are(),
            "XLSX workbook, sheet draws, header in row 1",
        ),
        (
            "office.xlsx",
            as_they_are(),
            "XLSX workbook, sheet draws, header in row 1",
        ),
        (
            "pandas.xlsx",
            as_they_are(),
            "XLSX workbook, sheet Sheet1, header in row 1",
        ),
        (
            "office.xls",
            as_they_are(),
            "XLS workbook, sheet draws, header in row 1",
        ),
        (
            "xlwt.xls",
            as_they_are(),
            "XLS workbook, sheet draws, header in row 1",
        ),
        (
            "office.ods",
            ods,
            "ODS workbook, sheet draws, header in row 1",
        ),
        (
            "office-german-1252.csv",
            german,
            "text with semicolons between fields, windows-1252, header in row 1",
        ),
        (
            "office-french-utf-8.csv",
            french,
            "text with semicolons between fields, UTF-8, header in row 1",
        ),
        (
            "office-unicode-text.txt",
            unicode,
            "text with tabs between fields, UTF-16LE, header in row 1",
        ),
        (
            "pandas.csv.gz",
            with_seconds(["True", "False"], ","),
            "text with semicolons between fields, UTF-8, unpacked from gzip, header in row 1",
        ),
        (
            "pandas-single-quotes.txt",
            with_seconds(["True", "False"], "."),
            "text with upright strokes between fields, single quotes around fields, UTF-8, header in row 1",
        ),
        (
            "pandas-utf-16.tsv",
            with_seconds(["True", "False"], "."),
            "text with tabs between fields, UTF-16LE, header in row 1",
        ),
        (
            "pandas-cp1252.csv",
            with_seconds(["True", "False"], "."),
            "text with commas between fields, windows-1252, header in row 1",
        ),
        (
            "duckdb.csv",
            with_seconds(["true", "false"], "."),
            "text with commas between fields, UTF-8, header in row 1",
        ),
        (
            "duckdb.csv.gz",
            with_seconds(["true", "false"], "."),
            "text with upright strokes between fields, UTF-8, unpacked from gzip, header in row 1",
        ),
        (
            "sqlite.csv",
            unrounded,
            "text with commas between fields, UTF-8, header in row 1",
        ),
        (
            "sqlite-quote.txt",
            nulls,
            "text with commas between fields, single quotes around fields, UTF-8, header in row 1",
        ),
    ];
    for (name, expected, words) in cases {
        let read = read(name);
        assert_eq!(read.table.how().words(), words, "{name}");
        assert_eq!(read.table.names(), NAMES, "{name}");
        assert_eq!(read.texts(), expected, "{name}");
        assert!(read.refusals.is_empty(), "{name}");
        // The row with a line break in it takes two lines of a text.
        let numbers = if words.starts_with("text") {
            [2, 3, 4, 5, 7]
        } else {
            [2, 3, 4, 5, 6]
        };
        assert_eq!(read.numbers(), numbers, "{name}");
        let is_plain = matches!(name, "sqlite.csv" | "duckdb.csv");
        assert_eq!(read.table.how().is_plain(), is_plain, "{name}");
        let is_guess = name.contains("1252");
        assert_eq!(read.table.how().encoding_guessed, is_guess, "{name}");
    }
}

#[test]
fn days_counted_from_1904_and_results_of_formulas_are_read() {
    let read = read("xlsxwriter-1904.xlsx");
    let mut expected = as_they_are();
    expected.push(
        ["D-6", "P-1", "T-1", "2026-03-08 08:00", "#N/A", "", "", ""]
            .map(str::to_owned)
            .to_vec(),
    );
    assert_eq!(read.texts(), expected);
    // The last row is still there: the error is no value.
    assert_eq!(
        read.table.cells().get(4),
        Cell::Unreadable(
            "#N/A".to_owned(),
            "the workbook has the error #N/A here instead of a value".to_owned()
        )
    );
}

#[test]
fn a_sheet_grown_over_years_is_read_and_what_is_passed_over_is_said() {
    for (name, percent, result) in [
        ("openpyxl-grown.xlsx", ["80%", "75.5%", "100%"], ""),
        ("office-grown.xls", ["0.8", "0.755", "1"], "2"),
        ("office-grown.ods", ["0.8", "0.755", "1"], "2"),
    ] {
        let read = read(name);
        let how = read.table.how();
        assert_eq!(
            read.table.names(),
            [
                "Bottle",
                "Where",
                "Taken Date",
                "Taken Time",
                "Oil Temp",
                "Oil Level",
                "Who"
            ],
            "{name}"
        );
        let rows = [
            [
                "B-1",
                "pump",
                "2026-03-04",
                "09:30",
                "61.5",
                percent[0],
                "Änne",
            ],
            [
                "B-2",
                "sump",
                "2026-03-05",
                "10:05:30",
                "58",
                percent[1],
                "Jörg",
            ],
            [
                "B-3",
                "sump",
                "2026-03-06",
                "00:00",
                "#N/A",
                percent[2],
                result,
            ],
        ];
        assert_eq!(read.texts(), rows, "{name}");
        assert_eq!(read.numbers(), [6, 7, 9], "{name}");
        assert!(
            matches!(read.table.cells().get(4), Cell::Unreadable(..)),
            "{name}"
        );
        assert_eq!((how.header_row, how.header_rows), (4, 2), "{name}");
        let before = [
            (1, "Oil samples of the north yard"),
            (2, "printed, 2026-04-01"),
        ];
        assert_eq!(
            how.before,
            before.map(|(row, text)| (row, text.to_owned())),
            "{name}"
        );
        support::assert_snapshot("tables", name, &how.told().join("\n"));
    }
}

#[test]
fn the_user_may_say_which_sheet_row_and_encoding() {
    let path = fixture("openpyxl-grown.xlsx");
    let sheet = |choice| ReadAs {
        sheet: Some(choice),
        ..ReadAs::default()
    };
    let read = Read::file(&path, &sheet(SheetChoice::Number(2)));
    assert_eq!(read.table.names(), ["Bottle", "Where"]);
    assert!(
        read.table
            .how()
            .told()
            .contains(&"the sheet Old is hidden in the workbook".to_owned())
    );
    let read = Read::file(&path, &sheet(SheetChoice::Name("OLD".to_owned())));
    assert_eq!(read.texts(), [["B-0", "pump"]]);
    let wrong = Table::open(
        &path,
        &sheet(SheetChoice::Name("New".to_owned())),
        &wanted(),
    );
    assert_eq!(
        wrong
            .err()
            .unwrap()
            .to_string()
            .replace(path.to_str().unwrap(), "F"),
        "the workbook F has no sheet New; its sheets are: How to fill in, Old, Bottles"
    );

    let bottles = ReadAs {
        header_row: Some(5),
        ..sheet(SheetChoice::Number(3))
    };
    let read = Read::file(&path, &bottles);
    assert_eq!(
        read.table.names(),
        ["", "", "Date", "Time", "Temp", "Level"]
    );
    assert_eq!(read.table.how().before.len(), 3);

    let latin = ReadAs {
        encoding: Some(encoding("iso-8859-2").unwrap()),
        ..ReadAs::default()
    };
    let read = Read::file(&fixture("office-german-1252.csv"), &latin);
    assert_eq!(read.texts()[0][7], "Öl klar; Gehäuse gewischt");
    assert!(!read.table.how().encoding_guessed);
    let wrong = ReadAs {
        encoding: Some(encoding("utf-8").unwrap()),
        ..ReadAs::default()
    };
    let read = Read::file(&fixture("office-german-1252.csv"), &wrong);
    assert_eq!(read.table.how().encoding, Some("UTF-8"));
    assert_eq!(
        read.texts()[0][7],
        "\u{fffd}l klar; Geh\u{fffd}use gewischt"
    );
}

#[test]
fn a_collection_of_difficult_files_is_read_as_its_authors_say() {
    let mut count = 0;
    for entry in std::fs::read_dir(fixture("csv-spectrum")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "json") {
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        let Value::Array(expected) = serde_json::from_str(&text).unwrap() else {
            panic!("{} is no list", path.display());
        };
        let read = Read::file(&path.with_extension("csv"), &ReadAs::default());
        let names = read.table.names();
        let row = |texts: Vec<String>| -> Value {
            names
                .iter()
                .cloned()
                .zip(texts.into_iter().map(Value::from))
                .collect()
        };
        let rows: Vec<Value> = read.texts().into_iter().map(row).collect();
        assert_eq!(rows, expected, "{}", path.display());
        assert!(read.table.how().is_plain() && read.refusals.is_empty());
        count += 1;
    }
    assert_eq!(count, 11);
}

/// Expected: what the tests of csvkit 2.2.0 say of its examples.
#[test]
fn examples_of_a_tool_for_tables_are_read_as_it_reads_them() {
    let cases: [(&str, &str, &[&[&str]]); 9] = [
        (
            "mac_newlines.csv",
            "a b c",
            &[&["1", "2", "3"], &["Once upon\ra time", "5", "6"]],
        ),
        (
            "test_utf8_bom.csv",
            "foo bar baz",
            &[&["1", "2", "3"], &["4", "5", "ʤ"]],
        ),
        (
            "test_utf16_big.csv",
            "a b c",
            &[&["1", "2", "3"], &["4", "5", "ʤ"]],
        ),
        (
            "test_utf16_little.csv",
            "a b c",
            &[&["1", "2", "3"], &["4", "5", "ʤ"]],
        ),
        (
            "test_latin1.csv",
            "a b c",
            &[&["1", "2", "3"], &["4", "5", "©"]],
        ),
        (
            "optional_quote_characters.csv",
            "a b c",
            &[&["1", "2", "3"]],
        ),
        ("sniff_limit.csv", "a b c", &[&["1", "2", "3"]]),
        ("dummy.tsv", "a b c", &[&["1", "2", "3"]]),
        ("dummy.csv.gz", "a b c", &[&["1", "2", "3"]]),
    ];
    for (name, names, rows) in cases {
        let path = format!("csvkit/{name}");
        let read = read(&path);
        assert_eq!(read.table.names().join(" "), names, "{name}");
        assert_eq!(read.texts(), rows, "{name}");
    }
    let bad = read("csvkit/bad.csv");
    assert_eq!(
        (bad.refusals.len(), bad.refusals[0].line, bad.numbers()),
        (1, 2, vec![3, 4])
    );
    assert_eq!(read("csvkit/test_header_newline.csv").numbers(), [8]);

    // Its own reading of two workbooks, but for what it makes of values: numbers, yes and no.
    for (name, converted) in [
        ("test.xls", "testxls_converted.csv"),
        ("test.xlsx", "testxlsx_converted.csv"),
    ] {
        let (book, text) = (
            read(&format!("csvkit/{name}")),
            read(&format!("csvkit/{converted}")),
        );
        let plain = |cell: &str| match cell {
            "True" => "yes".to_owned(),
            "False" => "no".to_owned(),
            _ => cell
                .trim_end_matches(".0")
                .replace("T00:00:00", " 00:00")
                .replace('T', " ")
                .replace(":14:00", ":14"),
        };
        let expected: Vec<Vec<String>> = text
            .texts()
            .iter()
            .map(|row| row[..7].iter().map(|cell| plain(cell)).collect())
            .collect();
        let mut rows = book.texts();
        // The second row has a field more than the header.
        let long = book.refusals[0]
            .value
            .split(',')
            .take(7)
            .map(str::to_owned)
            .collect();
        rows.insert(1, long);
        for (row, expected) in rows.iter().zip(&expected) {
            // Its reader takes the T of a name for that of a time; only times are compared so.
            assert_eq!(row[1..], expected[1..], "{name}");
        }
        assert_eq!(rows.len(), expected.len());
    }
    let skipped = read("csvkit/test_skip_lines.xlsx");
    assert_eq!(skipped.table.how().header_row, 4);
}

#[test]
fn every_format_is_told_apart_by_its_bytes_whatever_its_name() {
    let folder = tempfile::tempdir().unwrap();
    for (name, format) in [
        ("office.xlsx", Format::Xlsx),
        ("office.xls", Format::Xls),
        ("office.ods", Format::Ods),
        ("sqlite.csv", Format::Text),
        ("duckdb.csv.gz", Format::Text),
    ] {
        let path = folder.path().join("table.dat");
        std::fs::copy(fixture(name), &path).unwrap();
        let table = Table::open(&path, &ReadAs::default(), &Wanted::default()).unwrap();
        assert_eq!(table.how().format, format, "{name}");
        assert_eq!(table.names(), NAMES, "{name}");
    }
}

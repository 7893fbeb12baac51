//! The workbook, read back by another library (calamine).

use calamine::{Data, Reader as _, Xlsx};

use super::made::{Desk, json, unzipped};

fn read(desk: &Desk, to: &str) -> Xlsx<std::io::Cursor<Vec<u8>>> {
    let bytes = desk.pack(to).remove("workbook.xlsx").unwrap();
    calamine::open_workbook_from_rs(std::io::Cursor::new(bytes)).unwrap()
}

#[test]
fn every_table_is_a_sheet_with_as_many_rows_behind_one_that_explains_them() {
    let desk = Desk::with_demo();
    desk.export("pack");
    let about = json(&desk.pack("pack"), "pack.json");
    let mut book = read(&desk, "pack");
    let names = book.sheet_names();
    assert_eq!(names.first().map(String::as_str), Some("About"));
    assert_eq!(names.last().map(String::as_str), Some("Columns"));
    let mut sheets = 0;
    for (name, told) in about["tables"].as_object().unwrap() {
        if name == "attribution_model" {
            continue;
        }
        let title = told["title"].as_str().unwrap();
        let range = book.worksheet_range(title).unwrap();
        let rows = told["rows"].as_u64().unwrap() as usize;
        assert_eq!(range.height(), rows + 1, "{title}");
        sheets += 1;
    }
    assert_eq!(names.len(), sheets + 2);
    let first = book.worksheet_range("About").unwrap();
    let texts: Vec<String> = first.cells().map(|(_, _, cell)| cell.to_string()).collect();
    assert!(
        texts
            .iter()
            .any(|text| text.contains("A blank is not recorded"))
    );
}

#[test]
fn cells_are_numbers_times_and_words_as_they_are_in_json() {
    let desk = Desk::with_demo();
    desk.export("pack");
    let draws = json(&desk.pack("pack"), "tables/draws.json");
    let mut book = read(&desk, "pack");
    let range = book.worksheet_range("Draws").unwrap();
    let heads: Vec<String> = range
        .rows()
        .next()
        .unwrap()
        .iter()
        .map(ToString::to_string)
        .collect();
    let place = |head: &str| heads.iter().position(|it| it == head).unwrap();
    let (drawn_at, verdict, score) = (place("Drawn at (UTC)"), place("Verdict"), place("Score"));
    for (row, draw) in range.rows().skip(1).zip(draws.as_array().unwrap()) {
        let Data::DateTime(time) = &row[drawn_at] else {
            panic!("{:?}", row[drawn_at]);
        };
        let time = time
            .as_datetime()
            .unwrap()
            .format("%Y-%m-%dT%H:%M:%SZ")
            .to_string();
        assert_eq!(time, draw["drawn_at"].as_str().unwrap());
        assert_eq!(row[verdict].to_string(), draw["verdict"].as_str().unwrap());
        match (&row[score], draw["score"].as_f64()) {
            (Data::Float(seen), Some(told)) => assert!((seen - told).abs() < 1e-9),
            (Data::Empty, None) => {}
            other => panic!("{other:?}"),
        }
    }
    let people = book.worksheet_range("People").unwrap();
    let few = people
        .rows()
        .next()
        .unwrap()
        .iter()
        .position(|it| matches!(it, Data::String(text) if text == "Few"))
        .unwrap();
    assert!(
        people
            .rows()
            .skip(1)
            .all(|row| matches!(row[few], Data::Bool(_)))
    );
}

#[test]
fn headings_stay_in_sight_and_columns_filter() {
    let desk = Desk::with_demo();
    desk.export("pack");
    let parts = unzipped(&desk.pack("pack")["workbook.xlsx"]);
    let sheets: Vec<&str> = parts
        .iter()
        .filter(|(name, _)| name.starts_with("xl/worksheets/sheet"))
        .map(|(_, bytes)| std::str::from_utf8(bytes).unwrap())
        .collect();
    assert!(sheets.len() >= 28);
    let frozen = sheets
        .iter()
        .filter(|sheet| sheet.contains("state=\"frozen\""))
        .count();
    let filtered = sheets
        .iter()
        .filter(|sheet| sheet.contains("<autoFilter"))
        .count();
    assert_eq!((frozen, filtered), (sheets.len() - 1, sheets.len() - 1));
    assert!(
        sheets
            .iter()
            .all(|sheet| !sheet.contains("<f>") && !sheet.contains("<f "))
    );
}

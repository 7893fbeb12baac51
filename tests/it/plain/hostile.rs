//! Whatever stands in the sheets and whatever is typed, nothing but printable signs is said.

use std::fs;

use fairdraw::demo;
use fairdraw::model::{Progress, printable::printable};
use fairdraw::programme::Programme;
use fairdraw::tui::plain::{Session, Voice};
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use tempfile::TempDir;

use super::sitting::take_in;

/// Names that would clear a screen, ring a bell, turn the text around, or end a line.
const HOSTILE: [&str; 4] = [
    "\u{1b}[2J\u{1b}]0;owned\u{7}Eve",
    "right\u{202e}to left",
    "\u{9b}31mred\u{200b}",
    "back\u{8}\u{8}space\u{7f}",
];

/// A programme whose people and points are called so.
fn programme(folder: &TempDir) -> Programme {
    let sheets = folder.path().join("sheets");
    let size = demo::Size {
        draws: 60,
        points: 6,
        technicians: 4,
        ..demo::Size::default()
    };
    demo::write(&sheets, &size, &Progress::default()).unwrap();
    for (sheet, column) in [("technicians.csv", "name"), ("points.csv", "machine")] {
        let file = sheets.join(sheet);
        let text = fs::read_to_string(&file).unwrap();
        let mut lines = text.lines();
        let header = lines.next().unwrap();
        let place = header.split(',').position(|name| name == column).unwrap();
        let mut renamed = vec![header.to_owned()];
        for (at, line) in lines.enumerate() {
            let mut cells: Vec<&str> = line.split(',').collect();
            cells[place] = HOSTILE[at % HOSTILE.len()];
            renamed.push(cells.join(","));
        }
        fs::write(&file, renamed.join("\n")).unwrap();
    }
    let file = folder.path().join("own.db");
    take_in(&sheets, &file);
    Programme::open(&file).unwrap()
}

/// Lines that lead everywhere but write nothing to a disk.
fn line() -> impl Strategy<Value = String> {
    let words = prop::sample::select(vec![
        "share",
        "rules",
        "draws",
        "people",
        "points",
        "topics",
        "findings",
        "records",
        "resample",
        "crews",
        "picks",
        "columns",
        "doubts",
        "asks",
        "open 1",
        "open 2",
        "more",
        "more 3",
        "next",
        "before",
        "again",
        "where",
        "help",
        "back",
        "sort",
        "narrow 1",
        "x",
        "raise 1",
        "answer",
        ".back",
        ".up",
        ".clear",
        "",
        "j",
        "k",
        "s",
        "S",
        "f",
        "c",
        "1",
        "2",
        "esc",
        "filter crew:A",
        "filter sitee:x",
        "unfilter",
        "tick 1",
        "view",
        "periods",
    ]);
    let hostile = prop::sample::select(HOSTILE.to_vec());
    prop_oneof![
        8 => words.prop_map(str::to_owned),
        1 => hostile.prop_map(str::to_owned),
        1 => any::<String>().prop_map(|text| text.replace(['\n', '\r'], " ")),
    ]
}

#[test]
fn nothing_but_printable_signs_is_said() {
    let folder = TempDir::new().unwrap();
    let file = folder.path().join("own.db");
    drop(programme(&folder));
    let mut runner = TestRunner::new(Config::with_cases(12));
    let lines = prop::collection::vec(line(), 1..25);
    runner
        .run(&lines, |lines| {
            let programme = Programme::open(&file).unwrap();
            let mut session = Session::new(programme, &file, None, Voice { unicode: true });
            let mut said = Vec::new();
            session
                .begin(&mut |line| said.push(line.to_owned()))
                .unwrap();
            for line in &lines {
                if !session
                    .hear(line, &mut |line| said.push(line.to_owned()))
                    .unwrap()
                {
                    break;
                }
            }
            for line in &said {
                prop_assert!(!line.chars().any(char::is_control), "{line:?}");
                prop_assert_eq!(printable(line), line.as_str());
            }
            Ok(())
        })
        .unwrap();
}

#[test]
fn hostile_names_are_said_harmlessly_and_are_still_known() {
    let folder = TempDir::new().unwrap();
    let programme = programme(&folder);
    let file = folder.path().join("own.db");
    let mut session = Session::new(programme, &file, None, Voice { unicode: true });
    session.begin(&mut |_| {}).unwrap();
    let mut said = String::new();
    session
        .hear("people", &mut |line| said.push_str(line))
        .unwrap();
    assert!(said.contains("Eve"), "{said}");
}

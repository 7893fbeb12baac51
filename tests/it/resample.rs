//! What to sample again: the program against a second implementation, and what people do
//! with it on the command line.
//!
//! The expected tables under `tests/fixtures/resamples/` were written by `second_look.py` there,
//! made from the text of `docs/resamples.md`, in another language, on top of the second judge
//! of the scoring contract. What differs is a misreading on one side or the other, never a
//! table to accept.

use std::collections::BTreeMap;
use std::fs;

use serde_json::Value;

use crate::cli::runner::Room;
use crate::support::{assert_snapshot, fixture, root};

/// Sheets, their zone, further arguments, and the table they should give.
const LOOKS: [(&str, &str, &[&str], &str); 5] = [
    (
        "tests/fixtures/contract/inland",
        "UTC",
        &["--on", "2026-05-31"],
        "inland.csv",
    ),
    (
        "tests/fixtures/contract/coast",
        "Europe/Paris",
        &["--on", "2026-05-31"],
        "coast.csv",
    ),
    (
        "tests/fixtures/contract/island",
        "Australia/Lord_Howe",
        &["--on", "2026-04-01"],
        "island.csv",
    ),
    (
        "demo-data",
        "Europe/Lisbon",
        &["--on", "2026-10-31"],
        "demo.csv",
    ),
    (
        "demo-data",
        "Europe/Lisbon",
        &["--on", "2025-12-31", "--strict"],
        "demo_strict.csv",
    ),
];

/// Numbers agree to a part in 1e9: the second look divides in another order.
fn same(seen: &Value, wanted: &str) -> bool {
    match seen {
        Value::Null => wanted.is_empty(),
        Value::Bool(seen) => wanted == if *seen { "yes" } else { "no" },
        Value::Number(seen) => {
            let (Some(seen), Ok(wanted)) = (seen.as_f64(), wanted.parse::<f64>()) else {
                return false;
            };
            (seen - wanted).abs() <= 1e-9 * wanted.abs().max(1.0)
        }
        Value::String(seen) => seen == wanted,
        _ => false,
    }
}

#[test]
fn every_line_agrees_with_the_second_look() {
    for (sheets, zone, further, table) in LOOKS {
        let room = Room::with_sheets();
        let sheets = root().join(sheets);
        let taken = room.run(&["import", sheets.to_str().unwrap(), "--zone", zone]);
        assert!(matches!(taken.status, 0 | 1), "{}", taken.told());
        let mut arguments = vec!["resample", "--format", "json"];
        arguments.extend(further);
        let seen = room.run(&arguments).json();
        let seen = seen.as_array().unwrap();
        let wanted: Vec<BTreeMap<String, String>> =
            csv::Reader::from_path(fixture("resamples").join(table))
                .unwrap()
                .deserialize()
                .map(Result::unwrap)
                .collect();
        assert!(wanted.len() >= 50, "{table}: too few to say anything");
        for (line, (seen, wanted)) in seen.iter().zip(&wanted).enumerate() {
            for (column, wanted) in wanted {
                assert!(
                    same(&seen[column], wanted),
                    "{table}, line {}: {column} is {}, the second look has {wanted:?}",
                    line + 2,
                    seen[column]
                );
            }
        }
        assert_eq!(seen.len(), wanted.len(), "{table}: number of lines");
    }
}

/// The small programme as it stood at the end of April.
const ON: [&str; 2] = ["--on", "2026-04-30"];

fn resample<'a>(further: &[&'a str]) -> Vec<&'a str> {
    [&["resample"], further, &ON].concat()
}

#[test]
fn the_list_is_the_same_in_every_format() {
    Room::with_programme().journey(
        "resample",
        &[
            &resample(&[]),
            &resample(&["--format", "csv"]),
            &resample(&["--format", "json"]),
            &resample(&["--by", "site"]),
            &resample(&["--by", "site", "--format", "json"]),
            &resample(&["--where", "verdict:unrepresentative"]),
            &["resample", "--on", "2026-01-31"],
            &["resample", "--on", "2025-12-31"],
            &["resample", "--on", "31.12.2025"],
            &["resample", "--on", "2026-02-30"],
            &["resample", "--by", "crew"],
        ],
    );
}

/// The small programme worked out by hand (its verdicts are in `cli/verdicts.rs`).
#[test]
fn the_small_programme_has_the_list_worked_out_by_hand() {
    // C-1: D-1 of 5 January is good, D-2 (flush broken) of 4 February is unrepresentative,
    // D-3 of 5 March lacks the flush: unproven. From 5 January 08:00 to the last second of
    // 30 April in UTC are 115 days and 57,599 seconds, against 30 days.
    // C-2: D-4 is doubtful, so it can be trusted; the nameless draw of 10 February is blank:
    // unproven. No interval. C-3: D-5 is good, so it is not listed.
    let room = Room::with_programme();
    let found = room.run(&resample(&["--format", "json"])).json();
    let rows = found.as_array().unwrap();
    let told: Vec<[&str; 5]> = rows
        .iter()
        .map(|row| {
            let columns = [
                "compartment_id",
                "because",
                "draw_id",
                "trusted_draw_id",
                "point_id",
            ];
            columns.map(|column| row[column].as_str().unwrap())
        })
        .collect();
    assert_eq!(
        told,
        [
            ["C-1", "unproven", "D-3", "D-1", "P-1"],
            [
                "C-2",
                "unproven",
                "=B6@P-2@2026-02-10T09:00:00Z",
                "D-4",
                "P-2"
            ],
        ]
    );
    let days = 115.0 + 57_599.0 / 86_400.0;
    assert!((rows[0]["days_since"].as_f64().unwrap() - days).abs() < 1e-9);
    assert!((rows[0]["ratio"].as_f64().unwrap() - days / 30.0).abs() < 1e-9);
    assert!(rows[1]["ratio"].is_null());
    // 1000 h counted from D-1 to D-3 in 59 days, and 56 days more at that pace.
    let reckoned = 1000.0 + 1000.0 / 59.0 * (56.0 + 57_599.0 / 86_400.0);
    assert!((rows[0]["hours_since"].as_f64().unwrap() - reckoned).abs() < 1e-6);
}

/// Compares text with a snapshot, the present and what covers it left out.
fn assert_snapshot_without_clock(name: &str, text: &str) {
    let today = chrono::Utc::now().date_naive();
    let days = [today.pred_opt().unwrap(), today, today.succ_opt().unwrap()];
    let days = days.map(|day| day.to_string()).join("|");
    let mut settings = insta::Settings::clone_current();
    settings.add_filter(&format!(r"({days})[ T]\d\d:\d\d(:\d\dZ)?"), "[now]");
    settings.add_filter("[0-9a-f]{64}", "[hash]");
    settings.bind(|| assert_snapshot("cli", name, text));
}

#[test]
fn a_result_is_set_aside_with_a_reason_and_taken_up_again() {
    let room = Room::with_programme();
    let mut text = String::new();
    for arguments in [
        &["set-aside", "--list"][..],
        &[
            "set-aside",
            "D-5",
            "--because",
            "the housing was washed before",
            "--as",
            "Ada Morn",
        ],
        &["set-aside", "D-5", "--because", "again", "--as", "Bo"],
        &resample(&["--where", "compartment:C-3", "--format", "csv"]),
        &["score", "--where", "point:P-3", "--format", "csv"],
        &[
            "set-aside",
            "D-5",
            "--take-back",
            "--because",
            "it was another bearing",
            "--as",
            "Bo",
        ],
        &[
            "set-aside",
            "D-5",
            "--take-back",
            "--because",
            "again",
            "--as",
            "Bo",
        ],
        &resample(&["--where", "compartment:C-3"]),
        &["set-aside", "--list"],
        &["set-aside", "--list", "--format", "json"],
        &["set-aside", "D-9", "--because", "x", "--as", "Bo"],
        &["set-aside", "D-1", "--because", " ", "--as", "Bo"],
        &["set-aside", "D-1", "--because", "a\u{1b}[2J", "--as", "Bo"],
        &["set-aside", "D-1", "--as", "Bo"],
        &["set-aside", "--because", "x"],
        &["set-aside", "D-1", "--because", "x"],
        &["set-aside", "D-1", "--list"],
        &[
            "set-aside",
            "=B6@P-2@2026-02-10T09:00:00Z",
            "--because",
            "nothing is known of it",
            "--as",
            "Bo",
        ],
        &["trail"],
    ] {
        text.push_str(&room.run(arguments).told());
    }
    assert_snapshot_without_clock("set_aside", &text);
}

#[test]
fn a_sheet_is_a_page_of_its_own_and_is_never_overwritten() {
    let room = Room::with_programme();
    room.journey(
        "resample_sheets",
        &[
            &resample(&["--sheets", "pages"]),
            &resample(&["--sheets", "pages"]),
            &resample(&["--sheets", "more", "--for", "North", "--format", "csv"]),
            &resample(&["--sheets", "other", "--for", "north"]),
            &["resample", "--on", "2026-01-06", "--sheets", "other"],
            &resample(&["--for", "North"]),
            &resample(&["--sheets", "pages", "--by", "site"]),
        ],
    );
    let page = fs::read_to_string(room.path("pages/resample-North.html")).unwrap();
    assert_snapshot("cli", "resample_sheet", &page);
    assert!(!room.path("other").exists(), "a wrong name writes nothing");
}

#[test]
fn texts_from_sheets_reach_neither_markup_nor_other_folders() {
    let room = Room::with_sheets();
    let points = room.path("sheets").join("points.csv");
    let text = fs::read_to_string(&points).unwrap();
    let hostile = "<img src=x onerror=alert(1)>\u{1b}]0;x\u{7}";
    let text = text
        .replace("South pit", "../South")
        .replace("Press 1", hostile)
        .replace("HV 46,46", "\"HV\"\"&<b>46\",46")
        // Two sites whose names come out alike in another case.
        .replace("North", "..:south");
    fs::write(&points, text).unwrap();
    assert_eq!(room.run(&["import", "sheets"]).status, 0);
    room.run(&[
        "set-aside",
        "D-3",
        "--because",
        "</p><script>1</script>",
        "--as",
        "<i>",
    ]);
    let run = room.run(&resample(&["--sheets", "pages", "--strict"]));
    assert_eq!(run.status, 0, "{}", run.told());
    let mut names: Vec<String> = fs::read_dir(room.path("pages"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert_eq!(
        names,
        ["resample-___South.html", "resample-___south-2.html"]
    );
    for name in names {
        let page = fs::read_to_string(room.path("pages").join(&name)).unwrap();
        let marks = [
            "<img", "<script", "<i>", "<b>46", "\u{1b}", "\u{7}", "http:", "https:",
        ];
        for mark in marks {
            assert!(!page.contains(mark), "{name}: {mark}");
        }
        is_well_formed(&page, &name);
    }
}

/// Every element that opens is closed, in order (but those HTML has without an end).
fn is_well_formed(page: &str, name: &str) {
    let mut open: Vec<&str> = Vec::new();
    let body = page.split_once("</style>").unwrap();
    for part in body.1.split('<').skip(1) {
        let (tag, _) = part
            .split_once('>')
            .unwrap_or_else(|| panic!("{name}: {part}"));
        let word = tag.split([' ', '\n']).next().unwrap();
        match word.strip_prefix('/') {
            // Both open before the style, at which this begins to read.
            Some("head" | "html") => {}
            Some(closed) => assert_eq!(open.pop(), Some(closed), "{name}"),
            None if word == "br" => {}
            None => open.push(word),
        }
    }
    assert!(open.is_empty(), "{name}: {open:?} never closed");
}

#[test]
fn nobody_decides_in_a_file_that_cannot_be_written() {
    let room = Room::with_programme();
    let file = room.path("programme.db");
    let mut kept = fs::metadata(&file).unwrap().permissions();
    kept.set_readonly(true);
    fs::set_permissions(&file, kept).unwrap();
    let run = room.run(&["set-aside", "D-5", "--because", "x", "--as", "Bo"]);
    // Whoever runs as root may write all the same.
    if run.status != 0 {
        assert_eq!(run.status, 3, "{}", run.told());
        assert!(run.stderr.contains("can't be written"), "{}", run.told());
    }
}

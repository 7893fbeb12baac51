//! The ledger: batches listed and shown, taken back, refused rows mended.

use std::fs;

use super::runner::{Room, Run};

/// All that a run said, with the time of day taken out.
fn told(run: &Run) -> String {
    let clock = |text: &str| {
        let mut text = text.to_owned();
        let digits = |part: &str, pattern: &str| {
            part.len() == pattern.len()
                && part.bytes().zip(pattern.bytes()).all(|(byte, wanted)| {
                    if wanted == b'0' {
                        byte.is_ascii_digit()
                    } else {
                        byte == wanted
                    }
                })
        };
        for pattern in ["0000-00-00T00:00:00Z", "0000-00-00 00:00"] {
            let mut at = 0;
            while let Some(part) = text.get(at..at + pattern.len()) {
                if digits(part, pattern) && part >= "2026-04" {
                    text.replace_range(at..at + pattern.len(), &pattern.replace('0', "#"));
                }
                at += 1;
                while !text.is_char_boundary(at) {
                    at += 1;
                }
            }
        }
        text
    };
    clock(&run.told())
}

fn journey(room: &Room, name: &str, commands: &[&[&str]]) {
    let text: String = commands.iter().map(|it| told(&room.run(it))).collect();
    crate::support::assert_snapshot("cli", name, &text);
}

#[test]
fn batches_are_listed_shown_and_taken_back() {
    let room = Room::with_programme();
    room.run(&["import", "refused"]);
    journey(
        &room,
        "ledger",
        &[
            &["ledger"],
            &["ledger", "show", "2"],
            &["ledger", "show", "2", "--format", "json"],
            &["ledger", "take-back", "1", "--because", "wrong plant"],
            &["ledger", "take-back", "2", "--because", " "],
            &[
                "ledger",
                "take-back",
                "2",
                "--because",
                "wrong plant",
                "--as",
                "Ada Lind",
            ],
            &["ledger", "take-back", "2", "--because", "wrong plant"],
            &["ledger", "show", "3"],
            &["ledger", "show", "9"],
            &["ledger", "--format", "csv"],
            &["ledger", "refused", "--to", "none.csv"],
            &["check"],
        ],
    );
    assert!(!room.path("none.csv").exists());
}

#[test]
fn refused_rows_are_mended_and_the_ledger_shows_that_they_were() {
    let room = Room::with_programme();
    room.run(&["import", "refused", "--zone", "Europe/Lisbon"]);
    let written = room.run(&["ledger", "refused", "--to", "open.csv"]);
    let rows = fs::read_to_string(room.path("open.csv")).unwrap();
    let again = room.run(&["ledger", "refused", "--to", "open.csv"]);
    // A point that is known, a local time; the third stands alone now and changes the first.
    let mended = rows
        .replace(",P-9,", ",P-1,")
        .replace("10 March", "2026-03-10 08:00");
    room.write("open.csv", &mended);
    let text = [&written, &again].map(told).concat() + &rows;
    crate::support::assert_snapshot("cli", "ledger-refused", &text);
    journey(
        &room,
        "ledger-mended",
        &[
            &["import", "open.csv"],
            &["ledger"],
            &["ledger", "show", "3"],
            &["ledger", "refused", "--to", "left.csv"],
            &["ledger", "take-back", "3", "--because", "a slip"],
            &["ledger"],
            &["check"],
        ],
    );
    // The rows were read in the zone of the batch that had refused them.
    let batches = room.run(&["ledger", "--format", "json"]).json();
    assert_eq!(batches[2]["zone"], "Europe/Lisbon");
}

/// Cells that a spreadsheet would take for formulas come back as they were, and a spreadsheet's
/// own CSV (semicolons, another encoding) is taken as well.
#[test]
fn mended_rows_keep_their_cells() {
    let room = Room::with_programme();
    let cells = [
        "=1+1",
        "'=1+1",
        "''-5",
        "'quoted",
        "-5",
        " padded ",
        "a;b \"c\"",
    ];
    let quoted = |cell: &str| format!("\"{}\"", cell.replace('"', "\"\""));
    let rows: String = cells
        .iter()
        .enumerate()
        .map(|(row, cell)| format!("R-{row},P-9,T-1,2026-03-10T08:00Z,{}\n", quoted(cell)))
        .collect();
    let head = "draw_id,point_id,technician_id,drawn_at,=note\n";
    room.write("draws.csv", &format!("{head}{rows}"));
    assert_eq!(room.run(&["import", "draws.csv"]).status, 1);
    room.run(&["ledger", "refused", "--to", "open.csv"]);
    let open = fs::read_to_string(room.path("open.csv")).unwrap();
    for row in csv_rows(&open) {
        let formula = |cell: &String| cell.starts_with(['=', '+', '-', '@', '\t', '\r']);
        assert!(!row.iter().any(formula), "{row:?}");
    }
    let mended: String = csv_rows(&open)
        .iter()
        .map(|row| {
            let row = row.iter().map(|cell| quoted(&cell.replace("P-9", "P-1")));
            row.collect::<Vec<_>>().join(";") + "\r\n"
        })
        .collect();
    room.write("mended.csv", &mended);
    let taken = room.run(&["import", "mended.csv"]);
    assert_eq!(taken.status, 0, "{}", taken.told());
    assert!(room.run(&["sheets", "--to", "out", "--exact"]).status == 0);
    let draws = fs::read_to_string(room.path("out/draws.csv")).unwrap();
    let draws = csv_rows(&draws);
    let place = draws[0].iter().position(|name| name == "=note").unwrap();
    let kept: Vec<&str> = (0..cells.len())
        .map(|row| {
            let name = format!("R-{row}");
            let row = draws.iter().find(|draw| draw[0] == name).unwrap();
            row[place].as_str()
        })
        .collect();
    let expected: Vec<&str> = cells.iter().map(|cell| cell.trim()).collect();
    assert_eq!(kept, expected);
}

fn csv_rows(text: &str) -> Vec<Vec<String>> {
    csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(text.as_bytes())
        .records()
        .map(|row| row.unwrap().iter().map(str::to_owned).collect())
        .collect()
}

/// Rows that were read through a column map are read through it again, though the file of the
/// ledger has another delimiter and encoding and its header in the first row.
#[test]
fn mended_rows_of_a_mapped_sheet_are_mapped_again() {
    let room = Room::with_programme();
    room.write(
        "map.yaml",
        "fairdraw_columns: 1\nname: ours\nrevision: \"1\"\nsheets:\n  - kind: draws\n    \
         header_row: 3\n    zone: Europe/Lisbon\n    columns:\n      point_id: Stelle\n      \
         technician_id: Wer\n      drawn_at: {from: Wann, dates: [\"DD.MM.YYYY HH:mm\"]}\n      \
         oil_temp_c: {from: Öl °F, unit: °F}\n",
    );
    // In Windows-1252, with two lines of title.
    let text = "Plant;;;\n;;;\nStelle;Wer;Wann;Öl °F\nP-9;T-1;01.07.2026 10:00;122\n";
    let bytes: Vec<u8> = text.chars().map(|letter| letter as u32 as u8).collect();
    fs::write(room.path("list.csv"), bytes).unwrap();
    let taken = room.run(&["import", "list.csv", "--as", "draws", "--map", "map.yaml"]);
    assert_eq!(taken.status, 1, "{}", taken.told());
    room.run(&["ledger", "refused", "--to", "open.csv"]);
    let open = fs::read_to_string(room.path("open.csv")).unwrap();
    assert!(
        open.contains("refused_because,Stelle,Wer,Wann,Öl °F\n"),
        "{open}"
    );
    room.write("open.csv", &open.replace(",P-9,T-1", ",P-1,T-1"));
    let mended = room.run(&["import", "open.csv"]);
    assert_eq!(mended.status, 0, "{}", mended.told());
    let scores = room.run(&["score", "--where", "from:2026-07", "--format", "csv"]);
    // 10:00 in Lisbon in summer.
    assert!(
        scores.stdout.contains(",P-1,T-1,2026-07-01T09:00:00Z,"),
        "{}",
        scores.told()
    );
    room.run(&["sheets", "--to", "out"]);
    let draws = fs::read_to_string(room.path("out/draws.csv")).unwrap();
    let draws = csv_rows(&draws);
    let temp = draws[0]
        .iter()
        .position(|name| name == "oil_temp_c")
        .unwrap();
    // 122 °F is 50 °C, exactly by the definition of the scale.
    assert_eq!(draws.last().unwrap()[temp], "50");
    let batches = room.run(&["ledger", "--format", "json"]).json();
    assert_eq!(
        (&batches[1]["open"], &batches[1]["mended"]),
        (&0.into(), &1.into())
    );
}

//! From a folder of sheets to a programme, and what is refused on the way.

use super::runner::Room;

#[test]
fn a_folder_of_sheets_becomes_a_programme() {
    let room = Room::with_sheets();
    room.journey(
        "import",
        &[
            &["import", "sheets", "--dry-run"],
            &["share"],
            &["import", "sheets", "--zone", "Europe/Lisbon"],
            &["import", "sheets"],
            &["check"],
            &["share"],
        ],
    );
    assert!(room.path("programme.db").is_file());
}

/// Where no rejects sheet is written, the terminal is the only place to read them.
#[test]
fn trying_out_tells_more_refusals_than_an_import() {
    let room = Room::with_programme();
    let rows: String = (1..=60).map(|row| format!("D-{row},,,\n")).collect();
    room.write(
        "draws.csv",
        &format!("draw_id,point_id,technician_id,drawn_at\n{rows}"),
    );
    let told = |arguments: &[&str]| {
        let run = room.run(arguments);
        assert_eq!(run.status, 1, "{}", run.told());
        run.stderr.matches("refused: draws.csv").count()
    };
    assert_eq!(told(&["import", "draws.csv", "--dry-run"]), 50);
    assert_eq!(told(&["import", "draws.csv"]), 5);
}

#[test]
fn refused_rows_are_told_and_written_beside_the_programme() {
    let room = Room::with_programme();
    room.journey(
        "import-refused",
        &[
            &["import", "refused", "--dry-run"],
            &["import", "refused"],
            &[
                "import",
                "refused/draws.csv",
                "--as",
                "draws",
                "--format",
                "csv",
            ],
            &["import", "refused", "--format", "json"],
        ],
    );
    let scored = room.run(&["score", "--format", "csv"]).stdout;
    assert!(scored.contains("\nD-12,") && scored.contains("\nD-13,B-13,"));
    assert!(!scored.contains("D-10") && !scored.contains("D-11") && !scored.contains("B-14"));
}

#[test]
fn an_import_that_cannot_be_done_changes_nothing() {
    let room = Room::with_sheets();
    room.write("nothing.csv", "");
    room.write("book.yaml", "revision: [\n");
    room.journey(
        "import-impossible",
        &[
            &["import", "no-such-folder"],
            &["import", "sheets", "--zone", "Mars/Olympus"],
            &["import", "sheets", "--rulebook", "book.yaml"],
            &["import", "sheets", "--rulebook", "no-such.yaml"],
            &["-p", "no-such-folder/x.db", "import", "sheets"],
        ],
    );
}

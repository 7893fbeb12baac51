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

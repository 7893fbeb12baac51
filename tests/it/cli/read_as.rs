//! Files of other formats, and options that say how they are read.

use super::runner::Room;
use crate::support;

#[test]
fn other_formats_are_taken_in_and_told_how_they_were_read() {
    let room = Room::with_sheets();
    for name in [
        "openpyxl.xlsx",
        "office-grown.ods",
        "pandas-cp1252.csv",
        "pandas-utf-16.tsv",
        "locked.xls",
    ] {
        let from = support::fixture("sheets/others").join(name);
        std::fs::copy(from, room.path(name)).unwrap();
    }
    room.journey(
        "import-formats",
        &[
            &["import", "openpyxl.xlsx"],
            &["import", "pandas-cp1252.csv", "--as", "draws"],
            &[
                "import",
                "pandas-cp1252.csv",
                "--as",
                "draws",
                "--encoding",
                "iso-8859-15",
                "--dry-run",
            ],
            &[
                "import",
                "pandas-utf-16.tsv",
                "--as",
                "draws",
                "--delimiter",
                "tab",
                "--quote",
                "double",
            ],
            &[
                "import",
                "office-grown.ods",
                "--as",
                "draws",
                "--sheet",
                "bottles",
                "--header-row",
                "5",
            ],
            &["import", "openpyxl.xlsx", "--as", "draws", "--sheet", "9"],
            &["import", "locked.xls", "--as", "draws"],
            &["import", "sheets", "--encoding", "morse"],
            &["import", "sheets", "--delimiter", "xx"],
            &["import", "sheets", "--quote", "x"],
            &["import", "sheets", "--sheet", "0"],
            &["import", "sheets", "--header-row", "0"],
        ],
    );
}

//! A programme file of version 1, as the program made it before the ledger.

use std::fs;
use std::path::Path;

use fairdraw::model::Progress;
use fairdraw::programme::{Error, Programme};

use super::{assert_sound, copied, take_back};
use crate::cli::runner::Room;
use crate::support::fixture;

const FILE: &str = "programmes/version-1/version-1.db";

#[test]
fn it_is_copied_brought_up_to_date_and_says_what_it_said() {
    let room = Room::with_sheets();
    fs::copy(fixture(FILE), room.path("old.db")).unwrap();
    let run = room.run(&["-p", "old.db", "score", "--format", "csv"]);
    assert_eq!(run.status, 0, "{}", run.told());
    let expected = fs::read_to_string(fixture("programmes/version-1/version-1.csv")).unwrap();
    assert_eq!(run.stdout, expected);
    let check = room.run(&["-p", "old.db", "check"]);
    assert_eq!(check.status, 0, "{}", check.told());
    let of = |path: &Path| -> (i64, i64, i64) {
        let connection = rusqlite::Connection::open(path).unwrap();
        let number = |sql: &str| connection.query_row(sql, [], |row| row.get(0)).unwrap();
        (
            number("SELECT user_version FROM pragma_user_version"),
            number("SELECT count(*) FROM draws"),
            number("SELECT count(*) FROM refusals"),
        )
    };
    let backup = room.path("old.db.before-migration-2");
    assert_eq!(of(&backup), (1, 9, 4));
    assert_eq!(of(&backup), of(&fixture(FILE)));
}

#[test]
fn its_batches_stand_in_the_ledger_and_can_be_taken_back_while_it_is_known_what_they_said() {
    let (_folder, file) = copied(&fixture(FILE));
    let mut programme = Programme::open(&file).unwrap();
    let batches = programme.batches().unwrap();
    let told: Vec<_> = batches
        .iter()
        .map(|batch| {
            let import = &batch.import;
            let refused = batch.sum(|sheet| sheet.refused_rows);
            (import.number, import.link, &*import.zone, refused)
        })
        .collect();
    assert_eq!(
        told,
        [
            (1, None, "Europe/Lisbon", 0),
            (2, None, "UTC", 3),
            (3, None, "Europe/Lisbon", 0)
        ]
    );
    // Batch 3 said some rows of batches 1 and 2 again; which, nobody kept.
    for batch in [1, 2] {
        let refused = take_back(&mut programme, batch).unwrap_err();
        assert!(matches!(refused, Error::BeforeLedger { .. }), "{refused}");
    }
    take_back(&mut programme, 3).unwrap();
    assert_sound(&programme);
    let assessed = programme.assess(&Progress::default()).unwrap();
    assert_eq!(assessed.technicians[1].crew.as_deref(), Some("Late"));
    take_back(&mut programme, 2).unwrap();
    assert_sound(&programme);
    assert_eq!(
        programme.assess(&Progress::default()).unwrap().judged.len(),
        6
    );
    // Rows refused before the ledger were not kept as they stood.
    let written = programme.write_refused(None, &file.with_file_name("refused.csv"));
    assert!(written.unwrap().files.is_empty());
}

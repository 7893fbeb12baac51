//! First runs through a real pseudo-terminal: no programme yet, and files that can't be opened.

use crate::support::fixture;
use crate::terminal::{Journey, fairdraw, programme};

#[test]
fn a_first_run_looks_around_in_the_demo_and_leaves_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("north.db");
    // The file is named as one, so that no command is needed before it.
    let mut journey = Journey::start(fairdraw(), &[file.to_str().unwrap()]);
    journey.until("There is no programme file");
    journey
        .press("d")
        .until("judged draws are unrepresentative");
    journey.press("q");
    assert_eq!(journey.end(), 0);
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
}

#[test]
fn a_first_run_takes_tables_into_a_file_that_is_made_only_then() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("north.db");
    let arguments = ["open", file.to_str().unwrap()];
    let table = fixture("to-take-in").join("points.csv");
    let mut journey = Journey::start(fairdraw(), &arguments);
    journey.until("There is no programme file");
    journey
        .press("i")
        .until("north.db is made once something is taken in");
    journey
        .press("\x15")
        .press(&table.display().to_string())
        .until("495 B");
    journey.press("\r").until("would be taken");
    journey.press("d").until("Tried out");
    assert!(!file.exists());
    journey.press("t").until("Taken in as batch 1");
    assert!(file.exists());
    journey.press("\r").until("points.csv");
    journey.press("1").until("No draws yet");
    journey.press("q");
    assert_eq!(journey.end(), 0);
    // It is a programme like any other now.
    let journey = Journey::start(fairdraw(), &arguments);
    let mut journey = journey;
    journey.until("This programme holds no draws yet.");
    journey.press("\x03");
    assert_eq!(journey.end(), 0);
}

#[test]
fn a_file_of_another_kind_is_told_and_another_is_opened() {
    let folder = tempfile::tempdir().unwrap();
    let other = programme(&folder);
    let notes = folder.path().join("notes.db");
    std::fs::write(&notes, "Notes of the morning round").unwrap();
    let arguments = ["open", notes.to_str().unwrap()];
    let mut journey = Journey::start(fairdraw(), &arguments);
    journey.until("This is no programme file");
    // What lies beside it is listed: the one programme is chosen.
    journey.press("o").until("own.db");
    journey
        .press("\r")
        .until("judged draws are unrepresentative");
    journey.press("q");
    assert_eq!(journey.end(), 0);
    assert!(other.exists());

    let mut journey = Journey::start(fairdraw(), &arguments);
    journey.until("This is no programme file");
    journey.press("q").until("error: ");
    assert_eq!(journey.end(), 3);
    let kept = std::fs::read_to_string(&notes).unwrap();
    assert_eq!(kept, "Notes of the morning round");
}

#[test]
fn a_demo_that_is_stopped_leaves_no_part_of_it() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("large.db");
    let to = file.to_str().unwrap();
    let arguments = ["demo", "--draws", "200000", "--points", "3000", "--to", to];
    let mut journey = Journey::start(fairdraw(), &arguments);
    journey.until("Making the demo").until("Esc stops it");
    journey
        .press("\x1b")
        .until("stopped; the demo was not made");
    assert_eq!(journey.end(), 3);
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
}

//! First runs in linear text: no programme yet, and files that can't be opened.

use std::fs;

use super::sitting::{Room, assert_transcript};
use crate::support::fixture;

fn said(output: &std::process::Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

#[test]
fn a_first_run_says_what_to_begin_with_and_looks_around_in_the_demo() {
    let room = Room::empty();
    let lines = [
        "help", "", "x", "3", ".help", ".back", "4", "demo", "draws", "quit",
    ];
    let (transcript, status) = room.terminal(&["open", "north.db"], &lines);
    assert_eq!(status, 0, "{transcript}");
    let (before, demo) = transcript.split_once("> demo\n").unwrap();
    assert_transcript(&room, "first-run", before);
    assert!(demo.contains("judged draws are unrepresentative"), "{demo}");
    assert!(demo.contains("Draws 1 to 10 of 4,962"), "{demo}");
    assert_eq!(fs::read_dir(room.path("")).unwrap().count(), 0);
}

#[test]
fn a_first_run_takes_tables_into_a_file_that_is_made_only_then() {
    let room = Room::empty();
    let table = fixture("to-take-in").join("points.csv");
    let import = format!("import {}", table.display());
    let lines = [
        &import,
        "try all",
        "back",
        "take it in",
        "back",
        "take a table in",
        ".back",
        "points",
        "quit",
    ];
    let (transcript, status) = room.terminal(&["open", "north.db"], &lines);
    assert_eq!(status, 0, "{transcript}");
    for words in [
        "Taking in, looked at.",
        "Tried out.",
        "Taken in.\npoints.csv, points: 4 new.",
        "Records.",
        "Choose a table to take in",
    ] {
        assert!(transcript.contains(words), "{words}: {transcript}");
    }
    let promised = transcript.matches("is made once something is taken in");
    assert_eq!(
        promised.count(),
        2,
        "on offer, and on the way: {transcript}"
    );
    // It is a programme like any other now.
    let again = room.pipe(&["open", "north.db", "--plain"], &[".back", "records"]);
    assert_eq!(again.status.code(), Some(0));
    assert!(said(&again).contains("1 batch."), "{}", said(&again));
}

#[test]
fn lines_from_a_file_that_meet_no_programme_are_told_so_by_the_exit_status() {
    let room = Room::empty();
    for (lines, file) in [
        (&["quit"][..], "none.db"),
        (&["share"], "none.db"),
        (&[], "none.db"),
    ] {
        let told = room.pipe(&["open", file, "--plain"], lines);
        assert_eq!(told.status.code(), Some(3), "{lines:?}");
        assert!(said(&told).contains("There is no programme file none.db yet."));
        let error = String::from_utf8_lossy(&told.stderr).into_owned();
        assert!(error.contains("none.db"), "{error}");
    }
}

#[test]
fn a_file_of_another_kind_is_told_and_another_is_opened() {
    let room = Room::new();
    fs::write(room.path("notes.db"), "Notes of the morning round").unwrap();
    let lines = ["another file", "own", "people", "quit"];
    let (transcript, status) = room.terminal(&["open", "notes.db"], &lines);
    assert_eq!(status, 0, "{transcript}");
    assert!(
        transcript.contains("This is no programme file."),
        "{transcript}"
    );
    assert!(
        transcript.contains("fairdraw, programme own.db."),
        "{transcript}"
    );
    assert!(transcript.contains("\nPeople.\n"), "{transcript}");
    let told = room.pipe(&["open", "notes.db", "--plain"], &["open own.db", "quit"]);
    assert_eq!(told.status.code(), Some(0), "{}", said(&told));
    assert!(said(&told).contains("243 draws"));
    // Whoever leaves it at that is told by the exit status, at a terminal too.
    let (transcript, status) = room.terminal(&["open", "notes.db"], &["quit"]);
    assert_eq!(status, 3, "{transcript}");
    let kept = fs::read_to_string(room.path("notes.db")).unwrap();
    assert_eq!(kept, "Notes of the morning round");
}

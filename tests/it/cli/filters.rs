//! Saved filters on the command line.

use super::runner::{Room, Run};

/// Runs with memories in a folder of the room.
fn run(room: &Room, arguments: &[&str]) -> Run {
    let mut command = room.command(arguments);
    command.env("FAIRDRAW_STATE", room.path("state"));
    let output = command.output().unwrap();
    room.told(arguments, &output)
}

fn journey(room: &Room, name: &str, commands: &[&[&str]]) {
    let told: String = commands
        .iter()
        .map(|arguments| run(room, arguments).told())
        .collect();
    crate::support::assert_snapshot("cli", name, &told);
}

#[test]
fn filters_are_saved_used_renamed_and_forgotten() {
    let room = Room::with_programme();
    journey(
        &room,
        "filters",
        &[
            &["filters"],
            &["filters", "save", "south", "site:\"South pit\""],
            &[
                "filters",
                "save",
                "Broken flush",
                "broken:flush-met  -crew:B",
            ],
            &["filters", "list"],
            &["filters", "--format", "json"],
            &["filters", "--format", "csv"],
            &["filters", "save", "South", "site:North"],
            &["filters", "save", "South", "site:North", "--replace"],
            &["share", "--where", "@south"],
            &["share", "--where", "site:North"],
            &["filters", "rename", "south", "north"],
            &["filters", "rename", "north", "Broken Flush"],
            &["filters", "forget", "@north"],
            &["filters"],
        ],
    );
}

#[test]
fn a_saved_filter_that_is_not_there_is_told_with_what_is() {
    let room = Room::with_programme();
    journey(
        &room,
        "filters-wrong",
        &[
            &["share", "--where", "@north"],
            &["filters", "save", "north", "site:North"],
            &["filters", "save", "late", "from:2026-06"],
            &["share", "--where", "@nort"],
            &["score", "--where", "@weather"],
            &["share", "--where", "@north crew:B"],
            &["export", "--to", "pack", "--where", "@weather"],
            &["filters", "save", "north", "sitee:North"],
            &["filters", "save", "@north", "site:North"],
            &["filters", "save", "none", ""],
            &["filters", "forget", "nort"],
            &["filters", "save"],
        ],
    );
}

#[test]
fn every_reading_command_takes_a_saved_filter() {
    let room = Room::with_programme();
    assert_eq!(
        run(&room, &["filters", "save", "n", "site:North"]).status,
        0
    );
    for words in [
        "score",
        "share",
        "trend",
        "topics",
        "trainings",
        "resample",
        "coverage",
        "doubts",
    ] {
        let saved = run(&room, &[words, "--where", "@n", "--format", "csv"]);
        let typed = run(&room, &[words, "--where", "site:North", "--format", "csv"]);
        assert_eq!(saved.status, 0, "{}", saved.told());
        assert_eq!(saved.stdout, typed.stdout, "{words}");
    }
}

#[test]
fn where_nothing_is_remembered_it_is_said() {
    let room = Room::with_programme();
    for (state, words) in [
        (Some("off"), "FAIRDRAW_STATE is `off`"),
        (None, "temporary files"),
    ] {
        let mut command = room.command(&["filters", "save", "north", "site:North"]);
        if let Some(state) = state {
            command.env("FAIRDRAW_STATE", state);
        }
        let run = room.told(&["filters"], &command.output().unwrap());
        assert_eq!(run.status, 3);
        assert!(run.stderr.contains(words), "{}", run.stderr);
    }
    assert!(!room.path("off").exists());
}

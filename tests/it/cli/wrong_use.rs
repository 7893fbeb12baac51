//! Wrong use, and what is said about it.

use super::runner::Room;

#[test]
fn wrong_use_is_told_with_what_to_do() {
    let room = Room::with_programme();
    room.journey(
        "wrong-use",
        &[
            &["scor"],
            &["score", "--formt", "csv"],
            &["score", "--format", "xml"],
            &["share", "--by", "weather"],
            &["import"],
            &["rules", "show", "flush"],
            &["manual", "scores"],
            &["completions", "abacus"],
            &["demo", "--draws", "0"],
        ],
    );
}

#[test]
fn a_filter_that_cannot_be_read_shows_where() {
    let room = Room::with_programme();
    room.journey(
        "wrong-filter",
        &[
            &["score", "--where", "sitee:North"],
            &["share", "--where", "site:North verdict:perfect"],
            &["score", "--where", "broken:flush"],
            &["score", "--where", "site:\"South pit"],
            &["score", "--where", "from:2026-02-30"],
        ],
    );
}

#[test]
fn what_cannot_be_done_ends_with_status_3() {
    let room = Room::with_sheets();
    room.write("text.db", "this is no programme, whatever its name says\n");
    room.journey(
        "could-not",
        &[
            &["score"],
            &["-p", "text.db", "share"],
            &["-p", "text.db", "check"],
            &["rules", "check", "none.yaml"],
            &["rules", "adopt", "none.yaml"],
            &["rules", "current"],
        ],
    );
}

#[test]
fn the_programme_can_be_named_in_the_environment() {
    let room = Room::with_sheets();
    let named = |arguments: &[&str]| {
        let mut command = room.command(arguments);
        command.env("FAIRDRAW_PROGRAMME", "named.db");
        room.told(arguments, &command.output().unwrap())
    };
    assert_eq!(named(&["import", "sheets"]).status, 0);
    assert!(room.path("named.db").is_file() && !room.path("programme.db").exists());
    assert_eq!(named(&["share"]).status, 0);
    // The option goes before the environment.
    assert_eq!(named(&["share", "-p", "other.db"]).status, 3);
}

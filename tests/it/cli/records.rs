//! Coverage and doubts on the command line.

use super::runner::Room;

#[test]
fn coverage_is_the_same_in_every_format() {
    Room::with_programme().journey(
        "coverage",
        &[
            &["coverage"],
            &["coverage", "--by", "crew", "--format", "csv"],
            &[
                "coverage",
                "--where",
                "verdict:unproven",
                "--format",
                "json",
            ],
            &["coverage", "--where", "technician:nobody"],
            &["coverage", "--by", "rule"],
        ],
    );
}

#[test]
fn a_small_programme_raises_no_doubt_and_says_how_much_was_looked_at() {
    Room::with_programme().journey(
        "no_doubts",
        &[
            &["doubts"],
            &["doubts", "--by", "signal", "--format", "csv"],
            &["doubts", "--by", "technician", "--format", "json"],
            &["doubts", "--by", "crew"],
        ],
    );
}

#[test]
fn doubts_of_the_demo_are_the_same_in_every_format() {
    let room = Room::with_sheets();
    assert_eq!(room.run(&["demo", "--to", "programme.db"]).status, 0);
    room.journey(
        "doubts",
        &[
            &["doubts"],
            &["doubts", "--by", "signal"],
            &["doubts", "--by", "technician"],
            &["doubts", "--by", "site", "--format", "csv"],
            &["doubts", "--where", "from:2026-09", "--format", "json"],
            &["doubts", "--where", "technician:T001"],
            &["doubts", "--format", "csv"],
        ],
    );
}

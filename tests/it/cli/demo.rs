//! The demo without a terminal.

use super::runner::Room;

#[test]
fn without_a_terminal_the_demo_is_a_summary() {
    let room = Room::with_sheets();
    let small = ["--draws", "300", "--points", "20", "--technicians", "6"];
    let run = room.run(&[&["demo"][..], &small].concat());
    assert_eq!(run.status, 0, "{}", run.told());
    assert!(
        run.stdout.starts_with("unrepresentative: "),
        "{}",
        run.told()
    );
    assert!(run.stdout.contains("Rules that break most"));
}

#[test]
fn the_demo_can_be_kept_and_is_never_written_over() {
    let room = Room::with_sheets();
    let keep = [
        "demo",
        "--to",
        "kept.db",
        "--draws",
        "200",
        "--points",
        "12",
        "--technicians",
        "4",
    ];
    assert_eq!(room.run(&keep).status, 0);
    assert_eq!(room.run(&["-p", "kept.db", "check"]).status, 0);
    let again = room.run(&keep);
    assert_eq!(again.status, 3);
    assert!(
        again.stderr.contains("kept.db is there already"),
        "{}",
        again.stderr
    );
}

#[test]
fn the_demo_sheets_are_the_same_for_the_same_seed_and_import_without_refusal() {
    let room = Room::with_sheets();
    let write = |folder: &str, seed: &str| {
        let run = room.run(&[
            "demo",
            "--write",
            folder,
            "--draws",
            "200",
            "--points",
            "12",
            "--technicians",
            "4",
            "--seed",
            seed,
        ]);
        assert_eq!(run.status, 0, "{}", run.told());
        std::fs::read(room.path(folder).join("draws.csv")).unwrap()
    };
    let first = write("one", "7");
    assert_eq!(first, write("two", "7"));
    assert_ne!(first, write("three", "8"));
    assert_eq!(room.run(&["import", "one"]).status, 0);
}

//! The three users' journeys from end to end, in lines of text.

use std::fs;

use super::sitting::{Room, assert_transcript, without_echo};

/// The arguments of a sitting in which someone decides.
const OPEN: [&str; 4] = ["open", "own.db", "--as", "Ada Morn"];

/// A journey through a terminal and, on a programme of its own, over a pipe: both say the same.
fn journey(name: &str, lines: &[&str]) -> Room {
    let room = Room::new();
    let (transcript, status) = room.terminal(&OPEN, lines);
    assert_eq!(status, 0, "{transcript}");
    assert_harmless(&transcript);
    assert_transcript(&room, name, &transcript);
    let other = Room::new();
    let piped = other.pipe(&["open", "own.db", "--plain", "--as", "Ada Morn"], lines);
    assert_eq!(piped.status.code(), Some(0));
    assert_eq!(piped.stderr, b"");
    let said = String::from_utf8(piped.stdout).unwrap();
    assert_harmless(&said);
    // Both may meet another minute; all else is the same.
    let bare = |text: &str| -> Vec<String> {
        let is_timeless = |line: &String| {
            let varies = [" by Ada Morn", "as of", "The pack is in"];
            !varies.iter().any(|words| line.contains(words))
        };
        without_echo(text).into_iter().filter(is_timeless).collect()
    };
    assert_eq!(bare(&said), bare(&transcript));
    room
}

fn assert_harmless(text: &str) {
    let is_harmful = |sign: char| sign.is_control() && sign != '\n';
    assert!(!text.contains(is_harmful), "{text:?}");
}

#[test]
fn a_supervisor_sets_a_result_aside_and_takes_the_sheet_along() {
    journey(
        "supervisor",
        &[
            "rules",
            "more 1",
            "view periods",
            "open 1",
            "filter to:2025-06",
            "sort broken",
            "sort date",
            "open 1",
            "more",
            "back",
            "set aside 1",
            "",
            "the tap was dirty",
            "compartment 1",
            "resample",
            "where",
            "quit",
        ],
    );
    // How long ago a sample was due changes by the day, so this part has no transcript.
    let room = Room::new();
    let told = room.pipe(
        &["open", "own.db", "--plain", "--as", "Ada Morn"],
        &["resample", "more 1", "sheets", "pages", "quit"],
    );
    assert_eq!(told.status.code(), Some(0));
    let said = String::from_utf8(told.stdout).unwrap();
    assert_harmless(&said);
    assert!(
        fs::read_dir(room.path("pages")).unwrap().count() >= 1,
        "{said}"
    );
}

#[test]
fn a_trainer_ticks_two_and_takes_their_plans_along() {
    let room = journey(
        "trainer",
        &[
            "topics",
            "more 1",
            "topic flush-met",
            "tick 1",
            "tick 2",
            "plans",
            "handed out",
            "asks",
            "more 1",
            "trainings",
            "more 1",
            "people",
            "more 1",
            "points",
            "more 1",
            "quit",
        ],
    );
    assert_eq!(fs::read_dir(room.path("handed out")).unwrap().count(), 2);
}

#[test]
fn an_auditor_picks_verifies_raises_and_closes() {
    let room = journey(
        "auditor",
        &[
            "findings",
            "picks",
            "draw a pick",
            "fixed",
            "",
            "",
            "",
            "none",
            "",
            "autumn 1",
            "4",
            "sheet 1",
            "to verify.csv",
            "open 1",
            "disagree 1",
            "no jug at the point",
            "unrep",
            "agree 2",
            "",
            "",
            "again",
            "raise",
            "Flushes fall short",
            "",
            "flush-meet",
            "Bo Tarn",
            "",
            "flush-met",
            "back",
            "view findings",
            "close",
            "answer",
            "No jug at hand",
            "Drawn again",
            "A jug at every point",
            "",
            "close",
            "Rounds watched, all flushed",
            "open 1",
            "back",
            "pack",
            "evidence",
            "by code",
            "",
            "records",
            "doubts",
            "quit",
        ],
    );
    assert!(room.path("evidence").is_dir());
    let sheet = fs::read_to_string(room.path("to verify.csv")).unwrap();
    assert_eq!(sheet.lines().count(), 1 + 4, "{sheet}");
}

#[test]
fn the_sheet_of_a_pick_and_the_commands_of_forms_are_those_of_the_command_line() {
    let room = Room::new();
    let told = room.pipe(
        &["open", "own.db", "--plain", "--as", "Ada Morn"],
        &[
            "findings",
            "picks",
            "draw a pick",
            ".command",
            "",
            "20%",
            "",
            "",
            "",
            "site",
            "autumn",
            "sheet 1",
            ".command",
            "to verify.csv",
            "sheet 1",
            "to verify.csv",
            ".back",
            ".back",
            "open 1",
            "agree 2",
            "log says so",
            ".command",
            ".back",
            ".back",
            "people",
            "raise 1",
            "It's too short",
            "",
            "flush-met",
            "Bo Tarn",
            ".command",
            ".back",
            ".back",
            "quit",
        ],
    );
    let said = String::from_utf8(told.stdout).unwrap();
    assert!(
        said.contains("The sheet of pick 1 is in to verify.csv: "),
        "{said}"
    );
    assert!(
        said.contains("to verify.csv is there already and is not written over"),
        "{said}"
    );
    let run = |line: &str| {
        let fairdraw = env!("CARGO_BIN_EXE_fairdraw");
        let line = format!("'{fairdraw}' {}", line.strip_prefix("fairdraw ").unwrap());
        let output = std::process::Command::new("sh")
            .args(["-c", &line])
            .current_dir(room.path(""))
            .env("FAIRDRAW_AS", "Ada Morn")
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(0), "{line}: {output:?}");
        String::from_utf8(output.stdout).unwrap()
    };
    let lines = said
        .lines()
        .filter(|line| line.starts_with("fairdraw -p own.db "));
    let [draw, sheet, enter, raise]: [&str; 4] = lines.collect::<Vec<_>>().try_into().unwrap();
    let written = fs::read_to_string(room.path("to verify.csv")).unwrap();
    assert_eq!(run("fairdraw -p own.db pick show 1 --format csv"), written);
    run(sheet);
    assert_eq!(
        fs::read_to_string(room.path("pick-1.csv")).unwrap(),
        written
    );
    // As large as the preview said, and the same draws for the same seed.
    let pick = |number: &str| -> serde_json::Value {
        let line = format!("fairdraw -p own.db pick show {number} --format json");
        serde_json::from_str(&run(&line)).unwrap()
    };
    let size = pick("1")["draws"].as_array().unwrap().len();
    assert!(
        said.contains(&format!("Would pick {size} of 243 draws.")),
        "{said}"
    );
    run(draw);
    let second = pick("2")["draws"].as_array().unwrap().len();
    assert!(
        said.contains(&format!("Would pick {second} of 243 draws.")),
        "{said}"
    );
    run(enter);
    let verified = pick("1")["draws"][1].clone();
    assert_eq!(
        (&verified["result"], &verified["note"]),
        (&"agree".into(), &"log says so".into())
    );
    run(raise);
    assert!(run("fairdraw -p own.db finding list").contains("It's too short"));
}

#[test]
fn a_list_is_said_whole_where_it_is_copied() {
    let room = Room::new();
    let lines = ["draws", "copy", "list", "", "copy", "3", "quit"];
    let told = room.pipe(&["open", "own.db", "--plain"], &lines);
    let said = String::from_utf8(told.stdout).unwrap();
    assert_harmless(&said);
    let heading = "verdict; drawn; point; technician; name;";
    assert_eq!(said.matches(heading).count(), 2, "{said}");
    let rows = said.lines().filter(|line| line.matches("; ").count() == 10);
    assert_eq!(rows.count(), 2 * (1 + 243), "{said}");
    assert!(said.contains("5. command line: tells what is on screen: fairdraw -p own.db score\n"));
}

#[test]
fn the_end_of_the_input_leaves() {
    let output = Room::new().pipe(&["open", "own.db", "--plain"], &["draws"]);
    assert_eq!(output.status.code(), Some(0));
    let said = String::from_utf8(output.stdout).unwrap();
    assert!(said.contains("Draws.\nNo filter, 243 draws.\n"), "{said}");
    assert!(!said.contains("> "), "no prompts over a pipe");
}

#[test]
fn a_variable_asks_for_linear_text_too_and_screens_still_need_a_terminal() {
    let room = Room::new();
    let told = room.pipe(&["open", "own.db"], &["quit"]);
    assert_eq!(told.status.code(), Some(3));
    assert!(String::from_utf8_lossy(&told.stderr).contains("--plain"));
    let wrong = room.pipe(&["open", "none.db", "--plain"], &["quit"]);
    assert_eq!(wrong.status.code(), Some(3));
}

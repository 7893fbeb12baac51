//! A terminal tells its background when it is asked (OSC 11 of xterm's control sequences), and
//! the colours follow; one that does not is not waited for, and no key is lost meanwhile.
#![cfg(unix)]

use std::thread::sleep;
use std::time::Duration;

use crate::terminal::{Journey, fairdraw, programme};

/// What a terminal with a white background answers, and the end of all answers.
const WHITE: &str = "\x1b]11;rgb:ffff/ffff/ffff\x1b\\\x1b[?62;4c";
const BLACK: &str = "\x1b]11;rgb:0000/0000/0000\x1b\\\x1b[?62;4c";

type Colours = Vec<(vt100::Color, vt100::Color)>;

/// The colours of every cell.
fn colours(journey: &Journey) -> Colours {
    let parser = journey.screen.lock().unwrap();
    let screen = parser.screen();
    let (rows, columns) = screen.size();
    let cells = (0..rows.get()).flat_map(|row| (0..columns.get()).map(move |column| (row, column)));
    cells
        .filter_map(|(row, column)| screen.cell(row, column))
        .map(|cell| (cell.fgcolor(), cell.bgcolor()))
        .collect()
}

/// Starts, and types once the program has taken the terminal.
fn started(folder: &tempfile::TempDir, arguments: &[&str], typed: &str) -> Journey {
    let file = programme(folder);
    let all = [&["open", file.to_str().unwrap()], arguments].concat();
    let mut journey = Journey::start(fairdraw(), &all);
    while journey.received() == 0 {
        sleep(Duration::from_millis(1));
    }
    journey.press(typed);
    journey
}

fn leave(mut journey: Journey) {
    journey.press("q");
    assert_eq!(journey.end(), 0);
}

#[test]
fn the_colours_are_those_of_the_background_that_the_terminal_tells() {
    let folder = tempfile::tempdir().unwrap();
    let people = "no verdict on a person";
    let mut wanted = Vec::new();
    for colour in ["light", "dark"] {
        let journey = started(&folder, &["--colours", colour], "3");
        // The last to come of this screen: until the model is fitted, other lines stand here.
        journey.until(people).until("odds ratio");
        wanted.push(colours(&journey));
        leave(journey);
    }
    assert_ne!(wanted[0], wanted[1]);
    // A key that comes in with the answer is a key, and the answer is none.
    for (answer, wanted) in [WHITE, BLACK].into_iter().zip(&wanted) {
        let journey = started(&folder, &[], &format!("3{answer}"));
        journey.until(people);
        journey.until_that("the colours", |_| colours(&journey) == *wanted);
        leave(journey);
    }
}

#[test]
fn a_terminal_that_tells_nothing_gets_the_keys_that_were_pressed_meanwhile() {
    let folder = tempfile::tempdir().unwrap();
    let mut journey = started(&folder, &[], "3");
    journey.until("no verdict on a person");
    // An answer that comes far too late is no key either.
    journey.press(WHITE).press("4");
    journey.until_that("the points", |text| {
        text.contains("differ") && !text.contains("no verdict on a person")
    });
    leave(journey);
}

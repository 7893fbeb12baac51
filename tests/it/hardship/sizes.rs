//! The size of the window, whenever and however it changes.

use std::path::Path;
use std::thread::sleep;
use std::time::Duration;

use crate::terminal::{Journey, fairdraw, programme};

/// What is said where the window is too small for anything else.
const TOO_SMALL: &str = "40 × 10; fairdraw needs";

#[test]
fn a_size_that_changes_while_it_starts_is_followed() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(&folder);
    // While the terminal is asked for its colours, while the file is read, and when the first
    // frame has just been shown: nothing may be taken for the size that is not so any more.
    for delay in [0, 20, 60, 100, 110, 150, 300] {
        let mut journey = Journey::start(fairdraw(), &["open", file.to_str().unwrap()]);
        journey.until_that("a first sign", |_| journey.received() > 0);
        sleep(Duration::from_millis(delay));
        journey.resize(10, 40);
        journey.until(TOO_SMALL);
        journey.press("q");
        assert_eq!(journey.end(), 0, "after {delay} ms");
    }
}

#[test]
fn a_size_of_which_no_signal_tells_is_noticed() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(&folder);
    // In a session of its own the terminal tells it nothing.
    let script = format!(
        "exec setsid -w {} open {}",
        fairdraw().display(),
        file.display()
    );
    let mut journey = Journey::start(Path::new("/bin/sh"), &["-c", &script]);
    journey.until("judged draws are unrepresentative");
    journey.resize(10, 40);
    journey.until(TOO_SMALL);
    journey.resize(40, 130);
    journey.until("Broken most");
    journey.press("q");
    assert_eq!(journey.end(), 0);
}

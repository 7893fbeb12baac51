//! Terminals that vanish, and signals that ask to end at a bad time.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::thread::sleep;
use std::time::{Duration, Instant};

use super::open;
use crate::terminal::{self, Journey, fairdraw, programme};

/// Ends within a second on a machine at rest; machines with much to do are given more.
const SOON: Duration = Duration::from_secs(8);

/// A log beside a file is gone once the last one at it has closed it in order.
fn is_closed(file: &Path) -> bool {
    let mut log = file.as_os_str().to_owned();
    log.push("-wal");
    !PathBuf::from(log).exists()
}

/// Whether a process is there that has not ended; one that nobody asked about is not.
fn is_alive(process: u32) -> bool {
    let told = fs::read_to_string(format!("/proc/{process}/stat")).unwrap_or_default();
    let state = told
        .rsplit(") ")
        .next()
        .and_then(|rest| rest.chars().next());
    state.is_some_and(|state| state != 'Z')
}

#[test]
fn a_terminal_that_vanishes_ends_it_with_the_file_closed() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(&folder);
    let journey = open(&file);
    assert!(!is_closed(&file), "it is open");
    let mut child = journey.hang_up();
    let begun = Instant::now();
    let status = child.wait().unwrap();
    assert!(begun.elapsed() < SOON, "{:?}", begun.elapsed());
    assert_eq!(status.exit_code(), 0);
    assert!(is_closed(&file));
}

#[test]
fn a_terminal_that_vanishes_without_a_signal_is_noticed_all_the_same() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(&folder);
    let number = folder.path().join("number");
    // In a session of its own no signal tells that the terminal is gone.
    let script = format!(
        "exec setsid -w sh -c 'echo $$ > {}; exec {} open {}'",
        number.display(),
        fairdraw().display(),
        file.display()
    );
    let journey = Journey::start(Path::new("/bin/sh"), &["-c", &script]);
    journey.until("judged draws are unrepresentative");
    let number = fs::read_to_string(number).unwrap();
    let process = number.trim().parse().unwrap();
    if !is_alive(process) {
        println!("this system does not tell which processes there are");
        return;
    }
    let _child = journey.hang_up();
    let begun = Instant::now();
    while is_alive(process) {
        assert!(begun.elapsed() < SOON, "it is still there");
        sleep(Duration::from_millis(20));
    }
    assert!(is_closed(&file));
}

#[test]
fn a_signal_ends_it_even_while_the_terminal_does_not_read() {
    let folder = tempfile::tempdir().unwrap();
    let mut journey = terminal::open(&folder);
    journey.stall();
    for _ in 0..60 {
        for screen in ["2", "3", "4", "1"] {
            journey.press(screen);
            sleep(Duration::from_millis(3));
        }
    }
    let process = journey.child.process_id().unwrap().to_string();
    let sent = Command::new("kill").args(["-s", "TERM", &process]).status();
    assert!(sent.unwrap().success());
    let begun = Instant::now();
    let status = journey.child.wait().unwrap();
    assert!(begun.elapsed() < SOON, "{:?}", begun.elapsed());
    assert_eq!(status.exit_code(), 0);
}

#[test]
fn without_an_open_input_it_says_that_it_needs_a_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let script = format!(
        "exec {} open {} <&-",
        fairdraw().display(),
        programme(&folder).display()
    );
    let output = Command::new("sh").args(["-c", &script]).output().unwrap();
    assert_eq!(output.status.code(), Some(3));
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.contains("needs a terminal"), "{said}");
}

//! Sleep and waking, through a shell with job control.

use std::path::Path;

use crate::terminal::{Journey, fairdraw, programme};

#[test]
fn ctrl_z_hands_the_terminal_to_the_shell_and_fg_brings_the_whole_screen_back() {
    let shell = Path::new("/bin/bash");
    if !shell.exists() {
        println!("there is no bash here to put a job to sleep with");
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let file = programme(&folder);
    let mut shell = Journey::start(shell, &["--norc", "--noprofile", "-i"]);
    shell
        .press("PS1='ready> '; stty -a > /dev/null\r")
        .until("\nready> ");
    let command = format!("{} open {}\r", fairdraw().display(), file.display());
    shell.press(&command);
    shell.until("judged draws are unrepresentative");
    shell.press("3").until("no verdict on a person");
    for turn in 0..2 {
        shell.press("\x1a");
        shell.until_that("a prompt after it stopped", |text| {
            let stopped = text.matches("Stopped").count();
            stopped > turn && text.trim_end().ends_with("ready>")
        });
        {
            let parser = shell.screen.lock().unwrap();
            let screen = parser.screen();
            assert!(!screen.alternate_screen() && !screen.hide_cursor());
            assert_eq!(screen.mouse_protocol_mode(), vt100::MouseProtocolMode::None);
        }
        // What is typed is seen, and a line is taken at its end.
        shell.press(&format!("echo a{turn}$((20 + 22))b\r"));
        let said = format!("a{turn}42b");
        shell.until_that("what was typed, and a prompt", |text| {
            text.contains(&said) && text.trim_end().ends_with("ready>")
        });
        // The window changes while nobody looks.
        let more = u16::try_from(turn).unwrap();
        shell.resize(24 + more, 80 + 10 * more);
        shell.press("fg\r");
        shell.until("no verdict on a person").until("1 Share");
        assert!(shell.screen.lock().unwrap().screen().alternate_screen());
        assert!(!shell.text().contains("Stopped"), "{}", shell.text());
    }
    shell.press("2").until("drawn▼");
    shell.press("q");
    // Until it has ended, what is typed is its own.
    shell.until_that("a prompt after it left", |text| {
        text.trim_end().ends_with("ready>")
    });
    shell.press("echo left with $?\r").until("left with 0");
    shell.press("exit\r");
    assert_eq!(shell.end(), 0);
}

#[test]
fn where_no_shell_could_wake_it_it_does_not_fall_asleep() {
    let folder = tempfile::tempdir().unwrap();
    let mut journey = crate::terminal::open(&folder);
    journey
        .press("\x1a")
        .press("3")
        .until("no verdict on a person");
    journey.press("q");
    assert_eq!(journey.end(), 0);
}

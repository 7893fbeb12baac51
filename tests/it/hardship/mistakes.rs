//! A thread that comes to grief behind the open interface.

use std::path::Path;
use std::sync::Arc;

use fairdraw::model::Colours;
use fairdraw::programme::Beginning;

use crate::terminal::{Journey, programme};

/// Where the part of the test below finds its file.
const FILE: &str = "FAIRDRAW_TEST_FILE";

#[test]
fn a_panic_in_a_thread_behind_the_screens_hands_the_terminal_back_and_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(&folder);
    // A file of a later version keeps the interface at its choices, where the demo can be asked
    // for. The version stands in bytes 60 to 63 (SQLite, file format, user version).
    let mut bytes = std::fs::read(&file).unwrap();
    bytes[60..64].copy_from_slice(&99_u32.to_be_bytes());
    std::fs::write(&file, &bytes).unwrap();
    let itself = std::env::current_exe().unwrap();
    let own = format!("{FILE}={}", file.display());
    let child = "hardship::mistakes::its_demo_comes_to_grief";
    let arguments = [
        &own,
        itself.to_str().unwrap(),
        "--exact",
        child,
        "--ignored",
        "--nocapture",
    ];
    let mut journey = Journey::start(Path::new("/usr/bin/env"), &arguments);
    journey.until("newer than this fairdraw");
    assert!(journey.screen.lock().unwrap().screen().alternate_screen());
    journey.press("d").until("for the test's sake");
    journey.until_said("fairdraw met a mistake of its own and stopped");
    assert_ne!(journey.end(), 0);
    assert!(
        std::fs::read(&file).unwrap() == bytes,
        "the file is as it was"
    );
}

/// Run by the test above in a terminal of its own; alone it would take over yours.
#[test]
#[ignore = "a part of another test"]
fn its_demo_comes_to_grief() {
    let file = std::env::var_os(FILE).unwrap();
    let beginning = Beginning {
        file: file.into(),
        is_demo: false,
        who: None,
        colours: Colours::default(),
        demo: Arc::new(|_| panic!("for the test's sake")),
    };
    if let Err(error) = fairdraw::tui::run(&beginning) {
        eprintln!("error: {error}");
        std::process::exit(3);
    }
}

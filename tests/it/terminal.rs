//! Journeys through a real pseudo-terminal: the screens as a person meets them, and the
//! terminal handed back whatever happens.

use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicU8, AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::sync::{Arc, Mutex, OnceLock};
use std::time::{Duration, Instant};

use crate::support::fixture;
use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};

/// How long a text may take to appear; generous, for machines with much to do.
const PATIENCE: Duration = Duration::from_secs(30);

/// What the terminal does with what it is sent.
const READS: u8 = 0;
const READS_NOT: u8 = 1;
const HANGS_UP: u8 = 2;

/// Watches the bytes and answers what is on screen.
pub struct Journey {
    pub screen: Arc<Mutex<vt100::Parser>>,
    changed: Receiver<()>,
    keyboard: Box<dyn Write + Send>,
    pub master: Box<dyn MasterPty + Send>,
    pub child: Box<dyn Child + Send + Sync>,
    modes_before: String,
    reading: Arc<AtomicU8>,
    /// How many bytes came from the program.
    received: Arc<AtomicU64>,
}

impl Journey {
    pub fn start(program: &Path, arguments: &[&str]) -> Self {
        let size = PtySize {
            rows: 24,
            cols: 80,
            ..PtySize::default()
        };
        let pair = native_pty_system().openpty(size).unwrap();
        let modes_before = modes(pair.master.as_ref());
        let mut command = CommandBuilder::new(program);
        command.args(arguments);
        command.env("TERM", "xterm-256color");
        command.env("LANG", "C.UTF-8");
        command.env("FAIRDRAW_AS", "Ines Falk");
        for name in [
            "NO_COLOR",
            "COLORTERM",
            "LC_ALL",
            "LC_CTYPE",
            "FAIRDRAW_PROGRAMME",
        ] {
            command.env_remove(name);
        }
        let child = pair.slave.spawn_command(command).unwrap();
        drop(pair.slave);
        let screen = Arc::new(Mutex::new(vt100::Parser::new(cells(24), cells(80), 0)));
        let (tell, changed) = channel();
        let mut output = pair.master.try_clone_reader().unwrap();
        let shown = Arc::clone(&screen);
        let (reading, received) = (Arc::new(AtomicU8::new(READS)), Arc::new(AtomicU64::new(0)));
        let (reads, counted) = (Arc::clone(&reading), Arc::clone(&received));
        std::thread::spawn(move || {
            let mut bytes = [0; 4096];
            while let Ok(read @ 1..) = output.read(&mut bytes) {
                counted.fetch_add(read as u64, Ordering::SeqCst);
                shown.lock().unwrap().process(&bytes[..read]);
                if tell.send(()).is_err() {
                    return;
                }
                while reads.load(Ordering::SeqCst) == READS_NOT {
                    std::thread::sleep(Duration::from_millis(5));
                }
                if reads.load(Ordering::SeqCst) == HANGS_UP {
                    return;
                }
            }
        });
        Journey {
            screen,
            changed,
            keyboard: pair.master.take_writer().unwrap(),
            master: pair.master,
            child,
            modes_before,
            reading,
            received,
        }
    }

    /// How many bytes came from the program so far.
    pub fn received(&self) -> u64 {
        self.received.load(Ordering::SeqCst)
    }

    /// The terminal reads no more, until it is told to; a piece may still be read.
    pub fn stall(&self) {
        self.reading.store(READS_NOT, Ordering::SeqCst);
    }

    /// The terminal reads again.
    pub fn read_on(&self) {
        self.reading.store(READS, Ordering::SeqCst);
    }

    /// The terminal vanishes, as when a connection breaks or a window is closed.
    pub fn hang_up(mut self) -> Box<dyn Child + Send + Sync> {
        self.reading.store(HANGS_UP, Ordering::SeqCst);
        // What is drawn anew wakes the one who reads, who then lets go of the terminal. In a
        // session of its own the program is told of no other size, but of keys.
        self.press("?");
        let size = PtySize {
            rows: 30,
            cols: 90,
            ..PtySize::default()
        };
        self.master.resize(size).unwrap();
        while self.changed.recv_timeout(PATIENCE).is_ok() {}
        self.child
    }

    pub fn text(&self) -> String {
        self.screen.lock().unwrap().screen().contents()
    }

    /// Waits until a text stands on the screen.
    pub fn until(&self, wanted: &str) -> &Self {
        self.until_that(wanted, |text| text.contains(wanted))
    }

    /// Waits until these words stand on the screen, be it on several lines.
    pub fn until_said(&self, wanted: &str) -> &Self {
        self.until_that(wanted, |text| {
            let words: Vec<&str> = text.split_whitespace().collect();
            words.join(" ").contains(wanted)
        })
    }

    pub fn until_that(&self, what: &str, holds: impl Fn(&str) -> bool) -> &Self {
        let deadline = Instant::now() + PATIENCE;
        while !holds(&self.text()) {
            let rest = deadline.saturating_duration_since(Instant::now());
            match self.changed.recv_timeout(rest) {
                Ok(()) => {}
                Err(RecvTimeoutError::Disconnected) if holds(&self.text()) => break,
                Err(_) => panic!("{what:?} did not appear:\n{}", self.text()),
            }
        }
        self
    }

    pub fn press(&mut self, keys: &str) -> &mut Self {
        self.keyboard.write_all(keys.as_bytes()).unwrap();
        self.keyboard.flush().unwrap();
        self
    }

    pub fn resize(&self, rows: u16, cols: u16) {
        self.screen
            .lock()
            .unwrap()
            .screen_mut()
            .set_size(cells(rows), cells(cols));
        let size = PtySize {
            rows,
            cols,
            ..PtySize::default()
        };
        self.master.resize(size).unwrap();
    }

    /// Waits for the end; the exit status, after looking that the terminal is as it was.
    pub fn end(mut self) -> u32 {
        let status = self.child.wait().unwrap();
        // All that was written before the end is on screen once the reader stops.
        while self.changed.recv_timeout(PATIENCE).is_ok() {}
        let parser = self.screen.lock().unwrap();
        let screen = parser.screen();
        assert!(!screen.alternate_screen(), "still in the alternate screen");
        assert!(!screen.hide_cursor(), "the cursor is still hidden");
        assert!(!screen.bracketed_paste(), "pastes are still bracketed");
        assert_eq!(screen.mouse_protocol_mode(), vt100::MouseProtocolMode::None);
        drop(parser);
        let after = modes(self.master.as_ref());
        if !after.is_empty() {
            assert_eq!(after, self.modes_before);
        }
        status.exit_code()
    }
}

pub fn cells(count: u16) -> std::num::NonZero<u16> {
    count.try_into().unwrap()
}

/// The line discipline of the terminal, in words.
fn modes(master: &dyn MasterPty) -> String {
    #[cfg(unix)]
    {
        master
            .get_termios()
            .map_or_else(String::new, |termios| format!("{:?}", termios.local_flags))
    }
    #[cfg(not(unix))]
    {
        let _ = master;
        String::new()
    }
}

pub fn fairdraw() -> &'static Path {
    Path::new(env!("CARGO_BIN_EXE_fairdraw"))
}

/// The invented programme, of the test's own and with nothing decided on it yet.
pub fn programme(folder: &tempfile::TempDir) -> PathBuf {
    static MADE: OnceLock<(tempfile::TempDir, PathBuf)> = OnceLock::new();
    let (_, made) = MADE.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("made.db");
        let status = Command::new(fairdraw())
            .arg("--programme")
            .arg(&file)
            .arg("import")
            .arg(crate::support::root().join("demo-data"))
            .args(["--zone", fairdraw::demo::ZONE])
            .stdin(Stdio::null())
            .output()
            .unwrap()
            .status;
        assert!(status.success());
        (folder, file)
    });
    let own = folder.path().join("own.db");
    std::fs::copy(made, &own).unwrap();
    own
}

pub fn open(folder: &tempfile::TempDir) -> Journey {
    let file = programme(folder);
    let journey = Journey::start(fairdraw(), &["open", file.to_str().unwrap()]);
    journey.until("judged draws are unrepresentative");
    journey
}

#[test]
fn a_supervisor_walks_filters_opens_and_leaves() {
    let folder = tempfile::tempdir().unwrap();
    let mut journey = open(&folder);
    journey.until("own.db");
    journey.press("3").until("no verdict on a person");
    journey.press("4").until("flush");
    journey.press("2").until("drawn▼");
    journey
        .press(":kind:tank\r")
        .until("kind:tank")
        .until(" of ");
    journey.press("\r").until("Draws of compartment");
    journey.press("?").until("Open the next draw of the list");
    journey.press("\x1b").until("Draws of compartment");
    journey.press("\x1b").until("drawn▼");
    journey.press("\x1b").until("no filter");
    journey.press("q");
    assert_eq!(journey.end(), 0);
}

#[test]
fn a_bottle_is_found_by_its_code_and_a_period_chosen_by_its_letter() {
    let folder = tempfile::tempdir().unwrap();
    let mut journey = open(&folder);
    // Typed and sent in one go, before its codes can have been read.
    journey.press("/B000123\r").until("Draws of compartment");
    journey.press("\x1b").until("Back in Share");
    journey.press("mm").until("from:").until("to:");
    journey.press("<").until("no filter");
    journey.press(">").until("from:");
    journey.press("q");
    assert_eq!(journey.end(), 0);
}

#[test]
fn a_trainer_ticks_two_and_takes_their_plans_along() {
    let folder = tempfile::tempdir().unwrap();
    let plans = folder.path().join("handed-out");
    let mut journey = open(&folder);
    journey.press("5").until("draws to regain");
    journey.press(" ").until("1 ticked");
    journey.press("\x1b[C ").until("2 ticked");
    journey.press("w").until("never overwritten");
    journey.press("\x15");
    journey.press(&format!("{}\r", plans.display()));
    journey.until("2 plans are in");
    journey.press("q");
    assert_eq!(journey.end(), 0);
    let pages: Vec<_> = std::fs::read_dir(&plans).unwrap().collect();
    assert_eq!(pages.len(), 2);
}

/// What the command line tells of the programme in a folder, as JSON.
pub fn told(folder: &tempfile::TempDir, arguments: &[&str]) -> serde_json::Value {
    let output = Command::new(fairdraw())
        .arg("--programme")
        .arg(folder.path().join("own.db"))
        .args(arguments)
        .args(["--format", "json"])
        .stdin(Stdio::null())
        .output()
        .unwrap();
    assert!(output.status.success(), "{arguments:?}: {output:?}");
    serde_json::from_slice(&output.stdout).unwrap()
}

#[test]
fn an_auditor_raises_a_finding_that_is_answered_and_closed() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(&folder);
    let arguments = ["open", file.to_str().unwrap(), "--as", "Ada Morn"];
    let mut journey = Journey::start(fairdraw(), &arguments);
    journey.until("judged draws are unrepresentative");
    journey.press("3").until("no verdict on a person");
    journey.press("F").until("Kept in the trail as Ada Morn.");
    journey.press("Flushes short\r\rflush-meet\rBo Tarn\r\r");
    journey.until("Did you mean flush-met?");
    journey
        .press("\x15flush-met\x13")
        .until("Finding F-1 is raised");
    journey.press("6").until("F-1");
    journey.press("c").until("answer it first");
    journey.press("a").until("Answer finding F-1");
    journey
        .press("No jug\r")
        .press("Drawn again\r")
        .press("A jug\r\r");
    journey.until("Finding F-1 is answered.");
    journey.until("1 answered");
    journey.press("c").until("Close finding F-1");
    journey
        .press("Rounds watched\x1b")
        .until("Esc again leaves it");
    journey.press(", all flushed\r\r");
    journey.until("Finding F-1 is closed.");
    journey.until("1 closed");
    journey.press("\r").until("Rounds watched, all flushed");
    journey.press("q");
    assert_eq!(journey.end(), 0);
    let findings = told(&folder, &["finding", "list"]);
    let raised = findings.as_array().unwrap().iter();
    let own = raised.filter(|it| it["text"] == "Flushes short");
    let states: Vec<_> = own.map(|it| it["state"].as_str()).collect();
    assert_eq!(states, [Some("closed")], "{findings}");
    let trail = told(&folder, &["trail"]);
    let kinds: Vec<_> = trail.as_array().unwrap().iter().rev().take(3).collect();
    for (link, kind) in kinds.iter().zip(["closed", "answered", "raised"]) {
        assert_eq!(link["kind"], format!("finding {kind}"));
        assert_eq!(link["who"], "Ada Morn");
    }
}

#[test]
fn a_supervisor_sets_a_result_aside_and_takes_the_sheets_along() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(&folder);
    let pages = folder.path().join("pages");
    let arguments = ["open", file.to_str().unwrap(), "--as", "Ada Morn"];
    let mut journey = Journey::start(fairdraw(), &arguments);
    journey.until("judged draws are unrepresentative");
    journey.press("8").until("to sample again");
    journey.press("a").until("Nobody is to act on");
    journey.press("tap was dirty\r").until("is set aside.");
    journey.press("w").until("Sheets to print");
    journey.press(&format!("\x15{}\r", pages.display()));
    journey.until("5 sheets are in");
    journey.press("q");
    assert_eq!(journey.end(), 0);
    assert_eq!(std::fs::read_dir(&pages).unwrap().count(), 5);
    let set = told(&folder, &["set-aside", "--list"]);
    assert_eq!(set[0]["because"], "tap was dirty");
    assert_eq!(set[0]["who"], "Ada Morn");
}

#[test]
fn a_table_of_other_columns_is_taken_in_and_taken_back() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("own.db");
    let sheets = fixture("to-take-in");
    let status = Command::new(fairdraw())
        .arg("--programme")
        .arg(&file)
        .arg("import")
        .arg(sheets.join("points.csv"))
        .arg(sheets.join("technicians.csv"))
        .stdin(Stdio::null())
        .output()
        .unwrap()
        .status;
    assert!(status.success());
    // A programme without draws offers to take a table in.
    let mut journey = Journey::start(fairdraw(), &["open", file.to_str().unwrap()]);
    journey.until("holds no draws yet");
    journey.press("\x15");
    journey.press(&format!("{}/harb", sheets.display()));
    journey.until("harbour log 2026.csv");
    journey.press("\r");
    // Semicolons and degrees Fahrenheit are found out; zone and order of day and month are
    // asked for.
    journey.until("To be answered first").until("? dates");
    journey.press("\r").until("written by hand");
    journey.press("\r");
    journey.until_that("the zone answered", |text| {
        !text.contains("? zone") && text.contains("? dates")
    });
    journey.press("\r").until("day first");
    journey.press("\r").until("would be taken");
    journey.press("\t").until("oil_temp_c").until("606.25");
    journey.press("t").until("Taken in as batch 2");
    journey.press("\r").until("to mend");
    journey.press("b").until("Say why");
    journey
        .press("a trial\r")
        .until("Take batch 2 back, as Ines Falk?");
    journey
        .press("\r")
        .until("Batch 2 is taken back, by batch 3");
    journey.until("takes 2 back").until("taken back by 3");
    journey.press("q");
    assert_eq!(journey.end(), 0);
}

#[test]
fn the_screen_follows_the_size_of_the_window() {
    let folder = tempfile::tempdir().unwrap();
    let mut journey = open(&folder);
    journey.resize(10, 40);
    journey.until("40 × 10; fairdraw needs");
    journey.resize(40, 130);
    journey.until("Broken most");
    journey.press("2").until("Draws of compartment");
    journey.press("\x03");
    assert_eq!(journey.end(), 0);
}

#[test]
fn the_mouse_reaches_screens_and_rows() {
    let folder = tempfile::tempdir().unwrap();
    let mut journey = open(&folder);
    // Button 0 at column 20, row 1 (from 1), pressed and let go, as terminals report it.
    journey
        .press("\x1b[<0;20;1M\x1b[<0;20;1m")
        .until("no verdict on a person");
    journey.press("\x1b[<0;5;7M\x1b[<0;5;7m");
    journey
        .press("\x1b[<0;5;7M\x1b[<0;5;7m")
        .until("technician:");
    journey.press("q");
    assert_eq!(journey.end(), 0);
}

#[cfg(unix)]
#[test]
fn signals_that_ask_to_end_hand_the_terminal_back() {
    for signal in ["TERM", "HUP", "INT"] {
        let folder = tempfile::tempdir().unwrap();
        let journey = open(&folder);
        let process = journey.child.process_id().unwrap().to_string();
        let sent = Command::new("kill")
            .args(["-s", signal, &process])
            .status()
            .unwrap();
        assert!(sent.success());
        journey.end();
    }
}

#[test]
fn a_panic_hands_the_terminal_back_before_it_is_reported() {
    let itself = std::env::current_exe().unwrap();
    let child = "terminal::panics_in_screen_mode";
    let journey = Journey::start(&itself, &["--exact", child, "--ignored", "--nocapture"]);
    journey.until("for the test's sake");
    assert_ne!(journey.end(), 0);
}

/// Run by the test above in a terminal of its own; alone it would take over yours.
#[test]
#[ignore = "a part of another test"]
fn panics_in_screen_mode() {
    let _screen = fairdraw::tui::terminal::Screen::enter().unwrap();
    panic!("for the test's sake");
}

#[test]
fn without_a_terminal_it_says_so() {
    let folder = tempfile::tempdir().unwrap();
    let file = programme(&folder);
    let output = Command::new(fairdraw())
        .arg("open")
        .arg(&file)
        .stdin(Stdio::null())
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(3));
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.contains("needs a terminal"), "{said}");
}

/// What is remembered lies in a folder of the test's own.
fn remembering(folder: &tempfile::TempDir) -> Journey {
    let state = format!("FAIRDRAW_STATE={}", folder.path().join("state").display());
    let file = folder.path().join("own.db");
    let arguments = [
        &state,
        fairdraw().to_str().unwrap(),
        "open",
        file.to_str().unwrap(),
    ];
    Journey::start(Path::new("/usr/bin/env"), &arguments)
}

#[cfg(unix)]
#[test]
fn screens_are_found_as_they_were_left_and_saved_filters_with_them() {
    let folder = tempfile::tempdir().unwrap();
    let before = std::fs::read(programme(&folder)).unwrap();
    let mut journey = remembering(&folder);
    journey.until("judged draws are unrepresentative");
    journey.press("t").until("Quarter");
    journey.press("*").until("None is saved yet");
    journey.press("\x1b");
    journey.until_that("the panel to close", |text| !text.contains("None is saved"));
    journey.press("2").until("drawn▼");
    journey.press("sss").until("▲score");
    journey.press(":kind:tank\r").until(" of ");
    journey.press("*a").until("name of the filter");
    journey.press("tanks\r").until("Saved as tanks");
    journey.press("\x1b");
    journey.until_that("the panel to close", |text| {
        !text.contains("saved filters ─")
    });
    journey.press("q");
    assert_eq!(journey.end(), 0);

    let mut journey = remembering(&folder);
    journey.until("As you left it last time: Draws");
    journey.until("▲score").until("no filter");
    journey.press("*").until("tanks");
    journey.press("\r").until("tanks: kind:tank");
    journey.press("1").until("Quarter");
    journey.press("q");
    assert_eq!(journey.end(), 0);
    // Nothing of it went into the programme file.
    assert_eq!(std::fs::read(folder.path().join("own.db")).unwrap(), before);
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 2);
}

/// All bytes that a terminal gets until the end, after these keys were pressed on Share.
#[cfg(unix)]
fn bytes_sent(file: &Path, keys: &str) -> Vec<u8> {
    let size = PtySize {
        rows: 24,
        cols: 80,
        ..PtySize::default()
    };
    let pair = native_pty_system().openpty(size).unwrap();
    let mut command = CommandBuilder::new(fairdraw());
    command.args(["open", file.to_str().unwrap()]);
    for (name, value) in [("TERM", "xterm"), ("LANG", "C.UTF-8")] {
        command.env(name, value);
    }
    for name in ["TMUX", "STY", "LC_ALL", "LC_CTYPE"] {
        command.env_remove(name);
    }
    let mut child = pair.slave.spawn_command(command).unwrap();
    drop(pair.slave);
    let mut output = pair.master.try_clone_reader().unwrap();
    let mut keyboard = pair.master.take_writer().unwrap();
    let (mut sent, mut bytes, mut pressed) = (Vec::new(), [0; 4096], false);
    while let Ok(read @ 1..) = output.read(&mut bytes) {
        sent.extend_from_slice(&bytes[..read]);
        if !pressed && String::from_utf8_lossy(&sent).contains("unrepresentative") {
            keyboard.write_all(keys.as_bytes()).unwrap();
            pressed = true;
        }
    }
    child.wait().unwrap();
    sent
}

#[cfg(unix)]
#[test]
fn what_is_copied_reaches_the_terminal_as_osc_52() {
    let folder = tempfile::tempdir().unwrap();
    let sent = bytes_sent(&programme(&folder), ":crew:A\ryf\rq");
    let sent = String::from_utf8_lossy(&sent);
    // `crew:A` in Base64, by `printf crew:A | base64` (GNU coreutils).
    assert!(sent.contains("\x1b]52;c;Y3JldzpB"), "{sent:?}");
}

//! Lines to the real program over a pipe or through a pseudo-terminal, and what it says.

use std::fs;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::OnceLock;
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use fairdraw::demo;
use fairdraw::model::Progress;
use fairdraw::programme::{ImportRequest, Programme};
use portable_pty::{CommandBuilder, PtySize, native_pty_system};
use tempfile::TempDir;

use crate::support::root;

/// How long an answer may take; generous, for machines with much to do.
const PATIENCE: Duration = Duration::from_secs(60);

/// What stands before a line where a terminal is at both ends.
const PROMPT: &str = "> ";

/// A folder with a small invented programme of its own.
pub struct Room {
    folder: TempDir,
}

/// The sheets of a small invented programme, taken in once for all tests.
fn invented() -> &'static [u8] {
    static FILE: OnceLock<Vec<u8>> = OnceLock::new();
    FILE.get_or_init(|| {
        let folder = TempDir::new().unwrap();
        let sheets = folder.path().join("sheets");
        let size = demo::Size {
            draws: 240,
            points: 24,
            technicians: 5,
            ..demo::Size::default()
        };
        demo::write(&sheets, &size, &Progress::default()).unwrap();
        take_in(&sheets, &folder.path().join("made.db"))
    })
}

/// The bytes of a programme with these sheets.
pub fn take_in(sheets: &Path, file: &Path) -> Vec<u8> {
    let mut programme = Programme::open_or_create(file).unwrap();
    let request = ImportRequest {
        sheets: vec![sheets.to_owned()],
        zone: fairdraw::model::time::zone("Europe/Lisbon"),
        ..ImportRequest::default()
    };
    programme.import(&request, &Progress::default()).unwrap();
    // Closing it brings all of it into the file.
    drop(programme);
    fs::read(file).unwrap()
}

impl Room {
    pub fn new() -> Self {
        let folder = TempDir::new().unwrap();
        fs::write(folder.path().join("own.db"), invented()).unwrap();
        Room { folder }
    }

    /// A folder with nothing in it.
    pub fn empty() -> Self {
        Room {
            folder: TempDir::new().unwrap(),
        }
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// What the program says to these lines over a pipe, and how it ends.
    pub fn pipe(&self, arguments: &[&str], lines: &[&str]) -> Output {
        let mut child = Command::new(env!("CARGO_BIN_EXE_fairdraw"))
            .args(arguments)
            .current_dir(self.folder.path())
            .env_clear()
            .env("LOGNAME", "desk")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut input = child.stdin.take().unwrap();
        let mut text = lines.join("\n");
        text.push('\n');
        // The program may have left before it has read all.
        let _ = input.write_all(text.as_bytes());
        drop(input);
        child.wait_with_output().unwrap()
    }

    /// The same through a pseudo-terminal, line after line: all that stands on it at the end,
    /// prompts and echoed lines included, and the exit status.
    pub fn terminal(&self, arguments: &[&str], lines: &[&str]) -> (String, u32) {
        let pair = native_pty_system().openpty(PtySize::default()).unwrap();
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_fairdraw"));
        command.args(arguments);
        command.cwd(self.folder.path());
        command.env_clear();
        command.env("LOGNAME", "desk");
        command.env("TERM", "dumb");
        let mut child = pair.slave.spawn_command(command).unwrap();
        drop(pair.slave);
        let mut keyboard = pair.master.take_writer().unwrap();
        let heard = hear(pair.master.try_clone_reader().unwrap());
        let mut text = String::new();
        for line in lines {
            until(&heard, &mut text, |text| {
                text.ends_with(&format!("\n{PROMPT}"))
            });
            let before = text.replace("\r\n", "\n").len();
            keyboard.write_all(format!("{line}\n").as_bytes()).unwrap();
            // The echo of this very line stands there before the next prompt is looked for.
            let echo = format!("{line}\n");
            until(&heard, &mut text, |text| text[before..].starts_with(&echo));
        }
        let status = child.wait().unwrap();
        while let Ok(more) = heard.recv_timeout(Duration::from_secs(2)) {
            text.push_str(&more);
        }
        (text.replace("\r\n", "\n"), status.exit_code())
    }
}

/// What comes from the terminal, as it comes.
fn hear(mut output: Box<dyn Read + Send>) -> Receiver<String> {
    let (tell, heard) = channel();
    std::thread::spawn(move || {
        let mut bytes = [0; 4096];
        let mut rest = Vec::new();
        while let Ok(read @ 1..) = output.read(&mut bytes) {
            rest.extend_from_slice(&bytes[..read]);
            // Half a character waits for its other half.
            let whole = match std::str::from_utf8(&rest) {
                Ok(text) => text.len(),
                Err(error) => error.valid_up_to(),
            };
            let text = String::from_utf8(rest.drain(..whole).collect()).unwrap();
            if tell.send(text).is_err() {
                return;
            }
        }
    });
    heard
}

fn until(heard: &Receiver<String>, text: &mut String, holds: impl Fn(&str) -> bool) {
    let deadline = Instant::now() + PATIENCE;
    while !holds(&text.replace("\r\n", "\n")) {
        let rest = deadline.saturating_duration_since(Instant::now());
        match heard.recv_timeout(rest) {
            Ok(more) => text.push_str(&more),
            Err(_) => panic!("nothing more was said after:\n{text}"),
        }
    }
}

/// What was said without prompts and echoed lines, and without how far something had come.
pub fn without_echo(text: &str) -> Vec<String> {
    let lines = text.lines().filter(|line| !line.starts_with(PROMPT));
    lines
        .filter(|line| !is_progress(line))
        .map(str::to_owned)
        .collect()
}

fn is_progress(line: &str) -> bool {
    let stages = [
        "reading", "loading", "judging", "saving", "fitting", "writing", "waiting",
    ];
    stages
        .iter()
        .any(|stage| *line == format!("{stage}.") || line.starts_with(&format!("{stage}: ")))
}

/// Compares a transcript with `snapshots/plain/<name>.snap`; what the clock and the folder
/// bring is left out.
pub fn assert_transcript(room: &Room, name: &str, text: &str) {
    let folder = fs::canonicalize(room.path("")).unwrap();
    let text = text.replace(folder.to_str().unwrap(), "[room]");
    let text = text.replace(
        room.path("").to_str().unwrap().trim_end_matches('/'),
        "[room]",
    );
    let lines: Vec<&str> = text.lines().filter(|line| !is_progress(line)).collect();
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path(root().join("snapshots/plain"));
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    let text = without_today(&lines.join("\n"));
    settings.add_filter(r"\[day\] \d\d:\d\d", "[instant]");
    settings.add_filter(
        r"(?m)^(\d+ compartments? to sample again of \d+).*$",
        "$1[as of]",
    );
    settings.add_filter(r"days [\d,]+", "days [count]");
    settings.add_filter(r"intervals [\d.,]+ x", "intervals [ratio]");
    settings.add_filter(
        r"[\d.,]+ (times|x) (as long|the agreed|its)",
        "[ratio] $1 $2",
    );
    settings.add_filter(r"[\d.,]+ days", "[count] days");
    settings.bind(|| insta::assert_snapshot!(name, text));
}

/// The text without the days that come from the clock: today, and a month from it. Around
/// midnight it may be another day somewhere.
fn without_today(text: &str) -> String {
    let today = chrono::Utc::now().date_naive();
    let mut text = text.to_owned();
    for days in [-1, 0, 1, 29, 30, 31] {
        let day = today + chrono::Duration::days(days);
        text = text.replace(&day.to_string(), "[day]");
    }
    text
}

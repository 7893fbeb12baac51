//! Runs the program in a folder of its own, with nothing of the caller's environment.

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use tempfile::TempDir;

use crate::support::{assert_snapshot, fixture};

/// A folder to work in, with the small programme's sheets in `sheets`.
pub struct Room {
    folder: TempDir,
}

/// What one run did.
pub struct Run {
    pub arguments: String,
    pub stdout: String,
    pub stderr: String,
    pub status: i32,
}

impl Room {
    /// A folder with `sheets` and `refused`, and no programme yet.
    pub fn with_sheets() -> Self {
        let room = Room {
            folder: TempDir::new().unwrap(),
        };
        for (from, to) in [("small", "sheets"), ("refused", "refused")] {
            let target = room.path(to);
            fs::create_dir(&target).unwrap();
            for entry in fs::read_dir(fixture("programmes").join(from)).unwrap() {
                let path = entry.unwrap().path();
                if path.extension().is_some_and(|extension| extension == "csv") {
                    fs::copy(&path, target.join(path.file_name().unwrap())).unwrap();
                }
            }
        }
        room
    }

    /// A folder where the small programme is taken in.
    pub fn with_programme() -> Self {
        let room = Room::with_sheets();
        assert_eq!(room.run(&["import", "sheets"]).status, 0);
        room
    }

    /// A path in the folder.
    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Writes a file into the folder.
    pub fn write(&self, name: &str, text: &str) {
        fs::write(self.path(name), text).unwrap();
    }

    /// The command with these arguments, to be run in the folder.
    pub fn command(&self, arguments: &[&str]) -> Command {
        command(self.folder.path(), arguments)
    }

    /// Runs the program with these arguments.
    pub fn run(&self, arguments: &[&str]) -> Run {
        let output = self.command(arguments).output().unwrap();
        self.told(arguments, &output)
    }

    /// What a run did, with the folder's path replaced.
    pub fn told(&self, arguments: &[&str], output: &Output) -> Run {
        let folder = self.folder.path().to_str().unwrap().to_owned();
        let text = |bytes: &[u8]| {
            String::from_utf8(bytes.to_vec())
                .unwrap()
                .replace(&folder, "[room]")
        };
        Run {
            arguments: arguments.join(" "),
            stdout: text(&output.stdout),
            stderr: text(&output.stderr),
            status: output.status.code().expect("ended by itself"),
        }
    }

    /// Runs several commands one after the other and compares all they say with
    /// `snapshots/cli/<name>.snap`.
    pub fn journey(&self, name: &str, commands: &[&[&str]]) {
        let mut text = String::new();
        for arguments in commands {
            text.push_str(&self.run(arguments).told());
        }
        assert_snapshot("cli", name, &text);
    }
}

impl Run {
    /// Arguments, stdout, stderr and exit status as one text.
    pub fn told(&self) -> String {
        let mut text = format!("$ fairdraw {}\n", self.arguments);
        text.push_str(&self.stdout);
        for line in self.stderr.lines() {
            writeln!(text, "! {line}").unwrap();
        }
        writeln!(text, "[{}]\n", self.status).unwrap();
        text
    }

    /// Stdout as JSON.
    pub fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.stdout).unwrap_or_else(|error| {
            panic!(
                "{}: {error}\n{}{}",
                self.arguments, self.stdout, self.stderr
            )
        })
    }
}

/// The program with these arguments in this folder, with nothing in the environment but a login name, and no input.
pub fn command(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_fairdraw"));
    command
        .args(arguments)
        .current_dir(folder)
        .env_clear()
        .env("LOGNAME", "desk")
        .stdin(Stdio::null());
    command
}

//! What happens to a terminal interface that is open for days: terminals that stall, shrink and
//! vanish, sleep and waking, files that are replaced under it, others who write.
#![cfg(unix)]

mod ends;
mod full_disk;
mod mistakes;
mod quiet;
mod replaced;
mod second_writer;
mod sizes;
mod sleeps;
mod stalls;

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::terminal::{Journey, fairdraw};

/// The time on a processor that a process has had so far, in hundredths of a second, where the
/// system tells.
fn used(process: u32) -> Option<u64> {
    let told = fs::read_to_string(format!("/proc/{process}/stat")).ok()?;
    // Behind the name, which may hold anything: state first, user and system time 12th and 13th.
    let fields: Vec<&str> = told.rsplit(')').next()?.split_whitespace().collect();
    Some(fields.get(11)?.parse::<u64>().ok()? + fields.get(12)?.parse::<u64>().ok()?)
}

/// Opens a programme file with someone who decides.
fn open(file: &Path) -> Journey {
    let arguments = ["open", file.to_str().unwrap(), "--as", "Ada Morn"];
    let journey = Journey::start(fairdraw(), &arguments);
    journey.until("judged draws are unrepresentative");
    journey
}

/// Has another process do something with a programme file.
fn meanwhile(file: &Path, arguments: &[&str]) {
    let output = Command::new(fairdraw())
        .arg("--programme")
        .arg(file)
        .args(arguments)
        .stdin(Stdio::null())
        .output()
        .unwrap();
    assert!(output.status.code() < Some(2), "{arguments:?}: {output:?}");
}

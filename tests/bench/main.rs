//! How long a programme of 10,000, 100,000 and 1,000,000 draws takes to import, to judge,
//! to open and to browse, and how much memory that needs.
//!
//! ```text
//! cargo bench                      all three sizes
//! cargo bench -- 10k               one size; also 100k, 1M, or any number
//! ```
//!
//! Programmes are invented from a seed. Every part runs in a process of its own, so that
//! its peak of memory is its own; the processes report to this one, which prints a table.
#![allow(clippy::unwrap_used, clippy::print_stdout, clippy::print_stderr)]

mod parts;
mod screens;
mod table;

use std::path::Path;
use std::process::{Command, Stdio};

use fairdraw::demo::Size;

/// What `cargo bench` measures when no size is named.
const SIZES: [u64; 3] = [10_000, 100_000, 1_000_000];

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    if let [flag, part, folder, draws] = &arguments[..]
        && flag == "--part"
    {
        return parts::run(part, Path::new(folder), size_of(draws.parse().unwrap()));
    }
    let named: Vec<u64> = arguments
        .iter()
        .filter(|argument| !argument.starts_with('-'))
        .map(|argument| read_size(argument))
        .collect();
    // Cargo names this flag when it runs benchmarks; when it only tests that they run, the
    // smallest size will do.
    let sizes = match named.is_empty() {
        false => named,
        true if arguments.iter().any(|argument| argument == "--bench") => SIZES.to_vec(),
        true => SIZES[..1].to_vec(),
    };
    let columns = sizes.into_iter().map(|draws| (draws, measure(draws)));
    table::print(&columns.collect::<Vec<_>>());
}

/// Runs every part over one programme; gives back what they reported.
fn measure(draws: u64) -> Vec<table::Line> {
    let folder = tempfile::tempdir().unwrap();
    let mut lines = Vec::new();
    for part in parts::ALL {
        eprintln!("{draws} draws: {part}");
        let output = Command::new(std::env::current_exe().unwrap())
            .args(["--part", part])
            .arg(folder.path())
            .arg(draws.to_string())
            .stderr(Stdio::inherit())
            .output()
            .unwrap();
        assert!(output.status.success(), "the part {part} failed");
        let text = String::from_utf8(output.stdout).unwrap();
        lines.extend(text.lines().map(table::Line::read));
    }
    lines
}

/// Points and technicians in the proportion of a large operator: 5,000 and 400 to a million
/// draws; small programmes are those of the demo.
fn size_of(draws: u64) -> Size {
    let of = |each: u64, least: u64, most: u64| {
        usize::try_from((draws / each).clamp(least, most)).unwrap()
    };
    Size {
        draws,
        points: of(200, 220, 5_000),
        technicians: of(2_500, 30, 400),
        ..Size::default()
    }
}

/// Reads `10000`, `10k` or `1M`.
fn read_size(text: &str) -> u64 {
    let (digits, times) = match text.strip_suffix(['k', 'K', 'm', 'M']) {
        Some(digits) if text.ends_with(['k', 'K']) => (digits, 1_000),
        Some(digits) => (digits, 1_000_000),
        None => (text, 1),
    };
    match digits.parse::<u64>() {
        Ok(number) => number * times,
        Err(_) => panic!("\"{text}\" is no number of draws; write 10000, 10k or 1M"),
    }
}

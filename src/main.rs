//! Starts, nothing else: the command line, with the terminal interface at hand.

use std::process::ExitCode;

use fairdraw::{cli, tui};

fn main() -> ExitCode {
    cli::run(|programme, file| tui::run(programme, file).map_err(Into::into))
}

//! Starts, nothing else: the command line, with the terminal interface at hand.

use std::process::ExitCode;

use fairdraw::{cli, tui};

fn main() -> ExitCode {
    cli::run(|programme, file, who| tui::run(programme, file, who).map_err(Into::into))
}

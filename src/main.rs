//! Starts, nothing else: the command line, with the terminal interface at hand.

use std::process::ExitCode;

use fairdraw::{cli, tui};

fn main() -> ExitCode {
    cli::run(|programme, file, who, colours| {
        tui::run(programme, file, who, colours).map_err(Into::into)
    })
}

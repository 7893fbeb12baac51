//! Starts, nothing else: the command line, with the terminal interface at hand.

use std::process::ExitCode;

use fairdraw::{cli, tui};

fn main() -> ExitCode {
    cli::run(cli::Faces {
        screens: |beginning| tui::run(&beginning).map_err(Into::into),
        plain: |beginning| tui::plain::run(beginning).map_err(Into::into),
    })
}

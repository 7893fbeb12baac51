//! Starts, nothing else: the command line, with the terminal interface at hand.

use std::process::ExitCode;

use fairdraw::{cli, tui};

fn main() -> ExitCode {
    cli::run(cli::Faces {
        screens: |programme, file, who| tui::run(programme, file, who).map_err(Into::into),
        plain: |programme, file, who| tui::plain::run(programme, file, who).map_err(Into::into),
    })
}

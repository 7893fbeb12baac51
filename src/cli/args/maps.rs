//! What can be typed after `fairdraw maps`.

use std::path::PathBuf;

use clap::{Args, Subcommand};

use super::{FormatArgs, Kind};

#[derive(Args)]
pub struct MapsArgs {
    #[command(subcommand)]
    pub command: MapsCommand,
}

#[derive(Subcommand)]
pub enum MapsCommand {
    /// Checks a column map and prints its problems, each with line and column
    #[command(after_help = "\
Example:
  fairdraw maps check columns.yaml")]
    Check {
        /// The column map
        file: PathBuf,
    },
    /// Shows what a column map can map to: our columns with their units and words
    #[command(after_help = "\
Examples:
  fairdraw maps show draws
  fairdraw maps show points --format csv")]
    Show {
        /// The kind of sheet
        kind: Kind,
        #[command(flatten)]
        format: FormatArgs,
    },
}

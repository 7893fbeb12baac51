//! What can be typed after `fairdraw rules`.

use std::path::PathBuf;

use clap::{Args, Subcommand};

use super::{AsArgs, FormatArgs};

#[derive(Args)]
pub struct RulesArgs {
    #[command(subcommand)]
    pub command: RulesCommand,
}

#[derive(Subcommand)]
pub enum RulesCommand {
    /// Lists the rules with their weights in the default rulebook
    #[command(after_help = "\
Example:
  fairdraw rules list --format csv > rules.csv")]
    List(FormatArgs),
    /// Shows one rule: what it asks, why, what to do next time, where it comes from
    #[command(after_help = "\
Example:
  fairdraw rules show flush-met")]
    Show {
        /// The rule's id
        #[arg(value_name = "ID")]
        id: String,
    },
    /// Prints the default rulebook, to start a programme's own from
    #[command(after_help = "\
Example:
  fairdraw rules default > rulebook.yaml")]
    Default,
    /// Checks a rulebook and prints its problems, each with line and column
    #[command(after_help = "\
Example:
  fairdraw rules check rulebook.yaml")]
    Check {
        /// The rulebook
        file: PathBuf,
    },
    /// Makes a rulebook the programme's own and judges every draw by it
    #[command(after_help = "\
Examples:
  fairdraw rules adopt rulebook.yaml
  fairdraw rules adopt rulebook.yaml --as 'Ada Lind'")]
    Adopt {
        /// The rulebook
        file: PathBuf,
        #[command(flatten)]
        who: AsArgs,
    },
    /// Prints the programme's rulebook
    #[command(after_help = "\
Example:
  fairdraw rules current > rulebook.yaml")]
    Current,
}

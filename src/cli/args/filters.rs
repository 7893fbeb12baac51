//! What can be typed after `fairdraw filters`.

use clap::{Args, Subcommand};

use super::FormatArgs;
use super::choices::filter_help;

#[derive(Args)]
#[command(args_conflicts_with_subcommands = true)]
pub struct FiltersArgs {
    #[command(subcommand)]
    pub command: Option<FiltersCommand>,
    #[command(flatten)]
    pub format: FormatArgs,
}

#[derive(Subcommand)]
pub enum FiltersCommand {
    /// Lists the saved filters with how many draws pass
    List {
        #[command(flatten)]
        format: FormatArgs,
    },
    /// Saves a filter under a name
    #[command(after_help = "\
Examples:
  fairdraw filters save north 'site:North'
  fairdraw filters save 'night shift' 'crew:C,D from:2026-01' --replace")]
    Save {
        /// Its name: up to 40 characters, told apart by letters, not by capitals
        #[arg(value_name = "NAME")]
        name: String,
        /// The filter
        #[arg(value_name = "FILTER", long_help = filter_help())]
        filter: String,
        /// Replace the filter that has the name
        #[arg(long)]
        replace: bool,
    },
    /// Forgets a saved filter
    #[command(after_help = "\
Example:
  fairdraw filters forget north")]
    Forget {
        /// Its name
        #[arg(value_name = "NAME")]
        name: String,
    },
    /// Calls a saved filter otherwise
    #[command(after_help = "\
Example:
  fairdraw filters rename north 'north pit'")]
    Rename {
        /// Its name
        #[arg(value_name = "NAME")]
        from: String,
        /// Its new name
        #[arg(value_name = "NEW NAME")]
        to: String,
    },
}

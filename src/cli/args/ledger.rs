//! What can be typed after `fairdraw ledger`.

use std::path::PathBuf;

use clap::{Args, Subcommand};

use super::{AsArgs, FormatArgs};

#[derive(Args)]
#[command(args_conflicts_with_subcommands = true)]
pub struct LedgerArgs {
    #[command(subcommand)]
    pub command: Option<LedgerCommand>,
    #[command(flatten)]
    pub format: FormatArgs,
}

#[derive(Subcommand)]
pub enum LedgerCommand {
    /// Shows one batch: its files, how they were read, what became of their rows
    #[command(after_help = "\
Examples:
  fairdraw ledger show 3
  fairdraw ledger show 3 --format json")]
    Show {
        /// The number of the batch
        #[arg(value_name = "BATCH")]
        batch: i64,
        #[command(flatten)]
        format: FormatArgs,
    },
    /// Takes a batch back, as if it had never been taken in
    ///
    /// Rows that later batches said too, or said anew, stand. Nothing is erased: the taking
    /// back is a batch of the ledger itself and a link of the trail, with its reason.
    #[command(after_help = "\
Example:
  fairdraw ledger take-back 3 --because 'the March sheet of another plant'")]
    TakeBack {
        /// The number of the batch
        #[arg(value_name = "BATCH")]
        batch: i64,
        /// Why; kept in the ledger and the trail
        #[arg(long, value_name = "TEXT")]
        because: String,
        #[command(flatten)]
        who: AsArgs,
    },
    /// Writes refused rows as they stood, to be mended and taken in again
    ///
    /// Rows that were mended already, and those of batches that were taken back, are left out.
    /// Each row tells in front where it came from and why it was refused; leave those three
    /// columns as they are, mend the others and take the file in with `fairdraw import`.
    #[command(after_help = "\
Examples:
  fairdraw ledger refused --to refused.csv
  fairdraw ledger refused 3 --to refused.csv")]
    Refused {
        /// The number of one batch
        #[arg(value_name = "BATCH")]
        batch: Option<i64>,
        /// The file; where rows stand under several headers, -2, -3 … are added to its name
        #[arg(long, value_name = "FILE")]
        to: PathBuf,
    },
}

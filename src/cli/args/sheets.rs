//! What can be typed after `fairdraw import` and `fairdraw sheets`: sheets in and out.

use std::path::PathBuf;

use clap::Args;

use super::{FormatArgs, Kind, ReadAsArgs};

#[derive(Args)]
pub struct ImportArgs {
    /// Sheets, or folders that hold them
    #[arg(required = true, value_name = "SHEET")]
    pub sheets: Vec<PathBuf>,
    /// What kind every sheet is, instead of telling from its name
    #[arg(long = "as", value_name = "KIND")]
    pub kind: Option<Kind>,
    /// The zone of times that name none, such as Europe/Paris [default: UTC]
    #[arg(long)]
    pub zone: Option<String>,
    /// Read the sheets by this column map (docs/column-maps.md)
    #[arg(long, value_name = "FILE")]
    pub map: Option<PathBuf>,
    /// Write a column map from the sheets' headers and values, store nothing
    #[arg(long, conflicts_with_all = ["map", "dry_run", "rulebook"])]
    pub propose_map: bool,
    /// Where the proposed map is written [default: the output]
    #[arg(long, value_name = "FILE", requires = "propose_map")]
    pub to: Option<PathBuf>,
    /// Read and check everything, store nothing
    #[arg(long)]
    pub dry_run: bool,
    /// Make this rulebook the programme's own first
    #[arg(long, value_name = "FILE")]
    pub rulebook: Option<PathBuf>,
    #[command(flatten)]
    pub format: FormatArgs,
    #[command(flatten)]
    pub read_as: ReadAsArgs,
}

#[derive(Args)]
pub struct SheetsArgs {
    /// The folder; it is made if it is not there
    #[arg(long, value_name = "DIR")]
    pub to: PathBuf,
    /// Write texts as they are, even those that a spreadsheet would take for formulas
    #[arg(long)]
    pub exact: bool,
}

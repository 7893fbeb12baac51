//! Who decides, on commands that decide something.

use clap::Args;

#[derive(Args)]
pub struct AsArgs {
    /// Who decides; kept in the trail [default: FAIRDRAW_AS, else the login name]
    #[arg(long = "as", value_name = "NAME")]
    pub name: Option<String>,
}

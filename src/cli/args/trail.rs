//! What can be typed after `fairdraw trail`.

use clap::Args;

use super::FormatArgs;

#[derive(Args)]
pub struct TrailArgs {
    /// Only links of this kind, such as "finding raised"
    #[arg(long, value_name = "KIND")]
    pub kind: Option<String>,
    #[command(flatten)]
    pub format: FormatArgs,
}

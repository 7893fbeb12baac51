//! What can be typed after `fairdraw check`.

use clap::Args;

use super::FormatArgs;

#[derive(Args)]
pub struct CheckArgs {
    /// Check this exported pack instead
    #[arg(long, value_name = "DIR", conflicts_with = "head")]
    pub pack: Option<std::path::PathBuf>,
    /// The hash of the trail's head, noted elsewhere earlier: whether it is still there
    #[arg(long, value_name = "HASH", value_parser = hash)]
    pub head: Option<String>,
    #[command(flatten)]
    pub format: FormatArgs,
}

fn hash(text: &str) -> Result<String, String> {
    let is_hash = text.len() == 64 && text.bytes().all(|byte| byte.is_ascii_hexdigit());
    if is_hash {
        Ok(text.to_ascii_lowercase())
    } else {
        Err("give the 64 hexadecimal digits that `fairdraw trail` tells".to_owned())
    }
}

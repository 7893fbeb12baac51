//! What can be typed after `fairdraw demo` and `fairdraw open`.

use std::path::PathBuf;

use clap::Args;

use super::{AsArgs, ColoursArgs};

#[derive(Args)]
pub struct DemoArgs {
    /// Keep the programme in this file instead of a temporary one
    #[arg(long, value_name = "FILE")]
    pub to: Option<PathBuf>,
    /// Write the sheets into this folder and open nothing
    #[arg(long, value_name = "DIR", conflicts_with = "to")]
    pub write: Option<PathBuf>,
    /// How many draws
    #[arg(long, value_name = "N")]
    pub draws: Option<u32>,
    /// How many points
    #[arg(long, value_name = "N")]
    pub points: Option<u32>,
    /// How many technicians
    #[arg(long, value_name = "N")]
    pub technicians: Option<u32>,
    /// The seed everything is made from
    #[arg(long, value_name = "N")]
    pub seed: Option<u64>,
    #[command(flatten)]
    pub colours: ColoursArgs,
}

#[derive(Args)]
pub struct OpenArgs {
    /// The programme file, instead of --programme
    pub file: Option<PathBuf>,
    #[command(flatten)]
    pub who: AsArgs,
    #[command(flatten)]
    pub colours: ColoursArgs,
}

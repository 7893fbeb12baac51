//! What can be typed after `fairdraw demo` and `fairdraw open`.

use std::path::PathBuf;

use clap::Args;
use clap::builder::FalseyValueParser;

use super::{AsArgs, ColoursArgs};

/// Which face the interface shows.
#[derive(Args)]
pub struct FaceArgs {
    /// Linear text instead of screens: for screen readers, dumb terminals and pipes
    ///
    /// The same journeys, read from lines and said in sentences. It is chosen by itself where
    /// TERM is dumb.
    #[arg(
        long,
        env = "FAIRDRAW_PLAIN",
        hide_env_values = true,
        value_parser = FalseyValueParser::new()
    )]
    pub plain: bool,
}

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
    #[command(flatten)]
    pub face: FaceArgs,
}

#[derive(Args)]
pub struct OpenArgs {
    /// The programme file, instead of --programme
    pub file: Option<PathBuf>,
    #[command(flatten)]
    pub who: AsArgs,
    #[command(flatten)]
    pub colours: ColoursArgs,
    #[command(flatten)]
    pub face: FaceArgs,
}

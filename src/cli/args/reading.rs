//! What every reading command takes, and what some take beside it.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::choices::{filter_help, keys, periods};
use super::{Format, Sort};
use crate::analysis::training::WINDOW_DAYS;
use crate::analysis::{Every, Key};

/// What every reading command takes.
#[derive(Args)]
pub struct Reading {
    #[command(flatten)]
    pub format: FormatArgs,
    /// Only the draws that pass, such as 'crew:B broken:flush-met'; --help says the keys
    #[arg(long = "where", value_name = "FILTER", long_help = filter_help())]
    pub filter: Option<String>,
}

#[derive(Args, Clone, Copy)]
pub struct FormatArgs {
    /// How it is written
    #[arg(long, value_name = "FORMAT", default_value = "table")]
    pub format: Format,
}

#[derive(Args)]
pub struct ShareArgs {
    /// Group the draws by this
    #[arg(long, value_name = "KEY", value_parser = keys())]
    pub by: Option<Key>,
    /// Order of the groups
    #[arg(long, value_name = "ORDER", default_value = "key")]
    pub sort: Sort,
    #[command(flatten)]
    pub reading: Reading,
}

#[derive(Args)]
pub struct TrendArgs {
    /// How long the periods are
    #[arg(long, value_name = "PERIOD", default_value = "month", value_parser = periods())]
    pub every: Every,
    #[command(flatten)]
    pub reading: Reading,
}

#[derive(Args)]
pub struct TopicsArgs {
    /// Whose topics, or the rules or owners behind them
    #[arg(long, value_name = "KEY", default_value = "technician")]
    pub by: TopicsBy,
    /// Write a page for each technician with a topic into this folder
    #[arg(long, value_name = "DIR", conflicts_with = "by")]
    pub plans: Option<PathBuf>,
    /// Pages for these technicians only, ids with commas between them
    #[arg(
        long = "for",
        value_name = "ID",
        value_delimiter = ',',
        requires = "plans"
    )]
    pub technicians: Vec<String>,
    #[command(flatten)]
    pub reading: Reading,
}

/// What `fairdraw topics` lists.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum TopicsBy {
    /// Topics of each technician
    Technician,
    /// Topics of each crew
    Crew,
    /// What each rule costs
    Rule,
    /// What to ask of plant, planner, dispatch and desk
    Owner,
}

#[derive(Args)]
pub struct TrainingsArgs {
    /// Days looked at before and after
    #[arg(
        long,
        value_name = "DAYS",
        default_value_t = WINDOW_DAYS,
        value_parser = clap::value_parser!(u32).range(1..=3650)
    )]
    pub window: u32,
    #[command(flatten)]
    pub reading: Reading,
}

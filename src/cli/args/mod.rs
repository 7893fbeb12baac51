//! What can be typed. The documentation of commands, the completions and the manual page
//! all come from here.

mod calc;
mod choices;
mod maps;
mod read_as;
mod rules;

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

pub use calc::{CalcArgs, CalcCommand, Oil, Particle, Thickness};
pub use choices::{Format, Kind, Sort};
pub use maps::{MapsArgs, MapsCommand};
pub use read_as::ReadAsArgs;
pub use rules::{RulesArgs, RulesCommand};

use choices::{filter_help, keys, periods};

use super::attribute::AttributeArgs;
use crate::analysis::training::WINDOW_DAYS;
use crate::analysis::{Every, Key};

const EXIT: &str = "\
Exit status:
  0  done
  1  found what it looks for: refused rows, faults, problems of a rulebook
  2  wrong use
  3  could not do it";

/// Tells which oil samples can be trusted, from how they were drawn.
///
/// fairdraw reads the history of draws, judges each against a rulebook, and shows how large
/// the share of unrepresentative samples is and what is behind it.
#[derive(Parser)]
#[command(
    name = "fairdraw",
    version,
    subcommand_required = true,
    arg_required_else_help = true,
    after_help = EXIT,
    after_long_help = "\
Examples:
  fairdraw demo                            look around in an invented programme
  fairdraw import sheets/                  take a folder of sheets into programme.db
  fairdraw programme.db                    open the terminal interface on it
  fairdraw share --by crew                 shares of the crews
  fairdraw score --where 'broken:flush-met' --format csv > draws.csv

Exit status:
  0  done
  1  found what it looks for: refused rows, faults, problems of a rulebook
  2  wrong use
  3  could not do it",
    disable_help_subcommand = true
)]
pub struct Cli {
    /// The programme file
    #[arg(
        short = 'p',
        long,
        global = true,
        value_name = "FILE",
        env = "FAIRDRAW_PROGRAMME",
        hide_env_values = true,
        default_value = "programme.db"
    )]
    pub programme: PathBuf,
    #[command(subcommand)]
    pub command: Command,
}

#[derive(Subcommand)]
pub enum Command {
    /// Opens the terminal interface on an invented programme
    ///
    /// Everything in it is made up from a seed: sites, machines, people, draws. Where the
    /// output is no terminal, a short summary is printed instead.
    #[command(after_help = "\
Examples:
  fairdraw demo                            look around; nothing is kept
  fairdraw demo --to demo.db               keep the programme file
  fairdraw demo --write sheets --draws 100000    write the sheets, open nothing")]
    Demo(DemoArgs),

    /// Opens the terminal interface
    ///
    /// `fairdraw FILE` does the same. Press ? inside for the keys.
    #[command(after_help = "\
Examples:
  fairdraw open
  fairdraw open north.db
  fairdraw north.db")]
    Open(OpenArgs),

    /// Takes sheets into the programme file
    ///
    /// Sheets are tables of points, technicians, trainings and draws; docs/sheets.md says their
    /// columns. They may be CSV and other delimited text in any encoding, packed with gzip, or
    /// sheets of XLSX, XLS and ODS workbooks. All of them are taken in or none. A programme file that does not exist
    /// is made. Rows that cannot be taken are written with their reasons to a rejects sheet
    /// beside the programme, and the exit status is 1.
    #[command(after_help = "\
Examples:
  fairdraw import sheets/
  fairdraw import march.csv --as draws --zone Europe/Paris
  fairdraw import history.xlsx --as draws --sheet 2025 --header-row 4
  fairdraw import sheets/ --dry-run
  fairdraw import log.csv --propose-map --to columns.yaml
  fairdraw import log.csv --map columns.yaml --dry-run")]
    Import(ImportArgs),

    /// Judges every draw: verdict, scores, broken and unrecorded rules
    ///
    /// One line a draw, oldest first. JSON adds what each rule saw and wanted.
    #[command(after_help = "\
Examples:
  fairdraw score --where 'verdict:unrepresentative'
  fairdraw score --format csv > scores.csv
  fairdraw score --where 'point:P-12' --format json")]
    Score(Reading),

    /// The share of unrepresentative draws, with interval and bounds
    ///
    /// The share is taken over the judged draws: unproven ones are left out of it and shown
    /// in the bounds, which say how small or large the share of all draws can be. The interval
    /// is the 95 % Wilson score interval.
    #[command(after_help = "\
Examples:
  fairdraw share
  fairdraw share --by crew --sort share
  fairdraw share --by month --where 'site:North' --format csv")]
    Share(ShareArgs),

    /// People and points told apart: what goes with who draws, what with where
    ///
    /// Fits a logistic model of "unrepresentative" to the judged draws, with crossed random
    /// intercepts for technician and point. Each technician is set against what an average one
    /// would have had at the same points, each point against what an average one would have had
    /// with the same technicians. It is no ranking of people: look at the interval before you
    /// look at the name.
    #[command(after_help = "\
Examples:
  fairdraw attribute
  fairdraw attribute --adjust crew
  fairdraw attribute --adjust area,method
  fairdraw attribute --where 'site:North' --format json")]
    Attribute(AttributeArgs),

    /// The share week by week, month by month or quarter by quarter, with control limits
    ///
    /// Limits are those of a p chart, or of Laney's p-prime chart where a test shows that
    /// shares vary more than chance. Signals are a share beyond its limits and eight or more
    /// in a row on one side of the centre.
    #[command(after_help = "\
Examples:
  fairdraw trend
  fairdraw trend --every quarter --where 'site:North'
  fairdraw trend --every week --format csv > weeks.csv")]
    Trend(TrendArgs),

    /// What rules cost, whom to retrain in what, what to ask of others
    ///
    /// Every unrepresentative draw is shared out among the rules broken on it; docs/topics.md
    /// says how. A technician's or crew's topics are the rules that cost more draws than they
    /// cost others at the same points, most to regain first. Rules that a technician can't
    /// put right are no topics; --by owner lists them for those who can.
    #[command(after_help = "\
Examples:
  fairdraw topics
  fairdraw topics --by crew --where 'from:2026-01'
  fairdraw topics --by rule
  fairdraw topics --by owner --where 'site:North'
  fairdraw topics --plans plans/ --for T-4,T-9")]
    Topics(TopicsArgs),

    /// Whether trainings helped: before and after, beside untrained peers
    ///
    /// One line a training held: how often its rule was broken by that technician before and
    /// after, and by technicians without that training over the same days.
    #[command(after_help = "\
Examples:
  fairdraw trainings
  fairdraw trainings --window 180 --where 'crew:B'")]
    Trainings(TrainingsArgs),

    /// The rulebook and what each rule means
    Rules(RulesArgs),

    /// Column maps: how sheets of other columns, units and words are read
    ///
    /// A column map says in YAML which of the sheet's columns become ours, and how. docs/column-maps.md
    /// tells how one is written; `fairdraw import --propose-map` writes one.
    #[command(
        subcommand_required = true,
        after_help = "\
Examples:
  fairdraw maps show draws                 our columns, with units and words
  fairdraw maps check columns.yaml
  fairdraw import log.csv --map columns.yaml --dry-run"
    )]
    Maps(MapsArgs),

    /// The physics of a sample point, for checking one at a desk
    Calc(CalcArgs),

    /// Checks that the programme file is sound
    ///
    /// Prints every fault it finds, and nothing if there is none.
    #[command(after_help = "\
Example:
  fairdraw check -p north.db")]
    Check(FormatArgs),

    /// Prints the completions of a shell
    #[command(after_help = "\
Example:
  fairdraw completions bash > ~/.local/share/bash-completion/completions/fairdraw")]
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },

    /// Prints the manual page
    #[command(after_help = "\
Examples:
  fairdraw manual > fairdraw.1
  fairdraw manual rules show > fairdraw-rules-show.1")]
    Manual {
        /// A command, for the page of that command
        command: Vec<String>,
    },
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
}

#[derive(Args)]
pub struct OpenArgs {
    /// The programme file, instead of --programme
    pub file: Option<PathBuf>,
}

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

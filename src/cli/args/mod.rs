//! What can be typed. The documentation of commands, the completions and the manual page
//! all come from here.

mod calc;
mod check;
mod choices;
mod colours;
mod filters;
mod finding;
mod ledger;
mod maps;
mod open;
mod pick;
mod read_as;
mod reading;
mod rules;
mod sheets;
mod trail;
mod who;

use std::path::PathBuf;

use clap::{Parser, Subcommand};

pub use calc::{CalcArgs, CalcCommand, Oil, Particle, Thickness};
pub use check::CheckArgs;
pub use choices::{Format, Kind, Sort};
pub use colours::ColoursArgs;
pub use filters::{FiltersArgs, FiltersCommand};
pub use finding::{FindingArgs, FindingCommand, RaiseArgs, StateWord};
pub use ledger::{LedgerArgs, LedgerCommand};
pub use maps::{MapsArgs, MapsCommand};
pub use open::{DemoArgs, FaceArgs, OpenArgs};
pub use pick::{PickArgs, PickCommand, PickDrawArgs, PlanWord};
pub use read_as::ReadAsArgs;
pub use reading::{FormatArgs, Reading, ShareArgs, TopicsArgs, TopicsBy, TrainingsArgs, TrendArgs};
pub use rules::{RulesArgs, RulesCommand};
pub use sheets::{ImportArgs, SheetsArgs};
pub use trail::TrailArgs;
pub use who::AsArgs;

pub(super) use choices::keys;

use super::attribute::AttributeArgs;
use super::coverage::CoverageArgs;
use super::doubts::DoubtsArgs;
use super::export::ExportArgs;
use super::resample::ResampleArgs;
use super::set_aside::SetAsideArgs;

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
  fairdraw demo --plain                    look around in linear text
  fairdraw demo --write sheets --draws 100000    write the sheets, open nothing")]
    Demo(DemoArgs),

    /// Opens the terminal interface
    ///
    /// `fairdraw FILE` does the same, and in a terminal `fairdraw` alone. Where there is no such
    /// file, it offers the demo, to take tables in, and other files. Press ? inside for the keys.
    #[command(after_help = "\
Examples:
  fairdraw open
  fairdraw open north.db --as 'Ada Morn'
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

    /// The share by weeks, months, quarters or years, with control limits
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

    /// What to sample again: compartments whose latest sample can't be trusted
    ///
    /// Most urgent first: those that never had a trustworthy sample, then by the time since the
    /// last one against the agreed interval. docs/resamples.md says what counts as trustworthy.
    /// A filter chooses by the latest draw; which draw is the latest does not depend on it.
    #[command(after_help = "\
Examples:
  fairdraw resample
  fairdraw resample --by site
  fairdraw resample --where 'site:North verdict:unrepresentative' --format csv
  fairdraw resample --sheets sheets/ --for North
  fairdraw resample --strict --on 2026-03-31")]
    Resample(ResampleArgs),

    /// Sets a laboratory result aside, so that nobody acts on it
    ///
    /// It is your decision, kept in the trail with your name and reason; nothing else changes:
    /// the verdict stays, and the draw no longer counts as a trustworthy sample in `fairdraw
    /// resample`.
    #[command(after_help = "\
Examples:
  fairdraw set-aside D-1042 --because 'tap was dirty, see work order' --as 'Ada Morn'
  fairdraw set-aside D-1042 --take-back --because 'second bottle agrees'
  fairdraw set-aside --list")]
    SetAside(SetAsideArgs),

    /// How much of each column is filled, and which to record first
    ///
    /// A blank costs where a rule asks for it: the draw may stay unproven. Every column is
    /// listed with the share filled and the unproven draws that recording it would settle, the
    /// one to begin with first, then the next best given the first; docs/coverage.md says how.
    #[command(after_help = "\
Examples:
  fairdraw coverage
  fairdraw coverage --by site
  fairdraw coverage --by month --where 'crew:B' --format csv > months.csv")]
    Coverage(CoverageArgs),

    /// Records that are hard to believe, with the chance of seeing them by accident
    ///
    /// Ten signals, from values carried forward to bottles that were likely swapped, compare
    /// each technician or site with all others. A doubt is a reason to ask, never a charge:
    /// what else explains it stands beside it. A filter chooses which doubts are shown; what is
    /// usual is always that of the whole programme. docs/doubts.md describes every signal.
    #[command(after_help = "\
Examples:
  fairdraw doubts
  fairdraw doubts --by signal
  fairdraw doubts --where 'site:North from:2026-01' --format json")]
    Doubts(DoubtsArgs),

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

    /// Writes what the programme holds as sheets that can be taken in again
    ///
    /// points.csv, technicians.csv, trainings.csv and draws.csv with the columns of
    /// docs/sheets.md and those that were kept aside: what stands now, without earlier states.
    #[command(after_help = "\
Examples:
  fairdraw sheets --to sheets/
  fairdraw sheets --to sheets/ --exact && fairdraw -p copy.db import sheets/")]
    Sheets(SheetsArgs),

    /// A random sample of draws to verify, which anyone can draw again
    ///
    /// Draws are ranked by SHA-256 of `seed:draw_id`, the lowest are picked; docs/picks.md
    /// says how. The pick is kept in the trail with its rule, and its verification gives exact
    /// bounds on the share of records that are wrong.
    #[command(after_help = "\
Examples:
  fairdraw pick --plan discovery --share 5%
  fairdraw pick --plan estimation --within 5% --expected 20% --where 'from:2026-01'
  fairdraw pick --plan fixed --draws 60 --by technician --at-least 1 --seed spring-audit
  fairdraw pick show 1 --format csv > verify.csv")]
    Pick(Box<PickArgs>),

    /// Audit findings: raised, answered, closed, withdrawn
    ///
    /// A finding keeps the draws that speak for it as they stood when it was raised.
    /// docs/findings.md tells its life.
    Finding(FindingArgs),
    /// Filters saved under names, for use with --where
    ///
    /// Saved filters are yours alone: they lie in your own folder for such things, not in the
    /// programme file; docs/remembered.md says where. The terminal interface has the same ones
    /// under `*`.
    #[command(after_help = "\
Examples:
  fairdraw filters
  fairdraw filters save north 'site:North'
  fairdraw share --where '@north'
  fairdraw filters forget north")]
    Filters(FiltersArgs),
    /// What was taken in, batch by batch, and how to take it back: the ledger
    #[command(after_help = "\
Examples:
  fairdraw ledger
  fairdraw ledger show 3
  fairdraw ledger take-back 3 --because 'the March sheet of another plant'
  fairdraw ledger refused --to refused.csv")]
    Ledger(LedgerArgs),

    /// What people decided, in order: the trail
    ///
    /// Rulebooks adopted, findings, picks and all else that people decide on a programme is
    /// only ever added to the trail. Each link holds the hash of the one before, so that none
    /// can be changed, left out or put in unseen; docs/trail.md says how to recompute it.
    #[command(after_help = "\
Examples:
  fairdraw trail
  fairdraw trail --kind 'rulebook adopted' --format json")]
    Trail(TrailArgs),

    /// Writes a pack an auditor can take away and check without this program
    ///
    /// Tables as CSV and JSON with their schemas, the rulebook, the trail of decisions, and
    /// SHA256SUMS over all of it, which `sha256sum -c SHA256SUMS` verifies. The folder is
    /// written aside and takes its name when it is whole; docs/pack.md says what is in it.
    #[command(after_help = "\
Examples:
  fairdraw export --to pack
  fairdraw export --to audit-2026 --where 'site:North from:2026-01 to:2026-06'
  fairdraw export --to for-outsiders --anonymous
  fairdraw check --pack pack               later: is it still what was written?")]
    Export(ExportArgs),

    /// Checks that the programme file is sound, or an exported pack
    ///
    /// Prints every fault it finds, and nothing if there is none: of pages and tables, of the
    /// trail and the rows it answers for, of the verdicts. A pack is checked by its own list of
    /// hashes and, where there is a programme file, by the programme's trail.
    #[command(after_help = "\
Examples:
  fairdraw check -p north.db
  fairdraw check --head 9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08
  fairdraw check --pack audit-2026 -p north.db")]
    Check(CheckArgs),

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

//! The command line: reads arguments, asks the programme, hands rows to `report`.
//!
//! A command a file. Every command ends in a `Finish` or a `Failure`; `exit` turns
//! both into the exit status.

mod args;
mod ask;
mod attribute;
mod calc;
mod check;
mod check_pack;
mod coverage;
mod demo;
mod demo_decisions;
mod demo_making;
mod documents;
mod doubts;
mod exit;
mod export;
mod filters;
mod finding;
mod import;
mod ledger;
mod maps;
mod open;
mod output;
mod pick;
mod plans;
mod propose;
mod refused;
mod resample;
mod rules;
mod score;
mod set_aside;
mod share;
mod sheets;
mod topics;
mod trail;
mod trainings;
mod trend;
mod watch;
mod who;

use std::error::Error;
use std::ffi::OsString;
use std::path::Path;
use std::process::ExitCode;

use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{CommandFactory, Parser};

use crate::programme::Beginning;
use args::{Cli, Command};
use exit::{Failure, Finish};
use output::Output;

pub use documents::{commands_markdown, json_markdown};

/// The terminal interface, handed in by `main` so that this face does not know the other. It
/// opens the programme itself, and shows what to do where that can't be done.
pub type Interface = fn(Beginning) -> Result<(), Box<dyn Error + Send + Sync>>;

/// The two faces of the terminal interface.
#[derive(Clone, Copy)]
pub struct Faces {
    /// On a terminal: screens.
    pub screens: Interface,
    /// On a terminal or a pipe: linear text.
    pub plain: Interface,
}

/// Runs the program with the process's arguments and returns its exit status.
#[must_use]
pub fn run(faces: Faces) -> ExitCode {
    let cli = match parse(std::env::args_os().collect()) {
        Ok(cli) => cli,
        Err(error) => {
            // A closed pipe leaves nothing to say and nobody to say it to.
            let _ = error.print();
            if error.kind() == ErrorKind::InvalidSubcommand {
                output::remark(
                    "`fairdraw FILE` opens a programme file, if there is one of that name.",
                );
            }
            return ExitCode::from(u8::try_from(error.exit_code()).unwrap_or(exit::WRONG_USE));
        }
    };
    exit::status(&dispatch(cli, faces))
}

/// Reads the arguments. A first word that is no command but a file is opened; in a terminal
/// that holds for one that is named as a file, too, and nothing at all opens the programme.
fn parse(arguments: Vec<OsString>) -> Result<Cli, clap::Error> {
    let error = match Cli::try_parse_from(&arguments) {
        Ok(cli) => return Ok(cli),
        Err(error) => error,
    };
    let says_nothing = matches!(
        error.kind(),
        ErrorKind::MissingSubcommand | ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand
    );
    if says_nothing && open::is_interactive() {
        let mut opened = arguments;
        opened.push("open".into());
        return match Cli::try_parse_from(&opened) {
            Ok(cli) if matches!(cli.command, Command::Open(_)) => Ok(cli),
            _ => Err(error),
        };
    }
    if error.kind() == ErrorKind::InvalidSubcommand
        && let Some(ContextValue::String(word)) = error.get(ContextKind::InvalidSubcommand)
        && (Path::new(word).is_file() || open::is_interactive() && is_named_as_a_file(word))
        && let Some(place) = arguments
            .iter()
            .skip(1)
            .position(|given| given == word.as_str())
    {
        let mut opened = arguments;
        opened.insert(place + 1, "open".into());
        return Cli::try_parse_from(opened);
    }
    Err(error)
}

/// Whether a word can only mean a file: no command has a dot or a folder in its name.
fn is_named_as_a_file(word: &str) -> bool {
    word.contains(|sign| sign == '.' || std::path::is_separator(sign))
}

fn dispatch(cli: Cli, faces: Faces) -> Result<Finish, Failure> {
    let mut output = Output::standard();
    let file = &cli.programme;
    let finish = match cli.command {
        Command::Demo(args) => demo::run(file, &args, faces, &mut output),
        Command::Open(args) => open::run(file, &args, faces),
        Command::Import(args) => import::run(file, &args, &mut output),
        Command::Score(args) => score::run(file, &args, &mut output),
        Command::Share(args) => share::run(file, &args, &mut output),
        Command::Attribute(args) => attribute::run(file, &args, &mut output),
        Command::Trend(args) => trend::run(file, &args, &mut output),
        Command::Topics(args) => topics::run(file, &args, &mut output),
        Command::Trainings(args) => trainings::run(file, &args, &mut output),
        Command::Resample(args) => resample::run(file, &args, &mut output),
        Command::SetAside(args) => set_aside::run(file, &args, &mut output),
        Command::Coverage(args) => coverage::run(file, &args, &mut output),
        Command::Doubts(args) => doubts::run(file, &args, &mut output),
        Command::Rules(args) => rules::run(file, &args.command, &mut output),
        Command::Maps(args) => maps::run(&args.command, &mut output),
        Command::Calc(args) => calc::run(&args, &mut output),
        Command::Sheets(args) => sheets::run(file, &args),
        Command::Pick(args) => pick::run(file, &args, &mut output),
        Command::Finding(args) => finding::run(file, &args.command, &mut output),
        Command::Filters(args) => filters::run(file, &args, &mut output),
        Command::Ledger(args) => ledger::run(file, &args, &mut output),
        Command::Trail(args) => trail::run(file, &args, &mut output),
        Command::Export(args) => export::run(file, &args, &mut output),
        Command::Check(args) => match &args.pack {
            Some(folder) => check_pack::run(file, folder, args.format.format, &mut output),
            None => check::run(file, &args, &mut output),
        },
        Command::Completions { shell } => {
            let mut script = Vec::new();
            clap_complete::generate(shell, &mut Cli::command(), "fairdraw", &mut script);
            output.bytes(&script)?;
            Ok(Finish::Done)
        }
        Command::Manual { command } => {
            output.bytes(&documents::manual(&command)?)?;
            Ok(Finish::Done)
        }
    }?;
    output.flush()?;
    Ok(finish)
}

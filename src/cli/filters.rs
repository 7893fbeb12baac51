//! `fairdraw filters`: filters saved under names, by this person and for this programme.

use std::path::Path;

use super::args::{FiltersArgs, FiltersCommand, Format, FormatArgs};
use super::ask;
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use super::watch::Watch;
use crate::analysis::Filter;
use crate::programme::Programme;
use crate::programme::remembered::{CantChange, Change, Keeper};
use crate::report::filter_rows::{FILTERS, filter};

/// What stands before the name of a saved filter.
pub const SIGN: char = '@';

/// Runs the command.
pub fn run(file: &Path, args: &FiltersArgs, output: &mut Output) -> Result<Finish, Failure> {
    match &args.command {
        None => list(file, args.format, output),
        Some(FiltersCommand::List { format }) => list(file, *format, output),
        Some(FiltersCommand::Save {
            name,
            filter,
            replace,
        }) => {
            // Read first, so that a slip is shown with its place.
            let filter = ask::filter(filter)?;
            let change = Change::Save {
                name: name.clone(),
                filter: filter.to_string(),
                replace: *replace,
            };
            changed(file, &change)
        }
        Some(FiltersCommand::Forget { name }) => changed(
            file,
            &Change::Forget {
                name: named(name).to_owned(),
            },
        ),
        Some(FiltersCommand::Rename { from, to }) => changed(
            file,
            &Change::Rename {
                from: named(from).to_owned(),
                to: to.clone(),
            },
        ),
    }
}

/// The name without the sign that stands before it in `--where`.
fn named(name: &str) -> &str {
    name.strip_prefix(SIGN).unwrap_or(name)
}

fn keeper(programme: &Programme) -> Result<Keeper, Failure> {
    let keeper = Keeper::of(programme, &|name| std::env::var(name).ok());
    match keeper.not_kept() {
        None => Ok(keeper),
        Some(why) => Err(Failure::CouldNot(format!("no filters are saved: {why}"))),
    }
}

fn changed(file: &Path, change: &Change) -> Result<Finish, Failure> {
    let mut keeper = keeper(&ask::open(file)?)?;
    match keeper.change(change) {
        Ok(changed) => {
            remark(&changed.words);
            Ok(Finish::Done)
        }
        Err(taken @ CantChange::Taken { .. }) => Err(Failure::WrongUse(match change {
            Change::Save { .. } => format!("{taken}; --replace puts this one in its place"),
            _ => taken.to_string(),
        })),
        Err(why @ CantChange::NotKept(_)) => Err(Failure::CouldNot(why.to_string())),
        Err(why) => Err(Failure::WrongUse(why.to_string())),
    }
}

fn list(file: &Path, args: FormatArgs, output: &mut Output) -> Result<Finish, Failure> {
    let mut programme = ask::open(file)?;
    let keeper = keeper(&programme)?;
    let saved = &keeper.memory().filters;
    let mut draws = Vec::new();
    if !saved.is_empty() {
        let watch = Watch::new()?;
        let assessed = watch.over(true, |progress| programme.assess(progress))?;
        let count = |text: &str| Some(Filter::parse(text).ok()?.select(&assessed).len() as u64);
        draws = saved.iter().map(|saved| count(&saved.filter)).collect();
    }
    let rows = saved.iter().zip(draws);
    output.report(
        args.format.into(),
        FILTERS,
        rows.map(|(saved, draws)| filter(&saved.name, &saved.filter, draws)),
    )?;
    if matches!(args.format, Format::Table) && saved.is_empty() {
        output.flush()?;
        remark("none is saved yet; `fairdraw filters save NAME FILTER` saves one");
    }
    Ok(Finish::Done)
}

/// The filter saved under a name, as `--where` is given it.
pub fn saved(programme: &Programme, given: &str) -> Result<Filter, Failure> {
    let keeper = keeper(programme)?;
    let name = named(given);
    let Some(saved) = keeper.memory().saved(name) else {
        let unknown = CantChange::unknown(keeper.memory(), name);
        return Err(Failure::WrongUse(format!("--where: {unknown}")));
    };
    ask::filter(&saved.filter)
}

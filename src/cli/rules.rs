//! `fairdraw rules`: the rulebook and what each rule means.

use std::fs;
use std::path::Path;

use super::args::RulesCommand;
use super::ask;
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use super::watch::Watch;
use super::who::who;
use crate::model::trail::Who;
use crate::report::{plain, rows};
use crate::rules::{self, Problem, Rulebook, cards, default_yaml};

/// Runs the command.
pub fn run(file: &Path, command: &RulesCommand, output: &mut Output) -> Result<Finish, Failure> {
    match command {
        RulesCommand::List(args) => {
            let rows = cards().iter().map(|card| rows::rule(card));
            output.report(args.format.into(), rows::RULES, rows)?;
            Ok(Finish::Done)
        }
        RulesCommand::Show { id } => show(id, output),
        RulesCommand::Default => {
            output.bytes(default_yaml().as_bytes())?;
            Ok(Finish::Done)
        }
        RulesCommand::Check { file } => check(file, output),
        RulesCommand::Adopt {
            file: rulebook,
            who: named,
        } => adopt_file(file, rulebook, &who(named.name.as_deref())?),
        RulesCommand::Current => current(file, output),
    }
}

fn show(id: &str, output: &mut Output) -> Result<Finish, Failure> {
    let place = rules::place_of(id).ok_or_else(|| {
        let ids = cards().iter().map(|card| card.id);
        let meant: Vec<&str> = ids.filter(|known| known.contains(id)).collect();
        Failure::WrongUse(if meant.is_empty() {
            format!("there is no rule {id}; `fairdraw rules list` shows them all")
        } else {
            format!("there is no rule {id}; did you mean {}?", meant.join(", "))
        })
    })?;
    let book = Rulebook::standard();
    let page = rules::page::page(place, &book.all_in_force()[0]);
    output.bytes(plain::page(&page, output.width()).as_bytes())?;
    Ok(Finish::Done)
}

fn check(file: &Path, output: &mut Output) -> Result<Finish, Failure> {
    match read(file)?.1 {
        Ok(_) => {
            remark(&format!("{} can be adopted", file.display()));
            Ok(Finish::Done)
        }
        Err(problems) => {
            output.text(&listed(&problems))?;
            Ok(Finish::Found)
        }
    }
}

fn adopt_file(file: &Path, rulebook: &Path, who: &Who) -> Result<Finish, Failure> {
    let (yaml, rulebook) = read_rulebook(rulebook)?;
    let watch = Watch::new()?;
    let mut programme = ask::open(file)?;
    programme.adopt_rulebook(who, &yaml, &rulebook)?;
    let assessed = watch.over(true, |progress| programme.assess(progress))?;
    remark(&format!(
        "{} draws are judged by {}, revision {}",
        assessed.judged.len(),
        rulebook.name,
        rulebook.revision
    ));
    Ok(Finish::Done)
}

fn current(file: &Path, output: &mut Output) -> Result<Finish, Failure> {
    match ask::open(file)?.rulebook_text()? {
        Some(text) => output.text(&text)?,
        None => {
            output.bytes(default_yaml().as_bytes())?;
            output.flush()?;
            remark("no rulebook of its own was adopted; this is the default");
        }
    }
    Ok(Finish::Done)
}

/// Reads a rulebook that is to be adopted: its text, and what it says.
pub fn read_rulebook(file: &Path) -> Result<(String, Rulebook), Failure> {
    match read(file)? {
        (text, Ok(rulebook)) => Ok((text, rulebook)),
        (_, Err(problems)) => Err(Failure::CouldNot(format!(
            "could not adopt the rulebook {}; put this right first:\n{}",
            file.display(),
            listed(&problems).trim_end()
        ))),
    }
}

/// The text of a rulebook file, and what it says or what is wrong with it.
fn read(file: &Path) -> Result<(String, Result<Rulebook, Vec<Problem>>), Failure> {
    let bytes = fs::read(file).map_err(|error| {
        Failure::CouldNot(format!(
            "could not read the rulebook {}: {error}",
            file.display()
        ))
    })?;
    let rulebook = Rulebook::from_bytes(&bytes, &file.display().to_string());
    // A rulebook that was understood is UTF-8.
    Ok((String::from_utf8_lossy(&bytes).into_owned(), rulebook))
}

/// One problem a line.
fn listed(problems: &[Problem]) -> String {
    problems
        .iter()
        .map(|problem| format!("{problem}\n"))
        .collect()
}

//! `fairdraw import --propose-map`: writes a column map from the sheets themselves.

use std::fs::OpenOptions;
use std::io::{self, IsTerminal, Write as _};
use std::path::Path;

use super::args::ImportArgs;
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use super::watch::Watch;
use crate::model::time;
use crate::programme::maps::{Proposal, Question, scalar};
use crate::programme::{ImportRequest, Programme};

/// Runs the command.
pub fn run(
    file: &Path,
    args: &ImportArgs,
    request: &ImportRequest,
    output: &mut Output,
) -> Result<Finish, Failure> {
    let watch = Watch::new()?;
    let programme = if file.exists() {
        Programme::open(file)?
    } else {
        Programme::in_memory()?
    };
    let mut proposal = watch.over(true, |progress| programme.propose(request, progress))?;
    if proposal.sheets.is_empty() {
        return Err(Failure::CouldNot(
            "no sheet was found in the folders that were named".to_owned(),
        ));
    }
    if io::stdin().is_terminal() && io::stderr().is_terminal() {
        ask(&mut proposal)?;
    }
    let yaml = proposal.yaml();
    match &args.to {
        None => {
            output.text(&yaml)?;
            output.flush()?;
        }
        Some(to) => {
            write_new(to, &yaml)?;
            remark(&format!("{} is written; look it through", to.display()));
        }
    }
    let open = proposal.questions();
    for (place, question) in &open {
        remark(&format!("not answered yet: {place}: {}", question.text));
    }
    Ok(match open[..] {
        [] => Finish::Done,
        _ => Finish::Found,
    })
}

/// Writes a file that is not there yet: a map that someone mended is never written over.
fn write_new(to: &Path, yaml: &str) -> Result<(), Failure> {
    let written = OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(to)
        .and_then(|mut file| file.write_all(yaml.as_bytes()));
    written.map_err(|error| {
        let hint = match error.kind() {
            io::ErrorKind::AlreadyExists => "; name another file, or move that one away",
            _ => "",
        };
        Failure::CouldNot(format!("could not write {}: {error}{hint}", to.display()))
    })
}

/// Asks what the sheets can't answer. A blank answer leaves the question open.
fn ask(proposal: &mut Proposal) -> Result<(), Failure> {
    let mut place = 0;
    loop {
        let questions = proposal.questions();
        let Some((at, question)) = questions.get(place) else {
            return Ok(());
        };
        remark("");
        remark(&format!("{at}: {}", question.text));
        for (number, choice) in question.choices.iter().enumerate() {
            remark(&format!("  {}  {}", number + 1, choice.label));
        }
        let hint = match question.is_free {
            true => "a number, or what it is; blank to leave it open",
            false => "a number; blank to leave it open",
        };
        let mut typed = String::new();
        let answer = loop {
            // A prompt that can't be written needs no answer.
            let _ = write!(io::stderr().lock(), "{hint}: ");
            typed.clear();
            if io::stdin().read_line(&mut typed)? == 0 {
                return Ok(());
            }
            match understood(typed.trim(), at, question) {
                Ok(answer) => break answer,
                Err(why) => remark(&why),
            }
        };
        match answer {
            Some(yaml) => proposal.answer(place, &yaml),
            None => place += 1,
        }
    }
}

/// The answer as YAML; `None` where the question is to stay open.
fn understood(typed: &str, at: &str, question: &Question) -> Result<Option<String>, String> {
    if typed.is_empty() {
        return Ok(None);
    }
    let chosen = typed
        .parse::<usize>()
        .ok()
        .and_then(|number| number.checked_sub(1));
    let chosen = chosen.and_then(|place| question.choices.get(place));
    let labelled = question
        .choices
        .iter()
        .find(|choice| choice.label.eq_ignore_ascii_case(typed));
    if let Some(choice) = chosen.or(labelled) {
        return Ok(Some(choice.yaml.clone()));
    }
    if !question.is_free {
        return Err(format!(
            "give a number from 1 to {}",
            question.choices.len()
        ));
    }
    if at.ends_with(": zone") && time::zone(typed).is_none() {
        return Err(format!(
            "there is no zone {typed}; give an IANA name such as Europe/Paris"
        ));
    }
    Ok(Some(scalar(typed)))
}

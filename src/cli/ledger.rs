//! `fairdraw ledger`: what was taken in, batch by batch, and how to take it back.

use std::path::Path;

use super::args::{Format, FormatArgs, LedgerArgs, LedgerCommand};
use super::ask;
use super::exit::{Failure, Finish};
use super::import::{counted, standing};
use super::output::{Output, remark};
use super::watch::Watch;
use super::who::who;
use crate::model::time::local_text;
use crate::programme::{Batch, Programme, TakenBack, sheet_row};
use crate::report::ledger_rows;

/// Runs the command.
pub fn run(file: &Path, args: &LedgerArgs, output: &mut Output) -> Result<Finish, Failure> {
    match &args.command {
        None => list(file, args.format, output),
        Some(LedgerCommand::Show { batch, format }) => show(file, *batch, *format, output),
        Some(LedgerCommand::TakeBack {
            batch,
            because,
            who: named,
        }) => {
            let because = because.trim();
            if because.is_empty() || because.chars().any(char::is_control) {
                return Err(Failure::WrongUse(
                    "--because: say in a line why the batch is taken back".to_owned(),
                ));
            }
            let who = who(named.name.as_deref())?;
            let watch = Watch::new()?;
            let mut programme = ask::open(file)?;
            let done = watch.over(true, |progress| {
                programme.take_back(*batch, &who, because, progress)
            })?;
            tell(*batch, &done);
            Ok(Finish::Done)
        }
        Some(LedgerCommand::Refused { batch, to }) => {
            super::refused::run(&ask::open(file)?, *batch, to)
        }
    }
}

fn list(file: &Path, args: FormatArgs, output: &mut Output) -> Result<Finish, Failure> {
    let programme = ask::open(file)?;
    let zone = programme.zone()?;
    let batches = programme.batches()?;
    let rows = batches
        .iter()
        .map(|batch| ledger_rows::batch(&batch.row(), zone));
    output.report(args.format.into(), ledger_rows::LEDGER, rows)?;
    if matches!(args.format, Format::Table) {
        output.flush()?;
        let open: u64 = batches.iter().map(Batch::open_rows).sum();
        if open > 0 {
            remark(&format!(
                "{open} refused rows are open; `fairdraw ledger refused --to refused.csv` writes \
                 them to be mended"
            ));
        }
    }
    Ok(Finish::Done)
}

fn show(
    file: &Path,
    number: i64,
    args: FormatArgs,
    output: &mut Output,
) -> Result<Finish, Failure> {
    let programme = ask::open(file)?;
    let batch = programme.batch(number)?;
    let rows = batch
        .sheets
        .iter()
        .enumerate()
        .map(|(place, sheet)| ledger_rows::sheet(number, place, &sheet_row(sheet)));
    output.report(args.format.into(), ledger_rows::SHEETS, rows)?;
    if matches!(args.format, Format::Table) {
        output.flush()?;
        for line in about(&programme, &batch)? {
            remark(&line);
        }
    }
    Ok(Finish::Done)
}

/// What is to be said of a batch beside its sheets.
fn about(programme: &Programme, batch: &Batch) -> Result<Vec<String>, Failure> {
    let import = &batch.import;
    let at = local_text(import.taken_at, programme.zone()?);
    let by = import
        .who
        .as_deref()
        .map_or(String::new(), |who| format!(" by {who}"));
    let mut lines = Vec::new();
    match import.takes_back {
        Some(taken_back) => lines.push(format!(
            "batch {}, {at}{by}: takes batch {taken_back} back, because: {}",
            import.number,
            import.because.as_deref().unwrap_or_default()
        )),
        None => lines.push(format!(
            "batch {}, {at}{by}; local times read in {}; fairdraw {}",
            import.number, import.zone, import.program
        )),
    }
    if let Some(rulebook) = &import.rulebook {
        lines.push(format!("rulebook in force: {rulebook}"));
    }
    for sheet in &batch.sheets {
        lines.extend(
            sheet
                .remarks
                .iter()
                .map(|said| format!("{}: {said}", sheet.sheet)),
        );
    }
    for (by, rows) in &batch.mended {
        lines.push(format!("refused rows mended by batch {by}: {rows}"));
    }
    if batch.open_rows() > 0 {
        lines.push(format!("refused rows still open: {}", batch.open_rows()));
    }
    if let Some(by) = import.taken_back_in {
        lines.push(format!("taken back by batch {by}"));
    }
    if import.link.is_none() {
        lines.push("from before the ledger: the trail says nothing of it".to_owned());
    }
    Ok(lines)
}

fn tell(number: i64, done: &TakenBack) {
    let TakenBack {
        draws_out,
        draws_restored,
        rows_out: [points, technicians, trainings],
        ..
    } = done;
    remark(&format!(
        "batch {number} is taken back by batch {}",
        done.batch
    ));
    let gone = draws_out - draws_restored;
    remark(&format!(
        "not in the programme any more: draws {gone}, points {points}, technicians {technicians}, \
         trainings {trainings}; draws that stand as they were before: {draws_restored}; judged \
         anew: {}",
        done.judged
    ));
    remark(&standing(&counted(&done.verdicts)));
}

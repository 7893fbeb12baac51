//! `fairdraw import`: takes sheets in.

use std::path::Path;
use std::sync::Arc;

use super::args::{FormatArgs, ImportArgs};
use super::exit::{Failure, Finish};
use super::maps::read_map;
use super::output::{Output, remark};
use super::rules::read_rulebook;
use super::watch::Watch;
use super::who::who;
use crate::analysis::Tally;
use crate::model::trail::Who;
use crate::model::{Verdict, time};
use crate::programme::{
    ImportReport, ImportRequest, Programme, Refusal, SheetReport, VerdictCounts,
};
use crate::report::preview::{self, Made};
use crate::report::rows;

/// How many refusals are told one by one; the rejects sheet has all.
const TOLD: usize = 5;
/// The same where nothing is stored, and so no rejects sheet is written.
const TOLD_WITHOUT_SHEET: usize = 50;

/// Runs the command.
pub fn run(file: &Path, args: &ImportArgs, output: &mut Output) -> Result<Finish, Failure> {
    let request = ImportRequest {
        sheets: args.sheets.clone(),
        kind: args.kind.map(Into::into),
        zone: args.zone.as_deref().map(zone).transpose()?,
        dry_run: args.dry_run,
        read_as: (&args.read_as).into(),
        map: args.map.as_deref().map(read_map).transpose()?.map(Arc::new),
        who: who_imports()?,
        named_from: None,
    };
    if args.propose_map {
        return super::propose::run(file, args, &request, output);
    }
    let rulebook = args.rulebook.as_deref().map(read_rulebook).transpose()?;
    let watch = Watch::new()?;
    // Trying an import out must not leave a programme file behind.
    let is_new = !file.exists();
    let in_memory = args.dry_run && is_new;
    let mut programme = if in_memory {
        Programme::in_memory()?
    } else {
        Programme::open_or_create(file)?
    };
    match &rulebook {
        Some((yaml, rulebook)) if in_memory || !args.dry_run => {
            programme.adopt_rulebook(&who(None)?, yaml, rulebook)?;
        }
        Some(_) => remark("the rulebook is sound; trying out, it is not adopted"),
        None => {}
    }
    for sheet in args.sheets.iter().filter(|sheet| waits(sheet)) {
        remark(&format!(
            "{} is a pipe or a device: all that is written to it is read first; Ctrl-C twice ends \
             the waiting",
            sheet.display()
        ));
    }
    let report = match watch.over(true, |progress| programme.import(&request, progress)) {
        Ok(report) => report,
        Err(failure) => {
            if is_new && !in_memory {
                leave_nothing(programme, file);
            }
            return Err(failure.into());
        }
    };
    print(&report, args.format, output)?;
    if args.dry_run && request.map.is_some() && args.format.format.is_table() {
        show_rows(&programme, &request, &watch, output)?;
    }
    output.flush()?;
    if !args.dry_run {
        remark(&format!("taken in as batch {}", report.batch));
    }
    say_the_rest(&report);
    remark(&standing(&counted(&report.verdicts)));
    if args.dry_run {
        remark("tried out; nothing was stored");
    } else {
        remark(&format!("next: fairdraw open {}", file.display()));
    }
    Ok(if refused(&report) {
        Finish::Found
    } else {
        Finish::Done
    })
}

/// Whether reading a sheet may have to wait for somebody.
fn waits(sheet: &Path) -> bool {
    std::fs::metadata(sheet).is_ok_and(|found| !found.is_file() && !found.is_dir())
}

/// Who takes in, as far as anybody says: an import that nobody watches has no login name.
fn who_imports() -> Result<Option<Who>, Failure> {
    match std::env::var_os("FAIRDRAW_AS") {
        Some(_) => who(None).map(Some),
        None => Ok(who(None).ok()),
    }
}

/// Removes the file of a first import that came to nothing, unless someone else has taken
/// something into it meanwhile.
fn leave_nothing(programme: Programme, file: &Path) {
    let is_empty = programme.imports().is_ok_and(|imports| imports.is_empty());
    drop(programme);
    if is_empty && let Err(error) = std::fs::remove_file(file) {
        remark(&format!(
            "{} is left behind, empty: {error}",
            file.display()
        ));
    }
}

fn zone(name: &str) -> Result<time::Tz, Failure> {
    time::zone(name).ok_or_else(|| {
        Failure::WrongUse(format!(
            "--zone: there is no zone {name}; give an IANA name such as Europe/Paris"
        ))
    })
}

fn print(report: &ImportReport, args: FormatArgs, output: &mut Output) -> Result<(), Failure> {
    let rows = report.sheets.iter().map(|sheet| {
        let counts = [
            sheet.taken,
            sheet.unchanged,
            sheet.changed,
            sheet.refused_rows,
            sheet.refused_values,
        ];
        rows::import(&sheet.sheet, sheet.kind.as_str(), counts)
    });
    output.report(args.format.into(), rows::IMPORT, rows)?;
    Ok(())
}

/// The first rows of each sheet as they would be stored.
fn show_rows(
    programme: &Programme,
    request: &ImportRequest,
    watch: &Watch,
    output: &mut Output,
) -> Result<(), Failure> {
    for sheet in watch.over(true, |progress| programme.preview(request, progress))? {
        let columns: Vec<Made<'_>> = (sheet.columns.iter())
            .map(|column| Made {
                ours: column.ours,
                unit: column.unit,
                theirs: &column.theirs,
            })
            .collect();
        let rows: Vec<(u64, &[String])> = (sheet.rows.iter())
            .map(|row| (row.line, row.cells.as_slice()))
            .collect();
        if !rows.is_empty() {
            output.text(&format!(
                "\n{}, the first rows as they would be stored\n",
                sheet.sheet
            ))?;
            let page = preview::page(&columns, &rows, output.width());
            output.text(&page)?;
        }
    }
    Ok(())
}

fn say_the_rest(report: &ImportReport) {
    for sheet in &report.sheets {
        for said in &sheet.remarks {
            remark(&format!("{}: {said}", sheet.sheet));
        }
    }
    for path in &report.left_aside {
        remark(&format!(
            "left aside: {}: its name does not say what it holds; import it by itself, with --as",
            path.display()
        ));
    }
    let at_most = match report.rejects_file {
        Some(_) => TOLD,
        None => TOLD_WITHOUT_SHEET,
    };
    for (sheet, refusal) in report.first_refusals.iter().take(at_most) {
        let place = if refusal.column.is_empty() {
            String::new()
        } else {
            format!(", {}", refusal.column)
        };
        remark(&format!(
            "refused: {sheet}, line {}{place}: {:?}: {}",
            refusal.line, refusal.value, refusal.reason
        ));
    }
    let all: u64 = report.sheets.iter().map(refusals).sum();
    let told = rows_and_values(&report.first_refusals, at_most);
    if all > told {
        remark(&format!("refused: {} more rows or values", all - told));
    }
    if let Some(rejects) = &report.earlier_rejects {
        remark(&format!(
            "{} is of an earlier import; this one refused nothing",
            rejects.display()
        ));
    }
    if let Some(rejects) = &report.rejects_file {
        remark(&format!(
            "all refused rows and values, with reasons: {}",
            rejects.display()
        ));
    }
}

/// How many rows and lone values the first refusals speak of, as sheets count them: a row
/// once, however many faults it has.
fn rows_and_values(refusals: &[(String, Refusal)], at_most: usize) -> u64 {
    let mut last = None;
    let told = refusals.iter().take(at_most).filter(|(sheet, refusal)| {
        let row = refusal.whole_row.then_some((sheet, refusal.line));
        row.is_none() || std::mem::replace(&mut last, row) != row
    });
    told.count() as u64
}

fn refused(report: &ImportReport) -> bool {
    report.sheets.iter().any(|sheet| refusals(sheet) > 0)
}

fn refusals(sheet: &SheetReport) -> u64 {
    sheet.refused_rows + sheet.refused_values
}

/// The verdicts as a tally.
pub fn counted(verdicts: &VerdictCounts) -> Tally {
    Tally {
        draws: verdicts.total(),
        unrepresentative: verdicts.count(Verdict::Unrepresentative),
        doubtful: verdicts.count(Verdict::Doubtful),
        representative: verdicts.count(Verdict::Representative),
        unproven: verdicts.count(Verdict::Unproven),
    }
}

/// The share and its interval in one line.
pub fn standing(tally: &Tally) -> String {
    let share = tally.share();
    match (share.share, share.low, share.high) {
        (Some(share), Some(low), Some(high)) => format!(
            "unrepresentative: {:.1} % of {} judged draws (95 % interval {:.1} to {:.1} %); \
             {} of {} draws are unproven",
            share * 100.0,
            tally.judged(),
            low * 100.0,
            high * 100.0,
            tally.unproven,
            tally.draws
        ),
        _ if tally.draws == 0 => "the programme has no draws yet".to_owned(),
        _ => {
            let all = match tally.draws {
                1 => "the only draw is".to_owned(),
                draws => format!("all {draws} draws are"),
            };
            format!(
                "no share yet: {all} unproven; `fairdraw share --by rule` shows what is not recorded"
            )
        }
    }
}

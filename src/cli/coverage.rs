//! `fairdraw coverage`: how much of each column is filled, and what its blanks cost.

use std::path::Path;

use clap::Args;

use super::args::{Format, Reading, keys};
use super::ask::{Asked, ask};
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use crate::analysis::Key;
use crate::analysis::coverage::Covered;
use crate::report::coverage_rows::{COVERAGE, COVERAGE_BY, coverage};

/// What `fairdraw coverage` takes.
#[derive(Args)]
pub struct CoverageArgs {
    /// Group the draws by this; `rule` groups nothing
    #[arg(long, value_name = "KEY", value_parser = keys())]
    pub by: Option<Key>,
    #[command(flatten)]
    pub reading: Reading,
}

/// Runs the command.
pub fn run(file: &Path, args: &CoverageArgs, output: &mut Output) -> Result<Finish, Failure> {
    if args.by == Some(Key::Rule) {
        return Err(Failure::WrongUse(
            "--by rule: coverage counts columns, not rules; `fairdraw share --by rule` shows how \
             often each rule is unrecorded"
                .to_owned(),
        ));
    }
    let Asked {
        programme,
        assessed,
        selection,
        watch,
        ..
    } = ask(file, &args.reading)?;
    let found = watch.over(true, |progress| {
        programme.coverage(&assessed, &selection, args.by, progress)
    })?;
    let columns = if args.by.is_some() {
        COVERAGE_BY
    } else {
        COVERAGE
    };
    let rows = found
        .groups
        .iter()
        .flat_map(|group| coverage(group, args.by.is_some()));
    let format = args.reading.format.format;
    output.report(format.into(), columns, rows)?;
    if matches!(format, Format::Table) {
        output.flush()?;
        if let ([group], None) = (&found.groups[..], args.by) {
            remark(&first(group));
        }
        remark(
            "settles: unproven draws that would be judged if this column alone were filled, \
             whatever was written there (if kept: if it showed the rules kept); together: with \
             all columns of lower rank filled too",
        );
    }
    Ok(Finish::Done)
}

/// What to begin with, in a sentence.
fn first(group: &Covered) -> String {
    let Some(step) = group.order.first() else {
        return format!(
            "{} of {} draws are unproven; no column would settle one",
            group.unproven, group.draws
        );
    };
    let settled = step.together;
    format!(
        "{} of {} draws are unproven; record {} ({}.csv) first: it would settle {} of them \
         whatever was written, {} if the rules were kept",
        group.unproven,
        group.draws,
        step.column.as_str(),
        step.column.sheet().as_str(),
        settled.whatever,
        settled.if_kept
    )
}

//! `fairdraw sheets`: what the programme holds, as sheets.

use std::path::Path;

use super::args::SheetsArgs;
use super::ask;
use super::exit::{Failure, Finish};
use super::output::remark;
use super::watch::Watch;
use crate::programme::Error;

/// Runs the command.
pub fn run(file: &Path, args: &SheetsArgs) -> Result<Finish, Failure> {
    let programme = ask::open(file)?;
    let watch = Watch::new()?;
    let written = watch
        .over(true, |progress| {
            programme.write_sheets(&args.to, args.exact, progress)
        })
        .map_err(|error| match error {
            Error::Output(error) => Failure::CouldNot(format!(
                "could not write the sheets to {}: {error}",
                args.to.display()
            )),
            other => other.into(),
        })?;
    for (sheet, rows) in &written.files {
        remark(&format!("{rows} rows: {}", sheet.display()));
    }
    if written.tamed > 0 {
        remark(&format!(
            "{} texts that a spreadsheet would take for formulas have an apostrophe in front; \
             --exact writes them as they are",
            written.tamed
        ));
    }
    remark(&format!(
        "times are in UTC; months are counted in {}: `fairdraw import {} --zone {}` makes the same \
         programme",
        programme.zone()?.name(),
        args.to.display(),
        programme.zone()?.name()
    ));
    Ok(Finish::Done)
}

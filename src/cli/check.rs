//! `fairdraw check`: is the programme file sound?

use std::path::Path;

use super::args::CheckArgs;
use super::args::Format;
use super::ask;
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use crate::report::{Cell, rows};

/// Runs the command.
pub fn run(file: &Path, args: &CheckArgs, output: &mut Output) -> Result<Finish, Failure> {
    let faults = ask::open(file)?.check_against(args.head.as_deref())?;
    let format = args.format.format;
    if faults.is_empty() && matches!(format, Format::Table) {
        remark(&format!("{} is sound", file.display()));
        return Ok(Finish::Done);
    }
    let lines = faults.iter().map(|fault| vec![Cell::text(fault)]);
    output.report(format.into(), rows::CHECK, lines)?;
    Ok(if faults.is_empty() {
        Finish::Done
    } else {
        Finish::Found
    })
}

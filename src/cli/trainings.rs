//! `fairdraw trainings`: before and after each training, beside untrained peers.

use std::path::Path;

use super::args::{Format, TrainingsArgs};
use super::ask::{Asked, ask};
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use crate::analysis::topics::peers_of;
use crate::analysis::trainings;
use crate::report::training_rows;

/// Runs the command.
pub fn run(file: &Path, args: &TrainingsArgs, output: &mut Output) -> Result<Finish, Failure> {
    let Asked {
        assessed,
        filter,
        selection,
        ..
    } = ask(file, &args.reading)?;
    let peers = peers_of(&filter).select(&assessed);
    let found = trainings(&assessed, &selection, &peers, args.window);
    let format = args.reading.format.format;
    let is_table = matches!(format, Format::Table);
    let rows = found
        .iter()
        .map(|trained| training_rows::trained(&assessed, trained, is_table));
    output.report(format.into(), training_rows::TRAININGS, rows)?;
    if is_table {
        output.flush()?;
        remark(&format!(
            "before, after: broken of recorded in the {} days before and after; change: after less \
             before, with its 95 % interval (from, to); at peers: the same of technicians without \
             this training; beyond them: change less that of the peers, with its interval. A bad \
             spell passes by itself too: none of this proves the training the cause",
            args.window
        ));
    }
    Ok(Finish::Done)
}

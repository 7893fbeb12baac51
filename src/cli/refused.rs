//! `fairdraw ledger refused`: refused rows, to be mended.

use std::path::Path;

use super::exit::{Failure, Finish};
use super::output::remark;
use crate::programme::{Error, Programme};

/// Runs the command.
pub fn run(programme: &Programme, batch: Option<i64>, to: &Path) -> Result<Finish, Failure> {
    let written = programme
        .write_refused(batch, to)
        .map_err(|error| match error {
            Error::Output(error) => Failure::CouldNot(format!(
                "could not write refused rows to {}: {error}",
                to.display()
            )),
            other => other.into(),
        })?;
    for (file, rows) in &written.files {
        remark(&format!("{rows} refused rows: {}", file.display()));
    }
    for (batch, rows) in &written.not_kept {
        remark(&format!(
            "batch {batch}: {rows} refused rows were not kept whole; mend them in their own sheets"
        ));
    }
    if written.files.is_empty() && written.not_kept.is_empty() {
        remark("no refused rows are open");
    } else if let Some((first, _)) = written.files.first() {
        remark(&format!(
            "mend them, leave the first three columns as they are, and take them in: fairdraw \
             import {}",
            first.display()
        ));
    }
    Ok(Finish::Done)
}

//! `fairdraw check --pack`: is an exported pack as it was written?

use std::path::Path;

use super::args::Format;
use super::ask;
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use crate::programme::check_pack::check_pack;
use crate::report::{Cell, pack::rows};

/// Checks the pack, against the programme where there is one.
pub fn run(
    file: &Path,
    folder: &Path,
    format: Format,
    output: &mut Output,
) -> Result<Finish, Failure> {
    let trail = match file.exists() {
        true => Some(ask::open(file)?.trail()?),
        false => None,
    };
    let check = check_pack(folder, trail.as_deref()).map_err(|error| {
        Failure::CouldNot(format!(
            "could not read the pack {}: {error}",
            folder.display()
        ))
    })?;
    let is_sound = check.faults.is_empty();
    if !is_sound || !matches!(format, Format::Table) {
        let lines = check.faults.iter();
        let lines = lines.map(|fault| vec![Cell::text(&fault.file), Cell::text(&fault.fault)]);
        output.report(format.into(), rows::CHECK_PACK, lines)?;
        output.flush()?;
    }
    if is_sound {
        remark(&format!(
            "{}: {} files, all as they were written",
            folder.display(),
            check.files
        ));
    }
    match (&trail, check.belongs.as_str()) {
        (None, _) => remark(&format!(
            "not compared with a programme: there is no {}",
            file.display()
        )),
        (Some(_), "") => {}
        (Some(_), belongs) => remark(&format!("{}: {belongs}", file.display())),
    }
    Ok(if is_sound {
        Finish::Done
    } else {
        Finish::Found
    })
}

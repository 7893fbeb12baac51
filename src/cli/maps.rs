//! `fairdraw maps`: column maps, checked and explained.

use std::fs;
use std::path::Path;

use super::args::MapsCommand;
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use crate::programme::maps::{ColumnMap, Problem, mappable};
use crate::report::map_rows;

/// Runs the command.
pub fn run(command: &MapsCommand, output: &mut Output) -> Result<Finish, Failure> {
    match command {
        MapsCommand::Check { file } => check(file, output),
        MapsCommand::Show { kind, format } => {
            let columns = mappable((*kind).into());
            let rows = columns.iter().map(|column| {
                map_rows::map_column(
                    (column.name, column.required),
                    column.values.clone(),
                    (column.unit, column.units.join(", ")),
                    column.meaning,
                )
            });
            output.report(format.format.into(), map_rows::MAP_COLUMNS, rows)?;
            Ok(Finish::Done)
        }
    }
}

fn check(file: &Path, output: &mut Output) -> Result<Finish, Failure> {
    match read(file)? {
        Ok(map) => {
            remark(&format!(
                "{} can be used: {}, revision {}",
                file.display(),
                map.name,
                map.revision
            ));
            Ok(Finish::Done)
        }
        Err(problems) => {
            output.text(&listed(&problems))?;
            Ok(Finish::Found)
        }
    }
}

/// Reads a column map that is to be used.
pub fn read_map(file: &Path) -> Result<ColumnMap, Failure> {
    read(file)?.map_err(|problems| {
        Failure::CouldNot(format!(
            "could not use the column map {}; put this right first:\n{}",
            file.display(),
            listed(&problems).trim_end()
        ))
    })
}

fn read(file: &Path) -> Result<Result<ColumnMap, Vec<Problem>>, Failure> {
    let bytes = fs::read(file).map_err(|error| {
        Failure::CouldNot(format!(
            "could not read the column map {}: {error}",
            file.display()
        ))
    })?;
    Ok(ColumnMap::from_bytes(&bytes, &file.display().to_string()))
}

/// One problem a line.
fn listed(problems: &[Problem]) -> String {
    (problems.iter())
        .map(|problem| format!("{problem}\n"))
        .collect()
}

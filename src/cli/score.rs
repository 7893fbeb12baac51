//! `fairdraw score`: one line a draw.

use std::io;
use std::path::Path;

use rayon::prelude::*;

use super::args::Reading;
use super::ask::{Asked, ask};
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use crate::report::{Cell, Format, score_rows};

/// Runs the command.
pub fn run(file: &Path, args: &Reading, output: &mut Output) -> Result<Finish, Failure> {
    let Asked {
        programme,
        assessed,
        selection,
        watch,
        ..
    } = ask(file, args)?;
    // A bar between the lines of a terminal would only disturb them.
    let with_bar = !output.is_terminal();
    let format: Format = args.format.format.into();
    let mut writer = output.rows(format, score_rows::SCORE)?;
    let mut refused: Option<io::Error> = None;
    let mut write = |rows: &[Vec<Cell<'_>>]| {
        let mut rows = rows.iter();
        rows.try_for_each(|row| writer.row(row)).map_err(|error| {
            let kind = error.kind();
            refused = Some(error);
            io::Error::from(kind)
        })
    };
    let listed = watch.over(with_bar, |progress| match format {
        // The answers of the rules are for JSON alone; all else is in memory.
        Format::Json => programme.explain_each(&assessed, &selection, progress, &mut |explained| {
            let rows: Vec<Vec<Cell<'_>>> = explained
                .par_iter()
                .map(|(named, all)| score_rows::score(format, &assessed, *named, Some(all)))
                .collect();
            write(&rows)
        }),
        Format::Table | Format::Csv => {
            programme.name_each(&assessed, &selection, progress, &mut |named| {
                let mut rows = named.iter();
                rows.try_for_each(|named| {
                    write(&[score_rows::score(format, &assessed, *named, None)])
                })
            })
        }
    });
    if let Some(error) = refused {
        return Err(error.into());
    }
    listed?;
    writer.finish()?;
    if matches!(format, Format::Table) {
        output.flush()?;
        remark(&format!(
            "{} of {} draws; times in {}",
            selection.len(),
            assessed.judged.len(),
            assessed.zone
        ));
    }
    Ok(Finish::Done)
}

//! What a programme holds, as sheets that can be taken in again.

use std::io::BufWriter;
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::lists::{List, Lists, Names};
use super::refused::allow_reading;
use super::{Error, Programme};
use crate::model::draw_cells::cells;
use crate::model::progress::Stage;
use crate::model::{DrawRecord, Point, Progress, draw_cells};
use crate::report::sheets::{self, KeptAside, Sheet};
use crate::store::draws;

/// How many draws are written between two looks at whether someone asked to stop.
const PIECE: u64 = 8192;

/// Sheets that were written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SheetsWritten {
    /// Each with how many rows it holds.
    pub files: Vec<(PathBuf, u64)>,
    /// How many cells got an apostrophe in front.
    pub tamed: u64,
}

type Out = Sheet<BufWriter<NamedTempFile>>;

impl Programme {
    /// Writes the four sheets into a folder, which is made if it is not there: what stands
    /// now, with the columns that were kept aside, times in UTC. Nothing that is there is
    /// written over. Unless `exact`, texts that a spreadsheet would take for formulas get an
    /// apostrophe in front.
    ///
    /// # Errors
    /// A store that can't be read, a file that can't be made or is there, a stop.
    pub fn write_sheets(
        &self,
        folder: &Path,
        exact: bool,
        progress: &Progress,
    ) -> Result<SheetsWritten, Error> {
        let _reading = self.store.begin_reading()?;
        std::fs::create_dir_all(folder)?;
        let paths = ["points", "technicians", "trainings", "draws"]
            .map(|name| folder.join(format!("{name}.csv")));
        if let Some(there) = paths.iter().find(|path| path.exists()) {
            return Err(Error::WrittenOver {
                file: there.clone(),
            });
        }
        let lists = Lists::load(self)?;
        let out = || -> Result<BufWriter<NamedTempFile>, Error> {
            Ok(BufWriter::new(NamedTempFile::new_in(folder)?))
        };
        let written = [
            list(out()?, &Point::COLUMNS, &lists.points, exact, sheets::point)?,
            list(
                out()?,
                &sheets::TECHNICIANS,
                &lists.technicians,
                exact,
                sheets::technician,
            )?,
            list(
                out()?,
                &sheets::TRAININGS,
                &lists.trainings,
                exact,
                sheets::training,
            )?,
            self.draws_sheet(out()?, exact, progress)?,
        ];
        let mut told = SheetsWritten::default();
        for (sheet, path) in written.into_iter().zip(paths) {
            let (rows, tamed) = (sheet.rows, sheet.tamed);
            let whole = sheet.finish()?.into_inner();
            let file = whole.map_err(std::io::IntoInnerError::into_error)?;
            allow_reading(file.as_file());
            file.persist_noclobber(&path).map_err(|error| error.error)?;
            told.files.push((path, rows));
            told.tamed += tamed;
        }
        Ok(told)
    }

    fn draws_sheet(
        &self,
        out: BufWriter<NamedTempFile>,
        exact: bool,
        progress: &Progress,
    ) -> Result<Out, Error> {
        let connection = self.store.connection();
        let mut kept_aside = KeptAside::default();
        let read = draws::each_kept_aside(connection, &mut |kept| kept_aside.add(kept));
        self.sql(read)?;
        let columns = cells(&crate::intake::draws::blank_record()).map(|(name, _)| name);
        debug_assert_eq!(columns.len(), draw_cells::COLUMNS);
        let mut sheet = Sheet::new(out, columns, kept_aside, exact)?;
        let names = Names::load(self)?;
        progress.begin(Stage::Loading, self.sql(draws::live_count(connection))?);
        let mut outcome = Ok(());
        let mut write = |mut draw: DrawRecord| -> Result<(), Error> {
            names.fill(self, &mut draw)?;
            let cells = cells(&draw).map(|(_, cell)| cell);
            sheet.row(cells, &draw.kept_aside)?;
            if sheet.rows.is_multiple_of(PIECE) {
                progress.advance(PIECE);
                if progress.is_stopped() {
                    return Err(Error::Stopped);
                }
            }
            Ok(())
        };
        let read = draws::each_live_record(connection, &mut |draw| {
            if outcome.is_ok() {
                outcome = write(draw);
            }
        });
        self.sql(read)?;
        outcome?;
        Ok(sheet)
    }
}

fn list<T, const WIDTH: usize>(
    out: BufWriter<NamedTempFile>,
    columns: &[&'static str],
    list: &List<T>,
    exact: bool,
    cells: fn(&T) -> [String; WIDTH],
) -> Result<Out, Error> {
    let mut kept_aside = KeptAside::default();
    for row in &list.rows {
        kept_aside.add(&row.kept_aside);
    }
    let mut sheet = Sheet::new(out, columns.iter().copied(), kept_aside, exact)?;
    for row in &list.rows {
        sheet.row(cells(&row.row), &row.kept_aside)?;
    }
    Ok(sheet)
}

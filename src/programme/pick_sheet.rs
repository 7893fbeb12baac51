//! The draws of a pick with all there is to tell of them, and the sheet for the verifier.

use std::io::{self, BufWriter, Write as _};
use std::path::Path;

use tempfile::NamedTempFile;

use super::refused::allow_reading;
use super::seen::DrawNow;
use super::{Error, Programme};
use crate::analysis::Assessed;
use crate::analysis::picks::{Pick, rank};
use crate::model::DrawRecord;
use crate::model::decisions::pick::Verified;
use crate::model::time::Tz;
use crate::model::trail::hexadecimal;
use crate::report::pick_rows::{self, DRAWS, PickedDraw};
use crate::report::{Cell, Format, Look, writer};

/// The draws of a pick as they were picked, and what became of them.
pub struct PickedDraws {
    records: Vec<DrawRecord>,
    now: Vec<DrawNow>,
}

impl PickedDraws {
    /// The rows of [`DRAWS`], in the order of the pick.
    pub fn rows<'a>(&'a self, pick: &'a Pick, zone: Tz) -> impl Iterator<Item = Vec<Cell<'a>>> {
        let drawn = &pick.drawn;
        let parts = drawn.strata.iter().flat_map(|stratum| {
            std::iter::repeat_n(stratum.name.as_str(), stratum.picked as usize)
        });
        let known = pick.results.iter().zip(&self.now);
        let draws = drawn.draws.iter().zip(&self.records).zip(parts).zip(known);
        draws.map(move |(((seen, record), part), (result, now))| {
            let verified = result.as_ref().map(|(_, verified)| verified);
            let draw = PickedDraw {
                seen,
                record,
                part,
                rank: hexadecimal(&rank(&drawn.seed, &seen.draw)),
                found: said(verified),
                now: now.words(),
            };
            pick_rows::draw(draw, zone)
        })
    }
}

/// Result, verifier's word and note.
fn said(verified: Option<&Verified>) -> [&str; 3] {
    let Some(verified) = verified else {
        return [""; 3];
    };
    let verdict = match verified.representative {
        None => "",
        Some(true) => "representative",
        Some(false) => "unrepresentative",
    };
    [verified.result.as_str(), verdict, &verified.note]
}

impl Programme {
    /// The draws of a pick with their records of then.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn picked_draws(&self, assessed: &Assessed, pick: &Pick) -> Result<PickedDraws, Error> {
        let draws = &pick.drawn.draws;
        let records: Vec<u32> = draws.iter().map(|seen| seen.record).collect();
        Ok(PickedDraws {
            records: self.records_ever(&records)?,
            now: self.draws_now(assessed, draws)?,
        })
    }

    /// Writes the sheet for the verifier of the pick of this number to a new file: what each
    /// record claims, and blank columns for what is found. It is the CSV of
    /// `fairdraw pick show`.
    ///
    /// # Errors
    /// No such pick, a file that is there already or can't be made, a store that can't be read.
    pub fn write_pick_sheet(
        &self,
        assessed: &Assessed,
        number: u32,
        to: &Path,
    ) -> Result<Pick, Error> {
        let written_over = || Error::WrittenOver {
            file: to.to_owned(),
        };
        if to.exists() {
            return Err(written_over());
        }
        let pick = self.pick(number)?;
        let draws = self.picked_draws(assessed, &pick)?;
        let folder = to.parent().filter(|it| !it.as_os_str().is_empty());
        let mut out = BufWriter::new(NamedTempFile::new_in(folder.unwrap_or(Path::new(".")))?);
        let mut sheet = writer(Format::Csv, DRAWS, Look::file(), &mut out)?;
        for row in draws.rows(&pick, assessed.zone) {
            sheet.row(&row)?;
        }
        sheet.finish()?;
        out.flush()?;
        let file = out.into_inner().map_err(io::IntoInnerError::into_error)?;
        allow_reading(file.as_file());
        match file.persist_noclobber(to) {
            Ok(_) => Ok(pick),
            Err(error) if error.error.kind() == io::ErrorKind::AlreadyExists => Err(written_over()),
            Err(error) => Err(error.error.into()),
        }
    }
}

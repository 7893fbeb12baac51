//! Column maps proposed from sheets, with what the programme knows.

use std::path::Path;

use super::import::size_of_file;
use super::lists::Lists;
use super::report::ImportRequest;
use super::{Error, Programme};
use crate::intake::files::{kind_of, tables_in};
use crate::intake::maps::propose::{self, KnownIds, Proposal, Said};
use crate::intake::table::{self, ReadAs, SheetChoice};
use crate::model::Progress;
use crate::model::progress::Stage;

impl Programme {
    /// Proposes a column map for the sheets of an import, from their headers and first rows, and
    /// from the points and technicians that the programme knows. Nothing is stored. What the
    /// sheets can't answer is among [`Proposal::questions`].
    ///
    /// # Errors
    /// A file that can't be read, or a stop.
    pub fn propose(&self, request: &ImportRequest, progress: &Progress) -> Result<Proposal, Error> {
        let files = tables_in(&request.sheets)?;
        progress.begin(
            Stage::Reading,
            files.iter().map(|path| size_of_file(path)).sum(),
        );
        let lists = Lists::load(self)?;
        let known = KnownIds {
            points: lists.points.places.keys().cloned().collect(),
            technicians: lists.technicians.places.keys().cloned().collect(),
        };
        let mut proposal = Proposal { sheets: Vec::new() };
        for path in files {
            for read_as in sheets_of(&path, &request.read_as)? {
                if progress.is_stopped() {
                    return Err(Error::Stopped);
                }
                let said = Said {
                    kind: request.kind.or_else(|| kind_of(&path)),
                    read_as: &read_as,
                    zone: request.zone,
                    known: &known,
                };
                let proposed = propose::propose(&path, &said)?;
                // A sheet of a workbook that goes with nothing is a note or a chart.
                if read_as == request.read_as || !proposed.columns.is_empty() {
                    proposal.sheets.push(proposed);
                }
            }
            progress.advance(size_of_file(&path));
        }
        proposal.sheets.sort_by_key(|sheet| sheet.kind);
        Ok(proposal)
    }
}

/// How each sheet of a file is to be read: all those of a workbook, unless one is named.
fn sheets_of(path: &Path, said: &ReadAs) -> Result<Vec<ReadAs>, Error> {
    let names = match said.sheet {
        Some(_) => Vec::new(),
        None => table::sheet_names(path)?.unwrap_or_default(),
    };
    if names.len() < 2 {
        return Ok(vec![said.clone()]);
    }
    let of_sheet = names.into_iter().map(|name| ReadAs {
        sheet: Some(SheetChoice::Name(name)),
        ..said.clone()
    });
    Ok(of_sheet.collect())
}

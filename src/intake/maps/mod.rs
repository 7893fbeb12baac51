//! Column maps: sheets as people have them, turned into the columns of the contract.
//!
//! A map is written in YAML (`docs/column-maps.md`). It passes three forms, as a rulebook
//! does: as written, checked (`recipe`), and bound to the header of one sheet (`apply`), which
//! turns a row's cells into canonical ones. What is refused then names their column and the
//! value as it stands in their sheet.

pub mod apply;
mod dates;
mod months;
mod number;
pub mod propose;
mod read;
mod recipe;
pub mod unit;

use std::path::Path;

pub use dates::{DateForm, Moment};
pub use number::NumberForm;
pub use recipe::{
    Manner, Otherwise, Piece, Recipe, SheetMap, Skip, Source, Theirs, When, Zones, folded,
};

use super::SheetKind;
use crate::model::time::Tz;
use crate::written::{self, Problem, sha256_hex};

/// What such a file is called in problems.
const WHAT: &str = "column map";

/// A checked column map.
#[derive(Clone, Debug)]
pub struct ColumnMap {
    /// Its name.
    pub name: String,
    /// Its revision, as written.
    pub revision: String,
    /// One entry for the sheets of a kind, or for some of them.
    pub sheets: Vec<SheetMap>,
    fingerprint: String,
    text: String,
}

impl ColumnMap {
    /// Reads a map. `file` is how the file is named in problems.
    ///
    /// # Errors
    /// All that is wrong with it, in the order of the file.
    pub fn from_yaml(text: &str, file: &str) -> Result<Self, Vec<Problem>> {
        let root = written::parse(text, file, WHAT).map_err(|problem| vec![problem])?;
        let mut problems = Vec::new();
        let read = read::check(&root, file, &mut problems);
        match read {
            Some((name, revision, sheets)) if problems.is_empty() => Ok(ColumnMap {
                fingerprint: fingerprint(&sheets),
                text: text.to_owned(),
                name,
                revision,
                sheets,
            }),
            _ => {
                problems.sort_by_key(|problem| (problem.line, problem.column));
                Err(problems)
            }
        }
    }

    /// Reads a map from the bytes of a file.
    ///
    /// # Errors
    /// As [`Self::from_yaml`], or that the bytes are not UTF-8, and where.
    pub fn from_bytes(bytes: &[u8], file: &str) -> Result<Self, Vec<Problem>> {
        let text = written::utf8(bytes, file).map_err(|problem| vec![problem])?;
        ColumnMap::from_yaml(text, file)
    }

    /// SHA-256 (hex) over everything that can change what is taken in: two maps of equal
    /// fingerprint read alike. Name, revision and comments do not count.
    #[must_use]
    pub fn fingerprint(&self) -> &str {
        &self.fingerprint
    }

    /// The map as it was written.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The places in `sheets` of the entries for a file: the first one of this kind (any, if none
    /// is given) that is for this file, or all such where they are for sheets of a workbook. An
    /// entry that names no files is for every one whose kind is given.
    #[must_use]
    pub fn entries_for(&self, file: &Path, kind: Option<SheetKind>) -> Vec<usize> {
        let name = file.file_name().unwrap_or_default().to_string_lossy();
        let is_for = |map: &SheetMap| match map.files[..] {
            [] => kind.is_some(),
            _ => map.files.iter().any(|pattern| recipe::fits(pattern, &name)),
        };
        let mut found: Vec<usize> = (self.sheets.iter().enumerate())
            .filter(|(_, map)| kind.is_none_or(|kind| map.kind == kind) && is_for(map))
            .map(|(place, _)| place)
            .collect();
        let first_alone = found
            .iter()
            .position(|place| self.sheets[*place].sheet.is_none());
        match first_alone {
            Some(0) => found.truncate(1),
            _ => found.retain(|place| self.sheets[*place].sheet.is_some()),
        }
        found
    }

    /// The place of the entry that is for any file, if there is just one.
    #[must_use]
    pub fn only_entry(&self) -> Option<usize> {
        let mut for_any = (0..self.sheets.len()).filter(|at| self.sheets[*at].files.is_empty());
        for_any.next().filter(|_| for_any.next().is_none())
    }

    /// The zone of the first sheet of draws that has one.
    #[must_use]
    pub fn zone_of_draws(&self) -> Option<Tz> {
        let draws = self
            .sheets
            .iter()
            .filter(|map| map.kind == SheetKind::Draws);
        draws.filter_map(|map| map.zone).next()
    }
}

impl SheetMap {
    /// The names of their columns that the map speaks of, and ours if it takes those as well.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        let pieces = self.columns.iter().flat_map(|recipe| &recipe.from);
        let theirs = pieces.filter_map(|piece| match &piece.source {
            Source::Column(Theirs::Name(name)) => Some(name.as_str()),
            _ => None,
        });
        let ours = (!self.only_named).then(|| self.kind.columns().iter().map(|column| column.name));
        theirs.chain(ours.into_iter().flatten())
    }
}

/// Over the checked form with sorted keys, not over how it was written.
fn fingerprint(sheets: &[SheetMap]) -> String {
    let value = serde_json::to_value(sheets).unwrap_or_default();
    sha256_hex(&value.to_string())
}

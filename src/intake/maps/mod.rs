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

    /// The entry for a sheet: the first one that is for this kind (any, if none is given), this
    /// file and, if it is one of a workbook, the sheet of this name.
    #[must_use]
    pub fn for_sheet(
        &self,
        file: &Path,
        sheet: Option<&str>,
        kind: Option<SheetKind>,
    ) -> Option<&SheetMap> {
        let file = file.file_name()?.to_string_lossy();
        self.sheets.iter().find(|map| {
            kind.is_none_or(|kind| map.kind == kind)
                && (map.files.is_empty() && kind.is_some()
                    || map.files.iter().any(|pattern| recipe::fits(pattern, &file)))
                && match (&map.sheet, sheet) {
                    (Some(pattern), Some(sheet)) => recipe::fits(pattern, sheet),
                    _ => true,
                }
        })
    }
}

/// Over the checked form with sorted keys, not over how it was written.
fn fingerprint(sheets: &[SheetMap]) -> String {
    let value = serde_json::to_value(sheets).unwrap_or_default();
    sha256_hex(&value.to_string())
}

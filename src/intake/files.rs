//! Which files are meant, and what each holds.

use std::path::{Path, PathBuf};

use super::Error;
use super::columns::SheetKind;
use super::mended::{self, Origin};

/// A sheet that was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// Where it is.
    pub path: PathBuf,
    /// What it holds.
    pub kind: SheetKind,
    /// Where its first row was refused, if it holds rows that were.
    pub mends: Option<Origin>,
}

/// The sheets that are meant by these files and folders, in the order in which they are
/// taken in: points, technicians, trainings, draws, each in the order given. Of a folder
/// all CSV files are meant whose names say what they hold, in order of their names.
///
/// # Errors
/// A file or folder that can't be read, a folder without sheets, a name that says nothing.
pub fn find(given: &[PathBuf], kind: Option<SheetKind>) -> Result<Vec<Found>, Error> {
    let mut found = Vec::new();
    for path in given {
        let unreadable = |source| Error::Unreadable {
            sheet: path.clone(),
            source,
        };
        if std::fs::metadata(path).map_err(unreadable)?.is_dir() {
            found.extend(in_folder(path)?);
        } else {
            let mends = mended::peek(path)?;
            let kind = (mends.map(|origin| origin.kind))
                .or(kind)
                .or_else(|| kind_of(path));
            let kind = kind.ok_or_else(|| Error::UnknownKind {
                sheet: path.clone(),
            })?;
            found.push(Found {
                path: path.clone(),
                kind,
                mends,
            });
        }
    }
    found.sort_by_key(|found| found.kind);
    Ok(found)
}

fn in_folder(folder: &Path) -> Result<Vec<Found>, Error> {
    let unreadable = |source| Error::Unreadable {
        sheet: folder.to_owned(),
        source,
    };
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(unreadable)? {
        let path = entry.map_err(unreadable)?.path();
        let is_csv = path
            .extension()
            .is_some_and(|extension| extension.eq_ignore_ascii_case("csv"));
        if let (true, Some(kind)) = (is_csv, kind_of(&path))
            && is_sheet(&path)?
        {
            found.push(Found {
                path,
                kind,
                mends: None,
            });
        }
    }
    found.sort_by(|one, other| one.path.cmp(&other.path));
    if found.is_empty() {
        return Err(Error::NoSheets {
            folder: folder.to_owned(),
        });
    }
    Ok(found)
}

/// Whether an entry of a folder with a sheet's name is one; folders are not. A link that leads
/// nowhere, or a pipe that nobody may ever write to, is an error: passed over in silence, its
/// rows would be missed much later.
fn is_sheet(path: &Path) -> Result<bool, Error> {
    let unreadable = |source| Error::Unreadable {
        sheet: path.to_owned(),
        source,
    };
    let found = std::fs::metadata(path).map_err(unreadable)?;
    if found.is_file() || found.is_dir() {
        return Ok(found.is_file());
    }
    Err(unreadable(std::io::Error::other(
        "it is a pipe or a device; to read from it, name it itself instead of its folder",
    )))
}

/// The kind that a file's name begins with: `draws.csv`, `Draws 2026.csv`, `draws_2.csv`.
/// A rejects sheet is none, although it may be called `draws.rejects.csv`.
fn kind_of(path: &Path) -> Option<SheetKind> {
    let name = path.file_name()?.to_str()?.to_ascii_lowercase();
    if name.ends_with(".rejects.csv") {
        return None;
    }
    SheetKind::ALL.into_iter().find(|kind| {
        name.strip_prefix(kind.as_str())
            .is_some_and(|rest| !rest.starts_with(|letter: char| letter.is_alphanumeric()))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_name_says_what_a_sheet_holds() {
        let cases = [
            ("draws.csv", Some(SheetKind::Draws)),
            ("in/Draws 2026.csv", Some(SheetKind::Draws)),
            ("points-north.csv", Some(SheetKind::Points)),
            ("TRAININGS", Some(SheetKind::Trainings)),
            ("technicians_2.CSV", Some(SheetKind::Technicians)),
            ("drawsheet.csv", None),
            ("points.rejects.csv", None),
            ("history.csv", None),
        ];
        for (name, kind) in cases {
            assert_eq!(kind_of(Path::new(name)), kind, "{name}");
        }
    }
}

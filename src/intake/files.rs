//! Which files are meant, and what each holds.

use std::path::{Path, PathBuf};

use super::Error;
use super::columns::SheetKind;
use super::maps::ColumnMap;

/// A sheet that was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// Where it is.
    pub path: PathBuf,
    /// What it holds.
    pub kind: SheetKind,
    /// The place of its entry in the column map, if it has one.
    pub entry: Option<usize>,
}

/// The sheets that are meant by these files and folders, in the order in which they are
/// taken in: points, technicians, trainings, draws, each in the order given. Of a folder
/// all CSV files are meant whose names say what they hold, and whatever the column map names,
/// in order of their names.
///
/// # Errors
/// A file or folder that can't be read, a folder without sheets, a name that says nothing.
pub fn find(
    given: &[PathBuf],
    kind: Option<SheetKind>,
    map: Option<&ColumnMap>,
) -> Result<Vec<Found>, Error> {
    let mut found = Vec::new();
    for path in given {
        let unreadable = |source| Error::Unreadable {
            sheet: path.clone(),
            source,
        };
        if std::fs::metadata(path).map_err(unreadable)?.is_dir() {
            found.extend(in_folder(path, map)?);
            continue;
        }
        let meant = meant(path, kind, kind_of(path), map);
        if meant.is_empty() {
            return Err(Error::UnknownKind {
                sheet: path.clone(),
            });
        }
        found.extend(meant);
    }
    found.sort_by_key(|found| found.kind);
    Ok(found)
}

/// What a file is taken for: what the user says goes before the names of files in the map, and
/// those before what the name says by itself.
fn meant(
    path: &Path,
    said: Option<SheetKind>,
    named: Option<SheetKind>,
    map: Option<&ColumnMap>,
) -> Vec<Found> {
    let found = |kind, entry| Found {
        path: path.to_owned(),
        kind,
        entry,
    };
    if let Some(map) = map {
        let mut entries = match said {
            Some(kind) => map.entries_for(path, Some(kind)),
            None => map.entries_for(path, None),
        };
        if entries.is_empty() && said.is_none() {
            entries = match named {
                Some(kind) => map.entries_for(path, Some(kind)),
                None => map.only_entry().into_iter().collect(),
            };
        }
        if !entries.is_empty() {
            let of = |entry: usize| found(map.sheets[entry].kind, Some(entry));
            return entries.into_iter().map(of).collect();
        }
    }
    said.or(named)
        .map(|kind| found(kind, None))
        .into_iter()
        .collect()
}

fn in_folder(folder: &Path, map: Option<&ColumnMap>) -> Result<Vec<Found>, Error> {
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
        let named = kind_of(&path).filter(|_| is_csv);
        let is_of_map = map.is_some_and(|map| !map.entries_for(&path, None).is_empty());
        if (named.is_some() || is_of_map) && is_sheet(&path)? {
            found.extend(meant(&path, None, named, map));
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

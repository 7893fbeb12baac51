//! Which files are meant, and what each holds.

use std::path::{Path, PathBuf};

use super::Error;
use super::columns::SheetKind;
use super::maps::ColumnMap;
use super::mended::{self, Origin};
use super::table::{self, ReadAs, SheetChoice};

/// A sheet that was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// Where it is.
    pub path: PathBuf,
    /// What it holds.
    pub kind: SheetKind,
    /// The sheet of a workbook, where its name says what it holds.
    pub sheet: Option<String>,
    /// Further sheets of that workbook whose names say nothing; they are not taken. With the
    /// first sheet found in it, so that this is told once.
    pub others: Vec<String>,
    /// The place of its entry in the column map, if it has one.
    pub entry: Option<usize>,
    /// Where its first row was refused, if it holds rows that were.
    pub mends: Option<Origin>,
}

impl Found {
    fn file(path: &Path, kind: SheetKind) -> Self {
        Found {
            path: path.to_owned(),
            kind,
            sheet: None,
            others: Vec::new(),
            entry: None,
            mends: None,
        }
    }

    /// The file as it was named, with the sheet of a workbook.
    #[must_use]
    pub fn name(&self) -> String {
        match &self.sheet {
            None => self.path.to_string_lossy().into_owned(),
            Some(sheet) => format!("{}, sheet {sheet}", self.path.to_string_lossy()),
        }
    }

    /// How it is to be read: as the user says, and the sheet that was found.
    #[must_use]
    pub fn read_as(&self, said: &ReadAs) -> ReadAs {
        let found = self.sheet.clone().map(SheetChoice::Name);
        ReadAs {
            sheet: found.or_else(|| said.sheet.clone()),
            ..said.clone()
        }
    }
}

/// What files in a folder may end with to be looked at.
const ENDINGS: [&str; 10] = [
    "csv", "tsv", "tab", "txt", "gz", "xlsx", "xlsm", "xlsb", "xls", "ods",
];
/// Those of workbooks, whose sheets may say what they hold where the file's name does not.
const WORKBOOKS: [&str; 5] = ["xlsx", "xlsm", "xlsb", "xls", "ods"];

/// The sheets that are meant by these files and folders, in the order in which they are
/// taken in: points, technicians, trainings, draws, each in the order given. Of a folder
/// all tables are meant whose names say what they hold, and whatever the column map names, in
/// order of their names. Of a workbook all sheets are meant whose names say so, where neither
/// `kind` nor a sheet is named.
///
/// # Errors
/// A file or folder that can't be read, a folder without sheets, a name that says nothing.
pub fn find(
    given: &[PathBuf],
    kind: Option<SheetKind>,
    said: &ReadAs,
    map: Option<&ColumnMap>,
) -> Result<Vec<Found>, Error> {
    let mut found = Vec::new();
    for path in given {
        let unreadable = |source| Error::Unreadable {
            sheet: path.clone(),
            source,
        };
        if std::fs::metadata(path).map_err(unreadable)?.is_dir() {
            found.extend(in_folder(path, said, map)?);
        } else {
            found.extend(in_file(path, kind, said, map)?);
        }
    }
    found.sort_by_key(|found| found.kind);
    Ok(found)
}

/// The tables in these folders that [`find`] leaves aside, because neither their names nor those
/// of their sheets say what they hold. Rows that were refused stand for themselves and are not
/// told.
///
/// # Errors
/// A folder that can't be read.
pub fn left_aside(given: &[PathBuf], found: &[Found]) -> Result<Vec<PathBuf>, Error> {
    let folders: Vec<PathBuf> = given.iter().filter(|path| path.is_dir()).cloned().collect();
    let mut left = tables_in(&folders)?;
    left.retain(|path| {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let is_of_refused = name.to_lowercase().ends_with(".rejects.csv");
        !is_of_refused && found.iter().all(|found| found.path != *path)
    });
    Ok(left)
}

/// The files that are tables by their endings among files and in folders, whatever they hold.
///
/// # Errors
/// A file or folder that can't be read.
pub fn tables_in(given: &[PathBuf]) -> Result<Vec<PathBuf>, Error> {
    let mut tables = Vec::new();
    for path in given {
        let unreadable = |source| Error::Unreadable {
            sheet: path.clone(),
            source,
        };
        if !std::fs::metadata(path).map_err(unreadable)?.is_dir() {
            tables.push(path.clone());
            continue;
        }
        let mut inside = Vec::new();
        for entry in std::fs::read_dir(path).map_err(unreadable)? {
            let path = entry.map_err(unreadable)?.path();
            let ending = path.extension().unwrap_or_default().to_string_lossy();
            let is_table = ENDINGS.contains(&ending.to_ascii_lowercase().as_str());
            if is_table && is_regular(&path) {
                inside.push(path);
            }
        }
        inside.sort();
        tables.extend(inside);
    }
    Ok(tables)
}

/// The sheets of one file. Rows that were refused before say themselves what they are; what the
/// column map says goes before what names say.
fn in_file(
    path: &Path,
    kind: Option<SheetKind>,
    said: &ReadAs,
    map: Option<&ColumnMap>,
) -> Result<Vec<Found>, Error> {
    if let Some(origin) = mended::peek(path)? {
        let mapped = map.map_or_else(Vec::new, |map| in_map(path, Some(origin.kind), map));
        return Ok(vec![Found {
            mends: Some(origin),
            entry: mapped.first().and_then(|mapped| mapped.entry),
            ..Found::file(path, origin.kind)
        }]);
    }
    let mapped = map.map_or_else(Vec::new, |map| in_map(path, kind, map));
    if !mapped.is_empty() {
        return Ok(mapped);
    }
    if let Some(kind) = kind {
        return Ok(vec![Found::file(path, kind)]);
    }
    if let Some(choice) = &said.sheet {
        let of_sheet = match choice {
            SheetChoice::Name(name) => kind_of_name(name),
            SheetChoice::Number(_) => None,
        };
        if let Some(kind) = of_sheet.or_else(|| kind_of(path)) {
            return Ok(vec![Found::file(path, kind)]);
        }
    } else if is_regular(path) {
        let sheets = table::sheet_names(path)?.unwrap_or_default();
        let (kept, others): (Vec<String>, Vec<String>) = sheets
            .into_iter()
            .partition(|name| kind_of_name(name).is_some());
        if !kept.is_empty() {
            let mut others = Some(others);
            let sheets = kept.into_iter().filter_map(|name| {
                Some(Found {
                    kind: kind_of_name(&name)?,
                    sheet: Some(name),
                    others: others.take().unwrap_or_default(),
                    ..Found::file(path, SheetKind::Points)
                })
            });
            return Ok(sheets.collect());
        }
    }
    match kind_of(path) {
        Some(kind) => Ok(vec![Found::file(path, kind)]),
        None => Err(Error::UnknownKind {
            sheet: path.to_owned(),
        }),
    }
}

/// What the column map takes a file for: what the user says goes before the names of files in
/// the map, and those before what the name says by itself.
fn in_map(path: &Path, said: Option<SheetKind>, map: &ColumnMap) -> Vec<Found> {
    let mut entries = map.entries_for(path, said);
    if entries.is_empty() && said.is_none() {
        entries = match kind_of(path) {
            Some(kind) => map.entries_for(path, Some(kind)),
            None => map.only_entry().into_iter().collect(),
        };
    }
    let of = |entry: usize| Found {
        entry: Some(entry),
        sheet: map.sheets[entry].sheet.clone(),
        ..Found::file(path, map.sheets[entry].kind)
    };
    entries.into_iter().map(of).collect()
}

/// Whether reading the file twice is possible; a pipe is only read when its turn comes.
fn is_regular(path: &Path) -> bool {
    std::fs::metadata(path).is_ok_and(|found| found.is_file())
}

fn in_folder(folder: &Path, said: &ReadAs, map: Option<&ColumnMap>) -> Result<Vec<Found>, Error> {
    let unreadable = |source| Error::Unreadable {
        sheet: folder.to_owned(),
        source,
    };
    let mut paths = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(unreadable)? {
        paths.push(entry.map_err(unreadable)?.path());
    }
    paths.sort();
    let mut found = Vec::new();
    for path in paths {
        let ending = path
            .extension()
            .map(|ending| ending.to_string_lossy().to_ascii_lowercase())
            .unwrap_or_default();
        let is_of_map = map.is_some_and(|map| !map.entries_for(&path, None).is_empty());
        if !is_of_map && !ENDINGS.contains(&ending.as_str()) {
            continue;
        }
        if is_of_map || kind_of(&path).is_some() {
            if is_sheet(&path)? {
                found.extend(in_file(&path, None, said, map)?);
            }
        } else if WORKBOOKS.contains(&ending.as_str()) && is_regular(&path) {
            // Its name says nothing: if it can't be read either, it is none of ours.
            found.extend(in_file(&path, None, said, None).unwrap_or_default());
        }
    }
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

/// The kind that a file's name begins with: `draws.csv`, `Draws 2026.xlsx`, `draws_2.csv.gz`.
/// A rejects sheet is none, although it may be called `draws.rejects.csv`.
#[must_use]
pub fn kind_of(path: &Path) -> Option<SheetKind> {
    kind_of_name(path.file_name()?.to_str()?)
}

/// The same of a file's or a sheet's name.
#[must_use]
pub fn kind_of_name(name: &str) -> Option<SheetKind> {
    let name = name.trim().to_lowercase();
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

//! What lies in a folder, for choosing what to take in.

use std::fs::File;
use std::io::{self, Read as _};
use std::path::{Path, PathBuf};

use crate::intake::files::kind_of_name;
use crate::store;

/// More entries of a folder than this are not looked at.
pub const MOST: usize = 10_000;

/// The endings of files that tables may stand in; `.gz` may follow those of text.
const TEXTS: [&str; 3] = ["csv", "tsv", "txt"];
const WORKBOOKS: [&str; 5] = ["xlsx", "xlsm", "xlsb", "xls", "ods"];

/// Something in a folder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Its name.
    pub name: String,
    /// What it is.
    pub what: What,
    /// How many bytes a file has.
    pub bytes: u64,
}

/// What an entry is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// A folder.
    Folder,
    /// A table as text.
    Text,
    /// A workbook.
    Workbook,
    /// A programme file.
    Programme,
}

impl What {
    /// In a word.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            What::Folder => "folder",
            What::Text => "table",
            What::Workbook => "workbook",
            What::Programme => "programme",
        }
    }
}

/// What a file of this name may be, by its ending.
#[must_use]
pub fn kind_of(name: &str) -> Option<What> {
    let lower = name.to_lowercase();
    let (stem, ending) = lower.rsplit_once('.')?;
    let is_text = |ending: &str| TEXTS.contains(&ending);
    if ending == "gz" {
        let (_, inner) = stem.rsplit_once('.')?;
        return is_text(inner).then_some(What::Text);
    }
    if is_text(ending) {
        Some(What::Text)
    } else {
        WORKBOOKS.contains(&ending).then_some(What::Workbook)
    }
}

/// Whether a file is taken in with its folder: its name says what it holds. Of a workbook the
/// names of its sheets may say so as well; it is opened only when it is read.
#[must_use]
pub fn is_taken_with_folder(entry: &Entry) -> bool {
    match entry.what {
        What::Text => kind_of_name(&entry.name).is_some(),
        What::Workbook => true,
        What::Folder | What::Programme => false,
    }
}

/// The folders in a folder, then the files that tables may stand in, each in order of their
/// names, in any case; hidden ones are left out. Names that are no Unicode are left out too.
///
/// # Errors
/// The folder can't be read.
pub fn listing(folder: &Path) -> io::Result<Vec<Entry>> {
    entries(folder, &|path| {
        let name = path.file_name()?.to_str()?;
        kind_of(name)
    })
}

/// As [`listing`], with programme files instead, whatever their names.
///
/// # Errors
/// The folder can't be read.
pub fn programmes(folder: &Path) -> io::Result<Vec<Entry>> {
    entries(folder, &|path| {
        is_programme(path).then_some(What::Programme)
    })
}

/// Whether a file begins as a programme file does. A pipe is not looked into: it might never
/// say anything.
fn is_programme(path: &Path) -> bool {
    let mut head = [0; 72];
    let read = File::open(path).and_then(|mut file| file.read_exact(&mut head));
    // SQLite file format, "The Database Header": the application's mark at 68.
    let mark = store::migrations::APPLICATION_ID.to_be_bytes();
    read.is_ok() && head.starts_with(b"SQLite format 3\0") && head[68..] == mark
}

fn entries(folder: &Path, kind: &dyn Fn(&Path) -> Option<What>) -> io::Result<Vec<Entry>> {
    let mut entries = Vec::new();
    for found in std::fs::read_dir(folder)?.take(MOST) {
        let found = found?;
        let Ok(name) = found.file_name().into_string() else {
            continue;
        };
        if name.starts_with('.') {
            continue;
        }
        // Of a link it is what it leads to that counts; one that leads nowhere is left out.
        let Ok(about) = std::fs::metadata(found.path()) else {
            continue;
        };
        let what = if about.is_dir() {
            Some(What::Folder)
        } else if about.is_file() {
            kind(&found.path())
        } else {
            None
        };
        if let Some(what) = what {
            let bytes = if what == What::Folder { 0 } else { about.len() };
            entries.push(Entry { name, what, bytes });
        }
    }
    entries.sort_by_cached_key(|entry| {
        let is_file = entry.what != What::Folder;
        (is_file, entry.name.to_lowercase(), entry.name.clone())
    });
    Ok(entries)
}

/// The path that a text names: `~/` at its beginning is the user's own folder, nothing is the
/// present one.
#[must_use]
pub fn path_of(text: &str) -> PathBuf {
    let path = Path::new(text);
    match (path.strip_prefix("~"), std::env::home_dir()) {
        (Ok(rest), Some(home)) => home.join(rest),
        _ if text.is_empty() => PathBuf::from("."),
        _ => path.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn endings_tell_what_a_file_may_be() {
        for (name, expected) in [
            ("draws.csv", Some(What::Text)),
            ("Draws.CSV.GZ", Some(What::Text)),
            ("Proben.XLSX", Some(What::Workbook)),
            ("old.xls.gz", None),
            ("notes.pdf", None),
            ("draws", None),
            ("archive.gz", None),
        ] {
            assert_eq!(kind_of(name), expected, "{name}");
        }
    }

    #[test]
    fn folders_stand_first_and_only_tables_follow() {
        let folder = tempfile::tempdir().unwrap();
        for name in ["b.csv", "A.ods", "notes.md", ".hidden.csv"] {
            std::fs::write(folder.path().join(name), "x").unwrap();
        }
        for name in ["Zeta", "alpha", ".git", "looks-like.csv"] {
            std::fs::create_dir(folder.path().join(name)).unwrap();
        }
        let listed = listing(folder.path()).unwrap();
        let names: Vec<&str> = listed.iter().map(|entry| entry.name.as_str()).collect();
        assert_eq!(names, ["alpha", "looks-like.csv", "Zeta", "A.ods", "b.csv"]);
        assert_eq!((listed[3].what, listed[3].bytes), (What::Workbook, 1));
        assert!(listing(&folder.path().join("none")).is_err());
    }

    #[test]
    fn programme_files_are_known_by_what_is_in_them() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path();
        drop(crate::programme::Programme::open_or_create(&path.join("north.anything")).unwrap());
        std::fs::write(path.join("draws.csv"), "draw_id").unwrap();
        std::fs::write(path.join("other.db"), "SQLite format 3\0").unwrap();
        let other = database_of_another(b"SQLite format 3\0", [0; 4]);
        std::fs::write(path.join("contacts.db"), other).unwrap();
        std::fs::create_dir(path.join("sheets")).unwrap();
        let listed = programmes(path).unwrap();
        let found: Vec<_> = listed
            .iter()
            .map(|it| (it.name.as_str(), it.what))
            .collect();
        let expected = [
            ("sheets", What::Folder),
            ("north.anything", What::Programme),
        ];
        assert_eq!(found, expected);
    }

    /// The first bytes of a database of another program.
    fn database_of_another(begin: &[u8], mark: [u8; 4]) -> Vec<u8> {
        let mut head = begin.to_vec();
        head.resize(68, 0);
        head.extend(mark);
        head.resize(4096, 0);
        head
    }
}

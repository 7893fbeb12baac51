//! What lies in a folder, for choosing what to take in.

use std::io;
use std::path::{Path, PathBuf};

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
}

impl What {
    /// In a word.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            What::Folder => "folder",
            What::Text => "table",
            What::Workbook => "workbook",
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

/// The folders in a folder, then the files that tables may stand in, each in order of their
/// names, in any case; hidden ones are left out. Names that are no Unicode are left out too.
///
/// # Errors
/// The folder can't be read.
pub fn listing(folder: &Path) -> io::Result<Vec<Entry>> {
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
        } else {
            kind_of(&name).filter(|_| about.is_file())
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
}

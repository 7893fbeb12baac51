//! Why a programme file could not be opened, told apart: what it is, where, and what to do.

use std::path::{Path, PathBuf};

use super::Error;
use crate::store;

/// Why a programme file could not be opened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unopened {
    /// The file.
    pub file: PathBuf,
    /// What is the matter, in a few words.
    pub what: &'static str,
    /// More about it where more is known, as a sentence; else empty.
    pub more: String,
    /// What to do, as sentences.
    pub advice: String,
    /// All of it in one line, as the command line says it.
    pub words: String,
    /// There is nothing yet: no such file, or an empty one.
    pub is_nothing_yet: bool,
}

impl Unopened {
    /// What an error means that came of opening this file.
    #[must_use]
    pub fn of(file: &Path, error: &Error) -> Self {
        let (what, more, advice) = match error {
            Error::Store(error) => told(error),
            other => (
                "The programme could not be read",
                format!("{}.", capital(&other.to_string())),
                "Try again; if that does not help, go back to a copy of the file.".to_owned(),
            ),
        };
        Unopened {
            file: file.to_owned(),
            what,
            more,
            advice,
            words: error.to_string(),
            is_nothing_yet: matches!(
                error,
                Error::Store(store::Error::Missing { .. } | store::Error::Empty { .. })
            ),
        }
    }
}

/// What is the matter, more about it, and what to do.
fn told(error: &store::Error) -> (&'static str, String, String) {
    use store::Error as E;
    let said = |what, more: String, advice: &str| (what, more, advice.to_owned());
    let none = String::new;
    match error {
        E::Missing { .. } => said(
            "There is no programme file here yet",
            none(),
            "Take your tables in to make it, or open another file.",
        ),
        E::Empty { .. } => said(
            "The programme file is empty",
            "Nothing was taken in yet, or its first taking in was cut off.".to_owned(),
            "Take your tables in, or open another file.",
        ),
        E::NotAProgramme { .. } => said(
            "This is no programme file",
            "It is a file of another kind; nothing in it was changed.".to_owned(),
            "Open the file that taking tables in made. A table itself is not opened but taken in.",
        ),
        E::Newer { found, known, .. } => said(
            "The programme file is newer than this fairdraw",
            format!(
                "It has version {found}; this fairdraw knows versions up to {known}. Nothing in \
                 it was changed."
            ),
            "Update fairdraw, or ask whoever wrote the file for their version of it.",
        ),
        E::Damaged { reason, .. } => said(
            "The programme file is damaged",
            format!("{}.", capital(reason)),
            "Go back to a copy of it, or take the tables in again into a new file. Keep the \
             damaged one until that is done.",
        ),
        E::Replaced { .. } | E::Gone { .. } => said(
            "The programme file is not the one that was open",
            "It was moved, deleted or replaced meanwhile. Nothing was written to either."
                .to_owned(),
            "Put it back, or open it again as it stands now.",
        ),
        E::Locked { .. } => said(
            "The programme file is in use",
            "Another process writes to it just now.".to_owned(),
            "Wait until its taking in is done, then try again.",
        ),
        E::Unopened { reason, .. } => said(
            "The programme file can't be opened",
            format!("The computer says: {reason}."),
            "See whether you may read the file and its folder, then try again.",
        ),
        E::ReadOnly { .. } => said(
            "The programme file can't be written to",
            none(),
            "Copy it to a folder of your own, or change its permissions, then try again.",
        ),
        E::OlderReadOnly { .. } => said(
            "The programme file is older and can't be written to",
            "So it can't be brought up to date here.".to_owned(),
            "Copy it to a folder of your own and open the copy.",
        ),
        E::NoBackup { backup, reason } => said(
            "The programme file could not be brought up to date",
            format!(
                "The copy that is made before, {}, could not be made: {reason}. The file is as it \
                 was.",
                backup.display()
            ),
            "Make room in that folder or see whether you may write there, then try again.",
        ),
        E::PendingChanges { file } => said(
            "The programme file has changes that can't be read here",
            format!(
                "They stand in the file beside it ({}-wal), in a folder that can't be written to.",
                file.display()
            ),
            "Copy both to a folder of your own and open the copy.",
        ),
        E::Full { .. } => said(
            "There is no room left on the disk",
            "Nothing was changed.".to_owned(),
            "Free some room, then try again.",
        ),
        E::Sqlite { source, .. } => said(
            "The programme file could not be read",
            format!("{}.", capital(&source.to_string())),
            "Try again; if that does not help, go back to a copy of the file.",
        ),
    }
}

fn capital(words: &str) -> String {
    let mut signs = words.chars();
    let first = signs.next().map(char::to_uppercase);
    first.map_or_else(String::new, |first| {
        first
            .chain(signs)
            .collect::<String>()
            .trim_end_matches('.')
            .to_owned()
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::programme::Programme;

    fn of(file: &Path) -> Unopened {
        Unopened::of(file, &Programme::open(file).unwrap_err())
    }

    #[test]
    fn what_is_the_matter_is_told_apart() {
        let folder = tempfile::tempdir().unwrap();
        let file = |name: &str, bytes: &[u8]| {
            let file = folder.path().join(name);
            std::fs::write(&file, bytes).unwrap();
            file
        };
        let missing = of(&folder.path().join("none.db"));
        assert!(missing.is_nothing_yet);
        let empty = of(&file("empty.db", b""));
        assert!(empty.is_nothing_yet);
        let other = of(&file("notes.db", b"Notes of the morning round"));
        assert_eq!(other.what, "This is no programme file");
        let cut = of(&file("cut.db", b"SQLite format 3\0"));
        assert_eq!(cut.what, "The programme file is damaged");
        let is_folder = of(folder.path());
        assert_eq!(is_folder.more, "The computer says: it is a folder.");
        for told in [other, cut, is_folder] {
            assert!(
                !told.is_nothing_yet && told.advice.ends_with('.'),
                "{told:?}"
            );
        }
    }

    #[test]
    fn a_newer_file_names_both_versions() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("newer.db");
        drop(Programme::open_or_create(&file).unwrap());
        let connection = crate::store::Store::open(&file).unwrap();
        connection
            .connection()
            .pragma_update(None, "user_version", 99)
            .unwrap();
        drop(connection);
        let told = of(&file);
        assert_eq!(told.what, "The programme file is newer than this fairdraw");
        assert!(told.more.starts_with("It has version 99;"), "{}", told.more);
    }
}

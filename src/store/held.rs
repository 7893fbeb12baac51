//! Which file was opened: a path may lead to another one later, when somebody puts a copy in
//! its place.
//!
//! SQLite guards a file with locks that belong to the process: when any handle of that file is
//! closed, all locks of the process on it are gone, those of other connections among them, and
//! another process may then take away the log they write to (SQLite, "How To Corrupt An SQLite
//! Database File", 2.2). So there is one handle for each file, and it is closed after the last
//! connection.

use std::fs::{self, File};
use std::io;
use std::path::Path;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// What tells one file from another: device and number on it.
pub type Number = (u64, u64);

/// A file that is open in this process, and how many hold it.
struct Open {
    number: Number,
    file: Arc<File>,
    holders: usize,
}

/// The files that are open in this process.
static OPEN: Mutex<Vec<Open>> = Mutex::new(Vec::new());

fn open_files() -> MutexGuard<'static, Vec<Open>> {
    OPEN.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A file that is open, whatever its path leads to by now.
#[derive(Debug)]
pub struct Held {
    number: Number,
    /// There until it is let go.
    file: Option<Arc<File>>,
}

/// What is found where a file was opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Found {
    /// The file itself.
    Itself,
    /// Another one.
    Another,
    /// None.
    Nothing,
}

impl Held {
    /// The file that this path leads to.
    ///
    /// # Errors
    /// There is none, or it can't be read.
    pub fn at(path: &Path) -> io::Result<Self> {
        let mut open = open_files();
        let number = number(path, &fs::metadata(path)?);
        let file = match open.iter_mut().find(|open| open.number == number) {
            Some(open) => {
                open.holders += 1;
                Arc::clone(&open.file)
            }
            None => {
                let file = Arc::new(File::open(path)?);
                open.push(Open {
                    number,
                    file: Arc::clone(&file),
                    holders: 1,
                });
                file
            }
        };
        Ok(Held {
            number,
            file: Some(file),
        })
    }

    /// The first bytes of the file, at most so many.
    ///
    /// # Errors
    /// It can't be read.
    pub fn head(&self, most: usize) -> io::Result<Vec<u8>> {
        let Some(file) = &self.file else {
            return Ok(Vec::new());
        };
        let mut head = vec![0; most];
        let mut filled = 0;
        while filled < most {
            match read_at(file, &mut head[filled..], filled as u64) {
                Ok(0) => break,
                Ok(count) => filled += count,
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => return Err(error),
            }
        }
        head.truncate(filled);
        Ok(head)
    }

    /// What tells it from other files.
    #[must_use]
    pub const fn number(&self) -> Number {
        self.number
    }

    /// What this path leads to now.
    #[must_use]
    pub fn found_at(&self, path: &Path) -> Found {
        match fs::metadata(path) {
            Ok(found) if number(path, &found) == self.number => Found::Itself,
            Ok(_) => Found::Another,
            Err(_) => Found::Nothing,
        }
    }
}

/// What tells the file from others that this path leads to now; none if there is none.
#[must_use]
pub fn number_at(path: &Path) -> Option<Number> {
    Some(number(path, &fs::metadata(path).ok()?))
}

impl Drop for Held {
    /// The handle is closed before anybody else may open the file, so that no lock of a later
    /// connection goes with it.
    fn drop(&mut self) {
        let mut open = open_files();
        self.file = None;
        if let Some(at) = open.iter().position(|open| open.number == self.number) {
            open[at].holders -= 1;
            if open[at].holders == 0 {
                open.swap_remove(at);
            }
        }
    }
}

#[cfg(unix)]
fn number(_: &Path, found: &fs::Metadata) -> Number {
    use std::os::unix::fs::MetadataExt as _;
    (found.dev(), found.ino())
}

/// Elsewhere a file that is open can't be replaced, and its path is its number.
#[cfg(not(unix))]
fn number(path: &Path, _: &fs::Metadata) -> Number {
    use std::hash::{DefaultHasher, Hash as _, Hasher as _};
    let mut hasher = DefaultHasher::new();
    path.hash(&mut hasher);
    (0, hasher.finish())
}

#[cfg(unix)]
fn read_at(file: &File, buffer: &mut [u8], offset: u64) -> io::Result<usize> {
    std::os::unix::fs::FileExt::read_at(file, buffer, offset)
}

#[cfg(not(unix))]
fn read_at(mut file: &File, buffer: &mut [u8], offset: u64) -> io::Result<usize> {
    use std::io::{Read as _, Seek as _};
    file.seek(io::SeekFrom::Start(offset))?;
    file.read(buffer)
}

#[cfg(all(test, unix))]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn a_file_is_held_once_and_told_from_what_is_put_in_its_place() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("one");
        fs::write(&path, "first").unwrap();
        let held = Held::at(&path).unwrap();
        let again = Held::at(&path).unwrap();
        let same = |one: &Held, other: &Held| {
            Arc::ptr_eq(one.file.as_ref().unwrap(), other.file.as_ref().unwrap())
        };
        assert!(same(&held, &again));
        assert_eq!(held.found_at(&path), Found::Itself);
        fs::write(folder.path().join("two"), "second").unwrap();
        fs::rename(folder.path().join("two"), &path).unwrap();
        assert_eq!(held.found_at(&path), Found::Another);
        drop(again);
        assert_eq!(held.head(3).unwrap(), b"fir");
        let other = Held::at(&path).unwrap();
        assert!(!same(&held, &other));
        assert_eq!(other.head(100).unwrap(), b"second");
        fs::remove_file(&path).unwrap();
        assert_eq!(held.found_at(&path), Found::Nothing);
        let numbers = [held.number, other.number];
        drop((held, other));
        assert!(
            !open_files()
                .iter()
                .any(|open| numbers.contains(&open.number))
        );
    }
}

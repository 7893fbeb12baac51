//! Opening and making a programme file.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::{Connection, OpenFlags, Transaction, TransactionBehavior};

use super::held::{Found, Held, Number};
use super::{Error, migrations};

/// How long one process waits for another that writes.
const PATIENCE: Duration = Duration::from_secs(5);

/// An open programme file.
#[derive(Debug)]
pub struct Store {
    connection: Connection,
    file: Option<PathBuf>,
    read_only: bool,
    /// Let go after the connection, as fields are dropped in this order.
    held: Option<Held>,
}

impl Store {
    /// Opens a file that exists, read-only where it or its folder is.
    ///
    /// # Errors
    /// No such file, not a programme, damaged, newer than this program, locked.
    pub fn open(file: &Path) -> Result<Self, Error> {
        Self::open_waiting(file, PATIENCE)
    }

    /// As [`Self::open`], waiting this long for a process that writes.
    ///
    /// # Errors
    /// As [`Self::open`].
    pub fn open_waiting(file: &Path, patience: Duration) -> Result<Self, Error> {
        roll_back_unfinished(file);
        let held = look_at_header(file)?;
        let read_only = is_protected(file) || is_protected(folder_of(file));
        let mut store = if read_only {
            Self::connect_read_only(file)?
        } else {
            let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
            Self::connect(file, flags)?
        };
        store.held = Some(held);
        store.set_up(patience)?;
        store.check_version()?;
        store.settle();
        Ok(store)
    }

    /// Opens a file, making a new one where there is none or an empty one.
    ///
    /// # Errors
    /// As [`Self::open`]; or the file can't be made.
    pub fn open_or_create(file: &Path) -> Result<Self, Error> {
        roll_back_unfinished(file);
        match fs::metadata(file) {
            Ok(found) if found.is_file() && found.len() == 0 => {}
            Ok(_) => return Self::open(file),
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {}
            Err(error) => {
                return Err(Error::Unopened {
                    file: file.to_owned(),
                    reason: error.to_string(),
                });
            }
        }
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE
            | OpenFlags::SQLITE_OPEN_CREATE
            | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let mut store = Self::connect(file, flags)?;
        if let Err(error) = store.make() {
            drop(store);
            // Nothing came of it, so nothing is left behind.
            if fs::metadata(file).is_ok_and(|found| found.len() == 0) {
                let _ = fs::remove_file(file);
            }
            return Err(error);
        }
        store.held = Held::at(file).ok();
        Ok(store)
    }

    /// A programme that is kept nowhere, for trying an import out.
    ///
    /// # Errors
    /// No memory.
    pub fn in_memory() -> Result<Self, Error> {
        let connection = Connection::open_in_memory()
            .map_err(|error| Error::of(Path::new("in memory"), error))?;
        let mut store = Store {
            connection,
            file: None,
            read_only: false,
            held: None,
        };
        store.make()?;
        Ok(store)
    }

    /// What SQL is spoken through.
    #[must_use]
    pub fn connection(&self) -> &Connection {
        &self.connection
    }

    /// Where the file is; `None` for one in memory.
    #[must_use]
    pub fn file(&self) -> Option<&Path> {
        self.file.as_deref()
    }

    /// Whether nothing can be written.
    #[must_use]
    pub fn is_read_only(&self) -> bool {
        self.read_only
    }

    /// What an error of SQLite means for this file.
    #[must_use]
    pub fn error(&self, source: rusqlite::Error) -> Error {
        Error::of(self.name(), source)
    }

    /// The file is inconsistent.
    #[must_use]
    pub fn damaged(&self, reason: &str) -> Error {
        Error::Damaged {
            file: self.name().to_owned(),
            reason: reason.to_owned(),
        }
    }

    /// Begins to write: all or nothing, taken back unless committed.
    ///
    /// # Errors
    /// The file can't be written to, or another process writes.
    pub fn begin(&self) -> Result<Transaction<'_>, Error> {
        if self.read_only {
            return Err(Error::ReadOnly {
                file: self.name().to_owned(),
            });
        }
        let begun = Transaction::new_unchecked(&self.connection, TransactionBehavior::Immediate)
            .map_err(|error| self.error(error))?;
        self.is_in_place()?;
        Ok(begun)
    }

    /// Looks whether the path still leads to the file that was opened: what is written to one
    /// that was replaced or deleted would be lost.
    ///
    /// # Errors
    /// It leads to another file or to none.
    pub fn is_in_place(&self) -> Result<(), Error> {
        let (Some(file), Some(held)) = (&self.file, &self.held) else {
            return Ok(());
        };
        match held.found_at(file) {
            Found::Itself => Ok(()),
            Found::Another => Err(Error::Replaced { file: file.clone() }),
            Found::Nothing => Err(Error::Gone { file: file.clone() }),
        }
    }

    /// Looks whether the file is still there and whole, as far as its size and its first bytes
    /// tell.
    ///
    /// # Errors
    /// It was replaced, deleted, cut off or written over.
    pub fn look(&self) -> Result<(), Error> {
        self.is_in_place()?;
        match (&self.file, &self.held) {
            (Some(file), Some(held)) => look_at(file, held),
            _ => Ok(()),
        }
    }

    /// What tells the file from others; none for one in memory.
    #[must_use]
    pub fn number(&self) -> Option<Number> {
        self.held.as_ref().map(Held::number)
    }

    /// Before the file that was put in the place of this one is opened: a log that is older than
    /// that file belongs to this one. SQLite would take it for the other's (SQLite, "How To
    /// Corrupt An SQLite Database File", 1.4), so it is emptied into this one.
    pub fn take_log_along(&self) {
        let (Some(file), Err(Error::Replaced { .. })) = (&self.file, self.is_in_place()) else {
            return;
        };
        if log_size(file) > 0 && is_older(&log_of(file), file) {
            self.checkpoint();
        }
    }

    /// Moves what stands in the write-ahead log into the file, if nobody else is at it: a file
    /// without a log can be copied, and a copy put in its place is not taken for what the log
    /// belongs to.
    pub fn empty_log(&self) {
        let Some(file) = self.file.as_ref().filter(|_| !self.read_only) else {
            return;
        };
        if log_size(file) == 0 || self.is_in_place().is_err() {
            return;
        }
        self.checkpoint();
    }

    /// Where others are at the file this is left for later.
    fn checkpoint(&self) {
        let _ = self.connection.busy_timeout(Duration::ZERO);
        let _ = self
            .connection
            .query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()));
        let _ = self.connection.busy_timeout(PATIENCE);
    }

    /// Begins to read one state of the file, whatever others write meanwhile.
    ///
    /// # Errors
    /// Another process holds the file for itself.
    pub fn begin_reading(&self) -> Result<Transaction<'_>, Error> {
        Transaction::new_unchecked(&self.connection, TransactionBehavior::Deferred)
            .map_err(|error| self.error(error))
    }

    /// A number that changes when another process or connection writes to the file.
    ///
    /// # Errors
    /// A file that can't be read.
    pub fn data_version(&self) -> Result<i64, Error> {
        self.connection
            .pragma_query_value(None, "data_version", |row| row.get(0))
            .map_err(|error| self.error(error))
    }

    /// Switches to a write-ahead log, under which readers and one writer don't wait for each
    /// other. A new file is first filled under a rollback journal, since every page would
    /// otherwise be written twice. Where others have the file open this is left for later.
    pub fn settle(&self) {
        if self.read_only || self.file.is_none() {
            return;
        }
        let is_filled = self
            .connection
            .query_row("SELECT EXISTS (SELECT 1 FROM imports)", [], |row| {
                row.get(0)
            })
            .unwrap_or(false);
        if is_filled {
            let _ = self.connection.pragma_update(None, "journal_mode", "wal");
        }
    }

    fn name(&self) -> &Path {
        self.file.as_deref().unwrap_or(Path::new("in memory"))
    }

    fn connect(file: &Path, flags: OpenFlags) -> Result<Self, Error> {
        let connection =
            Connection::open_with_flags(file, flags).map_err(|error| Error::of(file, error))?;
        let read_only = connection.is_readonly("main").unwrap_or(true);
        Ok(Store {
            connection,
            file: Some(file.to_owned()),
            read_only,
            held: None,
        })
    }

    /// In a folder that can't be written to, SQLite can't make the shared memory of a
    /// write-ahead log, so the file is opened as one that nobody changes. That is sound only
    /// where no log with changes stands beside it.
    fn connect_read_only(file: &Path) -> Result<Self, Error> {
        let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        if !is_protected(folder_of(file)) {
            return Self::connect(file, flags);
        }
        if log_size(file) > 0 {
            let store = Self::connect(file, flags)?;
            return match store
                .connection
                .query_row("SELECT 1 FROM sqlite_schema", [], |_| Ok(()))
            {
                Ok(()) => Ok(store),
                Err(_) => Err(Error::PendingChanges {
                    file: file.to_owned(),
                }),
            };
        }
        let absolute = std::path::absolute(file).unwrap_or_else(|_| file.to_owned());
        let mut address = String::from("file:");
        for byte in absolute.as_os_str().as_encoded_bytes() {
            match byte {
                b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'/' | b'.' | b'-' | b'_' => {
                    address.push(char::from(*byte));
                }
                other => address.push_str(&format!("%{other:02x}")),
            }
        }
        address.push_str("?immutable=1");
        let flags = flags | OpenFlags::SQLITE_OPEN_URI;
        let mut store = Self::connect(Path::new(&address), flags)?;
        store.file = Some(file.to_owned());
        Ok(store)
    }

    fn make(&mut self) -> Result<(), Error> {
        self.connection
            .pragma_update(None, "page_size", 8192)
            .map_err(|error| self.error(error))?;
        self.set_up(PATIENCE)?;
        let file = self.file.clone();
        migrations::bring_up_to_date(&mut self.connection, file.as_deref(), migrations::STEPS)
    }

    fn set_up(&self, patience: Duration) -> Result<(), Error> {
        let set = || {
            self.connection.busy_timeout(patience)?;
            // A draw's references are looked up before it comes here, and a check of the file
            // looks them all up again; having SQLite do it too for every draw costs a sixth of
            // the processor time of an import (measured on a million draws).
            self.connection.pragma_update(None, "foreign_keys", false)?;
            self.connection
                .pragma_update(None, "trusted_schema", false)?;
            self.connection
                .pragma_update(None, "synchronous", "normal")?;
            self.connection
                .pragma_update(None, "temp_store", "memory")?;
            // In KiB: most of a file is written once and read in columns.
            self.connection.pragma_update(None, "cache_size", -32_768)
        };
        set().map_err(|error| self.error(error))
    }

    fn check_version(&mut self) -> Result<(), Error> {
        let file = self.name().to_owned();
        let number = |name: &str| {
            self.connection
                .pragma_query_value(None, name, |row| row.get::<_, i64>(0))
                .map_err(|error| self.error(error))
        };
        if number("application_id")? != i64::from(migrations::APPLICATION_ID) {
            return Err(Error::NotAProgramme { file });
        }
        let found = number("user_version")?;
        let known = super::count(migrations::STEPS.len() as u64);
        if found > known {
            return Err(Error::Newer { file, found, known });
        }
        if found < known && self.read_only {
            return Err(Error::OlderReadOnly { file });
        }
        migrations::bring_up_to_date(&mut self.connection, Some(&file), migrations::STEPS)
    }
}

fn folder_of(file: &Path) -> &Path {
    match file.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// Whether the permissions let nobody write. (Whether *this* user may write, SQLite finds
/// out by itself.)
fn is_protected(path: &Path) -> bool {
    fs::metadata(path).is_ok_and(|found| found.permissions().readonly())
}

fn log_size(file: &Path) -> u64 {
    beside(file, "-wal")
}

fn log_of(file: &Path) -> PathBuf {
    path_beside(file, "-wal")
}

/// The file beside it whose name has this at its end.
fn path_beside(file: &Path, end: &str) -> PathBuf {
    let mut name = file.as_os_str().to_owned();
    name.push(end);
    PathBuf::from(name)
}

/// The size of that file; 0 if there is none.
fn beside(file: &Path, end: &str) -> u64 {
    fs::metadata(path_beside(file, end)).map_or(0, |found| found.len())
}

/// Whether a log was last written to before this file came to where it stands.
fn is_older(log: &Path, file: &Path) -> bool {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt as _;
        match (fs::metadata(log), fs::metadata(file)) {
            (Ok(log), Ok(file)) => {
                (log.mtime(), log.mtime_nsec()) <= (file.ctime(), file.ctime_nsec())
            }
            _ => false,
        }
    }
    #[cfg(not(unix))]
    {
        let _ = (log, file);
        false
    }
}

/// Where a process was killed in the middle of the first import, SQLite takes back what it had
/// written when the file is next read, and leaves it empty. That has to be before anybody
/// looks at the bytes.
fn roll_back_unfinished(file: &Path) {
    if beside(file, "-journal") == 0 || is_protected(file) || is_protected(folder_of(file)) {
        return;
    }
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    // What can't be read is told when it is opened in earnest.
    if let Ok(connection) = Connection::open_with_flags(file, flags) {
        let _ = connection.query_row("SELECT 1 FROM sqlite_schema", [], |_| Ok(()));
    }
}

/// Looks at the first bytes before SQLite does, to tell apart what it reports alike.
fn look_at_header(file: &Path) -> Result<Held, Error> {
    let unopened = |error: std::io::Error| Error::Unopened {
        file: file.to_owned(),
        reason: error.to_string(),
    };
    let found = match fs::metadata(file) {
        Ok(found) => found,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
            return Err(Error::Missing {
                file: file.to_owned(),
            });
        }
        Err(error) => return Err(unopened(error)),
    };
    if found.is_dir() {
        return Err(Error::Unopened {
            file: file.to_owned(),
            reason: "it is a folder".to_owned(),
        });
    }
    let held = Held::at(file).map_err(unopened)?;
    look_at(file, &held)?;
    Ok(held)
}

fn look_at(file: &Path, held: &Held) -> Result<(), Error> {
    let unopened = |error: std::io::Error| Error::Unopened {
        file: file.to_owned(),
        reason: error.to_string(),
    };
    let found = fs::metadata(file).map_err(unopened)?;
    if found.is_file() && found.len() == 0 {
        return Err(Error::Empty {
            file: file.to_owned(),
        });
    }
    let head = held.head(100).map_err(unopened)?;
    if !head.starts_with(b"SQLite format 3\0") {
        return Err(Error::NotAProgramme {
            file: file.to_owned(),
        });
    }
    // SQLite file format, "The Database Header": page size at 16, pages at 28.
    let number = |at: usize, bytes: usize| {
        head.get(at..at + bytes)
            .unwrap_or(&[])
            .iter()
            .fold(0_u64, |sum, byte| sum << 8 | u64::from(*byte))
    };
    let page = match number(16, 2) {
        1 => 65_536,
        size => size,
    };
    let expected = page * number(28, 4);
    if head.len() < 100 || (found.len() < expected && log_size(file) == 0) {
        return Err(Error::Damaged {
            file: file.to_owned(),
            reason: format!("{} bytes of {expected} are there", found.len()),
        });
    }
    Ok(())
}

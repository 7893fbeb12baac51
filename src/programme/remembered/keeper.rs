//! Reads and writes what is remembered of a programme. Several programs may do so at once: every
//! change is made to what stands in the file at that moment, one program at a time, and the file
//! is put in place whole.

use std::fs::{self, File, TryLockError};
use std::io::{self, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use super::change::{CantChange, Change, Changed};
use super::folder::{self, NotKept};
use super::memory::{FILE_LIMIT, Layout, Memory, Read};
use crate::programme::Programme;

/// How long another program is waited for.
const PATIENCE: Duration = Duration::from_secs(2);
/// How long between two looks whether it is done.
const LOOK: Duration = Duration::from_millis(10);

/// Keeps what is remembered of one programme; in memory alone where it is kept nowhere.
#[derive(Debug)]
pub struct Keeper {
    file: Result<PathBuf, NotKept>,
    /// The path of the programme.
    programme: String,
    /// What is known; of what is kept in a file, as it was read last.
    memory: Memory,
}

impl Keeper {
    /// For this programme. `variable` reads the environment.
    #[must_use]
    pub fn of(programme: &Programme, variable: &dyn Fn(&str) -> Option<String>) -> Self {
        let path = programme.path().map(|path| {
            let whole = path.canonicalize().unwrap_or_else(|_| path.to_owned());
            whole.display().to_string()
        });
        let mut keeper = Keeper {
            file: folder::file_of(programme, variable),
            programme: path.unwrap_or_default(),
            memory: Memory::default(),
        };
        if let Ok(file) = &keeper.file
            && let Read::Memory(memory) = read(file)
        {
            keeper.memory = memory;
        }
        keeper
    }

    /// One that keeps for as long as it lives, for this reason.
    #[must_use]
    pub fn nowhere(why: NotKept) -> Self {
        Keeper {
            file: Err(why),
            programme: String::new(),
            memory: Memory::default(),
        }
    }

    /// What is known.
    #[must_use]
    pub const fn memory(&self) -> &Memory {
        &self.memory
    }

    /// Why it is not kept beyond the end of the program; none where it is.
    #[must_use]
    pub fn not_kept(&self) -> Option<NotKept> {
        self.file.as_ref().err().copied()
    }

    /// Changes saved filters, in the file at once.
    ///
    /// # Errors
    /// Why they can't be changed so, or that the file can't be written.
    pub fn change(&mut self, change: &Change) -> Result<Changed, CantChange> {
        let mut done = None;
        let kept = self.rewrite(|memory| {
            let changed = change.make(memory);
            let is_made = changed.is_ok();
            done = Some(changed);
            is_made
        });
        match (kept, done) {
            (Err(error), _) => Err(CantChange::NotKept(format!(
                "what is remembered can't be written: {error}"
            ))),
            (Ok(()), Some(done)) => done,
            (Ok(()), None) => Err(CantChange::NotKept(
                "a newer fairdraw wrote what is remembered; this one leaves it alone".to_owned(),
            )),
        }
    }

    /// Keeps how the screens were left and which filters were used, the latest last. Where that
    /// can't be kept, nothing is said: it is no loss.
    pub fn leave(&mut self, layout: &Layout, used: &[String]) {
        let _ = self.rewrite(|memory| {
            // What other programs of another version put there stays.
            memory.layout.extend(layout.clone());
            for filter in used {
                memory.used(filter);
            }
            true
        });
    }

    /// Changes what stands in the file at this moment, unless `change` says that there is
    /// nothing to write. What a newer program wrote is left as it is.
    fn rewrite(&mut self, change: impl FnOnce(&mut Memory) -> bool) -> io::Result<()> {
        let Ok(file) = &self.file else {
            change(&mut self.memory);
            return Ok(());
        };
        let folder = file.parent().unwrap_or(Path::new(""));
        fs::create_dir_all(folder)?;
        let lock = File::create(file.with_extension("lock"))?;
        wait_for(&lock)?;
        let mut memory = match read(file) {
            Read::Memory(memory) => memory,
            Read::Newer => return Ok(()),
            Read::Unreadable => Memory::default(),
        };
        self.programme.clone_into(&mut memory.programme);
        if change(&mut memory) {
            write(file, folder, &memory)?;
            self.memory = memory;
        }
        // The lock goes with its file.
        drop(lock);
        Ok(())
    }
}

/// Waits until no other program writes.
fn wait_for(lock: &File) -> io::Result<()> {
    let began = Instant::now();
    loop {
        match lock.try_lock() {
            Ok(()) => return Ok(()),
            Err(TryLockError::WouldBlock) if began.elapsed() < PATIENCE => {
                std::thread::sleep(LOOK);
            }
            Err(TryLockError::WouldBlock) => {
                return Err(io::Error::other("another fairdraw is writing it"));
            }
            // Some file systems know no locks; writing whole files still loses no file.
            Err(TryLockError::Error(_)) => return Ok(()),
        }
    }
}

fn read(file: &Path) -> Read {
    let mut bytes = Vec::new();
    let opened = File::open(file);
    match opened.and_then(|opened| opened.take(FILE_LIMIT + 1).read_to_end(&mut bytes)) {
        Ok(length) if length as u64 <= FILE_LIMIT => Memory::read(&bytes),
        _ => Read::Unreadable,
    }
}

fn write(file: &Path, folder: &Path, memory: &Memory) -> io::Result<()> {
    let mut whole = tempfile::NamedTempFile::new_in(folder)?;
    whole.write_all(memory.write().as_bytes())?;
    whole.as_file().sync_all()?;
    whole.persist(file)?;
    Ok(())
}

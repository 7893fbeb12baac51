//! The way of bytes to the terminal: a thread of its own writes them, so that a terminal that
//! does not read holds up nothing but its own picture.

use std::fs::File;
use std::io::{self, Write};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Sender, channel};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

/// Nothing more is written: the terminal was handed back by a thread that came to grief.
static SHUT: AtomicBool = AtomicBool::new(false);

/// Lets nothing through any more.
pub(super) fn shut() {
    SHUT.store(true, Ordering::SeqCst);
}

/// What is drawn, until it is sent.
#[derive(Clone, Default)]
pub(super) struct Gathered(Arc<Mutex<Vec<u8>>>);

impl Gathered {
    fn bytes(&self) -> MutexGuard<'_, Vec<u8>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Write for Gathered {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.bytes().extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// How the thread that writes stands.
#[derive(Default)]
struct Standing {
    /// Pieces that are not yet written.
    under_way: usize,
    /// The terminal takes no more.
    gone: bool,
}

/// The way to the terminal.
pub(super) struct Outlet {
    pub(super) gathered: Gathered,
    pieces: Sender<Vec<u8>>,
    standing: Arc<(Mutex<Standing>, Condvar)>,
}

impl Outlet {
    /// Opens the way. `tell` is called after each piece: whether the terminal still takes any.
    ///
    /// # Errors
    /// There is no output.
    pub(super) fn open(tell: impl Fn(bool) + Send + 'static) -> io::Result<Self> {
        Ok(Self::into(output()?, tell))
    }

    fn into(mut output: impl Write + Send + 'static, tell: impl Fn(bool) + Send + 'static) -> Self {
        let (pieces, to_write) = channel::<Vec<u8>>();
        let standing = Arc::new((Mutex::new(Standing::default()), Condvar::new()));
        let told = Arc::clone(&standing);
        thread::spawn(move || {
            for piece in to_write {
                let shut = SHUT.load(Ordering::SeqCst);
                let written = shut || output.write_all(&piece).is_ok() && output.flush().is_ok();
                let mut standing = told.0.lock().unwrap_or_else(PoisonError::into_inner);
                standing.under_way -= 1;
                standing.gone |= !written;
                told.1.notify_all();
                drop(standing);
                tell(written);
            }
        });
        Outlet {
            gathered: Gathered::default(),
            pieces,
            standing,
        }
    }

    /// Hands on what was gathered; nothing, if that is nothing.
    pub(super) fn send(&self) {
        let piece = std::mem::take(&mut *self.gathered.bytes());
        if piece.is_empty() {
            return;
        }
        self.standing().under_way += 1;
        if self.pieces.send(piece).is_err() {
            self.standing().under_way -= 1;
        }
    }

    /// Whether all that was sent has been taken.
    pub(super) fn is_free(&self) -> bool {
        self.standing().under_way == 0
    }

    /// Waits until all that was sent has been taken, or for so long.
    pub(super) fn wait(&self, patience: Duration) {
        let deadline = Instant::now() + patience;
        let mut standing = self.standing();
        while standing.under_way > 0 && !standing.gone {
            let rest = deadline.saturating_duration_since(Instant::now());
            if rest.is_zero() {
                return;
            }
            let waited = self.standing.1.wait_timeout(standing, rest);
            standing = waited.unwrap_or_else(PoisonError::into_inner).0;
        }
    }

    fn standing(&self) -> MutexGuard<'_, Standing> {
        self.standing
            .0
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
    }
}

/// A handle of the output that is ours alone: the common one is locked while it writes, and
/// whoever wants to hand the terminal back would wait for that.
#[cfg(unix)]
pub(super) fn output() -> io::Result<File> {
    use std::os::fd::AsFd as _;
    Ok(File::from(io::stdout().as_fd().try_clone_to_owned()?))
}

#[cfg(windows)]
pub(super) fn output() -> io::Result<File> {
    use std::os::windows::io::AsHandle as _;
    Ok(File::from(io::stdout().as_handle().try_clone_to_owned()?))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use std::sync::mpsc::{Receiver, Sender};

    /// Takes a piece for each word it is given, and what it took stands in the list.
    struct Slow(Receiver<()>, Sender<Vec<u8>>);

    impl Write for Slow {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            self.0.recv().map_err(io::Error::other)?;
            self.1.send(bytes.to_vec()).map_err(io::Error::other)?;
            Ok(bytes.len())
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    #[test]
    fn what_is_not_taken_holds_up_nobody_and_an_end_is_told() {
        let (take, taking) = channel();
        let (took, taken) = channel();
        let (tell, told) = channel();
        let outlet = Outlet::into(Slow(taking, took), move |there| tell.send(there).unwrap());
        outlet.send();
        assert!(outlet.is_free(), "nothing is no piece");
        outlet.gathered.clone().write_all(b"one").unwrap();
        outlet.send();
        outlet.wait(Duration::from_millis(5));
        assert!(!outlet.is_free());
        take.send(()).unwrap();
        assert_eq!(taken.recv().unwrap(), b"one");
        assert!(told.recv().unwrap());
        assert!(outlet.is_free());
        drop(take);
        outlet.gathered.clone().write_all(b"two").unwrap();
        outlet.send();
        assert!(!told.recv().unwrap(), "the terminal is gone");
        outlet.wait(Duration::from_secs(3600));
    }
}

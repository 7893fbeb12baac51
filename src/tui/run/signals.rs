//! Signals from outside.

use std::io;
use std::sync::mpsc::Sender;

use super::wake::Wake;

/// Signals that ask to end lead to an orderly end; the one that wakes a sleeping process leads
/// to a fresh picture, since others have used the terminal meanwhile; the one that tells of
/// another size of the window is heeded from the first moment on, before the size is asked for
/// the first time, so that none is missed.
pub(super) fn listen(wake: Sender<Wake>) -> io::Result<()> {
    #[cfg(unix)]
    {
        use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGTERM, SIGWINCH};
        let heeded = [SIGTERM, SIGHUP, SIGINT, SIGCONT, SIGWINCH];
        let mut signals = signal_hook::iterator::Signals::new(heeded)?;
        std::thread::spawn(move || {
            for signal in signals.forever() {
                let woken = match signal {
                    SIGCONT => Wake::Resumed,
                    SIGWINCH => Wake::Resized,
                    _ => Wake::Signal,
                };
                if wake.send(woken).is_err() {
                    return;
                }
            }
        });
    }
    #[cfg(not(unix))]
    drop(wake);
    Ok(())
}

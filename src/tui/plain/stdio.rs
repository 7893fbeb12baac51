//! Standard input and output: a line is read, answered, and the next one waited for.

use std::io::{self, BufRead as _, IsTerminal as _, Read as _, Write as _};
use std::path::Path;
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::thread;

use super::session::Session;
use super::voice::Voice;
use super::work::Stop;
use crate::model::trail::Who;
use crate::programme::Programme;
use crate::tui::error::Error;

/// Longer lines than this many bytes are cut.
const LONGEST: u64 = 64 * 1024;

/// What the sitting waits for.
enum Wake {
    Line(String),
    /// The input has ended, or someone asks to leave.
    End,
}

/// Runs a sitting until the user leaves or the input ends.
pub(super) fn run(programme: Programme, path: &Path, who: Option<Who>) -> Result<(), Error> {
    let voice = Voice::from_environment(|name| std::env::var(name).ok());
    let mut session = Session::new(programme, path, who, voice);
    let (wake, woken) = sync_channel(1);
    signals(session.stop(), wake.clone())?;
    let prompts = io::stdin().is_terminal() && io::stdout().is_terminal();
    let mut out = Out::default();
    session.begin(&mut |line| out.line(line))?;
    listen(wake);
    converse(&mut session, &woken, &mut out, prompts)?;
    match out.failed {
        // Whoever reads has heard enough.
        Some(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        Some(error) => Err(Error::Output(error)),
        None => Ok(()),
    }
}

fn converse(
    session: &mut Session,
    woken: &Receiver<Wake>,
    out: &mut Out,
    prompts: bool,
) -> Result<(), Error> {
    while out.failed.is_none() {
        if prompts {
            out.write("> ");
        }
        let Ok(Wake::Line(line)) = woken.recv() else {
            // The shell's own prompt begins on a line of its own.
            if prompts {
                out.write("\n");
            }
            return Ok(());
        };
        if !session.hear(&line, &mut |line| out.line(line))? {
            return Ok(());
        }
    }
    Ok(())
}

/// Standard output, and what went wrong with it.
#[derive(Default)]
struct Out {
    failed: Option<io::Error>,
}

impl Out {
    fn line(&mut self, line: &str) {
        self.write(&format!("{line}\n"));
    }

    fn write(&mut self, text: &str) {
        if self.failed.is_some() {
            return;
        }
        let mut stdout = io::stdout().lock();
        let written = stdout
            .write_all(text.as_bytes())
            .and_then(|()| stdout.flush());
        self.failed = written.err();
    }
}

/// Reads lines until the input ends.
fn listen(wake: SyncSender<Wake>) {
    thread::spawn(move || {
        loop {
            let said = match line() {
                Ok(Some(line)) => Wake::Line(line),
                Ok(None) | Err(_) => Wake::End,
            };
            let is_end = matches!(said, Wake::End);
            if wake.send(said).is_err() || is_end {
                return;
            }
        }
    });
}

/// One line without its end; none at the end of the input.
fn line() -> io::Result<Option<String>> {
    let mut input = io::stdin().lock();
    let mut bytes = Vec::new();
    if input.by_ref().take(LONGEST).read_until(b'\n', &mut bytes)? == 0 {
        return Ok(None);
    }
    // The rest of a line that is too long is no command of its own.
    while bytes.last() != Some(&b'\n') {
        let mut rest = Vec::new();
        match input.by_ref().take(LONGEST).read_until(b'\n', &mut rest)? {
            0 => break,
            _ if rest.last() == Some(&b'\n') => break,
            _ => {}
        }
    }
    let text = String::from_utf8_lossy(&bytes);
    Ok(Some(text.trim_end_matches(['\n', '\r']).to_owned()))
}

/// Ctrl-C stops what is under way, or leaves; signals that ask to end do both.
fn signals(stop: Stop, wake: SyncSender<Wake>) -> io::Result<()> {
    #[cfg(unix)]
    {
        use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
        let mut signals = signal_hook::iterator::Signals::new([SIGTERM, SIGHUP, SIGINT])?;
        thread::spawn(move || {
            for signal in signals.forever() {
                let was_busy = stop.now();
                if (signal != SIGINT || !was_busy) && wake.send(Wake::End).is_err() {
                    return;
                }
            }
        });
    }
    #[cfg(not(unix))]
    let _ = (stop, wake);
    Ok(())
}

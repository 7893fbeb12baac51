//! Standard input and output: a line is read, answered, and the next one waited for.

use std::io::{self, BufRead as _, IsTerminal as _, Read as _, Write as _};
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::thread;

use super::door::{Came, Door};
use super::session::Session;
use super::voice::Voice;
use super::work::Stop;
use crate::programme::Beginning;
use crate::tui::error::Error;
use crate::tui::start::run::Begun;

/// Longer lines than this many bytes are cut.
const LONGEST: u64 = 64 * 1024;

/// What the sitting waits for.
enum Wake {
    Line(String),
    /// The input has ended, or someone asks to leave.
    End,
}

/// Runs until the user leaves or the input ends: before a programme is open, and on it.
pub(super) fn run(beginning: Beginning) -> Result<(), Error> {
    let voice = Voice::from_environment(|name| std::env::var(name).ok());
    let mut face = Face {
        out: Out::default(),
        stop: Stop::default(),
        is_terminal: io::stdin().is_terminal() && io::stdout().is_terminal(),
        voice,
    };
    let (wake, woken) = sync_channel(1);
    signals(face.stop.clone(), wake.clone())?;
    let mut door = Door::new(beginning, voice).with_stop(face.stop.clone());
    let came = door.begin(&mut |line| face.out.line(line))?;
    let mut session = None;
    if let Came::Begun(begun, _) = came {
        session = Some(face.sit_down(*begun)?);
    }
    listen(wake);
    let session = match session {
        Some(session) => Some(session),
        None => face.wait_at(&mut door, &woken)?,
    };
    if let Some(mut session) = session {
        face.converse(&mut session, &woken)?;
    }
    match face.out.failed {
        // Whoever reads has heard enough.
        Some(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        Some(error) => Err(Error::Output(error)),
        None => Ok(()),
    }
}

/// Both ends of the conversation.
struct Face {
    out: Out,
    stop: Stop,
    /// A person is at both ends.
    is_terminal: bool,
    voice: Voice,
}

impl Face {
    /// The next line; none at the end of the input.
    fn next(&mut self, woken: &Receiver<Wake>) -> Option<String> {
        if self.out.failed.is_some() {
            return None;
        }
        if self.is_terminal {
            self.out.write("> ");
        }
        if let Ok(Wake::Line(line)) = woken.recv() {
            return Some(line);
        }
        // The shell's own prompt begins on a line of its own.
        if self.is_terminal {
            self.out.write("\n");
        }
        None
    }

    /// Waits until there is a programme to sit down to; none where the user leaves.
    fn wait_at(
        &mut self,
        door: &mut Door,
        woken: &Receiver<Wake>,
    ) -> Result<Option<Session>, Error> {
        while let Some(line) = self.next(woken) {
            match door.hear(&line, &mut |line| self.out.line(line))? {
                Came::Waits => {}
                Came::Left => break,
                Came::Begun(begun, first) => {
                    let mut session = self.sit_down(*begun)?;
                    let goes_on = match first {
                        Some(first) => session.hear(&first, &mut |line| self.out.line(line))?,
                        None => true,
                    };
                    return Ok(goes_on.then_some(session));
                }
            }
        }
        // A person has read why; whoever runs lines from a file has to be told that they met
        // no programme.
        match door.unopened() {
            Some(words) if !self.is_terminal => Err(Error::Unread(words.to_owned())),
            _ => Ok(None),
        }
    }

    fn sit_down(&mut self, begun: Begun) -> Result<Session, Error> {
        let Begun {
            programme,
            file,
            who,
        } = begun;
        let session = Session::new(programme, &file, who, self.voice);
        let mut session = session.with_stop(self.stop.clone());
        session.begin(&mut |line| self.out.line(line))?;
        Ok(session)
    }

    fn converse(&mut self, session: &mut Session, woken: &Receiver<Wake>) -> Result<(), Error> {
        while let Some(line) = self.next(woken) {
            if !session.hear(&line, &mut |line| self.out.line(line))? {
                return Ok(());
            }
        }
        Ok(())
    }
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

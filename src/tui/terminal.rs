//! Enters and leaves the terminal's screen mode, and sends frames, nothing else. However the
//! program ends, the terminal is handed back as it was.

use std::io::{self, IsTerminal, Write, stdout};
use std::sync::Once;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use crossterm::cursor::Show;
use crossterm::event::{
    DisableBracketedPaste, DisableMouseCapture, EnableBracketedPaste, EnableMouseCapture,
};
use crossterm::queue;
use crossterm::terminal::{
    EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode,
};
use ratatui::layout::Size;
use ratatui::{Frame, Terminal};

use super::outlet::{self, Outlet};
use super::sparing::Sparing;
use crate::programme::WORKBOOK_READER;

/// How long a terminal that does not read is waited for before it is left as it is.
const PATIENCE: Duration = Duration::from_millis(700);

/// Whether the terminal is in screen mode and must be handed back.
static ENTERED: AtomicBool = AtomicBool::new(false);

/// The terminal in screen mode; leaves it when dropped.
pub struct Screen {
    terminal: Terminal<Sparing>,
    outlet: Outlet,
}

/// Whether there is a terminal to speak to.
#[must_use]
pub fn is_there() -> bool {
    io::stdin().is_terminal() && stdout().is_terminal()
}

impl Screen {
    /// Raw mode, alternate screen, mouse, and a panic hook that undoes them first.
    ///
    /// # Errors
    /// The terminal refuses.
    pub fn enter() -> io::Result<Self> {
        Self::enter_telling(|_| {})
    }

    /// As [`Self::enter`]; `tell` is called, by another thread, whenever the terminal has taken
    /// what it was sent (`true`) or takes nothing any more (`false`).
    ///
    /// # Errors
    /// The terminal refuses.
    pub fn enter_telling(tell: impl Fn(bool) + Send + 'static) -> io::Result<Self> {
        hook();
        let outlet = Outlet::open(tell)?;
        let terminal = Terminal::new(Sparing::new(outlet.gathered.clone()))?;
        let mut screen = Screen { terminal, outlet };
        screen.begin()?;
        Ok(screen)
    }

    /// How large the window is, in cells.
    pub(crate) fn size(&self) -> io::Result<Size> {
        self.terminal.size()
    }

    /// Whether the terminal has taken the last frame; one that does not read gets no more.
    pub(crate) fn is_free(&self) -> bool {
        self.outlet.is_free()
    }

    /// Draws what differs from the last frame, and sends it.
    pub(crate) fn draw(&mut self, view: impl FnOnce(&mut Frame<'_>)) -> io::Result<()> {
        self.terminal.draw(view)?;
        self.outlet.send();
        Ok(())
    }

    /// Sends a control sequence between two frames.
    pub(crate) fn tell(&mut self, sequence: &str) -> io::Result<()> {
        self.outlet.gathered.write_all(sequence.as_bytes())?;
        self.outlet.send();
        Ok(())
    }

    /// Hands the terminal back, sleeps until woken, and takes it again.
    #[cfg(unix)]
    pub(crate) fn sleep(&mut self) -> io::Result<()> {
        self.hand_back();
        // All of the job sleeps, a script that started this program included. Where nobody
        // could wake it, the system lets it go on at once.
        rustix::process::kill_current_process_group(rustix::process::Signal::TSTP)?;
        self.resume()
    }

    /// Where there is nothing to wake a sleeping program with, it stays awake.
    #[cfg(not(unix))]
    pub(crate) fn sleep(&mut self) -> io::Result<()> {
        Ok(())
    }

    /// Takes the terminal again after others have used it; the next frame is drawn whole.
    pub(crate) fn resume(&mut self) -> io::Result<()> {
        // Whoever used it may have left other modes; raw mode is taken anew.
        disable_raw_mode()?;
        self.begin()?;
        self.terminal.backend_mut().forget();
        self.terminal.clear()
    }

    fn begin(&mut self) -> io::Result<()> {
        enable_raw_mode()?;
        ENTERED.store(true, Ordering::SeqCst);
        queue!(
            self.outlet.gathered,
            EnterAlternateScreen,
            EnableMouseCapture,
            EnableBracketedPaste
        )?;
        self.outlet.send();
        Ok(())
    }

    /// Undoes everything, once what is under way has been taken; a terminal that takes nothing
    /// is not waited for long. Errors are of no use here: the terminal may be gone.
    fn hand_back(&mut self) {
        if !ENTERED.swap(false, Ordering::SeqCst) {
            return;
        }
        self.outlet.wait(PATIENCE);
        let _ = undo(&mut self.outlet.gathered);
        self.outlet.send();
        self.outlet.wait(PATIENCE);
        let _ = disable_raw_mode();
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        self.hand_back();
    }
}

fn undo(out: &mut impl Write) -> io::Result<()> {
    queue!(
        out,
        DisableBracketedPaste,
        DisableMouseCapture,
        LeaveAlternateScreen,
        Show
    )
}

/// Undoes everything at once, from any thread, and lets no frame through any more.
fn leave() {
    if !ENTERED.swap(false, Ordering::SeqCst) {
        return;
    }
    outlet::shut();
    if let Ok(mut out) = outlet::output() {
        let _ = undo(&mut out);
    }
    let _ = disable_raw_mode();
}

/// A panic in any thread restores the terminal before it is reported, so that the report
/// can be read and the shell works. What goes wrong while a damaged workbook is read is told
/// on the screen, as any other damage.
fn hook() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let report = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |panic| {
            if std::thread::current().name() != Some(WORKBOOK_READER) {
                leave();
            }
            report(panic);
        }));
    });
}

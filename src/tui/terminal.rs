//! Enters and leaves the terminal's screen mode, nothing else. However the program ends,
//! the terminal is handed back as it was.

use std::io::{self, IsTerminal, Write, stdout};
use std::sync::Once;

use crossterm::cursor::Show;
use crossterm::event::{
    DisableBracketedPaste, DisableMouseCapture, EnableBracketedPaste, EnableMouseCapture,
};
use crossterm::execute;
use crossterm::terminal::{
    EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode,
};
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;

use crate::programme::WORKBOOK_READER;

/// The terminal in screen mode; leaves it when dropped.
pub struct Screen {
    pub(crate) terminal: Terminal<CrosstermBackend<io::Stdout>>,
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
        hook();
        begin()?;
        Ok(Screen {
            terminal: Terminal::new(CrosstermBackend::new(stdout()))?,
        })
    }

    /// Hands the terminal back, sleeps until woken, and takes it again.
    #[cfg(unix)]
    pub(crate) fn sleep(&mut self) -> io::Result<()> {
        leave();
        signal_hook::low_level::raise(signal_hook::consts::SIGSTOP)?;
        begin()?;
        self.terminal.clear()
    }

    /// Where there is nothing to wake a sleeping program with, it stays awake.
    #[cfg(not(unix))]
    pub(crate) fn sleep(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        leave();
    }
}

fn begin() -> io::Result<()> {
    enable_raw_mode()?;
    execute!(
        stdout(),
        EnterAlternateScreen,
        EnableMouseCapture,
        EnableBracketedPaste
    )
}

/// Undoes everything. Errors are of no use here: the terminal may be gone.
fn leave() {
    let mut out = stdout();
    let _ = execute!(
        out,
        DisableBracketedPaste,
        DisableMouseCapture,
        LeaveAlternateScreen,
        Show
    );
    let _ = disable_raw_mode();
    let _ = out.flush();
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

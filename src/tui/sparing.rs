//! Draws nothing where nothing changed: not even the place of a cursor that stands where it
//! stood, so that an idle terminal gets no byte.

use std::io;

use ratatui::backend::{Backend, ClearType, CrosstermBackend, WindowSize};
use ratatui::buffer::Cell;
use ratatui::layout::{Position, Size};

use super::outlet::Gathered;

/// The terminal's cursor, as far as it is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Cursor {
    Unknown,
    Hidden,
    At(Position),
}

/// Passes on what differs from what is there.
pub(super) struct Sparing {
    inner: CrosstermBackend<Gathered>,
    cursor: Cursor,
    /// It was shown, and is to be moved to its place.
    shown: bool,
}

impl Sparing {
    pub(super) fn new(gathered: Gathered) -> Self {
        Sparing {
            inner: CrosstermBackend::new(gathered),
            cursor: Cursor::Unknown,
            shown: false,
        }
    }

    /// Others have used the terminal.
    pub(super) fn forget(&mut self) {
        self.cursor = Cursor::Unknown;
        self.shown = false;
    }
}

impl Backend for Sparing {
    type Error = io::Error;

    fn draw<'a, I>(&mut self, content: I) -> io::Result<()>
    where
        I: Iterator<Item = (u16, u16, &'a Cell)>,
    {
        let mut content = content.peekable();
        if content.peek().is_none() {
            return Ok(());
        }
        // Drawing moves the cursor, whether it is seen or not.
        if let Cursor::At(_) = self.cursor {
            self.cursor = Cursor::Unknown;
        }
        self.inner.draw(content)
    }

    fn hide_cursor(&mut self) -> io::Result<()> {
        self.shown = false;
        if self.cursor == Cursor::Hidden {
            return Ok(());
        }
        self.cursor = Cursor::Hidden;
        self.inner.hide_cursor()
    }

    fn show_cursor(&mut self) -> io::Result<()> {
        if self.shown {
            return Ok(());
        }
        self.shown = true;
        self.cursor = Cursor::Unknown;
        self.inner.show_cursor()
    }

    /// Never asked of the terminal, which would answer among the keys, late or not at all; every
    /// frame says where the cursor is to be.
    fn get_cursor_position(&mut self) -> io::Result<Position> {
        Ok(match self.cursor {
            Cursor::At(position) => position,
            Cursor::Unknown | Cursor::Hidden => Position::ORIGIN,
        })
    }

    fn set_cursor_position<P: Into<Position>>(&mut self, position: P) -> io::Result<()> {
        let position = position.into();
        if self.shown {
            if self.cursor == Cursor::At(position) {
                return Ok(());
            }
            self.cursor = Cursor::At(position);
        }
        self.inner.set_cursor_position(position)
    }

    fn clear(&mut self) -> io::Result<()> {
        self.inner.clear()
    }

    fn clear_region(&mut self, region: ClearType) -> io::Result<()> {
        self.inner.clear_region(region)
    }

    fn size(&self) -> io::Result<Size> {
        self.inner.size()
    }

    fn window_size(&mut self) -> io::Result<WindowSize> {
        self.inner.window_size()
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

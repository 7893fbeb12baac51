//! Where output goes: rows and texts to stdout, buffered; remarks to stderr.

use std::io::{self, BufWriter, IsTerminal, Write};

use crate::model::printable::printable;
use crate::report::{self, Cell, Column, Format, Look};

/// Width taken where a terminal does not tell its own.
const USUAL_WIDTH: usize = 80;

/// The process's stdout.
pub struct Output {
    out: BufWriter<io::Stdout>,
    look: Look,
    width: usize,
}

impl Output {
    /// The process's stdout; colours only on a terminal that wants them.
    pub fn standard() -> Self {
        let stdout = io::stdout();
        let (look, width) = if stdout.is_terminal() {
            let told = terminal_size::terminal_size();
            let width = told.map_or(USUAL_WIDTH, |(width, _)| width.0.into());
            let colour = anstream::AutoStream::choice(&stdout) != anstream::ColorChoice::Never;
            (Look::terminal(width, colour), width)
        } else {
            (Look::file(), USUAL_WIDTH)
        };
        Output {
            out: BufWriter::with_capacity(1 << 16, stdout),
            look,
            width,
        }
    }

    /// How wide running text may be.
    pub fn width(&self) -> usize {
        self.width
    }

    /// Whether stdout is a terminal.
    pub fn is_terminal(&self) -> bool {
        self.look.is_terminal()
    }

    /// A writer of rows.
    pub fn rows(
        &mut self,
        format: Format,
        columns: &'static [Column],
    ) -> io::Result<Box<dyn report::Writer + '_>> {
        report::writer(format, columns, self.look, &mut self.out)
    }

    /// All rows of a report that is small.
    pub fn report<'c>(
        &mut self,
        format: Format,
        columns: &'static [Column],
        rows: impl IntoIterator<Item = Vec<Cell<'c>>>,
    ) -> io::Result<()> {
        let mut writer = self.rows(format, columns)?;
        for row in rows {
            writer.row(&row)?;
        }
        writer.finish()
    }

    /// A text of ours, as it is.
    pub fn bytes(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.out.write_all(bytes)
    }

    /// A text that may come from a file: on a terminal, line by line without control
    /// characters.
    pub fn text(&mut self, text: &str) -> io::Result<()> {
        if !self.is_terminal() {
            return self.bytes(text.as_bytes());
        }
        for line in text.lines() {
            writeln!(self.out, "{}", printable(line))?;
        }
        Ok(())
    }

    /// Writes out what is buffered.
    pub fn flush(&mut self) -> io::Result<()> {
        self.out.flush()
    }
}

/// A line for the person at the terminal, beside the output: on stderr.
pub fn remark(text: &str) {
    // Nobody is left to be told that stderr is closed.
    let _ = writeln!(io::stderr().lock(), "{}", printable(text));
}

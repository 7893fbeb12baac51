//! The rejects sheet: every refused row and value with its reason, as CSV that a
//! spreadsheet can open without running anything.

use std::io::Write;

use crate::model::formula::harmless;

/// Writes refusals as CSV.
pub struct Rejects<W: Write> {
    writer: csv::Writer<W>,
    /// How many were written.
    pub count: u64,
}

impl<W: Write> Rejects<W> {
    /// A rejects sheet that goes to `inner`.
    pub fn new(inner: W) -> Self {
        Rejects {
            writer: csv::Writer::from_writer(inner),
            count: 0,
        }
    }

    /// Adds one refusal, with its column, value and reason.
    ///
    /// # Errors
    /// What the writer returns.
    pub fn add(
        &mut self,
        sheet: &str,
        line: u64,
        (column, value, reason): (&str, &str, &str),
    ) -> std::io::Result<()> {
        if self.count == 0 {
            self.writer
                .write_record(["sheet", "line", "column", "value", "reason"])?;
        }
        self.count += 1;
        let line = line.to_string();
        self.writer.write_record([
            harmless(sheet).as_ref(),
            &line,
            &harmless(column),
            &harmless(value),
            &harmless(reason),
        ])?;
        Ok(())
    }

    /// Writes out what is buffered and gives the inner writer back.
    ///
    /// # Errors
    /// What the writer returns.
    pub fn finish(self) -> std::io::Result<W> {
        self.writer
            .into_inner()
            .map_err(csv::IntoInnerError::into_error)
    }
}

//! Comma-separated values: RFC 4180, UTF-8, a header row.

use std::borrow::Cow;
use std::io::{self, Write};

use super::{Cell, Column, Place, Writer, two_decimals};
use crate::model::formula::harmless;
use crate::model::printable::printable;
use crate::model::time::utc_text;

/// Writes rows as CSV.
pub struct CsvWriter<'w> {
    columns: &'static [Column],
    for_terminal: bool,
    out: csv::Writer<&'w mut dyn Write>,
}

impl<'w> CsvWriter<'w> {
    /// Writes the header row.
    pub fn new(
        columns: &'static [Column],
        for_terminal: bool,
        out: &'w mut dyn Write,
    ) -> io::Result<Self> {
        let mut out = csv::WriterBuilder::new().from_writer(out);
        for column in columns.iter().filter(|c| c.place == Place::Everywhere) {
            out.write_field(column.name)?;
        }
        out.write_record(None::<&[u8]>)?;
        Ok(CsvWriter {
            columns,
            for_terminal,
            out,
        })
    }
}

impl Writer for CsvWriter<'_> {
    fn row(&mut self, cells: &[Cell<'_>]) -> io::Result<()> {
        for (column, cell) in self.columns.iter().zip(cells) {
            if column.place == Place::Everywhere {
                let text = field(cell);
                if self.for_terminal {
                    self.out.write_field(printable(&text).as_bytes())?;
                } else {
                    self.out.write_field(text.as_bytes())?;
                }
            }
        }
        Ok(self.out.write_record(None::<&[u8]>)?)
    }

    fn finish(mut self: Box<Self>) -> io::Result<()> {
        self.out.flush()
    }
}

fn field<'a>(cell: &'a Cell<'_>) -> Cow<'a, str> {
    match cell {
        Cell::Blank | Cell::Fields(_) | Cell::Items(_) => Cow::Borrowed(""),
        Cell::Text(text) => harmless(text),
        Cell::Exact(text) => Cow::Borrowed(text),
        Cell::Count(count) => Cow::Owned(count.to_string()),
        Cell::Quantity(value) | Cell::Rounded(value, _) | Cell::Part(value) => {
            Cow::Owned(value.to_string())
        }
        Cell::Score(score) => Cow::Owned(two_decimals(*score)),
        Cell::YesNo(yes) => Cow::Borrowed(if *yes { "yes" } else { "no" }),
        Cell::Time(at) => Cow::Owned(utc_text(*at)),
        Cell::Day(day) => Cow::Owned(day.to_string()),
        Cell::Verdict(verdict) => Cow::Borrowed(verdict.as_str()),
        Cell::List(items) => Cow::Owned(items.join(";")),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::report::{Format, Holds, Look, writer};

    const COLUMNS: &[Column] = &[
        Column {
            name: "id",
            title: "",
            meaning: "",
            holds: Holds::Words,
            place: Place::Everywhere,
            spare: 0,
        },
        Column {
            name: "share",
            title: "",
            meaning: "",
            holds: Holds::Part,
            place: Place::Everywhere,
            spare: 0,
        },
    ];

    fn written(text: &str, look: Look) -> String {
        let mut out = Vec::new();
        let mut csv = writer(Format::Csv, COLUMNS, look, &mut out).unwrap();
        csv.row(&[Cell::text(text), Cell::Part(1.0 / 3.0)]).unwrap();
        csv.finish().unwrap();
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn quotes_are_doubled_and_numbers_written_in_full() {
        assert_eq!(
            written("a \"b\", c", Look::file()),
            "id,share\n\"a \"\"b\"\", c\",0.3333333333333333\n"
        );
    }

    #[test]
    fn no_formula_reaches_a_spreadsheet() {
        for start in ["=1+1", "+1", "-1", "@SUM(A1)", "\tx"] {
            let row = written(start, Look::file());
            assert!(row.contains(&format!("'{start}")), "{row}");
        }
        assert!(written("P-1", Look::file()).contains("\nP-1,"));
    }

    #[test]
    fn control_characters_stay_in_files_and_never_reach_a_terminal() {
        assert!(written("a\u{1b}[2J", Look::file()).contains('\u{1b}'));
        assert!(!written("a\u{1b}[2J", Look::terminal(80, false)).contains('\u{1b}'));
    }
}

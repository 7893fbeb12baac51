//! What analysis found, as bytes: tables for people, CSV and JSON for programs.
//!
//! Results in, bytes out; nothing here prints. A row is a list of [`Cell`]s under the
//! [`Column`]s that `rows` says once for all formats, and a [`Writer`] puts rows out one
//! at a time, so that a million of them need no memory.

pub mod attribution;
pub mod audit;
pub mod copied;
pub mod coverage_rows;
mod csv;
pub mod document;
pub mod doubt_rows;
pub mod filter_rows;
pub mod finding_rows;
pub mod html;
mod json;
pub mod ledger_rows;
pub mod map_rows;
mod markdown;
pub mod pack;
pub mod pdf;
pub mod pick_rows;
pub mod pick_words;
pub mod plain;
pub mod plan;
pub mod preview;
pub mod resample_rows;
pub mod resample_sheet;
pub mod rows;
pub mod schema;
pub mod score_rows;
pub mod sections;
pub mod share_rows;
pub mod sheets;
mod table;
pub mod topic_rows;
pub mod trail_rows;
pub mod training_rows;
pub mod trend_rows;
pub mod wording;
pub mod xlsx;

use std::borrow::Cow;
use std::io::{self, Write};

use chrono::NaiveDate;

use crate::model::Verdict;

pub use table::Look;

/// One field of a report.
#[derive(Clone, Copy, Debug)]
pub struct Column {
    /// Its name in CSV and JSON.
    pub name: &'static str,
    /// Its heading in tables; empty if tables leave it out.
    pub title: &'static str,
    /// What it holds, for the documentation.
    pub meaning: &'static str,
    /// Of what sort its values are.
    pub holds: Holds,
    /// Where it is written.
    pub place: Place,
    /// How soon a narrow table leaves it out: the greatest goes first, 0 never goes.
    pub spare: u8,
}

/// Which formats show a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// CSV and JSON, and the table if the column has a title.
    Everywhere,
    /// JSON alone.
    JsonOnly,
    /// The table alone.
    TableOnly,
}

/// Of what sort the values of a column are. Any of them may be blank.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holds {
    /// Words.
    Words,
    /// A whole number, 0 or more.
    Count,
    /// Any number, also a score.
    Number,
    /// A part of one, or a difference of two.
    Part,
    /// A yes or a no.
    YesNo,
    /// An instant.
    Time,
    /// A day.
    Day,
    /// One of the four verdicts.
    Verdict,
    /// Several ids.
    Ids,
    /// Fields of their own; JSON alone shows them.
    Object,
    /// Several values; JSON alone shows them.
    Items,
}

/// One value of a report.
#[derive(Clone, Debug)]
pub enum Cell<'a> {
    /// Nothing: blank in CSV and tables, `null` in JSON.
    Blank,
    /// Words. A blank text is written blank, in JSON as an empty text.
    Text(Cow<'a, str>),
    /// Words known to be no formula, whatever they begin with.
    Exact(String),
    /// A count.
    Count(u64),
    /// A quantity, written in full in CSV and JSON and rounded for people in tables.
    Quantity(f64),
    /// A quantity, written in full in CSV and JSON and with so many decimals in tables.
    Rounded(f64, usize),
    /// A score in percent, two decimals everywhere.
    Score(f64),
    /// A part of one, written in full in CSV and JSON and as a percentage in tables.
    Part(f64),
    /// A yes or a no.
    YesNo(bool),
    /// An instant in seconds since 1970 UTC, written as `2026-03-04T08:30:00Z`.
    Time(i64),
    /// A day, written as `2026-03-04`.
    Day(NaiveDate),
    /// The verdict of a draw.
    Verdict(Verdict),
    /// Several ids: joined with `;`, in JSON an array.
    List(Vec<&'static str>),
    /// Fields of their own; only JSON shows them.
    Fields(Vec<(&'static str, Cell<'a>)>),
    /// Several values; only JSON shows them.
    Items(Vec<Cell<'a>>),
}

impl<'a> Cell<'a> {
    /// Words.
    pub fn text(text: impl Into<Cow<'a, str>>) -> Self {
        Cell::Text(text.into())
    }

    /// A score, or blank.
    #[must_use]
    pub fn score(score: Option<f64>) -> Self {
        score.map_or(Cell::Blank, Cell::Score)
    }

    /// Whether the cell may stand in a column of this sort.
    #[must_use]
    pub fn fits(&self, holds: Holds) -> bool {
        match self {
            Cell::Blank => true,
            Cell::Text(_) | Cell::Exact(_) => holds == Holds::Words,
            Cell::Count(_) => matches!(holds, Holds::Count | Holds::Number),
            Cell::Score(_) => holds == Holds::Number,
            Cell::Quantity(_) | Cell::Rounded(..) | Cell::Part(_) => {
                matches!(holds, Holds::Number | Holds::Part)
            }
            Cell::YesNo(_) => holds == Holds::YesNo,
            Cell::Time(_) => holds == Holds::Time,
            Cell::Day(_) => holds == Holds::Day,
            Cell::Verdict(_) => holds == Holds::Verdict,
            Cell::List(_) => holds == Holds::Ids,
            Cell::Fields(_) => holds == Holds::Object,
            Cell::Items(_) => holds == Holds::Items,
        }
    }

    /// A part of one, or blank.
    #[must_use]
    pub fn part(part: Option<f64>) -> Self {
        part.map_or(Cell::Blank, Cell::Part)
    }
}

/// How a report is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// Aligned text for people.
    Table,
    /// Comma-separated values (RFC 4180, UTF-8, header row).
    Csv,
    /// A JSON array, one object a row.
    Json,
}

/// Takes the rows of a report one at a time.
pub trait Writer {
    /// Writes one row; its cells stand in the order of the columns.
    ///
    /// # Errors
    /// What the output returns.
    fn row(&mut self, cells: &[Cell<'_>]) -> io::Result<()>;

    /// Writes what is still to be written.
    ///
    /// # Errors
    /// What the output returns.
    fn finish(self: Box<Self>) -> io::Result<()>;
}

/// A writer of this format on to this output.
///
/// # Errors
/// What the output returns.
pub fn writer<'w>(
    format: Format,
    columns: &'static [Column],
    look: Look,
    out: &'w mut dyn Write,
) -> io::Result<Box<dyn Writer + 'w>> {
    Ok(match format {
        Format::Table => Box::new(table::TableWriter::new(columns, look, out)),
        Format::Csv => Box::new(csv::CsvWriter::new(columns, look.is_terminal(), out)?),
        Format::Json => Box::new(json::JsonWriter::new(columns, out)?),
    })
}

/// One row of a report as a JSON object, without a line feed.
///
/// # Errors
/// What the output returns.
pub fn json_object(columns: &[Column], cells: &[Cell<'_>], out: &mut dyn Write) -> io::Result<()> {
    json::row(columns, cells, out)
}

/// A score with two decimals, the half rounded up. Scores are fractions of small whole
/// numbers, so a half that binary arithmetic places just below is meant as a half.
#[must_use]
pub fn two_decimals(score: f64) -> String {
    let hundredths = (score * 100.0 + 0.5 + 1e-7).floor();
    if (0.0..1e9).contains(&hundredths) {
        // Whole numbers are written in a fraction of the time that a decimal one takes.
        let whole = hundredths as u64;
        return format!("{}.{:02}", whole / 100, whole % 100);
    }
    format!("{:.2}", hundredths / 100.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scores_are_rounded_half_up_on_the_exact_value() {
        // 100·1/32 = 3.125 and 100·3/4000 = 0.075: halves that binary rounding or
        // rounding to even would bring down.
        for (score, text) in [
            (100.0 / 32.0, "3.13"),
            (100.0 * 3.0 / 4000.0 * 0.2, "0.02"),
            (0.075 + 0.05, "0.13"),
            (200.0 / 3.0, "66.67"),
            (100.0, "100.00"),
            (0.0, "0.00"),
        ] {
            assert_eq!(two_decimals(score), text, "{score}");
        }
    }
}

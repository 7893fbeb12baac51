//! A sheet of results: what the verification of a pick found.
//!
//! The columns `draw_id` and `result` are needed, `verdict` and `note` may be there, others
//! are passed over. A row without a result was not verified yet. Commas, semicolons or tabs
//! stand between cells, whichever the header has.

use std::fs;
use std::path::Path;

use rustc_hash::FxHashSet;

use super::Error;
use crate::model::Verdict;
use crate::model::decisions::pick::{Outcome, Verified};
use crate::model::trail::sha256;

/// The most characters a note may have.
const NOTE_LIMIT: usize = 2000;

/// A sheet of results, read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sheet {
    /// The results, in order.
    pub results: Vec<Verified>,
    /// Rows without a result.
    pub blank: u64,
    /// What can't be taken; where there is anything, nothing should be.
    pub problems: Vec<Problem>,
    /// SHA-256 of the file, in hexadecimal.
    pub sha256: String,
}

/// What can't be taken of a sheet of results.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("line {line}, {column}: {value:?}: {reason}")]
pub struct Problem {
    /// The line on which its row begins, counting from 1.
    pub line: u64,
    /// The column.
    pub column: String,
    /// The value.
    pub value: String,
    /// Why.
    pub reason: String,
}

/// Reads a sheet of results; `is_in_pick` knows the identities of the pick.
///
/// # Errors
/// The file can't be read, is not UTF-8, or has no such columns.
pub fn read(path: &Path, is_in_pick: &dyn Fn(&str) -> bool) -> Result<Sheet, Error> {
    let bytes = fs::read(path).map_err(|source| Error::Unreadable {
        sheet: path.to_owned(),
        source,
    })?;
    let refused = |reason: String| Error::Verification {
        sheet: path.to_owned(),
        reason,
    };
    let text = std::str::from_utf8(&bytes)
        .map_err(|_| refused("is not UTF-8; save it as CSV in UTF-8".to_owned()))?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let header = text.lines().next().unwrap_or_default();
    let delimiter = [b',', b';', b'\t']
        .into_iter()
        .max_by_key(|mark| {
            let count = header.bytes().filter(|byte| byte == mark).count();
            (count, u8::from(*mark == b','))
        })
        .unwrap_or(b',');
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(delimiter)
        .flexible(true)
        .from_reader(text.as_bytes());
    let names = reader
        .headers()
        .map_err(|error| refused(format!("can't be read as CSV: {error}")))?
        .clone();
    let place = |name: &str| {
        names
            .iter()
            .position(|found| found.trim().eq_ignore_ascii_case(name))
    };
    let needed = |name: &str| {
        place(name).ok_or_else(|| {
            refused(format!(
                "has no column {name}; `fairdraw pick show N --format csv` writes a sheet to fill in"
            ))
        })
    };
    let mut rows = Rows {
        columns: [needed("draw_id")?, needed("result")?],
        verdict: place("verdict"),
        note: place("note"),
        is_in_pick,
        seen: FxHashSet::default(),
        sheet: Sheet {
            sha256: sha256(&bytes),
            ..Sheet::default()
        },
    };
    for record in reader.records() {
        let record = record.map_err(|error| refused(format!("can't be read as CSV: {error}")))?;
        let start = record.position().map_or(0, csv::Position::byte) as usize;
        rows.take(line_of(text, start), &record);
    }
    Ok(rows.sheet)
}

/// The line on which a row begins that was found at this byte. The reader counts the second
/// half of a line end of two characters only when it comes to the next row.
fn line_of(text: &str, start: usize) -> u64 {
    let (before, from) = text.split_at(start.min(text.len()));
    let ends = from.len() - from.trim_start_matches(['\r', '\n']).len();
    let passed = before.bytes().chain(from.bytes().take(ends));
    1 + passed.filter(|byte| *byte == b'\n').count() as u64
}

struct Rows<'a> {
    columns: [usize; 2],
    verdict: Option<usize>,
    note: Option<usize>,
    is_in_pick: &'a dyn Fn(&str) -> bool,
    seen: FxHashSet<String>,
    sheet: Sheet,
}

impl Rows<'_> {
    fn take(&mut self, line: u64, record: &csv::StringRecord) {
        let cell = |place: Option<usize>| {
            place
                .and_then(|place| record.get(place))
                .unwrap_or_default()
                .trim()
        };
        let (id, result) = (cell(Some(self.columns[0])), cell(Some(self.columns[1])));
        if result.is_empty() {
            let rest = cell(self.verdict).is_empty() && cell(self.note).is_empty();
            if rest {
                self.sheet.blank += u64::from(!id.is_empty());
            } else {
                self.refuse(line, "result", "", "is blank beside a verdict or a note");
            }
            return;
        }
        // A sheet of ours has an apostrophe before what a spreadsheet would run.
        let bare = id.strip_prefix('\'').filter(|_| !(self.is_in_pick)(id));
        let id = bare.unwrap_or(id);
        if !(self.is_in_pick)(id) {
            return self.refuse(line, "draw_id", id, "is not a draw of this pick");
        }
        if !self.seen.insert(id.to_owned()) {
            return self.refuse(line, "draw_id", id, "has a result further up");
        }
        let Some(outcome) = Outcome::parse(result) else {
            let reason = "must be agree, disagree or unverified";
            return self.refuse(line, "result", result, reason);
        };
        let verdict = cell(self.verdict);
        let representative = match Verdict::parse(verdict) {
            _ if verdict.is_empty() => None,
            Some(Verdict::Representative) => Some(true),
            Some(Verdict::Unrepresentative) => Some(false),
            _ => {
                let reason = "must be representative, unrepresentative or blank";
                return self.refuse(line, "verdict", verdict, reason);
            }
        };
        let note = cell(self.note);
        if note.chars().count() > NOTE_LIMIT {
            return self.refuse(line, "note", "…", "has more than 2000 characters");
        }
        self.sheet.results.push(Verified {
            draw: id.to_owned(),
            result: outcome,
            representative,
            // A cell can hold lines; a note is one.
            note: note
                .chars()
                .map(|c| if c.is_control() { ' ' } else { c })
                .collect(),
        });
    }

    fn refuse(&mut self, line: u64, column: &str, value: &str, reason: &str) {
        self.sheet.problems.push(Problem {
            line,
            column: column.to_owned(),
            value: value.chars().take(100).collect(),
            reason: reason.to_owned(),
        });
    }
}

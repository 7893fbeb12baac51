//! The cells of one row, read by column; what can't be read becomes a refusal.

use super::cell::{self, sound_text};
use super::columns::{Column, Reading, SheetKind};
use super::maps::apply::{Made, Mapping};
use super::refusal::{self, Refusal};
use super::sheet::Header;
use super::table::{Cell, Cells};
use super::when;
use crate::model::Looks;
use crate::model::time::{LocalTime, Tz};
use chrono::NaiveDate;

/// A row with the columns that the contract does not know, as a JSON object.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept<T> {
    /// The row.
    pub row: T,
    /// `{"column": "value"}`, sorted by column; empty if nothing was kept aside.
    pub kept_aside: String,
}

/// What came up while a sheet was read, apart from its rows.
#[derive(Debug, Default)]
pub struct Notes {
    /// Local times that exist twice: how many, and the first.
    pub twice: Occurrence,
    /// Local times that do not exist: how many, and the first.
    pub missing: Occurrence,
    /// How many local times were read.
    pub local_times: u64,
}

/// How often something came up, and where first.
#[derive(Debug, Default)]
pub struct Occurrence {
    /// The zones it came up in.
    pub zones: Vec<Tz>,
    /// How often.
    pub count: u64,
    /// The first one, as `line 7, drawn_at 2026-10-25 02:30`.
    pub first: String,
}

impl Occurrence {
    fn add(&mut self, zone: Tz, line: u64, column: &str, text: &str) {
        if !self.zones.contains(&zone) {
            self.zones.push(zone);
        }
        if self.count == 0 {
            self.first = format!("line {line}, {column} {text}");
        }
        self.count += 1;
    }
}

impl Notes {
    /// The notes as remarks for the user.
    #[must_use]
    pub fn remarks(&self) -> Vec<String> {
        let mut remarks = Vec::new();
        for (what, occurrence) in [
            (
                "exist twice (clocks go back) were read as the earlier instant",
                &self.twice,
            ),
            (
                "do not exist (clocks go forward) were shifted forward by the gap",
                &self.missing,
            ),
        ] {
            if occurrence.count > 0 {
                let zones: Vec<&str> = occurrence.zones.iter().map(|zone| zone.name()).collect();
                remarks.push(format!(
                    "local times that {what} in {}: {} in all, the first on {}",
                    zones.join(" and "),
                    occurrence.count,
                    occurrence.first
                ));
            }
        }
        remarks
    }
}

/// A row as it was read from a table.
pub(super) struct Raw<'a> {
    pub(super) cells: &'a Cells,
    pub(super) header: &'a Header,
    pub(super) line: u64,
    /// The row as a column map makes it.
    pub(super) mapping: Option<&'a Mapping>,
}

/// How a refusal is made of line, column, value and reason.
type Make = fn(u64, &str, &str, &str) -> Refusal;

/// Reads the cells of one row by column and collects what is refused.
pub(super) struct Row<'a> {
    cells: &'a Cells,
    header: &'a Header,
    mapping: Option<&'a Mapping>,
    columns: &'static [Column],
    line: u64,
    zone: Tz,
    notes: &'a mut Notes,
    refusals: &'a mut Vec<Refusal>,
    /// Where this row's refusals begin.
    from: usize,
}

impl<'a> Row<'a> {
    pub(super) fn new(
        raw: Raw<'a>,
        kind: SheetKind,
        zone: Tz,
        notes: &'a mut Notes,
        refusals: &'a mut Vec<Refusal>,
    ) -> Self {
        let from = refusals.len();
        Row {
            cells: raw.cells,
            header: raw.header,
            mapping: raw.mapping,
            columns: kind.columns(),
            line: raw.line,
            zone: raw
                .mapping
                .and_then(|made| made.mapped.zone)
                .unwrap_or(zone),
            notes,
            refusals,
            from,
        }
    }

    /// The row as a whole is refused for this value. The rest of it is read all the same,
    /// so that every fault of the row is told at once.
    pub(super) fn refuse(&mut self, column: usize, value: &str, reason: &str) {
        self.push(column, value, reason, Refusal::row);
    }

    /// Adds a refusal, which names their column and the value as it stands in their sheet.
    fn push(&mut self, column: usize, value: &str, reason: &str, make: Make) {
        let ours = self.columns[column].name;
        let Some(mapping) = self.mapping else {
            self.refusals.push(make(self.line, ours, value, reason));
            return;
        };
        let theirs = mapping.bound.name(column).unwrap_or(ours);
        let (raw, mut reason) = match mapping.mapped.cell(column) {
            Made::Blank => (mapping.mapped.raw(column), reason.to_owned()),
            Made::Refused(raw, _) => (raw, reason.to_owned()),
            Made::Text(made, raw) if made == raw => (raw, reason.to_owned()),
            Made::Text(made, raw) => {
                let unit = self.columns[column].unit;
                let unit = if unit.is_empty() {
                    String::new()
                } else {
                    format!(" {unit}")
                };
                let made = refusal::shortened(made);
                (raw, format!("{reason} (read as {made}{unit})"))
            }
        };
        if !theirs.eq_ignore_ascii_case(ours) {
            reason.push_str(" (for ");
            reason.push_str(ours);
            reason.push(')');
        }
        self.refusals.push(make(self.line, theirs, raw, &reason));
    }

    /// To be called when all columns were read: whether the row can be taken. Of a row that
    /// can't, every fault refuses the row, for none of its values is left blank.
    pub(super) fn is_sound(&mut self) -> bool {
        let faults = &mut self.refusals[self.from..];
        let sound = !faults.iter().any(|fault| fault.whole_row);
        if !sound {
            refusal::refuse_whole(faults);
        }
        sound
    }

    fn refuse_value(&mut self, column: usize, value: &str, reason: &str) {
        let required = self.columns[column].required;
        let make = if required {
            Refusal::row
        } else {
            Refusal::value
        };
        self.push(column, value, reason, make);
    }

    /// The cell of a column.
    fn cell(&self, column: usize) -> Cell<'a> {
        if let Some(mapping) = self.mapping {
            return match mapping.mapped.cell(column) {
                Made::Blank => Cell::Blank,
                Made::Text(text, _) => Cell::Text(text),
                Made::Refused(raw, why) => Cell::Unreadable(raw.to_owned(), why.to_owned()),
            };
        }
        let cells: &'a Cells = self.cells;
        match self.header.places[column] {
            Some(place) => cells.get(place),
            None => Cell::Blank,
        }
    }

    /// The value of a column as `parse` reads it; `None` where it is blank or refused.
    pub(super) fn read<T>(
        &mut self,
        column: usize,
        parse: impl FnOnce(&str) -> Result<T, String>,
    ) -> Option<T> {
        match self.cell(column) {
            Cell::Blank => {
                if self.columns[column].required {
                    self.refuse(column, "", "required, but blank");
                }
                None
            }
            Cell::Text(text) => match parse(text) {
                Ok(value) => Some(value),
                Err(reason) => {
                    self.refuse_value(column, text, &reason);
                    None
                }
            },
            Cell::Unreadable(shown, reason) => {
                self.refuse_value(column, &shown, &reason);
                None
            }
        }
    }

    /// A text, written into `into`; empty where it is blank or refused.
    pub(super) fn text_into(&mut self, column: usize, into: &mut String) {
        into.clear();
        self.read(column, |text| {
            sound_text(text)?;
            into.push_str(text);
            Ok(())
        });
    }

    pub(super) fn text(&mut self, column: usize) -> Option<String> {
        self.read(column, |text| sound_text(text).map(|()| text.to_owned()))
    }

    pub(super) fn number(&mut self, column: usize) -> Option<f64> {
        let Reading::Number(range) = self.columns[column].reading else {
            return None;
        };
        self.read(column, |text| cell::number(text, range))
    }

    pub(super) fn yes_no(&mut self, column: usize) -> Option<bool> {
        self.read(column, cell::yes_no)
    }

    /// One of a closed vocabulary, read by its own `parse`.
    pub(super) fn word<T>(&mut self, column: usize, parse: fn(&str) -> Option<T>) -> Option<T> {
        let Reading::Word(words) = self.columns[column].reading else {
            return None;
        };
        self.read(column, |text| {
            parse(text).ok_or_else(|| cell::not_listed(&words()))
        })
    }

    pub(super) fn looks(&mut self, column: usize) -> Looks {
        self.read(column, cell::looks).unwrap_or_default()
    }

    pub(super) fn day(&mut self, column: usize) -> Option<NaiveDate> {
        self.read(column, cell::day)
    }

    /// An instant in seconds since 1970 UTC.
    pub(super) fn time(&mut self, column: usize) -> Option<i64> {
        let (zone, line, name) = (self.zone, self.line, self.columns[column].name);
        let mut local = None;
        let seconds = self.read(column, |text| {
            let read = when::time(text, zone)?;
            local = read.local.map(|local| (local, text.to_owned()));
            Ok(read.seconds)
        });
        if let Some((local, text)) = local {
            self.notes.local_times += 1;
            match local {
                LocalTime::Once => {}
                LocalTime::Twice => self.notes.twice.add(zone, line, name, &text),
                LocalTime::Missing => self.notes.missing.add(zone, line, name, &text),
            }
        }
        seconds
    }

    /// The columns that the contract does not know, as a JSON object.
    pub(super) fn kept_aside(&mut self, into: &mut String) {
        into.clear();
        if self.header.unknown.is_empty() {
            return;
        }
        let mut kept = serde_json::Map::new();
        for (place, name) in &self.header.unknown {
            let (value, reason) = match self.cells.get(*place) {
                Cell::Blank => continue,
                Cell::Unreadable(shown, reason) => (shown, reason),
                Cell::Text(text) => match sound_text(text) {
                    Ok(()) => {
                        kept.insert(name.clone(), text.into());
                        continue;
                    }
                    Err(reason) => (text.to_owned(), reason),
                },
            };
            self.refusals
                .push(Refusal::not_kept(self.line, name, &value, &reason));
        }
        if !kept.is_empty() {
            into.push_str(&serde_json::Value::Object(kept).to_string());
        }
    }
}

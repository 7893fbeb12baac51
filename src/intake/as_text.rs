//! Rows as they would be stored, in texts: for looking at a sheet before it is taken in.

use super::Error;
use super::cell::{self, sound_text};
use super::columns::{Column, Reading, SheetKind};
use super::refusal::Refusal;
use super::row::{Notes, Row};
use super::sheet::Sheet;
use super::table::Next;
use crate::model::phrase::exact;
use crate::model::time::{Tz, utc_text};

/// Why a value of this column can't be referred to; `None` where it can.
pub type Unknown<'a> = &'a dyn Fn(&Column, &str) -> Option<&'static str>;

/// A row in texts: a text for every column of the kind, empty where it is blank.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RowInTexts {
    /// The line on which it begins.
    pub line: u64,
    /// One text a column: numbers in the unit of the column, words of ours, times in UTC.
    pub cells: Vec<String>,
}

/// What stands next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NextInTexts {
    /// A row that would be taken.
    Row(RowInTexts),
    /// A row that would be refused.
    Refused,
    /// Nothing.
    End,
}

/// Reads the next row as it would be stored; what is refused is added to `refusals`. Whether
/// the same identity stands twice in the sheet is not looked at.
///
/// # Errors
/// The file can't be read any further.
pub fn next(
    sheet: &mut Sheet,
    zone: Tz,
    unknown: Unknown<'_>,
    refusals: &mut Vec<Refusal>,
) -> Result<NextInTexts, Error> {
    match sheet.next_row()? {
        Next::End => Ok(NextInTexts::End),
        Next::Refused(refusal) => {
            refusals.push(refusal);
            Ok(NextInTexts::Refused)
        }
        Next::Row => {
            let kind = sheet.kind();
            let raw = sheet.row();
            let line = raw.line;
            let mut notes = Notes::default();
            let mut row = Row::new(raw, kind, zone, &mut notes, refusals);
            let cells = texts(&mut row, kind, unknown);
            let sound = row.is_sound();
            Ok(if sound {
                NextInTexts::Row(RowInTexts { line, cells })
            } else {
                NextInTexts::Refused
            })
        }
    }
}

fn texts(row: &mut Row<'_>, kind: SheetKind, unknown: Unknown<'_>) -> Vec<String> {
    let columns = kind.columns().iter().enumerate();
    columns
        .map(|(place, column)| {
            let text = text(row, place, column).unwrap_or_default();
            if let Some(reason) = unknown(column, &text).filter(|_| !text.is_empty()) {
                row.refuse(place, &text, reason);
            }
            text
        })
        .collect()
}

/// One value as it would be stored.
fn text(row: &mut Row<'_>, place: usize, column: &Column) -> Option<String> {
    match column.reading {
        Reading::Text => row.read(place, |text| sound_text(text).map(|()| text.to_owned())),
        Reading::YesNo => {
            let yes = row.yes_no(place)?;
            Some(if yes { "yes" } else { "no" }.to_owned())
        }
        Reading::Number(_) => row.number(place).map(exact),
        Reading::Word(words) => row.read(place, |text| {
            let mut words_known = words().into_iter();
            let word = words_known.find(|word| word.eq_ignore_ascii_case(text));
            word.map(str::to_owned)
                .ok_or_else(|| cell::not_listed(&words()))
        }),
        Reading::Words(_) => {
            let looks = row.looks(place);
            (!looks.is_blank()).then(|| looks.to_string())
        }
        Reading::Time => row.time(place).map(utc_text),
        Reading::Date => row.day(place).map(|day| day.to_string()),
    }
}

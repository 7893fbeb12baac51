//! Rows of `technicians.csv` and `trainings.csv`.

use super::Error;
use super::columns::{SheetKind, technician, training};
use super::refusal::Refusal;
use super::row::{Kept, Notes, Row};
use super::sheet::Sheet;
use super::table::Next;
use crate::model::time::Tz;
use crate::model::{Technician, Training};

/// Reads the next good technician and the line it begins on; `None` at the end.
///
/// # Errors
/// The file can't be read any further.
pub fn next_technician(
    sheet: &mut Sheet,
    refusals: &mut Vec<Refusal>,
) -> Result<Option<(u64, Kept<Technician>)>, Error> {
    next(sheet, SheetKind::Technicians, refusals, &mut |row| {
        let id = row.text(technician::TECHNICIAN_ID);
        let (name, crew) = (row.text(technician::NAME), row.text(technician::CREW));
        let active_from = row.day(technician::ACTIVE_FROM);
        Some(Technician {
            id: id?,
            name,
            crew,
            active_from,
        })
    })
}

/// Reads the next good training, of a known technician in a known topic.
///
/// # Errors
/// The file can't be read any further.
pub fn next_training(
    sheet: &mut Sheet,
    is_technician: &dyn Fn(&str) -> bool,
    is_topic: &dyn Fn(&str) -> bool,
    refusals: &mut Vec<Refusal>,
) -> Result<Option<(u64, Kept<Training>)>, Error> {
    next(sheet, SheetKind::Trainings, refusals, &mut |row| {
        let technician_id = row.text(training::TECHNICIAN_ID);
        let topic = row
            .text(training::TOPIC)
            .map(|topic| topic.to_ascii_lowercase());
        let held_on = row.day(training::HELD_ON);
        if let Some(id) = technician_id.as_deref().filter(|id| !is_technician(id)) {
            row.refuse(training::TECHNICIAN_ID, id, "no such technician is known");
        }
        if let Some(topic) = topic.as_deref().filter(|topic| !is_topic(topic)) {
            row.refuse(training::TOPIC, topic, "no rule has this id");
        }
        Some(Training {
            technician_id: technician_id?,
            topic: topic?,
            held_on: held_on?,
        })
    })
}

fn next<T>(
    sheet: &mut Sheet,
    kind: SheetKind,
    refusals: &mut Vec<Refusal>,
    read: &mut dyn FnMut(&mut Row<'_>) -> Option<T>,
) -> Result<Option<(u64, Kept<T>)>, Error> {
    let mut notes = Notes::default();
    loop {
        match sheet.next_row()? {
            Next::End => return Ok(None),
            Next::Refused(refusal) => refusals.push(refusal),
            Next::Row => {
                let row = sheet.row();
                let line = row.line;
                let mut row = Row::new(row, kind, Tz::UTC, &mut notes, refusals);
                let taken = read(&mut row);
                let mut kept_aside = String::new();
                row.kept_aside(&mut kept_aside);
                if let (true, Some(taken)) = (row.is_sound(), taken) {
                    let kept = Kept {
                        row: taken,
                        kept_aside,
                    };
                    return Ok(Some((line, kept)));
                }
                sheet.keep_row();
            }
        }
    }
}

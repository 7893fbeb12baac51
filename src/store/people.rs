//! Technicians and trainings, in the order of their lists.

use chrono::NaiveDate;
use rusqlite::Connection;
use rusqlite::types::Value;

use super::kept::{Table, unreadable};
use crate::model::{Technician, Training};

/// The table of technicians.
pub const TECHNICIANS: Table = Table {
    name: "technicians",
    columns: &["technician_id", "name", "crew", "active_from"],
    identity: 1,
};

/// The table of trainings.
pub const TRAININGS: Table = Table {
    name: "trainings",
    columns: &["technician_id", "topic", "held_on"],
    identity: 3,
};

/// The values of a row of [`TECHNICIANS`].
#[must_use]
pub fn technician_values(technician: &Technician, kept_aside: &str) -> Vec<Value> {
    vec![
        Value::from(technician.id.clone()),
        Value::from(technician.name.clone()),
        Value::from(technician.crew.clone()),
        Value::from(technician.active_from.map(|day| day.to_string())),
        Value::from(kept_aside.to_owned()),
    ]
}

/// The values of a row of [`TRAININGS`].
#[must_use]
pub fn training_values(training: &Training, kept_aside: &str) -> Vec<Value> {
    vec![
        Value::from(training.technician_id.clone()),
        Value::from(training.topic.clone()),
        Value::from(training.held_on.to_string()),
        Value::from(kept_aside.to_owned()),
    ]
}

/// Every technician with the kept-aside columns, by place.
///
/// # Errors
/// What SQLite says; a day that is none.
pub fn technicians(connection: &Connection) -> rusqlite::Result<Vec<(Technician, String)>> {
    connection
        .prepare_cached(&TECHNICIANS.select())?
        .query_map([], |row| {
            let active_from: Option<String> = row.get(3)?;
            let technician = Technician {
                id: row.get(0)?,
                name: row.get(1)?,
                crew: row.get(2)?,
                active_from: active_from.map(|text| day(3, &text)).transpose()?,
            };
            Ok((technician, row.get(4)?))
        })?
        .collect()
}

/// The name of every technician, by place.
///
/// # Errors
/// What SQLite says.
pub fn names(connection: &Connection) -> rusqlite::Result<Vec<String>> {
    connection
        .prepare_cached(
            "SELECT technician_id FROM technicians WHERE listed IS NOT NULL ORDER BY listed",
        )?
        .query_map([], |row| row.get(0))?
        .collect()
}

/// Every training with the kept-aside columns, by place.
///
/// # Errors
/// What SQLite says; a day that is none.
pub fn trainings(connection: &Connection) -> rusqlite::Result<Vec<(Training, String)>> {
    connection
        .prepare_cached(&TRAININGS.select())?
        .query_map([], |row| {
            let held_on: String = row.get(2)?;
            let training = Training {
                technician_id: row.get(0)?,
                topic: row.get(1)?,
                held_on: day(2, &held_on)?,
            };
            Ok((training, row.get(3)?))
        })?
        .collect()
}

fn day(column: usize, text: &str) -> rusqlite::Result<NaiveDate> {
    text.parse().map_err(|_| unreadable(column, text))
}

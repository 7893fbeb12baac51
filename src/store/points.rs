//! Points, in the order of their list.

use rusqlite::types::Value;
use rusqlite::{Connection, Row};

use super::kept::{Table, unreadable};
use crate::model::{Kind, MachineClass, Method, Place, Point};

/// The table of points.
pub const TABLE: Table = Table {
    name: "points",
    columns: &Point::COLUMNS,
    identity: 1,
};

/// The values of a row of [`TABLE`].
#[must_use]
pub fn values(point: &Point, kept_aside: &str) -> Vec<Value> {
    let text = |text: &Option<String>| Value::from(text.clone());
    let word = |word: Option<&'static str>| Value::from(word.map(str::to_owned));
    vec![
        Value::from(point.id.clone()),
        Value::from(point.compartment.clone()),
        text(&point.machine),
        text(&point.site),
        text(&point.area),
        word(point.machine_class.map(MachineClass::as_str)),
        Value::from(point.kind.as_str().to_owned()),
        word(point.place.map(Place::as_str)),
        Value::from(point.at_bend),
        Value::from(point.agreed),
        word(point.method.map(Method::as_str)),
        text(&point.fluid),
        Value::from(point.iso_vg),
        Value::from(point.viscosity_40_cst),
        Value::from(point.viscosity_100_cst),
        Value::from(point.normal_temp_c),
        Value::from(point.line_flow_l_min),
        Value::from(point.line_bore_mm),
        Value::from(point.line_pressure_bar),
        Value::from(point.tube_bore_mm),
        Value::from(point.tube_length_cm),
        Value::from(point.dead_extra_ml),
        Value::from(point.tube_mark_cm),
        Value::from(point.oil_depth_cm),
        Value::from(point.bottle_ml),
        Value::from(point.interval_h),
        Value::from(point.interval_days),
        Value::from(kept_aside.to_owned()),
    ]
}

/// Every point with its kept-aside columns; by place.
///
/// # Errors
/// What SQLite says; a word that is none.
pub fn all(connection: &Connection) -> rusqlite::Result<Vec<(Point, String)>> {
    connection
        .prepare_cached(&TABLE.select())?
        .query_map([], |row| Ok((read(row)?, row.get(27)?)))?
        .collect()
}

/// The name of every point, by place.
///
/// # Errors
/// What SQLite says.
pub fn names(connection: &Connection) -> rusqlite::Result<Vec<String>> {
    connection
        .prepare_cached("SELECT point_id FROM points WHERE listed IS NOT NULL ORDER BY listed")?
        .query_map([], |row| row.get(0))?
        .collect()
}

fn read(row: &Row<'_>) -> rusqlite::Result<Point> {
    Ok(Point {
        id: row.get(0)?,
        compartment: row.get(1)?,
        machine: row.get(2)?,
        site: row.get(3)?,
        area: row.get(4)?,
        machine_class: word(row, 5, MachineClass::parse)?,
        kind: word(row, 6, Kind::parse)?.ok_or_else(|| unreadable(6, ""))?,
        place: word(row, 7, Place::parse)?,
        at_bend: row.get(8)?,
        agreed: row.get(9)?,
        method: word(row, 10, Method::parse)?,
        fluid: row.get(11)?,
        iso_vg: row.get(12)?,
        viscosity_40_cst: row.get(13)?,
        viscosity_100_cst: row.get(14)?,
        normal_temp_c: row.get(15)?,
        line_flow_l_min: row.get(16)?,
        line_bore_mm: row.get(17)?,
        line_pressure_bar: row.get(18)?,
        tube_bore_mm: row.get(19)?,
        tube_length_cm: row.get(20)?,
        dead_extra_ml: row.get(21)?,
        tube_mark_cm: row.get(22)?,
        oil_depth_cm: row.get(23)?,
        bottle_ml: row.get(24)?,
        interval_h: row.get(25)?,
        interval_days: row.get(26)?,
    })
}

/// A word of a closed vocabulary, or blank.
pub(super) fn word<T>(
    row: &Row<'_>,
    column: usize,
    parse: fn(&str) -> Option<T>,
) -> rusqlite::Result<Option<T>> {
    match row.get_ref(column)?.as_str_or_null()? {
        None => Ok(None),
        Some(text) => parse(text)
            .map(Some)
            .ok_or_else(|| unreadable(column, text)),
    }
}

//! Rows of `fairdraw maps show`: the columns that sheets are mapped to.

use super::rows::{column, spare};
use super::{Cell, Column};

/// `fairdraw maps show`: one row a column of ours.
pub const MAP_COLUMNS: &[Column] = &[
    column("column", "column", "our column"),
    column(
        "required",
        "required",
        "whether a row without it is refused",
    ),
    spare(
        column(
            "values",
            "values",
            "what it takes; a map turns other texts into these",
        ),
        1,
    ),
    column("unit", "unit", "the unit its numbers are kept in"),
    spare(
        column("units", "from", "the units its numbers can be mapped from"),
        2,
    ),
    spare(column("meaning", "meaning", "what it means"), 3),
];

/// A row of [`MAP_COLUMNS`].
#[must_use]
pub fn map_column<'a>(
    (name, required): (&'a str, bool),
    values: String,
    (unit, units): (&'a str, String),
    meaning: &'a str,
) -> Vec<Cell<'a>> {
    vec![
        Cell::text(name),
        Cell::YesNo(required),
        Cell::text(values),
        Cell::text(unit),
        Cell::text(units),
        Cell::text(meaning),
    ]
}

//! The columns of `fairdraw filters`.

use super::rows::{column, count};
use super::{Cell, Column};

/// `fairdraw filters`: one row a saved filter.
pub const FILTERS: &[Column] = &[
    column("name", "name", "its name; `--where '@NAME'` uses it"),
    column("filter", "filter", "the filter as it is typed"),
    count(
        "draws",
        "draws",
        "how many draws pass; blank if this program can't read the filter",
    ),
];

/// A row of [`FILTERS`].
#[must_use]
pub fn filter<'a>(name: &'a str, filter: &'a str, draws: Option<u64>) -> Vec<Cell<'a>> {
    vec![
        Cell::text(name),
        Cell::text(filter),
        draws.map_or(Cell::Blank, Cell::Count),
    ]
}

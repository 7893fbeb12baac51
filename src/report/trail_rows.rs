//! The columns of `fairdraw trail`.

use super::rows::{column, count, spare, table_only, time};
use super::{Cell, Column};
use crate::model::decisions;
use crate::model::time::{Tz, local_text};
use crate::model::trail::Link;

/// `fairdraw trail`: one row a link.
pub const TRAIL: &[Column] = &[
    count("number", "link", "the number of the link, counting from 1"),
    time("at", "", "when it was decided, in UTC"),
    spare(table_only("at"), 1),
    column("who", "who", "who decided"),
    column("kind", "kind", "the kind of decision"),
    column(
        "says",
        "what",
        "what was decided, in words; blank where this program can't read it",
    ),
    column(
        "canonical",
        "",
        "all that the hash covers beside the hash before, as JSON after RFC 8785; docs/trail.md says how to recompute the hash",
    ),
    column(
        "previous",
        "",
        "the hash of the link before; 64 zeros for the first",
    ),
    column(
        "hash",
        "",
        "SHA-256 over `previous`, a line feed and `canonical`",
    ),
];

/// A row of [`TRAIL`].
#[must_use]
pub fn trail(link: &Link, zone: Tz) -> Vec<Cell<'_>> {
    vec![
        Cell::Count(link.number.cast_unsigned()),
        Cell::Time(link.at),
        Cell::text(local_text(link.at, zone)),
        Cell::text(&link.who),
        Cell::text(&link.kind),
        decisions::says(link).map_or(Cell::Blank, Cell::text),
        Cell::text(link.canonical()),
        Cell::text(&link.previous),
        Cell::text(&link.hash),
    ]
}

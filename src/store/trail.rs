//! The trail: links go in at its end and come out as they are stored.

use rusqlite::{Connection, OptionalExtension, Row};

use crate::model::trail::Link;

const COLUMNS: &str = "link, at, who, kind, what, previous, hash";

/// Adds a link.
///
/// # Errors
/// What SQLite says.
pub fn append(connection: &Connection, link: &Link) -> rusqlite::Result<()> {
    connection
        .execute(
            "INSERT INTO trail (link, at, who, kind, what, previous, hash) VALUES (?, ?, ?, ?, ?, ?, ?)",
            (
                link.number,
                link.at,
                &link.who,
                &link.kind,
                &link.what,
                &link.previous,
                &link.hash,
            ),
        )
        .map(|_| ())
}

/// The link added last; `None` where there is none.
///
/// # Errors
/// What SQLite says.
pub fn last(connection: &Connection) -> rusqlite::Result<Option<Link>> {
    connection
        .prepare_cached(&format!(
            "SELECT {COLUMNS} FROM trail ORDER BY link DESC LIMIT 1"
        ))?
        .query_row([], read)
        .optional()
}

/// All links, the first first.
///
/// # Errors
/// What SQLite says.
pub fn all(connection: &Connection) -> rusqlite::Result<Vec<Link>> {
    connection
        .prepare_cached(&format!("SELECT {COLUMNS} FROM trail ORDER BY link"))?
        .query_map([], read)?
        .collect()
}

/// The highest number that a link was ever given, as SQLite keeps it beside the table; 0
/// where there was none.
///
/// # Errors
/// What SQLite says.
pub fn highest_number(connection: &Connection) -> rusqlite::Result<i64> {
    connection
        .query_row(
            "SELECT seq FROM sqlite_sequence WHERE name = 'trail'",
            [],
            |row| row.get(0),
        )
        .optional()
        .map(Option::unwrap_or_default)
}

fn read(row: &Row<'_>) -> rusqlite::Result<Link> {
    Ok(Link {
        number: row.get(0)?,
        at: row.get(1)?,
        who: row.get(2)?,
        kind: row.get(3)?,
        what: row.get(4)?,
        previous: row.get(5)?,
        hash: row.get(6)?,
    })
}

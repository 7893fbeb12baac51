//! The rulebooks that a programme was judged by. None is ever removed.

use rusqlite::{Connection, OptionalExtension};

/// A rulebook as it was adopted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Adopted {
    /// Its fingerprint when it was adopted.
    pub fingerprint: String,
    /// Its name.
    pub name: String,
    /// Its revision, as written.
    pub revision: String,
    /// The YAML text.
    pub text: String,
    /// When it was adopted, in seconds since 1970 UTC.
    pub adopted_at: i64,
}

/// The rulebook now in force; `None` where none was adopted.
///
/// # Errors
/// What SQLite says.
pub fn current(connection: &Connection) -> rusqlite::Result<Option<Adopted>> {
    one(connection, "ORDER BY number DESC LIMIT 1", "")
}

/// Every rulebook, the first adopted first.
///
/// # Errors
/// What SQLite says.
pub fn all(connection: &Connection) -> rusqlite::Result<Vec<Adopted>> {
    connection
        .prepare(
            "SELECT fingerprint, name, revision, text, adopted_at FROM rulebooks ORDER BY number",
        )?
        .query_map([], read)?
        .collect()
}

/// The rulebook of this fingerprint, if one was adopted.
///
/// # Errors
/// What SQLite says.
pub fn of_fingerprint(
    connection: &Connection,
    fingerprint: &str,
) -> rusqlite::Result<Option<Adopted>> {
    one(
        connection,
        "WHERE fingerprint = ? ORDER BY number DESC LIMIT 1",
        fingerprint,
    )
}

fn one(connection: &Connection, which: &str, value: &str) -> rusqlite::Result<Option<Adopted>> {
    let sql =
        format!("SELECT fingerprint, name, revision, text, adopted_at FROM rulebooks {which}");
    let values: &[&str] = if value.is_empty() { &[] } else { &[value] };
    connection
        .prepare_cached(&sql)?
        .query_row(rusqlite::params_from_iter(values), read)
        .optional()
}

fn read(row: &rusqlite::Row<'_>) -> rusqlite::Result<Adopted> {
    Ok(Adopted {
        fingerprint: row.get(0)?,
        name: row.get(1)?,
        revision: row.get(2)?,
        text: row.get(3)?,
        adopted_at: row.get(4)?,
    })
}

/// Puts a rulebook in force.
///
/// # Errors
/// What SQLite says.
pub fn adopt(connection: &Connection, rulebook: &Adopted) -> rusqlite::Result<()> {
    connection
        .execute(
            "INSERT INTO rulebooks (fingerprint, name, revision, text, adopted_at) VALUES (?, ?, ?, ?, ?)",
            (
                &rulebook.fingerprint,
                &rulebook.name,
                &rulebook.revision,
                &rulebook.text,
                rulebook.adopted_at,
            ),
        )
        .map(|_| ())
}

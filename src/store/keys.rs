//! Secrets of the programme: random keys that never leave its file.

use rusqlite::{Connection, OptionalExtension};

/// How many bytes a key has.
pub const LENGTH: usize = 32;

/// The key of this name; `None` where none was made yet or it is not a key.
///
/// # Errors
/// What SQLite says.
pub fn read(connection: &Connection, name: &str) -> rusqlite::Result<Option<[u8; LENGTH]>> {
    let key: Option<Vec<u8>> = connection
        .query_row("SELECT key FROM keys WHERE name = ?", [name], |row| {
            row.get(0)
        })
        .optional()?;
    Ok(key.and_then(|key| key.try_into().ok()))
}

/// Keeps a key.
///
/// # Errors
/// What SQLite says; there is one of that name already.
pub fn keep(connection: &Connection, name: &str, key: &[u8; LENGTH]) -> rusqlite::Result<()> {
    connection
        .execute(
            "INSERT INTO keys (name, key) VALUES (?, ?)",
            (name, key.as_slice()),
        )
        .map(|_| ())
}

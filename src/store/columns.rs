//! What is known of the live draws without reading their rows: columns of equal length.

use rusqlite::{Connection, OptionalExtension};

use super::bytes::{Fixed, unpack};

/// How the columns are laid out; a file with another number is judged anew.
pub const FORMAT: i64 = 1;

/// How the columns came about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Head {
    /// Layout of the columns.
    pub format: i64,
    /// How many draws; the length of every column.
    pub draws: u64,
    /// Fingerprint of the rulebook they were judged by.
    pub rulebook: String,
    /// Version of the program that judged.
    pub program: String,
    /// Hash over the records and contents of the draws that were judged.
    pub stamp: i64,
}

/// How the columns came about; `None` if there are none.
///
/// # Errors
/// What SQLite says.
pub fn head(connection: &Connection) -> rusqlite::Result<Option<Head>> {
    connection
        .query_row(
            "SELECT format, draws, rulebook, program, stamp FROM judged",
            [],
            |row| {
                Ok(Head {
                    format: row.get(0)?,
                    draws: row.get::<_, i64>(1)?.cast_unsigned(),
                    rulebook: row.get(2)?,
                    program: row.get(3)?,
                    stamp: row.get(4)?,
                })
            },
        )
        .optional()
}

/// Says anew how the columns came about.
///
/// # Errors
/// What SQLite says.
pub fn write_head(connection: &Connection, head: &Head) -> rusqlite::Result<()> {
    connection
        .execute(
            "INSERT OR REPLACE INTO judged VALUES (1, ?, ?, ?, ?, ?)",
            (
                head.format,
                super::count(head.draws),
                &head.rulebook,
                &head.program,
                head.stamp,
            ),
        )
        .map(|_| ())
}

/// The numbers of a column; `None` if there is no such column or it does not hold `draws`
/// numbers.
///
/// # Errors
/// What SQLite says.
pub fn read<T: Fixed>(
    connection: &Connection,
    name: &str,
    draws: u64,
) -> rusqlite::Result<Option<Vec<T>>> {
    connection
        .prepare_cached("SELECT data FROM judged_columns WHERE name = ?")?
        .query_row([name], |row| {
            let numbers = unpack(row.get_ref(0)?.as_blob()?);
            Ok(numbers.filter(|numbers: &Vec<T>| numbers.len() as u64 == draws))
        })
        .optional()
        .map(Option::flatten)
}

/// Writes a column anew.
///
/// # Errors
/// What SQLite says.
pub fn write(connection: &Connection, name: &str, bytes: &[u8]) -> rusqlite::Result<()> {
    connection
        .prepare_cached("INSERT OR REPLACE INTO judged_columns VALUES (?, ?)")?
        .execute((name, bytes))
        .map(|_| ())
}

//! What is known of the live draws without reading their rows: columns of equal length.

use rusqlite::{Connection, OptionalExtension};

use super::bytes::Fixed;

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

/// Bytes of a column that are read at a time; every [`Fixed::SIZE`] divides them.
const PIECE: usize = 1 << 18;

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
    let row = connection
        .prepare_cached("SELECT rowid FROM judged_columns WHERE name = ?")?
        .query_row([name], |row| row.get(0))
        .optional()?;
    let Some(row) = row else { return Ok(None) };
    // Piece by piece: a whole column in between would be memory to be given and taken back for
    // each of them, which takes longer than to read it.
    let column = connection.blob_open("main", "judged_columns", "data", row, true)?;
    if Some(column.len() as u64) != draws.checked_mul(T::SIZE as u64) {
        return Ok(None);
    }
    let mut numbers = Vec::with_capacity(column.len() / T::SIZE);
    let mut piece = vec![0; PIECE.min(column.len())];
    let mut read = 0;
    while read < column.len() {
        piece.truncate(column.len() - read);
        column.read_at_exact(&mut piece, read)?;
        numbers.extend(piece.chunks_exact(T::SIZE).map(T::take));
        read += piece.len();
    }
    Ok(Some(numbers))
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

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use super::*;
    use crate::store::bytes::pack;

    fn connection() -> Connection {
        let connection = Connection::open_in_memory().unwrap();
        let table = "CREATE TABLE judged_columns (name TEXT PRIMARY KEY, data BLOB NOT NULL)";
        connection.execute(table, []).unwrap();
        connection
    }

    /// Writes so many numbers and reads them back.
    fn comes_back<T: Fixed + PartialEq + std::fmt::Debug>(
        connection: &Connection,
        count: usize,
        number: impl Fn(usize) -> T,
    ) {
        let numbers: Vec<T> = (0..count).map(number).collect();
        write(connection, "own", &pack(numbers.iter().copied())).unwrap();
        let read = |draws| read::<T>(connection, "own", draws).unwrap();
        assert!(read(count as u64).unwrap() == numbers, "{count}");
        assert_eq!(read(count as u64 + 1), None);
        assert_eq!(read(u64::MAX), None);
    }

    #[test]
    fn columns_come_back_at_every_size_around_a_piece() {
        let connection = connection();
        for around in [0, 1, PIECE - 1, PIECE, PIECE + 1, 3 * PIECE + 5] {
            comes_back(&connection, around, |at| at as u8);
        }
        for around in [PIECE / 4 - 1, PIECE / 4, PIECE / 4 + 1] {
            comes_back(&connection, around, |at| at as u32);
            comes_back(&connection, around, |at| u128::MAX - at as u128);
        }
        assert_eq!(read::<u8>(&connection, "other", 0).unwrap(), None);
    }
}

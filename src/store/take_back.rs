//! What a batch leaves behind when it is taken back: rows are marked, none is removed.
//!
//! Draws that nobody says any more are superseded by the taking back. Rows of the small tables
//! stand again in their former state, or leave their list.

use rusqlite::Connection;

use super::kept::Table;

/// A state that a row of a small table has or had.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct State {
    /// The number of the row.
    pub number: u32,
    /// The batch that brought the state.
    pub imported_in: i64,
    /// The batch that put another in its place; `None` for the present one.
    pub until: Option<i64>,
    /// Where a former one stands.
    row: i64,
}

/// Every state of every row, by number, the earliest first.
///
/// # Errors
/// What SQLite says.
pub fn states(connection: &Connection, table: Table) -> rusqlite::Result<Vec<State>> {
    connection
        .prepare(&format!(
            "SELECT number, imported_in, superseded_in, rowid AS place FROM former_{0} \
             UNION ALL SELECT number, imported_in, NULL, 0 FROM {0} \
             ORDER BY number, superseded_in NULLS LAST, place",
            table.name
        ))?
        .query_map([], |row| {
            Ok(State {
                number: row.get(0)?,
                imported_in: row.get(1)?,
                until: row.get(2)?,
                row: row.get(3)?,
            })
        })?
        .collect()
}

/// Puts a row into a former state of its own again; the present one is kept as one that this
/// batch superseded.
///
/// # Errors
/// What SQLite says.
pub fn restore(
    connection: &Connection,
    table: Table,
    state: State,
    batch: i64,
) -> rusqlite::Result<()> {
    let columns = format!("imported_in, {}, kept_aside", table.columns.join(", "));
    let name = table.name;
    connection
        .prepare_cached(&format!(
            "INSERT INTO former_{name} (superseded_in, number, {columns}) \
             SELECT ?2, number, {columns} FROM {name} WHERE number = ?1"
        ))?
        .execute((state.number, batch))?;
    connection
        .prepare_cached(&format!(
            "UPDATE {name} SET ({columns}) = \
             (SELECT {columns} FROM former_{name} WHERE rowid = ?2) WHERE number = ?1"
        ))?
        .execute((state.number, state.row))
        .map(|_| ())
}

/// Takes a row out of its list; [`close_ranks`] is to follow.
///
/// # Errors
/// What SQLite says.
pub fn unlist(connection: &Connection, table: Table, number: u32) -> rusqlite::Result<()> {
    connection
        .prepare_cached(&format!(
            "UPDATE {} SET listed = NULL WHERE number = ?",
            table.name
        ))?
        .execute([number])
        .map(|_| ())
}

/// Lists the rows that are left without gaps, in their order.
///
/// # Errors
/// What SQLite says.
pub fn close_ranks(connection: &Connection, table: Table) -> rusqlite::Result<()> {
    connection
        .execute(
            &format!(
                "UPDATE {0} SET listed = ranks.place FROM \
                 (SELECT number AS ranked, row_number() OVER (ORDER BY listed) AS place \
                  FROM {0} WHERE listed IS NOT NULL) AS ranks \
                 WHERE number = ranks.ranked AND listed IS NOT ranks.place",
                table.name
            ),
            [],
        )
        .map(|_| ())
}

/// A stored state of a draw and who brought it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DrawState {
    /// The row.
    pub record: u32,
    /// The batch that brought it.
    pub imported_in: i64,
    /// The batch that put another in its place or took it back; `None` for the live one.
    pub superseded_in: Option<i64>,
    /// The row in whose place it stands.
    pub supersedes: Option<u32>,
}

/// The states of draws that these batches brought, in order of their records.
///
/// # Errors
/// What SQLite says.
pub fn draws_of(connection: &Connection, batches: &[i64]) -> rusqlite::Result<Vec<DrawState>> {
    connection
        .prepare(
            "SELECT record, imported_in, superseded_in, supersedes FROM draws \
             WHERE imported_in IN (SELECT value FROM json_each(?)) ORDER BY record",
        )?
        .query_map([numbers(batches)], |row| {
            Ok(DrawState {
                record: row.get(0)?,
                imported_in: row.get(1)?,
                superseded_in: row.get(2)?,
                supersedes: row.get(3)?,
            })
        })?
        .collect()
}

/// One state of a draw.
///
/// # Errors
/// What SQLite says; no such row.
pub fn draw(connection: &Connection, record: u32) -> rusqlite::Result<DrawState> {
    connection
        .prepare_cached(
            "SELECT record, imported_in, superseded_in, supersedes FROM draws \
             WHERE record = ?",
        )?
        .query_row([record], |row| {
            Ok(DrawState {
                record: row.get(0)?,
                imported_in: row.get(1)?,
                superseded_in: row.get(2)?,
                supersedes: row.get(3)?,
            })
        })
}

/// Says that this batch superseded a draw, or that the draw is live.
///
/// # Errors
/// What SQLite says.
pub fn supersede(connection: &Connection, record: u32, batch: Option<i64>) -> rusqlite::Result<()> {
    connection
        .prepare_cached("UPDATE draws SET superseded_in = ?2 WHERE record = ?1")?
        .execute((record, batch))
        .map(|_| ())
}

/// Record and batch of every state of a draw at one of these points or by one of these
/// technicians, which are given by their numbers.
///
/// # Errors
/// What SQLite says.
pub fn draws_naming(
    connection: &Connection,
    points: &[u32],
    technicians: &[u32],
) -> rusqlite::Result<Vec<(u32, i64)>> {
    connection
        .prepare(
            "SELECT record, imported_in FROM draws \
             WHERE point IN (SELECT value FROM json_each(?1)) \
             OR technician IN (SELECT value FROM json_each(?2))",
        )?
        .query_map((numbers(points), numbers(technicians)), |row| {
            Ok((row.get(0)?, row.get(1)?))
        })?
        .collect()
}

/// The batches of the listed trainings of technicians that are not listed.
///
/// # Errors
/// What SQLite says.
pub fn trainings_of_nobody(connection: &Connection) -> rusqlite::Result<Vec<i64>> {
    connection
        .prepare(
            "SELECT DISTINCT imported_in FROM trainings WHERE listed IS NOT NULL \
             AND technician_id NOT IN \
             (SELECT technician_id FROM technicians WHERE listed IS NOT NULL)",
        )?
        .query_map([], |row| row.get(0))?
        .collect()
}

fn numbers<T: Copy + Into<i64>>(numbers: &[T]) -> String {
    let numbers: Vec<i64> = numbers.iter().map(|number| (*number).into()).collect();
    serde_json::Value::from(numbers).to_string()
}

//! Whether the file holds together.

use rusqlite::Connection;

/// How many faults are listed.
const AT_MOST: usize = 20;

/// What SQLite finds wrong with pages, tables and references; empty if nothing.
///
/// # Errors
/// What SQLite says.
pub fn check(connection: &Connection) -> rusqlite::Result<Vec<String>> {
    let mut wrong: Vec<String> = connection
        .prepare("PRAGMA integrity_check(20)")?
        .query_map([], |row| row.get(0))?
        .collect::<rusqlite::Result<_>>()?;
    wrong.retain(|line| line != "ok");
    let mut statement = connection.prepare("PRAGMA foreign_key_check")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        if wrong.len() == AT_MOST {
            break;
        }
        let (table, number): (String, Option<i64>) = (row.get(0)?, row.get(1)?);
        let parent: String = row.get(2)?;
        wrong.push(format!(
            "row {} of {table} refers to {parent} that is not there",
            number.unwrap_or_default()
        ));
    }
    Ok(wrong)
}

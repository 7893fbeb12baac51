//! Whether the file holds together.

use std::collections::BTreeMap;

use rusqlite::Connection;

/// How many faults are listed.
const AT_MOST: usize = 20;

/// What a table, index, trigger or view is, and what it is called.
pub type Named = (String, String);

/// Every table, index, trigger and view with the SQL that made it, white space made alike;
/// what SQLite makes for itself is left out.
///
/// # Errors
/// What SQLite says.
pub fn schema(connection: &Connection) -> rusqlite::Result<BTreeMap<Named, String>> {
    connection
        .prepare(
            "SELECT type, name, coalesce(sql, '') FROM sqlite_schema \
             WHERE name NOT LIKE 'sqlite\\_%' ESCAPE '\\'",
        )?
        .query_map([], |row| {
            let text: String = row.get(2)?;
            let words: Vec<&str> = text.split_whitespace().collect();
            Ok(((row.get(0)?, row.get(1)?), words.join(" ")))
        })?
        .collect()
}

/// What SQLite finds wrong with pages and tables; empty if nothing.
///
/// # Errors
/// What SQLite says.
pub fn pages(connection: &Connection) -> rusqlite::Result<Vec<String>> {
    let mut wrong: Vec<String> = connection
        .prepare("PRAGMA integrity_check(20)")?
        .query_map([], |row| row.get(0))?
        .collect::<rusqlite::Result<_>>()?;
    wrong.retain(|line| line != "ok");
    Ok(wrong)
}

/// Rows that refer to what is not there; empty if there is none.
///
/// # Errors
/// What SQLite says.
pub fn references(connection: &Connection) -> rusqlite::Result<Vec<String>> {
    let mut wrong = Vec::new();
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

//! Rows of imports that said what the programme held already.
//!
//! They are kept as runs of row numbers: a sheet that is taken in again as a whole is one
//! run, however long.

use rusqlite::Connection;

/// A run of row numbers, both ends included.
pub type Run = (i64, i64);

/// The numbers, in any order, as runs.
#[must_use]
pub fn runs(mut numbers: Vec<u32>) -> Vec<Run> {
    numbers.sort_unstable();
    let mut runs: Vec<Run> = Vec::new();
    for number in numbers.into_iter().map(i64::from) {
        match runs.last_mut() {
            Some((_, last)) if number <= *last + 1 => *last = number,
            _ => runs.push((number, number)),
        }
    }
    runs
}

/// Adds runs of one kind of sheet to an import. Where several sheets of a kind say the same
/// row again, it is kept once.
///
/// # Errors
/// What SQLite says.
pub fn add(
    connection: &Connection,
    import: i64,
    kind: &str,
    numbers: Vec<u32>,
) -> rusqlite::Result<()> {
    let mut insert = connection.prepare_cached("INSERT INTO said_again VALUES (?, ?, ?, ?)")?;
    for (first, last) in runs(numbers) {
        insert.execute((import, kind, first, last))?;
    }
    Ok(())
}

/// The runs of one kind that the imports that stand said again, the earliest import first.
///
/// # Errors
/// What SQLite says.
pub fn standing(connection: &Connection, kind: &str) -> rusqlite::Result<Vec<(i64, Run)>> {
    connection
        .prepare_cached(
            "SELECT import, first, last FROM said_again WHERE kind = ? \
             AND import NOT IN (SELECT takes_back FROM imports WHERE takes_back IS NOT NULL) \
             ORDER BY import, first",
        )?
        .query_map([kind], |row| Ok((row.get(0)?, (row.get(1)?, row.get(2)?))))?
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_become_runs() {
        assert_eq!(runs(vec![]), vec![]);
        assert_eq!(runs(vec![7, 1, 2, 3, 9, 8, 8]), vec![(1, 3), (7, 9)]);
    }
}

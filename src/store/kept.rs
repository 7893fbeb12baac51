//! Small tables whose rows are kept for good: a changed row moves its former state into a
//! table beside it.

use rusqlite::types::Value;
use rusqlite::{Connection, params_from_iter};

/// Such a table: `number`, `imported_in`, then these columns, then `kept_aside`.
#[derive(Clone, Copy, Debug)]
pub struct Table {
    /// Its name.
    pub name: &'static str,
    /// Its columns between `imported_in` and `kept_aside`.
    pub columns: &'static [&'static str],
}

impl Table {
    fn all_columns(self) -> impl Iterator<Item = &'static str> {
        ["imported_in"]
            .into_iter()
            .chain(self.columns.iter().copied())
            .chain(["kept_aside"])
    }

    /// Adds a row with the next number.
    ///
    /// # Errors
    /// What SQLite says.
    pub fn insert(
        self,
        connection: &Connection,
        import: i64,
        values: Vec<Value>,
    ) -> rusqlite::Result<()> {
        let columns: Vec<&str> = self.all_columns().collect();
        let marks = vec!["?"; columns.len()].join(", ");
        let sql = format!(
            "INSERT INTO {0} (number, {1}) VALUES ((SELECT coalesce(max(number), 0) + 1 FROM {0}), {marks})",
            self.name,
            columns.join(", ")
        );
        let values = [Value::Integer(import)].into_iter().chain(values);
        connection
            .prepare_cached(&sql)?
            .execute(params_from_iter(values))
            .map(|_| ())
    }

    /// Replaces the row of this number and keeps its former state.
    ///
    /// # Errors
    /// What SQLite says.
    pub fn replace(
        self,
        connection: &Connection,
        number: u32,
        import: i64,
        values: Vec<Value>,
    ) -> rusqlite::Result<()> {
        let columns: Vec<&str> = self.all_columns().collect();
        let list = columns.join(", ");
        let keep = format!(
            "INSERT INTO former_{0} (superseded_in, number, {list}) SELECT ?2, number, {list} FROM {0} WHERE number = ?1",
            self.name
        );
        connection
            .prepare_cached(&keep)?
            .execute((number, import))?;
        let marks = vec!["?"; columns.len()].join(", ");
        let sql = format!(
            "UPDATE {} SET ({list}) = ({marks}) WHERE number = ?",
            self.name
        );
        let values = [Value::Integer(import)]
            .into_iter()
            .chain(values)
            .chain([Value::Integer(i64::from(number))]);
        connection
            .prepare_cached(&sql)?
            .execute(params_from_iter(values))
            .map(|_| ())
    }

    /// The query for all rows: the columns, then `kept_aside`, in order of their numbers.
    #[must_use]
    pub fn select(self) -> String {
        format!(
            "SELECT {}, kept_aside FROM {} ORDER BY number",
            self.columns.join(", "),
            self.name
        )
    }
}

/// A stored text that this program can't read: the file was changed by other hands.
pub(super) fn unreadable(column: usize, what: &str) -> rusqlite::Error {
    rusqlite::Error::FromSqlConversionFailure(
        column,
        rusqlite::types::Type::Text,
        format!("can't read {what:?}").into(),
    )
}

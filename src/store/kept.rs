//! Small tables whose rows are kept for good: a changed row moves its former state into a
//! table beside it.

use rusqlite::types::Value;
use rusqlite::{Connection, OptionalExtension, params_from_iter};

/// Such a table: `number`, `imported_in`, then these columns, then `kept_aside`.
#[derive(Clone, Copy, Debug)]
pub struct Table {
    /// Its name.
    pub name: &'static str,
    /// Its columns between `imported_in` and `kept_aside`.
    pub columns: &'static [&'static str],
    /// How many of the first columns name a row.
    pub identity: usize,
}

impl Table {
    fn all_columns(self) -> impl Iterator<Item = &'static str> {
        ["imported_in"]
            .into_iter()
            .chain(self.columns.iter().copied())
            .chain(["kept_aside"])
    }

    /// Adds a row at the end of the list and gives its number. One that every batch that named
    /// it was taken back of comes back under its old number.
    ///
    /// # Errors
    /// What SQLite says.
    pub fn insert(
        self,
        connection: &Connection,
        import: i64,
        values: Vec<Value>,
    ) -> rusqlite::Result<u32> {
        let number = match self.unlisted(connection, &values)? {
            Some(number) => {
                self.replace(connection, number, import, values)?;
                number
            }
            None => self.insert_new(connection, import, values)?,
        };
        let sql = format!(
            "UPDATE {0} SET listed = (SELECT coalesce(max(listed), 0) + 1 FROM {0}) WHERE number = ?",
            self.name
        );
        connection.prepare_cached(&sql)?.execute([number])?;
        Ok(number)
    }

    fn insert_new(
        self,
        connection: &Connection,
        import: i64,
        values: Vec<Value>,
    ) -> rusqlite::Result<u32> {
        let columns: Vec<&str> = self.all_columns().collect();
        let marks = vec!["?"; columns.len()].join(", ");
        let sql = format!(
            "INSERT INTO {0} (number, {1}) VALUES ((SELECT coalesce(max(number), 0) + 1 FROM {0}), {marks}) RETURNING number",
            self.name,
            columns.join(", ")
        );
        let values = [Value::Integer(import)].into_iter().chain(values);
        connection
            .prepare_cached(&sql)?
            .query_row(params_from_iter(values), |row| row.get(0))
    }

    /// The number of the row of this identity that is not listed, if there is one.
    fn unlisted(self, connection: &Connection, values: &[Value]) -> rusqlite::Result<Option<u32>> {
        let identity = &self.columns[..self.identity];
        let same: Vec<String> = identity.iter().map(|name| format!("{name} = ?")).collect();
        let sql = format!(
            "SELECT number FROM {} WHERE {} AND listed IS NULL",
            self.name,
            same.join(" AND ")
        );
        connection
            .prepare_cached(&sql)?
            .query_row(params_from_iter(&values[..self.identity]), |row| row.get(0))
            .optional()
    }

    /// The numbers of the listed rows, in the order of the list.
    ///
    /// # Errors
    /// What SQLite says.
    pub fn numbers(self, connection: &Connection) -> rusqlite::Result<Vec<u32>> {
        connection
            .prepare_cached(&format!(
                "SELECT number FROM {} WHERE listed IS NOT NULL ORDER BY listed",
                self.name
            ))?
            .query_map([], |row| row.get(0))?
            .collect()
    }

    /// The first column of every row, listed or not, in order of their numbers.
    ///
    /// # Errors
    /// What SQLite says.
    pub fn names_by_number(self, connection: &Connection) -> rusqlite::Result<Vec<String>> {
        connection
            .prepare_cached(&format!(
                "SELECT {} FROM {} ORDER BY number",
                self.columns[0], self.name
            ))?
            .query_map([], |row| row.get(0))?
            .collect()
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

    /// The query for the listed rows: the columns, then `kept_aside`, in the order of the list.
    #[must_use]
    pub fn select(self) -> String {
        format!(
            "SELECT {}, kept_aside FROM {} WHERE listed IS NOT NULL ORDER BY listed",
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

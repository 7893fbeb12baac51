//! The programme file: the only place that speaks SQL.
//!
//! Nothing here decides what a row means or when it is taken; rows of the model go in and
//! come out as they were.

pub mod bytes;
pub mod columns;
pub mod covered;
pub mod draws;
pub mod error;
pub mod file;
pub mod held;
pub mod holder;
pub mod imports;
pub mod integrity;
pub mod kept;
pub mod keys;
pub mod migrations;
pub mod people;
pub mod points;
pub mod refused;
pub mod rulebooks;
pub mod said;
pub mod take_back;
pub mod trail;

pub use error::Error;
pub use file::Store;

/// A number the file counts with, as SQLite keeps it.
pub(crate) fn count(value: u64) -> i64 {
    i64::try_from(value).unwrap_or(i64::MAX)
}

/// What calls of this floor return before [`Store::error`] says what it means for the file.
pub type SqlResult<T> = rusqlite::Result<T>;

/// A connection to a programme file, as calls of this floor take it.
pub type Connection = rusqlite::Connection;

/// A value of any type that a table holds.
pub type Value = rusqlite::types::Value;

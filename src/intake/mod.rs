//! Sheets in: from the bytes of a CSV file to rows of the model, refusals and remarks.
//!
//! Reading keeps no records: what is taken, what is a change and where it is stored is
//! decided above.

pub mod as_text;
pub mod cell;
pub mod columns;
pub mod digest;
pub mod draws;
pub mod error;
pub mod files;
pub mod maps;
pub mod mended;
pub mod people;
pub mod points;
pub mod refusal;
pub mod rejects;
pub mod row;
pub mod sheet;
pub mod table;
pub mod verification;
pub mod when;

pub use columns::SheetKind;
pub use digest::Digest;
pub use draws::{Draws, Known};
pub use error::Error;
pub use files::{Found, find, left_aside};
pub use maps::ColumnMap;
pub use mended::RefusedRow;
pub use refusal::Refusal;
pub use rejects::Rejects;
pub use row::Kept;
pub use sheet::{Opened, Sheet};
pub use table::{Format, How, ReadAs, Table};

//! The small tables of an import, row by row as bytes: what the trail answers for.
//!
//! A row is spelt as its values one after the other, each with a letter for its type
//! before it: `n` nothing, `i` a whole number (8 bytes, little-endian), `r` a number (the 8
//! bytes of its IEEE 754 form, little-endian), `t` a text and `b` bytes (each after its
//! length as 8 bytes, little-endian).

use rusqlite::Connection;
use rusqlite::types::ValueRef;

use super::kept::Table;
use super::{people, points};

/// A table whose rows an import brings.
#[derive(Clone, Copy, Debug)]
pub struct Part {
    /// Its name.
    pub table: &'static str,
    kind: Kind,
}

#[derive(Clone, Copy, Debug)]
enum Kind {
    /// Rows that are kept for good, with their former states beside them.
    Kept(Table),
    /// These columns, of which the first is the number of the import.
    Plain(&'static str),
}

/// Every table but that of the draws.
pub const PARTS: &[Part] = &[
    Part {
        table: "imports",
        kind: Kind::Plain("import, taken_at, program, zone, who, rulebook, takes_back, because"),
    },
    Part {
        table: "import_sheets",
        kind: Kind::Plain(
            "import, place, sheet, kind, taken, unchanged, changed, refused_rows, \
             refused_values, remarks, bytes, sha256, how_read, map, header",
        ),
    },
    Part {
        table: "refusals",
        kind: Kind::Plain("import, place, line, \"column\", value, reason, whole_row"),
    },
    Part {
        table: "refused_rows",
        kind: Kind::Plain("import, place, line, cells"),
    },
    Part {
        table: "mended",
        kind: Kind::Plain("mended_in, import, place, line"),
    },
    Part {
        table: "said_again",
        kind: Kind::Plain("import, kind, first, last"),
    },
    Part {
        table: points::TABLE.name,
        kind: Kind::Kept(points::TABLE),
    },
    Part {
        table: people::TECHNICIANS.name,
        kind: Kind::Kept(people::TECHNICIANS),
    },
    Part {
        table: people::TRAININGS.name,
        kind: Kind::Kept(people::TRAININGS),
    },
];

/// Hands over the rows that an import (every one, where none is named) brought into a table,
/// each with the number of its import, in no certain order. Of tables that keep former
/// states these are the rows it brought, whatever became of them, and those it superseded.
///
/// # Errors
/// What SQLite says.
pub fn each_row(
    connection: &Connection,
    part: Part,
    import: Option<i64>,
    each: &mut dyn FnMut(i64, &[u8]),
) -> rusqlite::Result<()> {
    let queries = match part.kind {
        Kind::Plain(columns) => {
            let key = columns.split(',').next().unwrap_or_default();
            vec![format!(
                "SELECT {columns} FROM {} WHERE ?1 IS NULL OR {key} = ?1",
                part.table
            )]
        }
        Kind::Kept(table) => {
            let columns = table.columns.join(", ");
            let brought = |name: &str| {
                format!(
                    "SELECT imported_in, number, {columns}, kept_aside FROM {name} \
                     WHERE ?1 IS NULL OR imported_in = ?1"
                )
            };
            let former = format!("former_{}", table.name);
            vec![
                brought(table.name),
                brought(&former),
                format!(
                    "SELECT superseded_in, number, imported_in FROM {former} \
                     WHERE ?1 IS NULL OR superseded_in = ?1"
                ),
            ]
        }
    };
    let mut spelt = Vec::new();
    for query in queries {
        let mut statement = connection.prepare(&query)?;
        let columns = statement.column_count();
        let mut rows = statement.query([import])?;
        while let Some(row) = rows.next()? {
            spelt.clear();
            for column in 0..columns {
                spell(row.get_ref(column)?, &mut spelt);
            }
            each(row.get(0)?, &spelt);
        }
    }
    Ok(())
}

fn spell(value: ValueRef<'_>, into: &mut Vec<u8>) {
    let mut long = |mark: u8, bytes: &[u8]| {
        into.push(mark);
        into.extend_from_slice(&(bytes.len() as u64).to_le_bytes());
        into.extend_from_slice(bytes);
    };
    match value {
        ValueRef::Text(text) => long(b't', text),
        ValueRef::Blob(bytes) => long(b'b', bytes),
        ValueRef::Null => into.push(b'n'),
        ValueRef::Integer(number) => {
            into.push(b'i');
            into.extend_from_slice(&number.to_le_bytes());
        }
        ValueRef::Real(number) => {
            into.push(b'r');
            into.extend_from_slice(&number.to_bits().to_le_bytes());
        }
    }
}

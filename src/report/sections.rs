//! A report of several parts as one JSON object.

use std::io::{self, Write};

use super::{Cell, Column, Place, json};

/// One part of such a report.
pub enum Section<'a> {
    /// One object.
    One(&'static [Column], Vec<Cell<'a>>),
    /// A list of objects.
    Many(&'static [Column], Vec<Vec<Cell<'a>>>),
}

/// Writes the parts, each under its name.
///
/// # Errors
/// What the output returns.
pub fn write_json(out: &mut dyn Write, sections: &[(&str, Section<'_>)]) -> io::Result<()> {
    for (place, (name, section)) in sections.iter().enumerate() {
        write!(out, "{}\"{name}\": ", if place == 0 { "{" } else { ",\n" })?;
        match section {
            Section::One(columns, cells) => fields(out, columns, cells)?,
            Section::Many(columns, rows) => {
                out.write_all(b"[")?;
                for (place, cells) in rows.iter().enumerate() {
                    out.write_all(if place == 0 { b"\n" } else { b",\n" })?;
                    fields(out, columns, cells)?;
                }
                out.write_all(b"\n]")?;
            }
        }
    }
    out.write_all(b"}\n")
}

fn fields(out: &mut dyn Write, columns: &[Column], cells: &[Cell<'_>]) -> io::Result<()> {
    let shown = columns.iter().zip(cells);
    let shown = shown.filter(|(column, _)| column.place != Place::TableOnly);
    json::object(out, shown.map(|(column, cell)| (column.name, cell)))
}

//! JSON: an array, one object a line.

use std::io::{self, Write};

use super::{Cell, Column, Place, Writer, two_decimals};
use crate::model::printable::printable;
use crate::model::time::utc_text;

/// Writes rows as the objects of one array.
pub struct JsonWriter<'w> {
    columns: &'static [Column],
    out: &'w mut dyn Write,
    first: bool,
}

impl<'w> JsonWriter<'w> {
    /// Opens the array.
    pub fn new(columns: &'static [Column], out: &'w mut dyn Write) -> io::Result<Self> {
        out.write_all(b"[")?;
        Ok(JsonWriter {
            columns,
            out,
            first: true,
        })
    }
}

impl Writer for JsonWriter<'_> {
    fn row(&mut self, cells: &[Cell<'_>]) -> io::Result<()> {
        self.out
            .write_all(if self.first { b"\n" } else { b",\n" })?;
        self.first = false;
        row(self.columns, cells, self.out)
    }

    fn finish(self: Box<Self>) -> io::Result<()> {
        self.out
            .write_all(if self.first { b"]\n" } else { b"\n]\n" })
    }
}

/// One row as an object.
pub(super) fn row(columns: &[Column], cells: &[Cell<'_>], out: &mut dyn Write) -> io::Result<()> {
    let shown = columns.iter().zip(cells);
    let shown = shown.filter(|(column, _)| column.place != Place::TableOnly);
    object(out, shown.map(|(column, cell)| (column.name, cell)))
}

/// One object.
pub(super) fn object<'c>(
    out: &mut dyn Write,
    fields: impl Iterator<Item = (&'c str, &'c Cell<'c>)>,
) -> io::Result<()> {
    out.write_all(b"{")?;
    for (place, (name, cell)) in fields.enumerate() {
        if place > 0 {
            out.write_all(b", ")?;
        }
        string(out, name)?;
        out.write_all(b": ")?;
        value(out, cell)?;
    }
    out.write_all(b"}")
}

fn value(out: &mut dyn Write, cell: &Cell<'_>) -> io::Result<()> {
    match cell {
        Cell::Blank => out.write_all(b"null"),
        Cell::Text(text) => string(out, text),
        Cell::Exact(text) => string(out, text),
        Cell::Count(count) => write!(out, "{count}"),
        Cell::Quantity(number) | Cell::Rounded(number, _) | Cell::Part(number) => {
            Ok(serde_json::to_writer(out, number)?)
        }
        Cell::Score(score) => out.write_all(two_decimals(*score).as_bytes()),
        Cell::YesNo(yes) => write!(out, "{yes}"),
        Cell::Time(at) => string(out, &utc_text(*at)),
        Cell::Day(day) => string(out, &day.to_string()),
        Cell::Verdict(verdict) => string(out, verdict.as_str()),
        Cell::List(items) => {
            out.write_all(b"[")?;
            for (place, item) in items.iter().enumerate() {
                if place > 0 {
                    out.write_all(b", ")?;
                }
                string(out, item)?;
            }
            out.write_all(b"]")
        }
        Cell::Items(items) => {
            out.write_all(b"[")?;
            for (place, item) in items.iter().enumerate() {
                if place > 0 {
                    out.write_all(b", ")?;
                }
                value(out, item)?;
            }
            out.write_all(b"]")
        }
        Cell::Fields(fields) => object(out, fields.iter().map(|(name, cell)| (*name, cell))),
    }
}

/// A JSON string. Characters that could move a terminal's cursor or reorder its text are
/// escaped, which a reader turns back into the very same text.
fn string(out: &mut dyn Write, text: &str) -> io::Result<()> {
    let is_plain = |byte: u8| (b' '..0x7f).contains(&byte) && byte != b'"' && byte != b'\\';
    if text.bytes().all(is_plain) {
        out.write_all(b"\"")?;
        out.write_all(text.as_bytes())?;
        return out.write_all(b"\"");
    }
    let written = serde_json::to_string(text)?;
    if matches!(printable(&written), std::borrow::Cow::Borrowed(_)) {
        return out.write_all(written.as_bytes());
    }
    let mut units = [0; 2];
    for c in written.chars() {
        if matches!(
            printable(c.encode_utf8(&mut [0; 4])),
            std::borrow::Cow::Borrowed(_)
        ) {
            write!(out, "{c}")?;
        } else {
            for unit in c.encode_utf16(&mut units) {
                write!(out, "\\u{unit:04x}")?;
            }
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::report::{Format, Holds, Look, writer};

    const COLUMNS: &[Column] = &[Column {
        name: "id",
        title: "",
        meaning: "",
        holds: Holds::Words,
        place: Place::Everywhere,
        spare: 0,
    }];

    fn written(rows: &[Cell<'_>]) -> String {
        let mut out = Vec::new();
        let mut json = writer(Format::Json, COLUMNS, Look::file(), &mut out).unwrap();
        for cell in rows {
            json.row(std::slice::from_ref(cell)).unwrap();
        }
        json.finish().unwrap();
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn no_rows_make_an_empty_array() {
        assert_eq!(written(&[]), "[]\n");
    }

    #[test]
    fn hidden_characters_are_escaped_and_read_back() {
        let hostile = "a\u{1b}[31m\u{9b}\u{202e}\"\\\u{e0041}";
        let text = written(&[Cell::text(hostile)]);
        assert!(
            text.chars()
                .all(|c| c == '\n' || !printable(&c.to_string()).contains('\u{fffd}'))
        );
        let read: serde_json::Value = serde_json::from_str(&text).unwrap();
        assert_eq!(read[0]["id"], hostile);
    }

    #[test]
    fn values_take_their_json_form() {
        let text = written(&[
            Cell::Blank,
            Cell::Score(200.0 / 3.0),
            Cell::List(vec!["flush-met", "fill-level"]),
            Cell::Fields(vec![
                ("outcome", Cell::text("met")),
                ("weight", Cell::Count(4)),
            ]),
        ]);
        let read: serde_json::Value = serde_json::from_str(&text).unwrap();
        assert!(read[0]["id"].is_null());
        assert_eq!(read[1]["id"], 66.67);
        assert_eq!(read[2]["id"][1], "fill-level");
        assert_eq!(read[3]["id"]["weight"], 4);
    }
}

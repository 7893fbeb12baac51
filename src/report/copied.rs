//! Rows as they are copied from a screen: the columns and words of a table, made harmless as
//! in CSV, for a spreadsheet may be where they are pasted.

use super::{Cell, Column, Place, table};
use crate::model::formula::harmless;

/// The headings of the columns that a table shows.
#[must_use]
pub fn headings(columns: &[Column]) -> Vec<String> {
    let shown = columns.iter().filter(|column| is_shown(column));
    shown.map(|column| column.title.to_owned()).collect()
}

/// The cells of a row that a table shows.
#[must_use]
pub fn shown<'a>(columns: &[Column], cells: Vec<Cell<'a>>) -> Vec<Cell<'a>> {
    let both = columns.iter().zip(cells);
    let shown = both.filter(|(column, _)| is_shown(column));
    shown.map(|(_, cell)| cell).collect()
}

fn is_shown(column: &Column) -> bool {
    !column.title.is_empty() && column.place != Place::JsonOnly
}

/// A cell in the words of a table, without control characters; a text that a spreadsheet would
/// run as a formula has an apostrophe in front.
#[must_use]
pub fn words(cell: &Cell<'_>) -> String {
    let words = table::words(cell);
    match cell {
        Cell::Text(_) => harmless(&words).into_owned(),
        _ => words,
    }
}

/// Rows as lines of cells with tabs between them.
#[must_use]
pub fn line(cells: &[Cell<'_>]) -> String {
    let cells: Vec<String> = cells.iter().map(words).collect();
    cells.join("\t")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::share_rows::SHARE;

    #[test]
    fn a_line_has_as_many_tabs_as_it_needs_and_no_control_character() {
        let cells = [
            Cell::text("=SUM(A1)"),
            Cell::text("a\tb\nc\u{1b}[2J"),
            Cell::Rounded(-2.44, 1),
            Cell::Part(0.4123),
            Cell::Blank,
            Cell::text("\t=1"),
        ];
        assert_eq!(
            line(&cells),
            "'=SUM(A1)\ta\u{fffd}b\u{fffd}c\u{fffd}[2J\t-2.4\t41.2 %\t\t\u{fffd}=1"
        );
    }

    #[test]
    fn what_a_table_leaves_out_is_left_out() {
        assert_eq!(headings(SHARE)[..3], ["group", "draws", "judged"]);
        let cells = vec![Cell::Blank; SHARE.len()];
        assert_eq!(shown(SHARE, cells).len(), headings(SHARE).len());
    }
}

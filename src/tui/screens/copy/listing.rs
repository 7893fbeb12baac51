//! The list that the keys act on, as rows of cells under headings.

use crate::report::{Cell, Column, copied};

/// The list of a place.
pub(super) struct Listing<'a> {
    /// What stands above each cell.
    pub(super) headings: Vec<String>,
    /// How many rows it has.
    pub(super) len: usize,
    /// The chosen row.
    pub(super) chosen: usize,
    /// The cell that is chosen at first.
    pub(super) first_cell: usize,
    /// The cells of a row.
    pub(super) row: Box<dyn Fn(usize) -> Vec<Cell<'a>> + 'a>,
}

impl<'a> Listing<'a> {
    /// Rows under these headings, with blanks between words.
    pub(super) fn new(
        headings: &[&str],
        (len, chosen): (usize, usize),
        row: impl Fn(usize) -> Vec<Cell<'a>> + 'a,
    ) -> Self {
        Listing {
            headings: headings.iter().map(|it| (*it).to_owned()).collect(),
            len,
            chosen,
            first_cell: 0,
            row: Box::new(row),
        }
    }

    /// Rows of a report, with the columns that a table shows.
    pub(super) fn of_report(
        columns: &'static [Column],
        (len, chosen): (usize, usize),
        row: impl Fn(usize) -> Vec<Cell<'a>> + 'a,
    ) -> Self {
        Listing {
            headings: copied::headings(columns),
            len,
            chosen,
            first_cell: 0,
            row: Box::new(move |at| copied::shown(columns, row(at))),
        }
    }

    /// The chosen row.
    pub(super) fn chosen_row(&self) -> Option<Vec<Cell<'a>>> {
        (self.chosen < self.len).then(|| (self.row)(self.chosen))
    }

    /// The headings as a line of cells with tabs between them.
    pub(super) fn heading_line(&self) -> String {
        let cells: Vec<Cell<'_>> = self.headings.iter().map(Cell::text).collect();
        copied::line(&cells)
    }
}

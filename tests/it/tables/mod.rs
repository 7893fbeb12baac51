//! Tables of every format: what is read from files that other programs wrote, what is found
//! out about them, and that nothing is lost where they are damaged.

mod broken;
mod damage;
mod imported;
mod others;
mod random;

use std::path::Path;

use fairdraw::intake::table::{Next, ReadAs, Table, Wanted};
use fairdraw::intake::{Refusal, SheetKind};

/// The names of the columns of draws.
fn wanted() -> Wanted {
    Wanted::of(SheetKind::Draws)
}

/// Everything that is read from a table.
struct Read {
    table: Table,
    /// Number and texts of every row.
    rows: Vec<(u64, Vec<String>)>,
    refusals: Vec<Refusal>,
}

impl Read {
    fn file(path: &Path, read_as: &ReadAs) -> Read {
        Read::table(Table::open(path, read_as, &wanted()).unwrap())
    }

    fn table(mut table: Table) -> Read {
        let (mut rows, mut refusals) = (Vec::new(), Vec::new());
        loop {
            match table.next_row().unwrap() {
                Next::Row => rows.push((table.line(), table.cells().all_as_text())),
                Next::Refused(refusal) => refusals.push(refusal),
                Next::End => break,
            }
        }
        Read {
            table,
            rows,
            refusals,
        }
    }

    /// The texts alone, rows filled up to the width of the header.
    fn texts(&self) -> Vec<Vec<String>> {
        let width = self.table.names().len();
        let filled = |(_, row): &(u64, Vec<String>)| {
            let mut row = row.clone();
            row.resize(width, String::new());
            row
        };
        self.rows.iter().map(filled).collect()
    }

    fn numbers(&self) -> Vec<u64> {
        self.rows.iter().map(|(number, _)| *number).collect()
    }
}

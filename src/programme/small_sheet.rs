//! A sheet of points, technicians or trainings: few rows, each compared with the one it
//! would take the place of.

use rustc_hash::FxHashSet;

use super::lists::{List, Standing};
use super::refused::Refused;
use super::report::SheetReport;
use super::{Error, Programme};
use crate::intake::{self, Kept, Refusal};
use crate::model::Progress;
use crate::store::kept::Table;

/// The taking in of one small sheet.
pub(super) struct Small<'a, 'p, T> {
    pub(super) programme: &'p Programme,
    pub(super) import: i64,
    pub(super) place: usize,
    pub(super) progress: &'a Progress,
    pub(super) table: Table,
    pub(super) values: fn(&T, &str) -> Vec<crate::store::Value>,
    pub(super) report: &'a mut SheetReport,
    pub(super) refused: &'a mut Refused<'p>,
}

/// The next row of a sheet with its line, and how many bytes were read.
pub(super) type NextRow<T> = Result<(Option<(u64, Kept<T>)>, u64), intake::Error>;

impl<T: PartialEq> Small<'_, '_, T> {
    pub(super) fn take(
        &mut self,
        list: &mut List<T>,
        identity: fn(&T) -> String,
        next: &mut dyn FnMut(&mut Vec<Refusal>) -> NextRow<T>,
        on_change: &mut dyn FnMut(Option<&T>, &T),
    ) -> Result<(), Error> {
        let connection = self.programme.store.connection();
        let (mut seen, mut refusals, mut reported) = (FxHashSet::default(), Vec::new(), 0);
        loop {
            let (row, read) = next(&mut refusals)?;
            self.progress.advance(read - reported);
            reported = read;
            if self.progress.is_stopped() {
                return Err(Error::Stopped);
            }
            let Some((line, row)) = row else { break };
            let identity = identity(&row.row);
            if !seen.insert(identity.clone()) {
                Refusal::second_row(&mut refusals, line, &identity.replace('\n', " "));
            } else {
                let standing = list.standing(&identity, &row);
                let values = || (self.values)(&row.row, &row.kept_aside);
                match standing {
                    Standing::Unchanged => self.report.unchanged += 1,
                    Standing::New => {
                        let added = self.table.insert(connection, self.import, values());
                        self.programme.sql(added)?;
                        on_change(None, &row.row);
                        self.report.taken += 1;
                    }
                    Standing::Changed(place) => {
                        let number = place + 1;
                        let replaced =
                            self.table
                                .replace(connection, number, self.import, values());
                        self.programme.sql(replaced)?;
                        on_change(Some(&list.rows[place as usize].row), &row.row);
                        self.report.changed += 1;
                    }
                }
                list.put(identity, row, standing);
            }
            self.refused.take(self.place, self.report, &mut refusals)?;
        }
        self.refused.take(self.place, self.report, &mut refusals)
    }
}

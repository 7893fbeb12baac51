//! A sheet of points, technicians or trainings: few rows, each compared with the one it
//! would take the place of.

use rustc_hash::FxHashSet;

use super::lists::{List, Standing};
use super::refused::Refused;
use super::report::SheetReport;
use super::{Error, Programme};
use crate::intake::{self, Kept, Refusal, Sheet};
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
    /// Numbers of the rows that said what the programme held.
    pub(super) said_again: &'a mut Vec<u32>,
}

/// A row of a sheet with the line it begins on.
pub(super) type Lined<T> = Option<(u64, Kept<T>)>;

/// Reads the next good row of a sheet.
pub(super) type Next<'a, T> =
    &'a dyn Fn(&mut Sheet, &mut Vec<Refusal>) -> Result<Lined<T>, intake::Error>;

impl<T: PartialEq> Small<'_, '_, T> {
    pub(super) fn take(
        &mut self,
        sheet: &mut Sheet,
        list: &mut List<T>,
        identity: fn(&T) -> String,
        next: Next<'_, T>,
        on_change: &mut dyn FnMut(Option<&T>, &T),
    ) -> Result<(), Error> {
        let (mut seen, mut refusals, mut reported) = (FxHashSet::default(), Vec::new(), 0);
        loop {
            let row = next(sheet, &mut refusals)?;
            let read = sheet.bytes_read();
            self.progress.advance(read - reported);
            reported = read;
            if self.progress.is_stopped() {
                return Err(Error::Stopped);
            }
            let ended = row.is_none();
            if let Some((line, row)) = row {
                let identity = identity(&row.row);
                if seen.insert(identity.clone()) {
                    if let Some(origin) = sheet.origin() {
                        self.refused.mend(self.report, origin)?;
                    }
                    let same = self.put(list, identity, row, on_change)?;
                    self.said_again.extend(same);
                } else {
                    Refusal::second_row(&mut refusals, line, &identity.replace('\n', " "));
                    sheet.keep_row();
                }
            }
            let rows = sheet.take_refused_rows();
            self.refused
                .take(self.place, self.report, &mut refusals, rows)?;
            if ended {
                break;
            }
        }
        Ok(())
    }

    /// Stores a row unless the programme holds it; then gives its number.
    fn put(
        &mut self,
        list: &mut List<T>,
        identity: String,
        row: Kept<T>,
        on_change: &mut dyn FnMut(Option<&T>, &T),
    ) -> Result<Option<u32>, Error> {
        let connection = self.programme.store.connection();
        let values = || (self.values)(&row.row, &row.kept_aside);
        match list.standing(&identity, &row) {
            Standing::Unchanged(place) => {
                self.report.unchanged += 1;
                return Ok(Some(list.numbers[place as usize]));
            }
            Standing::New => {
                let added = self.table.insert(connection, self.import, values());
                let number = self.programme.sql(added)?;
                on_change(None, &row.row);
                self.report.taken += 1;
                list.push(identity, row, number);
            }
            Standing::Changed(place) => {
                let place = place as usize;
                let number = list.numbers[place];
                let replaced = self
                    .table
                    .replace(connection, number, self.import, values());
                self.programme.sql(replaced)?;
                on_change(Some(&list.rows[place].row), &row.row);
                self.report.changed += 1;
                list.rows[place] = row;
            }
        }
        Ok(None)
    }
}

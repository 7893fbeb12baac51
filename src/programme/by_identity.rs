//! Draws found by what they are called.

use rustc_hash::FxHashMap;

use super::verdicts::ledger_of_rows;
use super::{Error, Programme, hashes};
use crate::analysis::Assessed;
use crate::store::columns::{self, FORMAT};
use crate::store::draws;

impl Programme {
    /// The rows of the assessed programme that hold the draws of these identities, in their
    /// order; none where there is no such draw.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn rows_of(
        &self,
        assessed: &Assessed,
        identities: &[&str],
    ) -> Result<Vec<Option<u32>>, Error> {
        if identities.is_empty() {
            return Ok(Vec::new());
        }
        let (record, hash) = self.identities()?;
        let mut wanted: FxHashMap<u128, Option<u32>> = identities
            .iter()
            .map(|identity| (hashes::identity(identity), None))
            .collect();
        for (record, hash) in record.iter().zip(&hash) {
            if let Some(found) = wanted.get_mut(hash) {
                *found = Some(*record);
            }
        }
        let mut row_of: FxHashMap<u32, u32> = FxHashMap::default();
        row_of.extend(wanted.values().flatten().map(|record| (*record, u32::MAX)));
        for (row, record) in (0..).zip(&assessed.judged.record) {
            if let Some(found) = row_of.get_mut(record) {
                *found = row;
            }
        }
        let row = |identity: &&str| {
            let record = wanted[&hashes::identity(identity)]?;
            row_of.get(&record).copied().filter(|row| *row != u32::MAX)
        };
        Ok(identities.iter().map(row).collect())
    }

    /// The record numbers of the live draws with the hashes of their identities.
    fn identities(&self) -> Result<(Vec<u32>, Vec<u128>), Error> {
        let connection = self.store.connection();
        if let Some(head) = self.sql(columns::head(connection))?
            && head.format == FORMAT
        {
            let record = self.sql(columns::read(connection, "record", head.draws))?;
            let hash = self.sql(columns::read(connection, "identity", head.draws))?;
            if let (Some(record), Some(hash)) = (record, hash) {
                return Ok((record, hash));
            }
        }
        let last_record = self.sql(draws::last_record(connection))?;
        let ledger = ledger_of_rows(self, last_record)?;
        Ok((ledger.record, ledger.identity))
    }
}

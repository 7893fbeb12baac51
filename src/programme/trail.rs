//! Decisions that people make on a programme, kept in its trail.

use super::{Error, Programme};
use crate::model::trail::{Decided, Link, Who};
use crate::store::{self, Connection};

impl Programme {
    /// Adds a decision to the trail and gives the number of its link.
    ///
    /// # Errors
    /// A store that can't be written.
    pub fn decide<D: Decided>(&mut self, who: &Who, decision: &D) -> Result<i64, Error> {
        let transaction = self.store.begin()?;
        let number = self.append(&transaction, who, decision)?;
        self.sql(transaction.commit())?;
        Ok(number)
    }

    /// Every decision, the first first.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn trail(&self) -> Result<Vec<Link>, Error> {
        self.sql(store::trail::all(self.store.connection()))
    }

    /// Adds a decision within a transaction under way: what was decided and what it did are
    /// stored together or not at all.
    pub(super) fn append<D: Decided>(
        &self,
        transaction: &Connection,
        who: &Who,
        decision: &D,
    ) -> Result<i64, Error> {
        let last = self.sql(store::trail::last(transaction))?;
        let link = Link::after(last.as_ref(), self.now(), who, decision)
            .map_err(|error| Error::Output(error.into()))?;
        self.sql(store::trail::append(transaction, &link))?;
        Ok(link.number)
    }
}

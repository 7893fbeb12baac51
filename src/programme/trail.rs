//! Decisions that people make on a programme, kept in its trail.

use super::{Error, Programme};
use crate::model::trail::{Decided, Link, Who};
use crate::store::{self, Connection};

/// The most characters a text of a decision may have.
const TEXT_LIMIT: usize = 2000;

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

    /// Adds a decision that depends on those before it. Nobody else decides meanwhile.
    pub(super) fn decide_upon<D: Decided>(
        &mut self,
        who: &Who,
        make: impl FnOnce(&[Link]) -> Result<D, Error>,
    ) -> Result<(i64, D), Error> {
        let transaction = self.store.begin()?;
        let decision = make(&self.trail()?)?;
        let number = self.append(&transaction, who, &decision)?;
        self.sql(transaction.commit())?;
        Ok((number, decision))
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
        // What can't be read back would be lost for good.
        if link.decision::<D>().is_none() {
            return Err(Error::undecided(format!(
                "{}: the decision can't be kept; nothing was changed",
                D::KIND
            )));
        }
        self.sql(store::trail::append(transaction, &link))?;
        Ok(link.number)
    }
}

/// Whether a text can go into a decision: at most 2,000 characters, none of them a control
/// character, and not blank unless it may be.
pub(super) fn writable(what: &str, text: &str, may_be_blank: bool) -> Result<(), Error> {
    if text.trim().is_empty() && !may_be_blank {
        return Err(Error::undecided(format!("{what} is blank")));
    }
    if text.chars().count() > TEXT_LIMIT {
        return Err(Error::undecided(format!(
            "{what} has more than {TEXT_LIMIT} characters"
        )));
    }
    if text.chars().any(char::is_control) {
        return Err(Error::undecided(format!(
            "{what} has a line break or another control character; write it in one line"
        )));
    }
    Ok(())
}

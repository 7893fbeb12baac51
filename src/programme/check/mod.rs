//! What is wrong with a programme file: its pages and tables, the trail, what the trail
//! answers for, the verdicts.
//!
//! Each look is made by itself, so that a table that is gone does not hide what else is wrong.

mod chain;
mod covered;
mod decided;
mod judged;
mod ledger;
mod schema;
mod states;

use super::{Error, Programme};
use crate::store::integrity;

/// The most faults of one kind that are told one by one.
const TOLD: usize = 3;

impl Programme {
    /// What is wrong with the file; empty if it is sound.
    ///
    /// # Errors
    /// A file that can't be read at all.
    pub fn check(&self) -> Result<Vec<String>, Error> {
        self.check_against(None)
    }

    /// The same, and whether the trail still holds a link of this hash, noted elsewhere
    /// when it was the head.
    ///
    /// # Errors
    /// A file that can't be read at all.
    pub fn check_against(&self, head: Option<&str>) -> Result<Vec<String>, Error> {
        let _reading = self.store.begin_reading()?;
        let connection = self.store.connection();
        let mut wrong = self.sql(integrity::pages(connection))?;
        if !wrong.is_empty() {
            // What the tables hold says nothing where their pages are broken.
            return Ok(wrong);
        }
        match self.sql(integrity::references(connection)) {
            Ok(found) => wrong.extend(found),
            Err(error) => wrong.push(error.to_string()),
        }
        type Look = fn(&Programme, &mut Vec<String>) -> Result<(), Error>;
        let looks: [Look; 7] = [
            schema::check,
            chain::check,
            decided::check,
            ledger::check,
            states::check,
            covered::check,
            judged::check,
        ];
        let mut errors = Vec::new();
        for look in looks {
            if let Err(error) = look(self, &mut wrong) {
                errors.push(error.to_string());
            }
        }
        if let Some(head) = head
            && let Ok(links) = self.trail()
            && !links.iter().any(|link| link.hash == head)
        {
            wrong.push(format!(
                "the trail has no link of hash {head}, which was its head once: links were \
                 changed or left out since"
            ));
        }
        // What could not be looked at is often told already, and alike by several looks.
        errors.dedup();
        wrong.extend(errors);
        Ok(wrong)
    }
}

/// The first few, joined, and how many there are beside.
fn first_few(names: &[String]) -> String {
    let told = names.iter().take(TOLD).cloned().collect::<Vec<_>>();
    let told = told.join(", ");
    match names.len().saturating_sub(TOLD) {
        0 => told,
        more => format!("{told} and {more} more"),
    }
}

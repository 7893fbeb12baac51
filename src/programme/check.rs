//! What is wrong with a programme file.

use super::judging;
use super::lists::Lists;
use super::verdicts::{self, stamp};
use super::{Error, Programme, rulebook};
use crate::model::{Judged, Progress};
use crate::store::columns::{self, FORMAT};
use crate::store::{draws, integrity};

impl Programme {
    /// What is wrong with the file; empty if it is sound.
    ///
    /// # Errors
    /// A file that can't be read at all.
    pub fn check(&self) -> Result<Vec<String>, Error> {
        let _reading = self.store.begin_reading()?;
        let connection = self.store.connection();
        let mut wrong = self.sql(integrity::check(connection))?;
        if !wrong.is_empty() {
            // What the tables hold says nothing where their pages are broken.
            return Ok(wrong);
        }
        if let Err(error) = self.check_ledger(&mut wrong) {
            wrong.push(error.to_string());
        }
        if let Err(error) = self.check_judged(&mut wrong) {
            wrong.push(error.to_string());
        }
        Ok(wrong)
    }

    fn check_judged(&self, wrong: &mut Vec<String>) -> Result<(), Error> {
        let connection = self.store.connection();
        let lists = Lists::load(self)?;
        let live = self.sql(draws::live_count(connection))?;
        let Some(head) = self.sql(columns::head(connection))? else {
            if live > 0 {
                wrong.push("the draws were never judged; opening the programme judges them".into());
            }
            return Ok(());
        };
        if head.format != FORMAT {
            wrong.push(
                "the verdicts are of another layout; opening the programme judges anew".into(),
            );
            return Ok(());
        }
        if head.draws != live {
            wrong.push(format!(
                "{} draws were judged, {live} are stored",
                head.draws
            ));
            return Ok(());
        }
        let (ledger, stored) = verdicts::load_ledger(self, &lists)?;
        let Some((head, stored)) = stored else {
            wrong.push("the columns by which draws are recognised are missing".into());
            return Ok(());
        };
        if stamp(&stored.record, ledger.content.iter().copied()) != head.stamp {
            wrong.push("the stamp of the verdicts does not fit the draws".into());
        }
        let rows = verdicts::ledger_of_rows(self, ledger.last_record)?;
        let order = |records: &[u32]| {
            let mut places: Vec<usize> = (0..records.len()).collect();
            places.sort_unstable_by_key(|place| records[*place]);
            places
        };
        let differing = order(&ledger.record)
            .into_iter()
            .zip(order(&rows.record))
            .filter(|(kept, row)| {
                ledger.record[*kept] != rows.record[*row]
                    || ledger.identity[*kept] != rows.identity[*row]
                    || ledger.content[*kept] != rows.content[*row]
                    || ledger.bottle[*kept] != rows.bottle[*row]
            })
            .count();
        if differing > 0 {
            wrong.push(format!(
                "{differing} draws are not recognised by what is kept of them; import them into a new file"
            ));
        }
        let Some(book) = rulebook::of_fingerprint(self, &head.rulebook)? else {
            wrong.push(format!(
                "the rulebook {} of the verdicts is not known",
                head.rulebook
            ));
            return Ok(());
        };
        let again = judging::judge_stored(self, &lists, &ledger, &book, &Progress::default())?;
        let differing = differing_verdicts(&stored, &again.judged);
        if differing > 0 {
            wrong.push(format!(
                "{differing} verdicts are not what the rulebook says; adopt the rulebook again to judge anew"
            ));
        }
        Ok(())
    }
}

/// How many rows of two judged programmes of equal length differ.
fn differing_verdicts(one: &Judged, other: &Judged) -> usize {
    if one == other {
        return 0;
    }
    (0..one.len())
        .filter(|row| {
            let of = |judged: &Judged| {
                (
                    judged.record[*row],
                    (judged.point[*row], judged.technician[*row]),
                    (judged.drawn_at[*row], judged.method[*row]),
                    judged.verdict[*row],
                    (
                        judged.applicable[*row],
                        judged.broken[*row],
                        judged.unrecorded[*row],
                    ),
                )
            };
            of(one) != of(other)
        })
        .count()
}

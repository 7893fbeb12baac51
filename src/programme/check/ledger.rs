//! Whether the ledger and its links in the trail belong together, and rows stand because a
//! batch says them.

use std::collections::BTreeSet;

use super::{Error, Programme};
use crate::intake::SheetKind;
use crate::model::decisions::{BatchTakenBack, BatchTakenIn};
use crate::model::trail::Link;
use crate::programme::sayers::Sayers;
use crate::store::imports::{self, Import};
use crate::store::kept::Table;
use crate::store::{people, points, take_back};

/// Names batches and links without their other half, and rows that stand though no batch says
/// them.
pub(super) fn check(programme: &Programme, wrong: &mut Vec<String>) -> Result<(), Error> {
    programme.check_ledger(wrong)
}

impl Programme {
    fn check_ledger(&self, wrong: &mut Vec<String>) -> Result<(), Error> {
        let connection = self.store.connection();
        let links = self.trail()?;
        let mut batches = self.sql(imports::all(connection))?;
        batches.reverse();
        for (place, batch) in batches.iter().enumerate() {
            if batch.number != place as i64 + 1 {
                wrong.push(format!("batch {} is missing from the ledger", place + 1));
                break;
            }
        }
        check_links(&batches, &links, wrong);
        let stands: BTreeSet<i64> = (batches.iter().filter(|batch| batch.stands()))
            .map(|batch| batch.number)
            .collect();
        for (kind, table) in [
            (SheetKind::Points, points::TABLE),
            (SheetKind::Technicians, people::TECHNICIANS),
            (SheetKind::Trainings, people::TRAININGS),
        ] {
            let sayers = Sayers::of(self, kind, &stands)?;
            self.check_list(kind, table, &sayers, wrong)?;
        }
        let sayers = Sayers::of(self, SheetKind::Draws, &stands)?;
        let unsaid = |state: &take_back::DrawState| {
            state.superseded_in.is_none() && !sayers.say(state.record, state.imported_in)
        };
        let not_standing: Vec<i64> = (batches.iter().filter(|batch| !batch.stands()))
            .map(|batch| batch.number)
            .collect();
        let states = self.sql(take_back::draws_of(connection, &not_standing))?;
        let unsaid = states.iter().filter(|state| unsaid(state)).count();
        if unsaid > 0 {
            wrong.push(format!(
                "{unsaid} draws stand though no batch that stands says them"
            ));
        }
        Ok(())
    }

    /// A small table lists exactly what batches that stand say, each as the last one said it.
    fn check_list(
        &self,
        kind: SheetKind,
        table: Table,
        sayers: &Sayers,
        wrong: &mut Vec<String>,
    ) -> Result<(), Error> {
        let connection = self.store.connection();
        let states = self.sql(take_back::states(connection, table))?;
        let ought = sayers.last_said(&states);
        let numbers = self.sql(table.numbers(connection))?;
        let listed: BTreeSet<u32> = numbers.into_iter().collect();
        let differing = states
            .iter()
            .filter(|state| state.until.is_none())
            .filter(
                |now| match (ought.get(&now.number), listed.contains(&now.number)) {
                    (Some(state), true) => state.imported_in != now.imported_in,
                    (None, false) => false,
                    _ => true,
                },
            )
            .count();
        if differing > 0 {
            wrong.push(format!(
                "{differing} {} are not as the last batch that stands says",
                kind.as_str()
            ));
        }
        Ok(())
    }
}

/// Every batch since the ledger is kept has its link, every link its batch.
fn check_links(batches: &[Import], links: &[Link], wrong: &mut Vec<String>) {
    let first = batches.iter().position(|batch| batch.link.is_some());
    for batch in &batches[first.unwrap_or(batches.len())..] {
        let own = |link: &&Link| batch.link == Some(link.number);
        match links.iter().find(own) {
            None => wrong.push(format!(
                "no link of the trail tells of batch {}",
                batch.number
            )),
            Some(link) if !fits(batch, link) => wrong.push(format!(
                "the ledger tells of batch {} otherwise than link {} of the trail",
                batch.number, link.number
            )),
            Some(_) => {}
        }
    }
    for link in links {
        let number = link
            .decision::<BatchTakenIn>()
            .map(|decision| decision.batch)
            .or_else(|| Some(link.decision::<BatchTakenBack>()?.batch));
        let is_there = |number| {
            let mut batches = batches.iter();
            batches.any(|batch| batch.number == number && batch.link == Some(link.number))
        };
        if let Some(number) = number.filter(|number| !is_there(*number)) {
            wrong.push(format!(
                "link {} of the trail tells of batch {number}, of which the ledger does not know",
                link.number
            ));
        }
    }
}

/// Whether a link tells of this batch: by whom, and which one it takes back. What it
/// says of the sheets is compared with the rows.
fn fits(batch: &Import, link: &Link) -> bool {
    if batch.who.as_ref().is_some_and(|who| *who != link.who) {
        return false;
    }
    match batch.takes_back {
        None => (link.decision()).is_some_and(|said: BatchTakenIn| said.batch == batch.number),
        Some(taken_back) => (link.decision()).is_some_and(|said: BatchTakenBack| {
            (said.batch, said.taken_back) == (batch.number, taken_back)
                && Some(said.because.as_str()) == batch.because.as_deref()
        }),
    }
}

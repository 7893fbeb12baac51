//! Which batches that stand say a row, so that it stands when another is taken back.

use std::collections::BTreeSet;

use rustc_hash::FxHashMap;

use super::{Error, Programme};
use crate::intake::SheetKind;
use crate::store::imports::{self, Import};
use crate::store::kept::Table;
use crate::store::said::{self, Run};
use crate::store::take_back::{self, State};

/// The batches that stand, and what each said again of one kind of sheet.
pub(super) struct Sayers {
    stands: BTreeSet<i64>,
    /// By batch, the earliest first.
    again: Vec<(i64, Run)>,
    /// The same for all batches together, without overlaps.
    runs: Vec<Run>,
}

impl Sayers {
    pub(super) fn of(
        programme: &Programme,
        kind: SheetKind,
        stands: &BTreeSet<i64>,
    ) -> Result<Self, Error> {
        let connection = programme.store.connection();
        let again = programme.sql(said::standing(connection, kind.as_str()))?;
        Ok(Sayers {
            stands: stands.clone(),
            runs: united(again.iter().map(|(_, run)| *run).collect()),
            again,
        })
    }

    /// Those of draws, as the ledger stands.
    pub(super) fn of_draws(programme: &Programme) -> Result<Self, Error> {
        let imports = programme.sql(imports::all(programme.store.connection()))?;
        let stands = imports.into_iter().filter(Import::stands);
        Sayers::of(
            programme,
            SheetKind::Draws,
            &stands.map(|import| import.number).collect(),
        )
    }

    /// Whether a batch that stands says this stored draw.
    pub(super) fn say(&self, record: u32, imported_in: i64) -> bool {
        let record = i64::from(record);
        let place = self.runs.partition_point(|(_, last)| *last < record);
        self.stands.contains(&imported_in)
            || self
                .runs
                .get(place)
                .is_some_and(|(first, _)| *first <= record)
    }

    /// The first batch that stands and says this stored draw.
    pub(super) fn first(&self, record: u32, imported_in: i64) -> Option<i64> {
        let record = i64::from(record);
        let again = || {
            let mut again = self.again.iter();
            again.find(|(_, (first, last))| (*first..=*last).contains(&record))
        };
        match self.stands.contains(&imported_in) {
            true => Some(imported_in),
            false => again().map(|(batch, _)| *batch),
        }
    }

    /// What every row of a small table ought to be: by number, the state that the last batch
    /// that stands gave it; rows that none names are left out.
    pub(super) fn last_said(&self, states: &[State]) -> FxHashMap<u32, State> {
        let mut of_number: FxHashMap<u32, &[State]> = FxHashMap::default();
        for states in states.chunk_by(|one, other| one.number == other.number) {
            of_number.insert(states[0].number, states);
        }
        let mut last: FxHashMap<u32, (i64, State)> = FxHashMap::default();
        let mut say = |batch: i64, state: State| {
            let said = last.entry(state.number).or_insert((batch, state));
            if said.0 <= batch {
                *said = (batch, state);
            }
        };
        for state in states {
            if self.stands.contains(&state.imported_in) {
                say(state.imported_in, *state);
            }
        }
        for (batch, (first, end)) in &self.again {
            for number in *first..=*end {
                let states = u32::try_from(number)
                    .ok()
                    .and_then(|number| of_number.get(&number));
                let then = states.and_then(|states| {
                    let mut states = states.iter();
                    states.find(|state| state.until.is_none_or(|until| until >= *batch))
                });
                if let Some(state) = then {
                    say(*batch, *state);
                }
            }
        }
        last.into_iter()
            .map(|(number, (_, state))| (number, state))
            .collect()
    }
}

/// The runs as few as they can be, in order.
fn united(mut runs: Vec<Run>) -> Vec<Run> {
    runs.sort_unstable();
    let mut united: Vec<Run> = Vec::new();
    for (first, last) in runs {
        match united.last_mut() {
            Some(before) if first <= before.1 + 1 => before.1 = before.1.max(last),
            _ => united.push((first, last)),
        }
    }
    united
}

/// Gives every row of a small table the state it ought to have, on behalf of this batch.
/// Returns the numbers of the rows that left the list.
pub(super) fn settle(
    programme: &Programme,
    table: Table,
    sayers: &Sayers,
    batch: i64,
) -> Result<Vec<u32>, Error> {
    let connection = programme.store.connection();
    let states = programme.sql(take_back::states(connection, table))?;
    let ought = sayers.last_said(&states);
    let listed: BTreeSet<u32> = programme
        .sql(table.numbers(connection))?
        .into_iter()
        .collect();
    let mut gone = Vec::new();
    let present = states.iter().filter(|state| state.until.is_none());
    for now in present.filter(|state| listed.contains(&state.number)) {
        match ought.get(&now.number) {
            None => {
                programme.sql(take_back::unlist(connection, table, now.number))?;
                gone.push(now.number);
            }
            Some(state) if state.imported_in != now.imported_in => {
                programme.sql(take_back::restore(connection, table, *state, batch))?;
            }
            Some(_) => {}
        }
    }
    Ok(gone)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn runs_that_touch_are_one() {
        assert_eq!(
            united(vec![(8, 9), (1, 3), (2, 5), (6, 6)]),
            vec![(1, 6), (8, 9)]
        );
    }
}

//! Whether a draw counts, or stands no more, for a reason.

use rustc_hash::{FxHashMap, FxHashSet};

use super::{Error, Programme, first_few};
use crate::model::decisions::BatchTakenBack;
use crate::store::draws::{self, State};

/// Names draws that were put aside by nothing, and such that stand beside their successor.
pub(super) fn check(programme: &Programme, wrong: &mut Vec<String>) -> Result<(), Error> {
    let links = programme.trail()?;
    let took_back: FxHashMap<i64, u64> = links
        .iter()
        .filter_map(|link| link.decision::<BatchTakenBack>())
        .map(|back| (back.batch, back.draws_out))
        .collect();
    let mut states: Vec<(u32, State)> = Vec::new();
    let read = draws::each_standing(programme.store.connection(), &mut |record, state| {
        states.push((record, state));
    });
    programme.sql(read)?;
    // Who superseded whom in which batch, and what stands in the place of what.
    let replaced: FxHashSet<(u32, i64)> = states
        .iter()
        .filter_map(|(_, state)| Some((state.supersedes?, state.imported_in)))
        .collect();
    let stands_for: FxHashSet<u32> = states
        .iter()
        .filter(|(_, state)| match state.superseded_in {
            None => true,
            Some(by) => !took_back.contains_key(&by),
        })
        .filter_map(|(_, state)| state.supersedes)
        .collect();
    let (mut aside, mut beside) = (Vec::new(), Vec::new());
    let mut taken_back: FxHashMap<i64, u64> = FxHashMap::default();
    for (record, state) in &states {
        match state.superseded_in {
            Some(by) if took_back.contains_key(&by) => {
                *taken_back.entry(by).or_default() += 1;
            }
            Some(by) if !replaced.contains(&(*record, by)) => aside.push(*record),
            None if stands_for.contains(record) => beside.push(*record),
            _ => {}
        }
    }
    let names = |records: &[u32]| names(programme, records);
    if !aside.is_empty() {
        wrong.push(format!(
            "draws count no more though nothing took their place: {}",
            names(&aside)?
        ));
    }
    if !beside.is_empty() {
        wrong.push(format!(
            "draws count though another took their place: {}",
            names(&beside)?
        ));
    }
    for (batch, out) in took_back {
        let found = taken_back.get(&batch).copied().unwrap_or_default();
        if found != out {
            wrong.push(format!(
                "batch {batch} took {out} draws out by the trail, {found} are marked so"
            ));
        }
    }
    Ok(())
}

/// The first few draws by identity and row.
pub(super) fn names(programme: &Programme, records: &[u32]) -> Result<String, Error> {
    let few: Vec<u32> = records.iter().take(super::TOLD).copied().collect();
    let draws = programme.records_ever(&few)?;
    let mut told: Vec<String> = draws
        .iter()
        .map(|draw| format!("{} (row {})", draw.identity(), draw.facts.record))
        .collect();
    told.resize(records.len(), String::new());
    Ok(first_few(&told))
}

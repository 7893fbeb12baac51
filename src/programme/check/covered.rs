//! Whether the rows of every batch are those that its link in the trail answers for.

use std::collections::BTreeMap;

use super::{Error, Programme};
use crate::model::decisions::{BatchTakenBack, BatchTakenIn, Covered};
use crate::model::trail::Link;
use crate::programme::{batches, digest};

/// Names the tables that hold other rows of a batch than it brought, and batches whose
/// entry in the ledger differs from the trail.
pub(super) fn check(programme: &Programme, wrong: &mut Vec<String>) -> Result<(), Error> {
    let links = programme.trail()?;
    let mut answered: BTreeMap<i64, (&Link, Vec<Covered>)> = BTreeMap::new();
    let mut taken_in: BTreeMap<i64, BatchTakenIn> = BTreeMap::new();
    for link in &links {
        if let Some(batch) = link.decision::<BatchTakenIn>() {
            answered.insert(batch.batch, (link, batch.brought.clone()));
            taken_in.insert(batch.batch, batch);
        } else if let Some(back) = link.decision::<BatchTakenBack>() {
            answered.insert(back.batch, (link, back.brought));
        }
    }
    let found = digest::of_every_import(programme)?;
    for (batch, (link, brought)) in &answered {
        let there = found.get(batch).map_or(&[][..], Vec::as_slice);
        compare(*batch, link, brought, there, wrong);
    }
    // Batches from before there was a trail have no link.
    let first = answered.keys().next().copied().unwrap_or(i64::MAX);
    for batch in found.keys() {
        if *batch > first && !answered.contains_key(batch) {
            wrong.push(format!(
                "rows of batch {batch} are there, but no link of the trail took it in"
            ));
        }
    }
    for batch in programme.batches_within()? {
        if let Some(said) = taken_in.get_mut(&batch.import.number) {
            said.brought.clear();
            if batches::decision(batch.import, batch.sheets) != *said {
                wrong.push(format!(
                    "the ledger does not say of batch {} what link {} of the trail says",
                    said.batch, answered[&said.batch].0.number
                ));
            }
        }
    }
    Ok(())
}

fn compare(
    batch: i64,
    link: &Link,
    brought: &[Covered],
    there: &[Covered],
    wrong: &mut Vec<String>,
) {
    let in_table =
        |parts: &[Covered], table: &str| parts.iter().find(|part| part.table == table).cloned();
    let mut tables: Vec<&str> = brought
        .iter()
        .chain(there)
        .map(|part| part.table.as_str())
        .collect();
    tables.sort_unstable();
    tables.dedup();
    for table in tables {
        let (then, now) = (in_table(brought, table), in_table(there, table));
        if then == now {
            continue;
        }
        let rows = |part: &Option<Covered>| part.as_ref().map_or(0, |part| part.rows);
        let (then, now) = (rows(&then), rows(&now));
        let by = format!("by link {} of the trail", link.number);
        wrong.push(if then == now {
            format!("{table}: the rows of batch {batch} are not those it brought {by}")
        } else {
            format!("{table}: {by} batch {batch} brought {then} rows, {now} are there")
        });
    }
}

//! What an import brought, digested, so that its link in the trail answers for the rows.
//!
//! Draws: SHA-256 over record number, superseded record and content hash of each, in order of
//! their records; a million cost some hundredths of a second while they are read. The small
//! tables: SHA-256 over the hashes of their rows, sorted. A row stays what it was when a later
//! import supersedes it, so that the digest of an import can be reckoned again at any time.

use std::collections::BTreeMap;

use sha2::{Digest as _, Sha256};

use super::lists::Names;
use super::{Error, Programme, hashes};
use crate::model::decisions::Covered;
use crate::model::trail::hexadecimal;
use crate::store::covered::{self, PARTS, Part};
use crate::store::draws;

/// The table of draws, as [`Covered::table`] names it.
const DRAWS: &str = "draws";

/// Digests draws as they come.
#[derive(Clone, Debug, Default)]
pub(super) struct Draws {
    hasher: Sha256,
    rows: u64,
}

impl Draws {
    /// Adds a draw; `content` is that of [`hashes::content`].
    pub(super) fn add(&mut self, record: u32, supersedes: Option<u32>, content: u64) {
        let mut spelt = [0; 16];
        spelt[..4].copy_from_slice(&record.to_le_bytes());
        spelt[4..8].copy_from_slice(&supersedes.unwrap_or(0).to_le_bytes());
        spelt[8..].copy_from_slice(&content.to_le_bytes());
        self.hasher.update(spelt);
        self.rows += 1;
    }

    fn finish(self) -> Covered {
        Covered {
            table: DRAWS.to_owned(),
            rows: self.rows,
            sha256: hexadecimal(&self.hasher.finalize()),
        }
    }
}

/// Rows whose order says nothing.
#[derive(Default)]
struct Rows(Vec<[u8; 32]>);

impl Rows {
    fn add(&mut self, row: &[u8]) {
        self.0.push(Sha256::digest(row).into());
    }

    fn finish(mut self, part: Part) -> Covered {
        self.0.sort_unstable();
        // A state that stands again after a batch was taken back is stored twice.
        self.0.dedup();
        let mut hasher = Sha256::new();
        for row in &self.0 {
            hasher.update(row);
        }
        Covered {
            table: part.table.to_owned(),
            rows: self.0.len() as u64,
            sha256: hexadecimal(&hasher.finalize()),
        }
    }
}

/// What this import brought, once all its rows are stored: a part a table, those of which it
/// brought nothing left out.
pub(super) fn of_import(
    programme: &Programme,
    import: i64,
    draws: Draws,
) -> Result<Vec<Covered>, Error> {
    let mut parts = Vec::new();
    for part in PARTS {
        let mut rows = Rows::default();
        let connection = programme.store.connection();
        let read = covered::each_row(connection, *part, Some(import), &mut |_, row| rows.add(row));
        programme.sql(read)?;
        parts.push(rows.finish(*part));
    }
    parts.push(draws.finish());
    parts.retain(|covered| covered.rows > 0);
    Ok(parts)
}

/// What every import brought as it is stored now, reckoned from the rows themselves.
pub(super) fn of_every_import(programme: &Programme) -> Result<BTreeMap<i64, Vec<Covered>>, Error> {
    let connection = programme.store.connection();
    let mut found: BTreeMap<i64, Vec<Covered>> = BTreeMap::new();
    for part in PARTS {
        let mut by_import: BTreeMap<i64, Rows> = BTreeMap::new();
        let read = covered::each_row(connection, *part, None, &mut |import, row| {
            by_import.entry(import).or_default().add(row);
        });
        programme.sql(read)?;
        for (import, rows) in by_import {
            found.entry(import).or_default().push(rows.finish(*part));
        }
    }
    for (import, draws) in draws_of_every_import(programme)? {
        found.entry(import).or_default().push(draws.finish());
    }
    Ok(found)
}

fn draws_of_every_import(programme: &Programme) -> Result<BTreeMap<i64, Draws>, Error> {
    let names = Names::by_number(programme)?;
    let mut by_import: BTreeMap<i64, Draws> = BTreeMap::new();
    let (mut buffer, mut wrong) = (Vec::new(), None);
    let read = draws::each_state(programme.store.connection(), &mut |state, mut draw| {
        if let Err(error) = names.fill(programme, &mut draw) {
            wrong.get_or_insert(error);
            return;
        }
        let content = hashes::content(&draw, &mut buffer);
        let digest = by_import.entry(state.imported_in).or_default();
        digest.add(draw.facts.record, state.supersedes, content);
    });
    programme.sql(read)?;
    match wrong {
        Some(error) => Err(error),
        None => Ok(by_import),
    }
}

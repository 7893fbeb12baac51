//! The live draws by hash: what an import compares new rows with, without reading the
//! stored ones.

use super::digest;
use rustc_hash::{FxHashMap, FxHashSet};

/// The live draws, old ones in their judged order, then those of this import as they came.
#[derive(Debug, Default)]
pub(super) struct Ledger {
    pub(super) record: Vec<u32>,
    pub(super) point: Vec<u32>,
    pub(super) identity: Vec<u128>,
    pub(super) content: Vec<u64>,
    pub(super) bottle: Vec<u64>,
    /// Superseded in this import.
    pub(super) gone: Vec<bool>,
    /// How many were there before this import.
    pub(super) old: usize,
    /// The greatest record number ever used.
    pub(super) last_record: u32,
    /// Points whose draws were added or superseded.
    pub(super) touched_points: FxHashSet<u32>,
    /// Bottles that more or fewer draws bear than before.
    pub(super) touched_bottles: FxHashSet<u64>,
    /// Whether a row superseded another.
    pub(super) superseded: bool,
    /// What this import brought.
    pub(super) brought: digest::Draws,
    index: FxHashMap<[u8; 16], u32>,
    /// Where the entries of the sheet now being read begin.
    sheet_start: usize,
    /// Of the entries before, those that the sheet has named.
    seen: Vec<bool>,
}

/// A draw as the ledger knows it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Entry {
    pub(super) point: u32,
    pub(super) identity: u128,
    pub(super) content: u64,
    pub(super) bottle: u64,
}

/// What a row of a sheet is to the programme.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Seen {
    /// A second row of this identity in the sheet.
    Second,
    /// The programme holds exactly this row, under this record number.
    Unchanged(u32),
    /// A draw not yet known, to be stored under this record number.
    New(u32),
    /// A draw known in another state: new record number, and the one it supersedes.
    Changed(u32, u32),
}

impl Ledger {
    /// The ledger of the draws that are stored.
    pub(super) fn of(
        record: Vec<u32>,
        point: Vec<u32>,
        identity: Vec<u128>,
        content: Vec<u64>,
        bottle: Vec<u64>,
        last_record: u32,
    ) -> Self {
        let index = identity
            .iter()
            .zip(0..)
            .map(|(hash, place)| (hash.to_le_bytes(), place))
            .collect();
        Ledger {
            gone: vec![false; record.len()],
            old: record.len(),
            record,
            point,
            identity,
            content,
            bottle,
            last_record,
            index,
            ..Ledger::default()
        }
    }

    /// Begins another sheet, in which each identity may stand once.
    pub(super) fn begin_sheet(&mut self) {
        self.sheet_start = self.record.len();
        self.seen = vec![false; self.sheet_start];
    }

    /// Takes a row of the sheet in.
    pub(super) fn take(&mut self, entry: Entry) -> Seen {
        let key = entry.identity.to_le_bytes();
        let Some(found) = self.index.get(&key).map(|place| *place as usize) else {
            return Seen::New(self.push(key, entry, None));
        };
        if found >= self.sheet_start || std::mem::replace(&mut self.seen[found], true) {
            return Seen::Second;
        }
        if self.content[found] == entry.content {
            return Seen::Unchanged(self.record[found]);
        }
        self.retire(found);
        let older = self.record[found];
        Seen::Changed(self.push(key, entry, Some(older)), older)
    }

    fn push(&mut self, key: [u8; 16], entry: Entry, supersedes: Option<u32>) -> u32 {
        let place = u32::try_from(self.record.len()).expect("fewer draws than u32 can count");
        self.index.insert(key, place);
        self.last_record = self
            .last_record
            .checked_add(1)
            .expect("fewer rows than u32 can count");
        self.brought
            .add(self.last_record, supersedes, entry.content);
        self.record.push(self.last_record);
        self.point.push(entry.point);
        self.identity.push(entry.identity);
        self.content.push(entry.content);
        self.bottle.push(entry.bottle);
        self.gone.push(false);
        self.touch(entry.point, entry.bottle);
        self.last_record
    }

    /// The draw at this place is not live any more.
    pub(super) fn retire(&mut self, place: usize) {
        self.gone[place] = true;
        self.superseded = true;
        self.touch(self.point[place], self.bottle[place]);
    }

    /// A stored draw is live again.
    pub(super) fn restore(&mut self, record: u32, entry: Entry) {
        self.record.push(record);
        self.point.push(entry.point);
        self.identity.push(entry.identity);
        self.content.push(entry.content);
        self.bottle.push(entry.bottle);
        self.gone.push(false);
        self.touch(entry.point, entry.bottle);
    }

    /// Remembers what else must be judged anew. Where nothing was there before, all is.
    fn touch(&mut self, point: u32, bottle: u64) {
        if self.old > 0 {
            self.touched_points.insert(point);
            if bottle != 0 {
                self.touched_bottles.insert(bottle);
            }
        }
    }

    /// Whether any draw was added or superseded.
    pub(super) fn is_changed(&self) -> bool {
        self.record.len() > self.old
    }

    /// Gives back the memory that only reading sheets needs.
    pub(super) fn finish_reading(&mut self) {
        self.index = FxHashMap::default();
        self.seen = Vec::new();
    }

    /// The places of the draws that are live now.
    pub(super) fn live(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.record.len()).filter(|place| !self.gone[*place])
    }
}

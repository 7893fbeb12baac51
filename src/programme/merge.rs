//! Verdicts that are still good and those of a part judged anew, made one.

use rustc_hash::FxHashMap;

use super::judging::Judgement;
use super::ledger::Ledger;
use super::{Error, Programme};
use crate::model::{History, Judged};

/// Old draws in their order and newly judged ones, to be made one.
pub(super) struct Merge<'a> {
    pub(super) programme: &'a Programme,
    pub(super) ledger: &'a Ledger,
    pub(super) stored: &'a Judged,
    pub(super) redo: &'a [bool],
    pub(super) history: &'a History,
    /// Record number → place in the history.
    pub(super) place_of: FxHashMap<u32, usize>,
    pub(super) part: &'a Judged,
    /// Record number → row of `part`.
    pub(super) row_of: FxHashMap<u32, usize>,
}

impl Merge<'_> {
    pub(super) fn merged(&self) -> Result<Judgement, Error> {
        // Rows of `part` stand in order already, so new draws are put in order by their row.
        let mut new: Vec<(usize, usize)> = (self.ledger.old..self.ledger.record.len())
            .filter(|place| !self.ledger.gone[*place])
            .map(|place| (self.row_of[&self.ledger.record[place]], place))
            .collect();
        new.sort_unstable();
        let mut new = new.into_iter().peekable();
        let mut out = Output::default();
        for place in (0..self.ledger.old).filter(|place| !self.ledger.gone[*place]) {
            while let Some((row, fresh)) = new.peek() {
                if !self.stands_before(*row, *fresh, place)? {
                    break;
                }
                out.push(self.part, *row, *fresh);
                new.next();
            }
            if self.redo[place] {
                out.push(self.part, self.row_of[&self.ledger.record[place]], place);
            } else {
                out.push(self.stored, place, place);
            }
        }
        for (row, fresh) in new {
            out.push(self.part, row, fresh);
        }
        Ok(Judgement {
            judged: out.judged,
            places: out.places,
            count: self.redo.iter().filter(|redo| **redo).count() as u64,
        })
    }

    /// Whether the new draw stands before the old one: by time, then by identity.
    fn stands_before(&self, row: usize, fresh: usize, old: usize) -> Result<bool, Error> {
        match self.part.drawn_at[row].cmp(&self.stored.drawn_at[old]) {
            std::cmp::Ordering::Less => Ok(true),
            std::cmp::Ordering::Greater => Ok(false),
            std::cmp::Ordering::Equal => Ok(self.identity(fresh)? < self.identity(old)?),
        }
    }

    fn identity(&self, place: usize) -> Result<String, Error> {
        let record = self.ledger.record[place];
        match self.place_of.get(&record) {
            Some(place) => Ok(self.history.identities.get(*place).to_owned()),
            None => Ok(self.programme.records(&[record])?[0].identity()),
        }
    }
}

/// Columns being put together.
#[derive(Default)]
struct Output {
    judged: Judged,
    places: Vec<u32>,
}

impl Output {
    fn push(&mut self, from: &Judged, row: usize, place: usize) {
        let into = &mut self.judged;
        into.record.push(from.record[row]);
        into.point.push(from.point[row]);
        into.technician.push(from.technician[row]);
        into.drawn_at.push(from.drawn_at[row]);
        into.method.push(from.method[row]);
        into.verdict.push(from.verdict[row]);
        into.applicable.push(from.applicable[row]);
        into.broken.push(from.broken[row]);
        into.unrecorded.push(from.unrecorded[row]);
        self.places
            .push(u32::try_from(place).expect("fewer draws than u32 can count"));
    }
}

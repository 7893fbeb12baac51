//! The draws of a programme, one technician after the other.
//!
//! Draws of one technician lie far apart in the order of time. Questions about each of them go
//! through their draws as they lie here, whatever is selected: a selection is a mark at each of
//! its draws.

use std::ops::Range;

use rayon::prelude::*;

use super::share::large_piece;
use super::{Assessed, SharedOut};
use crate::model::{RuleSet, Verdict};

/// All draws of a programme by technician, those of each technician by point.
#[derive(Clone, Debug)]
pub struct ByTechnician {
    pub(super) draws: Vec<LaidDraw>,
    /// Where each technician begins in `draws`, and where the last one ends.
    bounds: Vec<usize>,
    /// For each row its place in `draws`.
    place_of: Vec<u32>,
}

/// What questions about technicians need of a draw.
#[derive(Clone, Copy, Debug)]
pub(super) struct LaidDraw {
    pub(super) point: u32,
    /// How it is broken, see [`SharedOut::of_way`].
    pub(super) way: u32,
    pub(super) applicable: RuleSet,
    pub(super) broken: RuleSet,
    pub(super) verdict: Verdict,
}

impl ByTechnician {
    /// Puts the draws in order. `costs` are those of the same programme.
    pub(super) fn of(assessed: &Assessed, costs: &SharedOut) -> Self {
        let judged = &assessed.judged;
        let point = |row: u32| judged.point[row as usize] as usize;
        let technician = |row: u32| judged.technician[row as usize] as usize;
        let draws = u32::try_from(judged.len()).expect("rows are counted in 32 bits");
        // Two stable passes, the finer order first.
        let (rows, _) = sorted(0..draws, assessed.points.len(), point);
        let (rows, bounds) = sorted(rows.into_iter(), assessed.technicians.len(), technician);
        let mut place_of = vec![0; rows.len()];
        for (place, row) in (0..).zip(&rows) {
            place_of[*row as usize] = place;
        }
        let laid = |row: &u32| {
            let row = *row as usize;
            LaidDraw {
                point: judged.point[row],
                way: costs.way_of(row),
                applicable: judged.applicable[row],
                broken: judged.broken[row],
                verdict: judged.verdict[row],
            }
        };
        ByTechnician {
            draws: rows.par_iter().map(laid).collect(),
            bounds,
            place_of,
        }
    }

    /// The places of a technician's draws.
    pub(super) fn of_technician(&self, technician: usize) -> Range<usize> {
        self.bounds[technician]..self.bounds[technician + 1]
    }

    /// Marks these rows.
    pub(super) fn mark(&self, rows: &[u32]) -> Marks {
        let none = || vec![0_u64; self.draws.len().div_ceil(64)];
        let marked = |rows: &[u32]| {
            let mut words = none();
            for row in rows {
                let place = self.place_of[*row as usize] as usize;
                words[place / 64] |= 1 << (place % 64);
            }
            words
        };
        let words = rows
            .par_chunks(large_piece(rows.len()))
            .map(marked)
            .reduce_with(|mut one, other| {
                for (one, other) in one.iter_mut().zip(other) {
                    *one |= other;
                }
                one
            });
        Marks(words.unwrap_or_else(none))
    }
}

/// The rows by a key below `keys`, those of one key as they came; and where each key begins,
/// and the last one ends.
fn sorted(
    rows: impl Iterator<Item = u32> + Clone,
    keys: usize,
    key_of: impl Fn(u32) -> usize,
) -> (Vec<u32>, Vec<usize>) {
    let mut bounds = vec![0; keys + 1];
    for row in rows.clone() {
        bounds[key_of(row) + 1] += 1;
    }
    for key in 0..keys {
        bounds[key + 1] += bounds[key];
    }
    let mut next = bounds.clone();
    let mut sorted = vec![0; bounds[keys]];
    for row in rows {
        let next = &mut next[key_of(row)];
        sorted[*next] = row;
        *next += 1;
    }
    (sorted, bounds)
}

/// A mark at each selected draw, by its place in [`ByTechnician`].
pub(super) struct Marks(Vec<u64>);

impl Marks {
    /// The marked places within a range, in order.
    pub(super) fn within(&self, range: Range<usize>) -> impl Iterator<Item = usize> {
        (range.start / 64..range.end.div_ceil(64)).flat_map(move |word| {
            let first = 64 * word;
            let mut bits = self.0[word];
            if range.start > first {
                bits &= u64::MAX << (range.start - first);
            }
            if range.end < first + 64 {
                bits &= u64::MAX >> (first + 64 - range.end);
            }
            std::iter::from_fn(move || {
                let bit = bits.trailing_zeros() as usize;
                (bits != 0).then(|| {
                    bits &= bits - 1;
                    first + bit
                })
            })
        })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn rows_are_sorted_as_by_the_standard_library(keys in prop::collection::vec(0_usize..9, 0..200)) {
            let rows = 0..keys.len() as u32;
            let (found, bounds) = sorted(rows.clone(), 9, |row| keys[row as usize]);
            let mut wanted: Vec<u32> = rows.collect();
            wanted.sort_by_key(|row| keys[*row as usize]);
            prop_assert_eq!(&found, &wanted);
            for key in 0..9 {
                let of_key = &found[bounds[key]..bounds[key + 1]];
                prop_assert!(of_key.iter().all(|row| keys[*row as usize] == key));
            }
            prop_assert_eq!(bounds[9], keys.len());
        }

        #[test]
        fn marks_are_found_within_any_range(
            places in prop::collection::btree_set(0_usize..300, 0..300),
            ends in any::<[u16; 2]>(),
        ) {
            let mut words = vec![0_u64; 5];
            for place in &places {
                words[place / 64] |= 1 << (place % 64);
            }
            let [start, end] = ends.map(|end| usize::from(end) % 301);
            let range = start.min(end)..start.max(end);
            let found: Vec<usize> = Marks(words).within(range.clone()).collect();
            let wanted: Vec<usize> = places.range(range).copied().collect();
            prop_assert_eq!(found, wanted);
        }
    }
}

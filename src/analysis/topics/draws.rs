//! Judged draws with their costs, by unit and point.

use rustc_hash::FxHashMap;

use super::costs::Costs;
use crate::analysis::breakdown::count;
use crate::analysis::{Assessed, Selection};
use crate::model::Verdict;
use crate::rules::COUNT;

/// Judged draws and their costs, in parts, in one cell.
#[derive(Clone, Copy)]
pub(super) struct Cell {
    pub judged: u64,
    pub parts: [i64; COUNT],
}

impl Cell {
    pub const EMPTY: Cell = Cell {
        judged: 0,
        parts: [0; COUNT],
    };

    pub fn add_draw(&mut self, costs: &[(usize, i64)]) {
        self.judged += 1;
        for &(rule, parts) in costs {
            self.parts[rule] += parts;
        }
    }

    pub fn add(&mut self, other: &Cell) {
        self.judged += other.judged;
        for (sum, parts) in self.parts.iter_mut().zip(other.parts) {
            *sum += parts;
        }
    }

    pub fn less(&self, other: &Cell) -> Cell {
        let mut rest = *self;
        rest.judged -= other.judged;
        for (sum, parts) in rest.parts.iter_mut().zip(other.parts) {
            *sum -= parts;
        }
        rest
    }
}

/// The judged draws of a selection, one unit after the other.
///
/// Rows of one unit lie far apart. So they are gone through once in their order, and what
/// the comparison needs of each is put beside those of its unit.
pub(super) struct Grouped<'a> {
    pub assessed: &'a Assessed,
    costs: Costs,
    draws: Vec<Draw>,
    /// Where each unit ends in `draws`.
    ends: Vec<usize>,
    counts: Vec<Counts>,
}

/// What the comparison needs of a judged draw.
#[derive(Clone, Copy)]
struct Draw {
    point: u32,
    /// How it is broken, see [`Costs::of_way`].
    way: u32,
}

/// Counts over one unit's draws.
#[derive(Clone, Copy, Default)]
pub(super) struct Counts {
    /// Selected draws, judged or not.
    pub drew: u64,
    /// Unrepresentative ones.
    pub unrepresentative: u64,
    /// Judged draws that each rule applies to.
    pub applies: [u64; COUNT],
    /// Judged draws on which each rule is broken.
    pub broken: [u64; COUNT],
}

/// Counts the draws of each unit, in pieces on all threads.
fn counts(
    assessed: &Assessed,
    selection: &Selection,
    unit_of: &[usize],
    units: usize,
) -> Vec<Counts> {
    // How many drew and how many are unrepresentative, then each rule's two counts.
    const EACH: usize = 2 + 2 * COUNT;
    let judged = &assessed.judged;
    let counted = count(selection, units * EACH, |row, counts| {
        let start = unit_of[judged.technician[row] as usize] * EACH;
        let counts = &mut counts[start..start + EACH];
        counts[0] += 1;
        let verdict = judged.verdict[row];
        if verdict == Verdict::Unproven {
            return;
        }
        counts[1] += u64::from(verdict == Verdict::Unrepresentative);
        for rule in judged.applicable[row].iter() {
            counts[2 + rule] += 1;
        }
        for rule in judged.broken[row].iter() {
            counts[2 + COUNT + rule] += 1;
        }
    });
    let (each, _) = counted.as_chunks::<EACH>();
    let of_unit = |each: &[u64; EACH]| {
        let mut counts = Counts {
            drew: each[0],
            unrepresentative: each[1],
            ..Counts::default()
        };
        counts.applies.copy_from_slice(&each[2..2 + COUNT]);
        counts.broken.copy_from_slice(&each[2 + COUNT..]);
        counts
    };
    each.iter().map(of_unit).collect()
}

impl<'a> Grouped<'a> {
    pub fn new(
        assessed: &'a Assessed,
        selection: &'a Selection,
        unit_of: &[usize],
        units: usize,
    ) -> Self {
        let judged = &assessed.judged;
        let unit = |row: usize| unit_of[judged.technician[row] as usize];
        let is_judged = |row: usize| judged.verdict[row] != Verdict::Unproven;
        let costs = Costs::of(assessed, selection);
        let mut ends = vec![0; units];
        for row in selection.iter().map(|&row| row as usize) {
            ends[unit(row)] += usize::from(is_judged(row));
        }
        let counts = counts(assessed, selection, unit_of, units);
        let mut filled = 0;
        for end in &mut ends {
            filled += std::mem::replace(end, filled);
        }
        let mut draws = vec![Draw { point: 0, way: 0 }; filled];
        for (place, row) in selection.iter().map(|&row| row as usize).enumerate() {
            if !is_judged(row) {
                continue;
            }
            let unit = unit(row);
            draws[ends[unit]] = Draw {
                point: judged.point[row],
                way: costs.way_of_draw(place),
            };
            ends[unit] += 1;
        }
        Grouped {
            assessed,
            costs,
            draws,
            ends,
            counts,
        }
    }

    /// The counts of a unit.
    pub fn counts(&self, unit: usize) -> &Counts {
        &self.counts[unit]
    }

    /// The point of every judged draw with its costs.
    pub fn each(&self) -> impl Iterator<Item = (u32, &[(usize, i64)])> {
        let draws = self.draws.iter();
        draws.map(|draw| (draw.point, self.costs.of_way(draw.way)))
    }

    /// The judged draws of a unit by point.
    pub fn by_point(&self, unit: usize) -> ByPoint {
        let start = unit.checked_sub(1).map_or(0, |before| self.ends[before]);
        let mut cells = Vec::new();
        let mut places: FxHashMap<u32, usize> = FxHashMap::default();
        for draw in &self.draws[start..self.ends[unit]] {
            let cell = *places.entry(draw.point).or_insert_with(|| {
                cells.push((draw.point, Cell::EMPTY));
                cells.len() - 1
            });
            cells[cell].1.add_draw(self.costs.of_way(draw.way));
        }
        cells.sort_by_key(|(point, _)| *point);
        ByPoint { cells }
    }
}

/// The judged draws of one unit by point.
pub(super) struct ByPoint {
    /// Points in order.
    pub cells: Vec<(u32, Cell)>,
}

impl ByPoint {
    /// The cell of a point, if the unit drew there.
    pub fn at(&self, point: u32) -> Option<&Cell> {
        let place = self.cells.binary_search_by_key(&point, |(point, _)| *point);
        place.ok().map(|place| &self.cells[place].1)
    }
}

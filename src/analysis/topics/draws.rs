//! Judged draws with their costs, by unit and point.

use rayon::prelude::*;

use super::costs::Costs;
use crate::analysis::share::CHUNK;
use crate::analysis::{Assessed, Selection};
use crate::model::{RuleSet, Verdict};
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

/// The judged draws of a selection by unit.
///
/// Rows of one unit lie far apart. So what the comparison needs of each is put beside those of
/// its unit first, in as little memory as can be, and all counts go through them as they lie.
pub(super) struct Grouped<'a> {
    pub assessed: &'a Assessed,
    costs: Costs,
    pieces: Vec<Piece>,
}

/// A stretch of the selection, as one thread goes through it: one unit after the other.
struct Piece {
    /// The judged draws; those of each unit in the order of the selection.
    draws: Vec<Draw>,
    /// Where each unit begins in `draws`, and where the last one ends.
    bounds: Vec<usize>,
    /// Selected draws of each unit, judged or not.
    drew: Vec<u64>,
}

/// On a slate: no draw of the unit at this point.
const NOWHERE: u32 = u32::MAX;

/// What the comparison needs of a judged draw.
#[derive(Clone, Copy, Default)]
struct Draw {
    point: u32,
    /// How it is broken, see [`Costs::of_way`].
    way: u32,
    applicable: RuleSet,
    broken: RuleSet,
}

/// Counts over one unit's draws.
#[derive(Clone, Copy, Default)]
pub(super) struct Counts {
    /// Unrepresentative ones.
    pub unrepresentative: u64,
    /// Judged draws that each rule applies to.
    pub applies: [u64; COUNT],
    /// Judged draws on which each rule is broken.
    pub broken: [u64; COUNT],
}

impl Piece {
    /// The draws of these rows. `ways` tells how each is broken.
    fn of(
        assessed: &Assessed,
        (rows, ways): (&[u32], &[u32]),
        unit_of: &[usize],
        units: usize,
    ) -> Self {
        let judged = &assessed.judged;
        let unit = |row: u32| unit_of[judged.technician[row as usize] as usize];
        let is_judged = |row: u32| judged.verdict[row as usize] != Verdict::Unproven;
        let mut drew = vec![0; units];
        let mut next = vec![0; units];
        for &row in rows {
            let unit = unit(row);
            drew[unit] += 1;
            next[unit] += usize::from(is_judged(row));
        }
        let mut bounds = Vec::with_capacity(units + 1);
        let mut filled = 0;
        for next in &mut next {
            bounds.push(filled);
            filled += std::mem::replace(next, filled);
        }
        bounds.push(filled);
        let mut draws = vec![Draw::default(); filled];
        for (&row, &way) in rows.iter().zip(ways).filter(|(row, _)| is_judged(**row)) {
            let next = &mut next[unit(row)];
            let row = row as usize;
            draws[*next] = Draw {
                point: judged.point[row],
                way,
                applicable: judged.applicable[row],
                broken: judged.broken[row],
            };
            *next += 1;
        }
        Piece {
            draws,
            bounds,
            drew,
        }
    }

    fn of_unit(&self, unit: usize) -> &[Draw] {
        &self.draws[self.bounds[unit]..self.bounds[unit + 1]]
    }

    /// The draws by point, with a cell for each point of the programme.
    fn at_points(&self, costs: &Costs, points: usize) -> Vec<Cell> {
        let mut cells = vec![Cell::EMPTY; points];
        let mut judged = vec![0; points];
        for draw in &self.draws {
            // Most draws cost nothing; their cells are not even looked at.
            judged[draw.point as usize] += 1;
            for &(rule, parts) in costs.of_way(draw.way) {
                cells[draw.point as usize].parts[rule] += parts;
            }
        }
        for (cell, judged) in cells.iter_mut().zip(judged) {
            cell.judged = judged;
        }
        cells
    }
}

impl<'a> Grouped<'a> {
    pub fn new(
        assessed: &'a Assessed,
        selection: &'a Selection,
        unit_of: &[usize],
        units: usize,
    ) -> Self {
        let costs = Costs::of(assessed, selection);
        // Few large pieces: each has a list of all units.
        let piece = CHUNK.max(selection.len() / rayon::current_num_threads() + 1);
        let rows = selection.par_chunks(piece);
        let pieces = rows
            .zip(costs.ways_of_draws().par_chunks(piece))
            .map(|of_rows| Piece::of(assessed, of_rows, unit_of, units))
            .collect();
        Grouped {
            assessed,
            costs,
            pieces,
        }
    }

    fn of_unit(&self, unit: usize) -> impl Iterator<Item = &Draw> {
        self.pieces
            .iter()
            .flat_map(move |piece| piece.of_unit(unit))
    }

    /// How many selected draws a unit has, judged or not.
    pub fn drew(&self, unit: usize) -> u64 {
        self.pieces.iter().map(|piece| piece.drew[unit]).sum()
    }

    /// The counts of a unit.
    pub fn counts(&self, unit: usize) -> Counts {
        let draws = || self.of_unit(unit);
        let costly = draws().filter(|draw| Costs::is_costly(draw.way));
        Counts {
            unrepresentative: costly.count() as u64,
            applies: how_often(draws().map(|draw| draw.applicable)),
            broken: how_often(draws().map(|draw| draw.broken)),
        }
    }

    /// All units' judged draws at each point.
    pub fn points(&self) -> Vec<Cell> {
        let points = self.assessed.points.len();
        (self.pieces.par_iter())
            .map(|piece| piece.at_points(&self.costs, points))
            .reduce(
                || vec![Cell::EMPTY; points],
                |mut sums, cells| {
                    for (sum, cell) in sums.iter_mut().zip(&cells) {
                        sum.add(cell);
                    }
                    sums
                },
            )
    }

    /// A slate for [`Self::by_point`], which leaves it as it finds it.
    pub fn slate(&self) -> Vec<u32> {
        vec![NOWHERE; self.assessed.points.len()]
    }

    /// The judged draws of a unit by point.
    pub fn by_point(&self, unit: usize, place_of: &mut [u32]) -> ByPoint {
        let mut points = Vec::new();
        for draw in self.of_unit(unit) {
            let place = &mut place_of[draw.point as usize];
            if *place == NOWHERE {
                *place = 0;
                points.push(draw.point);
            }
        }
        points.sort_unstable();
        for (place, point) in (0..).zip(&points) {
            place_of[*point as usize] = place;
        }
        let mut cells = vec![Cell::EMPTY; points.len()];
        for draw in self.of_unit(unit) {
            let place = place_of[draw.point as usize];
            cells[place as usize].add_draw(self.costs.of_way(draw.way));
        }
        for point in &points {
            place_of[*point as usize] = NOWHERE;
        }
        ByPoint { points, cells }
    }
}

/// In how many of the sets each rule is.
///
/// Eight rules at a time: each byte of a set becomes a number with one byte a rule, and these
/// are added up until a byte could overflow.
fn how_often(sets: impl Iterator<Item = RuleSet>) -> [u64; COUNT] {
    const SPREAD: [u64; 256] = spread();
    let mut counts = [0; COUNT];
    let mut sums = [0_u64; 4];
    let mut left = u8::MAX;
    let mut flush = |sums: &mut [u64; 4]| {
        let bytes = sums.iter().flat_map(|sum| sum.to_le_bytes());
        for (count, byte) in counts.iter_mut().zip(bytes) {
            *count += u64::from(byte);
        }
        *sums = [0; 4];
    };
    for set in sets {
        for (sum, byte) in sums.iter_mut().zip(set.0.to_le_bytes()) {
            *sum += SPREAD[usize::from(byte)];
        }
        left -= 1;
        if left == 0 {
            flush(&mut sums);
            left = u8::MAX;
        }
    }
    flush(&mut sums);
    counts
}

/// For each byte the number that has its bits as bytes, the lowest first.
const fn spread() -> [u64; 256] {
    let mut table = [0; 256];
    let mut byte = 0;
    while byte < 256 {
        let mut bit = 0;
        while bit < 8 {
            table[byte] |= ((byte as u64 >> bit) & 1) << (8 * bit);
            bit += 1;
        }
        byte += 1;
    }
    table
}

/// The judged draws of one unit by point.
pub(super) struct ByPoint {
    /// The points, in order.
    points: Vec<u32>,
    /// The cell of each of them.
    cells: Vec<Cell>,
}

impl ByPoint {
    /// The points in order, with their cells.
    pub fn each(&self) -> impl Iterator<Item = (u32, &Cell)> {
        self.points.iter().copied().zip(&self.cells)
    }

    /// The cell of a point, if the unit drew there.
    pub fn at(&self, point: u32) -> Option<&Cell> {
        let place = self.points.binary_search(&point);
        place.ok().map(|place| &self.cells[place])
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn rules_are_counted_as_one_by_one(sets in prop::collection::vec(0_u32..1 << COUNT, 0..900)) {
            let counted = how_often(sets.iter().copied().map(RuleSet));
            for (rule, count) in counted.into_iter().enumerate() {
                let one_by_one = sets.iter().filter(|set| RuleSet(**set).has(rule)).count();
                prop_assert_eq!(count, one_by_one as u64);
            }
        }
    }
}

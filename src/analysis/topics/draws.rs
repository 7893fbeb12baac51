//! Judged draws with their costs, by unit and point.

use rayon::prelude::*;

use super::costs::Costs;
use crate::analysis::breakdown::count;
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

/// The judged draws of a selection, unit by unit, and of each unit point by point.
///
/// Rows of one unit lie far apart, and so do those of one point. So they are put in order
/// first, by point and then by unit, and all that follows goes through them as they lie.
pub(super) struct Grouped<'a> {
    pub assessed: &'a Assessed,
    costs: Costs,
    draws: Vec<Draw>,
    /// Where each unit begins in `draws`, and where the last one ends.
    bounds: Vec<usize>,
    /// Selected draws of each unit, judged or not.
    drew: Vec<u64>,
    /// All units' draws at each point.
    points: Vec<Cell>,
}

/// What the comparison needs of a judged draw.
#[derive(Clone, Copy, Default)]
struct Draw {
    unit: u32,
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

impl<'a> Grouped<'a> {
    pub fn new(
        assessed: &'a Assessed,
        selection: &'a Selection,
        unit_of: &[usize],
        units: usize,
    ) -> Self {
        let judged = &assessed.judged;
        let unit = |row: usize| unit_of[judged.technician[row] as usize];
        let costs = Costs::of(assessed, selection);
        let drew = count(selection, units, |row, drew| drew[unit(row)] += 1);
        let draw = |(place, &row): (usize, &u32)| {
            let row = row as usize;
            (judged.verdict[row] != Verdict::Unproven).then(|| Draw {
                unit: u32::try_from(unit(row)).expect("no more units than technicians"),
                point: judged.point[row],
                way: costs.way_of_draw(place),
                applicable: judged.applicable[row],
                broken: judged.broken[row],
            })
        };
        let draws: Vec<Draw> = selection
            .par_iter()
            .enumerate()
            .with_min_len(CHUNK)
            .filter_map(draw)
            .collect();
        let (draws, bounds) = in_order(&draws, assessed.points.len(), |draw| draw.point);
        let points = (bounds.par_windows(2).with_min_len(64))
            .map(|ends| cell(&costs, &draws[ends[0]..ends[1]]))
            .collect();
        let (draws, bounds) = in_order(&draws, units, |draw| draw.unit);
        Grouped {
            assessed,
            costs,
            draws,
            bounds,
            drew,
            points,
        }
    }

    fn of_unit(&self, unit: usize) -> &[Draw] {
        &self.draws[self.bounds[unit]..self.bounds[unit + 1]]
    }

    /// How many selected draws a unit has, judged or not.
    pub fn drew(&self, unit: usize) -> u64 {
        self.drew[unit]
    }

    /// The counts of a unit.
    pub fn counts(&self, unit: usize) -> Counts {
        let draws = self.of_unit(unit);
        let costly = draws.iter().filter(|draw| Costs::is_costly(draw.way));
        Counts {
            unrepresentative: costly.count() as u64,
            applies: how_often(draws.iter().map(|draw| draw.applicable)),
            broken: how_often(draws.iter().map(|draw| draw.broken)),
        }
    }

    /// All units' judged draws at each point.
    pub fn points(&self) -> &[Cell] {
        &self.points
    }

    /// The judged draws of a unit by point.
    pub fn by_point(&self, unit: usize) -> ByPoint {
        let at_points = self
            .of_unit(unit)
            .chunk_by(|one, next| one.point == next.point);
        let cells = at_points.map(|draws| (draws[0].point, cell(&self.costs, draws)));
        ByPoint {
            cells: cells.collect(),
        }
    }
}

/// These draws in one cell.
fn cell(costs: &Costs, draws: &[Draw]) -> Cell {
    let mut cell = Cell::EMPTY;
    for draw in draws {
        cell.add_draw(costs.of_way(draw.way));
    }
    cell
}

/// The draws in the order of a number below `keys`, equal ones as they were, and where those
/// of each number begin (with the end of the last). Each thread fills a stretch of its own.
fn in_order(
    draws: &[Draw],
    keys: usize,
    key: impl Fn(&Draw) -> u32 + Sync,
) -> (Vec<Draw>, Vec<usize>) {
    let mut bounds = vec![0; keys + 1];
    for draw in draws {
        bounds[key(draw) as usize + 1] += 1;
    }
    for place in 0..keys {
        bounds[place + 1] += bounds[place];
    }
    let threads = rayon::current_num_threads();
    let mut ordered = vec![Draw::default(); draws.len()];
    let mut stretches = Vec::with_capacity(threads);
    let (mut rest, mut first) = (&mut ordered[..], 0);
    for thread in 1..=threads {
        let wanted = draws.len() * thread / threads;
        let last = match thread == threads {
            true => keys,
            false => bounds.partition_point(|&bound| bound < wanted).min(keys),
        };
        let last = last.max(first);
        let (stretch, later) = rest.split_at_mut(bounds[last] - bounds[first]);
        stretches.push((first..last, stretch));
        (rest, first) = (later, last);
    }
    stretches.into_par_iter().for_each(|(keys, stretch)| {
        let start = bounds[keys.start];
        let mut next: Vec<usize> = (bounds[keys.clone()].iter())
            .map(|bound| bound - start)
            .collect();
        for draw in draws {
            let key = key(draw) as usize;
            if keys.contains(&key) {
                let place = &mut next[key - keys.start];
                stretch[*place] = *draw;
                *place += 1;
            }
        }
    });
    (ordered, bounds)
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

        #[test]
        fn draws_are_put_in_order_as_by_a_stable_sort(points in prop::collection::vec(0_u32..40, 0..300)) {
            let draws: Vec<Draw> = (points.iter().zip(0..))
                .map(|(&point, way)| Draw { point, way, ..Draw::default() })
                .collect();
            let (ordered, bounds) = in_order(&draws, 40, |draw| draw.point);
            let mut expected = draws.clone();
            expected.sort_by_key(|draw| draw.point);
            let each = |draws: &[Draw]| -> Vec<(u32, u32)> {
                draws.iter().map(|draw| (draw.point, draw.way)).collect()
            };
            prop_assert_eq!(each(&ordered), each(&expected));
            for (point, ends) in bounds.windows(2).enumerate() {
                let here = &ordered[ends[0]..ends[1]];
                prop_assert!(here.iter().all(|draw| draw.point as usize == point));
            }
            prop_assert_eq!(bounds[40], draws.len());
        }
    }
}

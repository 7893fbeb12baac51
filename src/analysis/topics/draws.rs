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

/// The judged draws of a selection, one unit after the other.
///
/// Rows of one unit lie far apart. So what the comparison needs of each is put beside those of
/// its unit first, in as little memory as can be, and all counts go through them as they lie.
pub(super) struct Grouped<'a> {
    pub assessed: &'a Assessed,
    costs: Costs,
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
        let counted = count(selection, 2 * units, |row, counts| {
            let counts = &mut counts[2 * unit(row)..][..2];
            counts[0] += 1;
            counts[1] += u64::from(is_judged(row));
        });
        let (each, _) = counted.as_chunks::<2>();
        let mut bounds = vec![0; units + 1];
        for (unit, [_, of_unit]) in each.iter().enumerate() {
            bounds[unit + 1] = bounds[unit] + usize::try_from(*of_unit).expect("rows of memory");
        }
        let unit_at = |place: usize| {
            let row = selection[place] as usize;
            is_judged(row).then(|| unit(row))
        };
        let draw_at = |place: usize| {
            let row = selection[place] as usize;
            Draw {
                point: judged.point[row],
                way: costs.way_of_draw(place),
                applicable: judged.applicable[row],
                broken: judged.broken[row],
            }
        };
        Grouped {
            draws: by_unit(selection.len(), &bounds, unit_at, draw_at),
            drew: each.iter().map(|[drew, _]| *drew).collect(),
            assessed,
            costs,
            bounds,
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
    pub fn points(&self) -> Vec<Cell> {
        let points = self.assessed.points.len();
        let piece = CHUNK.max(self.draws.len() / rayon::current_num_threads() + 1);
        (self.draws.par_chunks(piece))
            .map(|draws| self.at_points(draws))
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

    /// These draws by point, with a cell for each point of the programme.
    fn at_points(&self, draws: &[Draw]) -> Vec<Cell> {
        let mut cells = vec![Cell::EMPTY; self.assessed.points.len()];
        let mut judged = vec![0; cells.len()];
        for draw in draws {
            // Most draws cost nothing; their cells are not even looked at.
            judged[draw.point as usize] += 1;
            for &(rule, parts) in self.costs.of_way(draw.way) {
                cells[draw.point as usize].parts[rule] += parts;
            }
        }
        for (cell, judged) in cells.iter_mut().zip(judged) {
            cell.judged = judged;
        }
        cells
    }

    /// A slate for [`Self::by_point`], which leaves it as it finds it.
    pub fn slate(&self) -> Vec<u32> {
        vec![NOWHERE; self.assessed.points.len()]
    }

    /// The judged draws of a unit by point.
    pub fn by_point(&self, unit: usize, place_of: &mut [u32]) -> ByPoint {
        let draws = self.of_unit(unit);
        let mut points = Vec::new();
        for draw in draws {
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
        for draw in draws {
            let place = place_of[draw.point as usize];
            cells[place as usize].add_draw(self.costs.of_way(draw.way));
        }
        for point in &points {
            place_of[*point as usize] = NOWHERE;
        }
        ByPoint {
            cells: points.into_iter().zip(cells).collect(),
        }
    }
}

/// The draws of all units, one unit after the other; those of each in the order of places below
/// `places`. `bounds` says where each unit begins, and where the last one ends. Each thread
/// fills the draws of some of the units, and looks at no others.
fn by_unit(
    places: usize,
    bounds: &[usize],
    unit_at: impl Fn(usize) -> Option<usize> + Sync,
    draw_at: impl Fn(usize) -> Draw + Sync,
) -> Vec<Draw> {
    let units = bounds.len() - 1;
    let threads = rayon::current_num_threads();
    let mut draws = vec![Draw::default(); bounds[units]];
    let mut stretches = Vec::with_capacity(threads);
    let (mut rest, mut first) = (&mut draws[..], 0);
    for thread in 1..=threads {
        let wanted = bounds[units] * thread / threads;
        let last = match thread == threads {
            true => units,
            false => bounds.partition_point(|&bound| bound < wanted),
        };
        let last = last.clamp(first, units);
        let (stretch, later) = rest.split_at_mut(bounds[last] - bounds[first]);
        stretches.push((first..last, stretch));
        (rest, first) = (later, last);
    }
    stretches.into_par_iter().for_each(|(units, stretch)| {
        let start = bounds[units.start];
        let begins = bounds[units.clone()].iter();
        let mut next: Vec<usize> = begins.map(|begin| begin - start).collect();
        for place in 0..places {
            if let Some(unit) = unit_at(place).filter(|unit| units.contains(unit)) {
                let next = &mut next[unit - units.start];
                stretch[*next] = draw_at(place);
                *next += 1;
            }
        }
    });
    draws
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
    #![allow(clippy::unwrap_used)]
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
        fn draws_are_put_together_by_unit_in_their_order(
            units in prop::collection::vec(prop::option::of(0_usize..40), 0..300),
        ) {
            let judged = || units.iter().copied().enumerate();
            let mut bounds = vec![0; 41];
            for unit in 0..40 {
                let here = judged().filter(|(_, of)| *of == Some(unit)).count();
                bounds[unit + 1] = bounds[unit] + here;
            }
            let draw = |place: usize| Draw {
                point: u32::try_from(place).unwrap(),
                ..Draw::default()
            };
            let found = by_unit(units.len(), &bounds, |place| units[place], draw);
            let found: Vec<usize> = found.iter().map(|draw| draw.point as usize).collect();
            let mut wanted: Vec<(usize, usize)> = judged()
                .filter_map(|(place, unit)| Some((unit?, place)))
                .collect();
            wanted.sort_unstable();
            let wanted: Vec<usize> = wanted.into_iter().map(|(_, place)| place).collect();
            prop_assert_eq!(found, wanted);
        }
    }
}

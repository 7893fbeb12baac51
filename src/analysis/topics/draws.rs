//! Judged draws with their costs, by unit and point.

use rayon::prelude::*;

use crate::analysis::by_technician::{ByTechnician, LaidDraw, Marks};
use crate::analysis::how_often::HowOften;
use crate::analysis::{Assessed, Selection, SharedOut};
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

/// The judged draws of a selection by unit, a technician or several.
pub(super) struct Grouped<'a> {
    pub assessed: &'a Assessed,
    costs: &'a SharedOut,
    laid: &'a ByTechnician,
    selected: Marks,
    /// The technicians of each unit.
    members: &'a [Vec<usize>],
}

/// Counts over one unit's judged draws.
pub(super) struct Counts {
    /// Unrepresentative ones.
    pub unrepresentative: u64,
    /// Judged draws that each rule applies to.
    pub applies: [u64; COUNT],
    /// Judged draws on which each rule is broken.
    pub broken: [u64; COUNT],
}

impl<'a> Grouped<'a> {
    pub fn new(assessed: &'a Assessed, selection: &Selection, members: &'a [Vec<usize>]) -> Self {
        let laid = assessed.by_technician();
        Grouped {
            assessed,
            costs: assessed.shared_out(),
            laid,
            selected: laid.mark(selection),
            members,
        }
    }

    /// The judged draws of a technician, by point.
    fn of_technician(&self, technician: usize) -> impl Iterator<Item = &LaidDraw> {
        let places = self.selected.within(self.laid.of_technician(technician));
        let draws = places.map(|place| &self.laid.draws[place]);
        draws.filter(|draw| draw.verdict != Verdict::Unproven)
    }

    fn of_unit(&self, unit: usize) -> impl Iterator<Item = &LaidDraw> {
        let members = self.members[unit].iter();
        members.flat_map(|technician| self.of_technician(*technician))
    }

    /// Whether a unit has any selected draw, judged or not.
    pub fn drew(&self, unit: usize) -> bool {
        let mut places = (self.members[unit].iter())
            .flat_map(|technician| self.selected.within(self.laid.of_technician(*technician)));
        places.next().is_some()
    }

    /// The counts of a unit.
    pub fn counts(&self, unit: usize) -> Counts {
        let draws = || self.of_unit(unit);
        let costly = draws().filter(|draw| draw.verdict == Verdict::Unrepresentative);
        Counts {
            unrepresentative: costly.count() as u64,
            applies: HowOften::of(draws().map(|draw| draw.applicable)).each(),
            broken: HowOften::of(draws().map(|draw| draw.broken)).each(),
        }
    }

    /// All units' judged draws at each point.
    pub fn points(&self) -> Vec<Cell> {
        let none = || vec![Cell::EMPTY; self.assessed.points.len()];
        let units = self.members.len();
        // Few large pieces: each has a list of all points.
        (0..units)
            .into_par_iter()
            .with_min_len(units / rayon::current_num_threads() + 1)
            .fold(none, |mut cells, unit| {
                self.of_unit(unit).for_each(|draw| {
                    cells[draw.point as usize].add_draw(self.costs.of_way(draw.way));
                });
                cells
            })
            .reduce(none, |mut sums, cells| {
                for (sum, cell) in sums.iter_mut().zip(&cells) {
                    sum.add(cell);
                }
                sums
            })
    }

    /// Writes down the judged draws of a unit by point, in place of what stands there.
    pub fn write_by_point(&self, unit: usize, ByPoint { cells }: &mut ByPoint) {
        cells.clear();
        self.of_unit(unit).for_each(|draw| {
            if cells.last().is_none_or(|(point, _)| *point != draw.point) {
                cells.push((draw.point, Cell::EMPTY));
            }
            if let Some((_, cell)) = cells.last_mut() {
                cell.add_draw(self.costs.of_way(draw.way));
            }
        });
        // Several members may have drawn at the same point.
        if self.members[unit].len() > 1 {
            cells.sort_unstable_by_key(|(point, _)| *point);
            cells.dedup_by(|later, first| {
                let is_same = later.0 == first.0;
                if is_same {
                    first.1.add(&later.1);
                }
                is_same
            });
        }
    }
}

/// The judged draws of one unit by point.
#[derive(Default)]
pub(super) struct ByPoint {
    /// The points with any, in order.
    cells: Vec<(u32, Cell)>,
}

impl ByPoint {
    /// The points in order, with their cells.
    pub fn each(&self) -> impl Iterator<Item = (u32, &Cell)> {
        self.cells.iter().map(|(point, cell)| (*point, cell))
    }

    /// The cell of a point, if the unit drew there.
    pub fn at(&self, point: u32) -> Option<&Cell> {
        let place = self.cells.binary_search_by_key(&point, |(point, _)| *point);
        place.ok().map(|place| &self.cells[place].1)
    }
}

//! What peers lose at the same points, or at points like them.

use rustc_hash::FxHashMap;

use super::draws::{ByPoint, Cell, Grouped};
use crate::analysis::shared_out::{PARTS, draws};
use crate::model::{Kind, MachineClass};
use crate::rules::COUNT;
use crate::stats::difference::{Estimate, of_estimates};
use crate::stats::wilson::{self, Z_95};

/// Points of one kind and machine class.
type Class = (Kind, Option<MachineClass>);

/// All units' draws by point, by kind and machine class, and together.
pub(super) struct Surroundings {
    points: Vec<Cell>,
    class_of: Vec<Class>,
    classes: FxHashMap<Class, Cell>,
    all: Cell,
}

impl Surroundings {
    pub fn of(rows: &Grouped) -> Self {
        let assessed = rows.assessed;
        let mut found = Surroundings {
            points: rows.points(),
            class_of: (assessed.points.iter())
                .map(|point| (point.kind, point.machine_class))
                .collect(),
            classes: FxHashMap::default(),
            all: Cell::EMPTY,
        };
        for (cell, class) in found.points.iter().zip(&found.class_of) {
            found.classes.entry(*class).or_insert(Cell::EMPTY).add(cell);
            found.all.add(cell);
        }
        found
    }
}

/// One unit's own draws among the peers' rows, to be left out.
struct Own {
    classes: FxHashMap<Class, Cell>,
    all: Cell,
}

impl Own {
    fn of(unit: &ByPoint, surroundings: &Surroundings) -> Self {
        let mut own = Own {
            classes: FxHashMap::default(),
            all: Cell::EMPTY,
        };
        for (point, cell) in unit.each() {
            let class = surroundings.class_of[point as usize];
            own.classes.entry(class).or_insert(Cell::EMPTY).add(cell);
            own.all.add(cell);
        }
        own
    }
}

/// What the peers say of a unit's draws.
pub(super) struct Peers {
    /// Draws that each rule would have cost them on as many draws at the same points.
    pub expected: [f64; COUNT],
    /// How many draws the comparison is worth: 1/Σ(w²/m), w the part of the unit's draws
    /// that is compared with m of theirs.
    effective: f64,
}

/// Sums over what a unit's draws are compared with.
struct Comparison {
    expected_parts: [f64; COUNT],
    /// Σ(n²/m), n own draws compared with m.
    squares: f64,
}

impl Comparison {
    /// Compares so many own draws with these of others.
    fn add(&mut self, own: u64, others: &Cell) {
        let (n, m) = (own as f64, others.judged as f64);
        for (sum, parts) in self.expected_parts.iter_mut().zip(others.parts) {
            // Multiplied first, so that whole numbers of draws come out whole.
            *sum += n * parts as f64 / m;
        }
        self.squares += n * n / m;
    }
}

/// Compares a unit's own draws with those of others; none if nobody else drew. Also how many
/// own draws are at points where others drew. `among_peers` are the unit's draws among the
/// peers' rows, to be left out.
pub(super) fn compared(
    own: &ByPoint,
    among_peers: &ByPoint,
    all: &Surroundings,
) -> (Option<Peers>, u64) {
    let left_out = Own::of(among_peers, all);
    let mut comparison = Comparison {
        expected_parts: [0.0; COUNT],
        squares: 0.0,
    };
    let mut at_shared_points = 0;
    // Draws that fall back on the same cell are taken together, in the order of points.
    let mut in_class: Vec<(Class, u64)> = Vec::new();
    for (point, cell) in own.each() {
        let here = all.points[point as usize];
        let rest = among_peers.at(point).map_or(here, |mine| here.less(mine));
        if rest.judged > 0 {
            at_shared_points += cell.judged;
            comparison.add(cell.judged, &rest);
            continue;
        }
        let class = all.class_of[point as usize];
        match in_class.iter_mut().find(|(other, _)| *other == class) {
            Some((_, judged)) => *judged += cell.judged,
            None => in_class.push((class, cell.judged)),
        }
    }
    let mut anywhere = 0;
    for (class, judged) in in_class {
        let there = all.classes.get(&class).copied().unwrap_or(Cell::EMPTY);
        let mine = left_out.classes.get(&class).copied().unwrap_or(Cell::EMPTY);
        let rest = there.less(&mine);
        if rest.judged > 0 {
            comparison.add(judged, &rest);
        } else {
            anywhere += judged;
        }
    }
    let rest = all.all.less(&left_out.all);
    if anywhere > 0 && rest.judged > 0 {
        comparison.add(anywhere, &rest);
    }
    let judged: u64 = own.each().map(|(_, cell)| cell.judged).sum();
    let n = judged as f64;
    let peers = (comparison.squares > 0.0).then(|| Peers {
        expected: comparison.expected_parts.map(|parts| parts / PARTS as f64),
        effective: n * n / comparison.squares,
    });
    (peers, at_shared_points)
}

impl Peers {
    /// What a rule costs the unit over what it costs the peers, in draws. `sum` holds all of
    /// the unit's judged draws.
    pub fn over(&self, rule: usize, sum: &Cell) -> Estimate {
        let estimate = |mean: f64, trials: f64| {
            let (low, high) = wilson::of_mean(mean, trials, Z_95);
            Estimate {
                value: mean,
                low: low.min(mean),
                high: high.max(mean),
            }
        };
        let n = sum.judged as f64;
        let own = estimate(draws(sum.parts[rule]) / n, n);
        let theirs = estimate((self.expected[rule] / n).clamp(0.0, 1.0), self.effective);
        let over = of_estimates(own, theirs);
        Estimate {
            value: draws(sum.parts[rule]) - self.expected[rule],
            low: over.low * n,
            high: over.high * n,
        }
    }
}

//! Retraining topics: per technician or crew, the rules by which more draws are lost than
//! peers lose at the same points anyway.
//!
//! For a technician t and a rule r, C(t, r) is the sum of what r costs on t's draws
//! ([`Costs`]). E(t, r) is what the same number of draws at the same points would have cost
//! if others had drawn them: the sum, over t's judged draws, of the mean cost of r over the
//! others' judged draws at that point. Where nobody else drew at a point, others' draws at
//! points of the same kind and machine class stand in, else those of the whole programme.
//! What t could regain by doing as the peers do is C − E.
//!
//! The interval of C − E is that of a difference of two means of values in 0..=1: Wilson's
//! of each (the peers' mean with the effective number 1/Σ(wₚ²/mₚ), where wₚ is the part of
//! t's draws that is compared with the m others at p), joined by Newcombe's
//! square-and-add. It takes draws as independent; draws of one round are alike, so read a
//! narrow one with care. Of the many topics that are looked at, up to one in forty with
//! nothing behind it says "more than peers".

use rustc_hash::FxHashMap;

use super::costs::{Costs, draws};
use super::shapley::PARTS;
use crate::analysis::{Assessed, BLANK, Filter, FilterKey, Selection};
use crate::model::{Kind, MachineClass, Owner, Verdict};
use crate::rules::{COUNT, cards};
use crate::stats::difference::{Estimate, of_estimates};
use crate::stats::wilson::{self, Z_95};

/// Below so many judged draws no more than the interval is said.
pub const FEW: u64 = 20;

/// Whose topics.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Each technician's, compared with the other technicians.
    Technician,
    /// Each crew's, compared with the other crews. Technicians without a crew are one.
    Crew,
}

/// How much the numbers of a topic say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Says {
    /// The interval of what is lost over peers lies above 0.
    MoreThanPeers,
    /// It does not: chance alone could have done it.
    MayBeChance,
    /// Too few judged draws to say either.
    Few,
    /// Nobody else drew anything to compare with.
    NoPeers,
}

impl Says {
    /// The words used on screens and in files.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Says::MoreThanPeers => "more than peers",
            Says::MayBeChance => "may be chance",
            Says::Few => "few draws",
            Says::NoPeers => "no peers",
        }
    }
}

/// One rule as a retraining topic.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Topic {
    /// The place of the rule in the contract's order.
    pub rule: usize,
    /// Judged draws the rule applies to.
    pub applies: u64,
    /// Of these, draws on which it is broken.
    pub broken: u64,
    /// Draws it costs.
    pub cost: f64,
    /// Draws it would have cost peers at the same points; none without peers.
    pub expected: Option<f64>,
    /// Cost less expected, with its 95 % interval, in draws; none without peers.
    pub over_peers: Option<Estimate>,
    /// How much these numbers say.
    pub says: Says,
}

impl Topic {
    /// The id of the rule.
    #[must_use]
    pub fn id(&self) -> &'static str {
        cards()[self.rule].id
    }

    /// What doing as the peers do would regain, in draws; without peers, all of the cost.
    #[must_use]
    pub fn regained(&self) -> f64 {
        self.over_peers.map_or(self.cost, |over| over.value)
    }
}

/// The topics of one technician or crew.
#[derive(Clone, Debug, PartialEq)]
pub struct Topics {
    /// The technician's id or the crew's name, `(blank)` for none.
    pub key: String,
    /// The technician's place in the programme's list; none for a crew.
    pub technician: Option<usize>,
    /// Judged draws.
    pub judged: u64,
    /// Unrepresentative ones.
    pub unrepresentative: u64,
    /// Judged draws at points where others drew too.
    pub at_shared_points: u64,
    /// Rules whose owner is the technician and which cost anything over what they cost
    /// peers, most first. Empty where there is nothing to regain.
    pub topics: Vec<Topic>,
    /// Every rule of the contract with its cost in draws, also those of other owners and
    /// those that cost no more than at peers.
    pub costs: [f64; COUNT],
}

/// The draws that those of a filter are compared with: the filter without its terms on
/// technicians and crews, which say whose topics are asked for, not with whom they compare.
#[must_use]
pub fn peers_of(filter: &Filter) -> Filter {
    filter
        .without(FilterKey::Technician)
        .without(FilterKey::Crew)
}

/// The topics of every technician or crew with a selected draw, sorted by key in byte
/// order. `peers` are the rows the comparison is drawn from, usually those of
/// [`peers_of`]; own draws among them are left out.
#[must_use]
pub fn topics(
    assessed: &Assessed,
    selection: &Selection,
    peers: &Selection,
    unit: Unit,
) -> Vec<Topics> {
    let (keys, unit_of) = units(assessed, unit);
    let own = Cells::of(assessed, selection, &unit_of, keys.len());
    let apart = (selection != peers).then(|| Cells::of(assessed, peers, &unit_of, keys.len()));
    let others = apart.as_ref().unwrap_or(&own);
    let surroundings = Surroundings::of(assessed, others);
    let mut found: Vec<Topics> = (0..keys.len())
        .filter(|&unit| own.drew[unit] > 0)
        .map(|number| Topics {
            technician: (unit == Unit::Technician).then_some(number),
            ..of_unit(keys[number], number, &own, others, &surroundings)
        })
        .collect();
    found.sort_by(|one, other| one.key.cmp(&other.key));
    found
}

/// The names of units, and for each technician its unit.
fn units(assessed: &Assessed, unit: Unit) -> (Vec<&str>, Vec<usize>) {
    let mut names = Vec::new();
    let mut numbers = FxHashMap::default();
    let unit_of = (assessed.technicians.iter().enumerate())
        .map(|(place, technician)| match unit {
            Unit::Technician => {
                names.push(technician.id.as_str());
                place
            }
            Unit::Crew => {
                let crew = technician.crew.as_deref().unwrap_or(BLANK);
                *numbers
                    .entry(technician.crew.as_deref())
                    .or_insert_with(|| {
                        names.push(crew);
                        names.len() - 1
                    })
            }
        })
        .collect();
    (names, unit_of)
}

/// Judged draws and their costs, in parts, in one cell.
#[derive(Clone, Copy)]
struct Cell {
    judged: u64,
    parts: [i64; COUNT],
}

impl Cell {
    const EMPTY: Cell = Cell {
        judged: 0,
        parts: [0; COUNT],
    };

    fn add(&mut self, other: &Cell) {
        self.judged += other.judged;
        for (sum, parts) in self.parts.iter_mut().zip(other.parts) {
            *sum += parts;
        }
    }

    fn less(&self, other: &Cell) -> Cell {
        let mut rest = *self;
        rest.judged -= other.judged;
        for (sum, parts) in rest.parts.iter_mut().zip(other.parts) {
            *sum -= parts;
        }
        rest
    }

    fn mean(&self, rule: usize) -> f64 {
        self.parts[rule] as f64 / (self.judged as f64 * PARTS as f64)
    }
}

/// A selection by unit and point.
struct Cells {
    /// For each unit its points with their cells, points in order.
    of_unit: Vec<Vec<(u32, Cell)>>,
    /// For each unit, selected draws, judged or not.
    drew: Vec<u64>,
    unrepresentative: Vec<u64>,
    applies: Vec<[u64; COUNT]>,
    broken: Vec<[u64; COUNT]>,
}

impl Cells {
    fn of(assessed: &Assessed, selection: &Selection, unit_of: &[usize], units: usize) -> Self {
        let judged = &assessed.judged;
        let costs = Costs::of(assessed, selection);
        let mut cells = Cells {
            of_unit: vec![Vec::new(); units],
            drew: vec![0; units],
            unrepresentative: vec![0; units],
            applies: vec![[0; COUNT]; units],
            broken: vec![[0; COUNT]; units],
        };
        let mut places: FxHashMap<(usize, u32), usize> = FxHashMap::default();
        for (place, &row) in selection.iter().enumerate() {
            let row = row as usize;
            let unit = unit_of[judged.technician[row] as usize];
            cells.drew[unit] += 1;
            if judged.verdict[row] == Verdict::Unproven {
                continue;
            }
            let point = judged.point[row];
            let of_unit = &mut cells.of_unit[unit];
            let cell = *places.entry((unit, point)).or_insert_with(|| {
                of_unit.push((point, Cell::EMPTY));
                of_unit.len() - 1
            });
            let cell = &mut of_unit[cell].1;
            cell.judged += 1;
            for &(rule, parts) in costs.of_draw(place) {
                cell.parts[rule] += parts;
            }
            if judged.verdict[row] == Verdict::Unrepresentative {
                cells.unrepresentative[unit] += 1;
            }
            for rule in judged.applicable[row].iter() {
                cells.applies[unit][rule] += 1;
            }
            for rule in judged.broken[row].iter() {
                cells.broken[unit][rule] += 1;
            }
        }
        for of_unit in &mut cells.of_unit {
            of_unit.sort_by_key(|(point, _)| *point);
        }
        cells
    }

    /// The cell of a unit at a point, if it drew there.
    fn at(&self, unit: usize, point: u32) -> Option<&Cell> {
        let of_unit = &self.of_unit[unit];
        let place = of_unit.binary_search_by_key(&point, |(point, _)| *point);
        place.ok().map(|place| &of_unit[place].1)
    }
}

/// Points of one kind and machine class.
type Class = (Kind, Option<MachineClass>);

/// All units' draws by point, by kind and machine class, and together.
struct Surroundings {
    points: Vec<Cell>,
    class_of: Vec<Class>,
    classes: FxHashMap<Class, Cell>,
    all: Cell,
}

impl Surroundings {
    fn of(assessed: &Assessed, cells: &Cells) -> Self {
        let mut found = Surroundings {
            points: vec![Cell::EMPTY; assessed.points.len()],
            class_of: assessed
                .points
                .iter()
                .map(|point| (point.kind, point.machine_class))
                .collect(),
            classes: FxHashMap::default(),
            all: Cell::EMPTY,
        };
        for (point, cell) in cells.of_unit.iter().flatten() {
            let class = found.class_of[*point as usize];
            found.points[*point as usize].add(cell);
            found.classes.entry(class).or_insert(Cell::EMPTY).add(cell);
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
    fn of(unit: usize, cells: &Cells, surroundings: &Surroundings) -> Self {
        let mut own = Own {
            classes: FxHashMap::default(),
            all: Cell::EMPTY,
        };
        for (point, cell) in &cells.of_unit[unit] {
            let class = surroundings.class_of[*point as usize];
            own.classes.entry(class).or_insert(Cell::EMPTY).add(cell);
            own.all.add(cell);
        }
        own
    }
}

/// Where the peers of a unit's draws were found: own judged draws with the others' cell.
fn compared(
    unit: usize,
    own: &Cells,
    others: &Cells,
    all: &Surroundings,
) -> (Vec<(u64, Cell)>, u64) {
    let left_out = Own::of(unit, others, all);
    let mut at_shared_points = 0;
    // Draws that fall back on the same cell are taken together, in the order of points.
    let mut in_class: Vec<(Class, u64)> = Vec::new();
    let mut pairs = Vec::new();
    for (point, cell) in &own.of_unit[unit] {
        let here = all.points[*point as usize];
        let rest = others.at(unit, *point).map_or(here, |mine| here.less(mine));
        if rest.judged > 0 {
            at_shared_points += cell.judged;
            pairs.push((cell.judged, rest));
            continue;
        }
        let class = all.class_of[*point as usize];
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
            pairs.push((judged, rest));
        } else {
            anywhere += judged;
        }
    }
    let rest = all.all.less(&left_out.all);
    if anywhere > 0 && rest.judged > 0 {
        pairs.push((anywhere, rest));
    }
    (pairs, at_shared_points)
}

fn of_unit(
    key: &str,
    unit: usize,
    own: &Cells,
    others: &Cells,
    surroundings: &Surroundings,
) -> Topics {
    let mut sum = Cell::EMPTY;
    for (_, cell) in &own.of_unit[unit] {
        sum.add(cell);
    }
    let (pairs, at_shared_points) = compared(unit, own, others, surroundings);
    let mut topics: Vec<Topic> = (0..COUNT)
        .filter(|&rule| cards()[rule].owner == Owner::Technician && sum.parts[rule] > 0)
        .map(|rule| {
            let over_peers = over_peers(rule, &sum, &pairs);
            Topic {
                rule,
                applies: own.applies[unit][rule],
                broken: own.broken[unit][rule],
                cost: draws(sum.parts[rule]),
                expected: over_peers.map(|(expected, _)| expected),
                over_peers: over_peers.map(|(_, over)| over),
                says: match over_peers {
                    None => Says::NoPeers,
                    Some(_) if sum.judged < FEW => Says::Few,
                    Some((_, over)) if over.low > 0.0 => Says::MoreThanPeers,
                    Some(_) => Says::MayBeChance,
                },
            }
        })
        .filter(|topic| topic.regained() > 1e-9)
        .collect();
    topics.sort_by(|one, other| {
        let order = |topic: &Topic| (topic.regained(), topic.cost);
        let ((one_over, one_cost), (other_over, other_cost)) = (order(one), order(other));
        (other_over.total_cmp(&one_over))
            .then(other_cost.total_cmp(&one_cost))
            .then(one.rule.cmp(&other.rule))
    });
    Topics {
        key: key.to_owned(),
        technician: None,
        judged: sum.judged,
        unrepresentative: own.unrepresentative[unit],
        at_shared_points,
        topics,
        costs: sum.parts.map(draws),
    }
}

/// What peers would have lost by a rule, and what was lost over it, in draws; none without
/// peers.
fn over_peers(rule: usize, sum: &Cell, pairs: &[(u64, Cell)]) -> Option<(f64, Estimate)> {
    if pairs.is_empty() {
        return None;
    }
    let n = sum.judged as f64;
    let mut expected = 0.0;
    let mut one_by_effective = 0.0;
    for (judged, rest) in pairs {
        let part = *judged as f64 / n;
        expected += part * rest.mean(rule);
        one_by_effective += part * part / rest.judged as f64;
    }
    let estimate = |mean: f64, trials: f64| {
        let (low, high) = wilson::of_mean(mean, trials, Z_95);
        Estimate {
            value: mean,
            low: low.min(mean),
            high: high.max(mean),
        }
    };
    let own = estimate(sum.mean(rule), n);
    let over = of_estimates(
        own,
        estimate(expected.clamp(0.0, 1.0), 1.0 / one_by_effective),
    );
    let in_draws = Estimate {
        value: over.difference * n,
        low: over.low * n,
        high: over.high * n,
    };
    Some((expected * n, in_draws))
}

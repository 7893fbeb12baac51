//! What to ask of those who don't draw: the plant, the planner, dispatch, the desk.
//!
//! Their rules are no retraining topics, however often they break. The plant is asked point
//! by point, since it fits points; the others site by site. What is unrecorded stands
//! beside what is broken: a desk that registers nothing leaves blanks.

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use crate::analysis::share::large_piece;
use crate::analysis::shared_out::draws;
use crate::analysis::{Assessed, Selection, SharedOut};
use crate::model::{Owner, RuleSet};
use crate::rules::{COUNT, cards};

/// The owners with lists of their own, in the order they are listed.
pub const ASKED: [Owner; 4] = [Owner::Plant, Owner::Planner, Owner::Dispatch, Owner::Desk];

/// One line of an owner's list.
#[derive(Clone, Debug, PartialEq)]
pub struct Ask {
    /// Whom to ask.
    pub owner: Owner,
    /// The place of the rule in the contract's order.
    pub rule: usize,
    /// The site; none where it is blank.
    pub site: Option<String>,
    /// Place of the point in the programme's list; none for owners asked site by site.
    pub point: Option<usize>,
    /// Draws there the rule applies to.
    pub draws: u64,
    /// Of these, draws on which it is broken.
    pub broken: u64,
    /// Of these, draws on which it is unrecorded.
    pub unrecorded: u64,
    /// Draws it costs there; 0 for rules that have no part in the verdict.
    pub cost: f64,
}

impl Ask {
    /// The id of the rule.
    #[must_use]
    pub fn id(&self) -> &'static str {
        cards()[self.rule].id
    }
}

#[derive(Clone, Copy, Default)]
struct Counts {
    draws: u64,
    broken: u64,
    unrecorded: u64,
    parts: i64,
}

impl Counts {
    fn add(&mut self, other: &Counts) {
        self.draws += other.draws;
        self.broken += other.broken;
        self.unrecorded += other.unrecorded;
        self.parts += other.parts;
    }
}

/// The counts of every rule at one point.
type AtPoint = [Counts; COUNT];

/// The lists of all owners: by owner, then the rules that cost most, then the places where
/// they cost most (of equals the most broken, the most unrecorded, then by site and point).
/// A place where the rule is neither broken nor unrecorded is left out.
#[must_use]
pub fn asks(assessed: &Assessed, selection: &Selection) -> Vec<Ask> {
    let costs = assessed.shared_out();
    let at_points = (selection.par_chunks(large_piece(selection.len())))
        .map(|rows| at_points(assessed, costs, rows))
        .reduce_with(|mut sums, others| {
            for (sum, other) in sums.iter_mut().flatten().zip(others.iter().flatten()) {
                sum.add(other);
            }
            sums
        });
    lines(assessed, &at_points.unwrap_or_default())
}

/// The lines of [`asks`], what costs most draws first, of whomever; of equals the one
/// with most broken and unrecorded draws first, then as there. Many lines of one owner that cost
/// nothing would else stand before all others.
#[must_use]
pub fn asks_by_cost(assessed: &Assessed, selection: &Selection) -> Vec<Ask> {
    let mut lines = asks(assessed, selection);
    lines.sort_by(|a, b| {
        let open = |ask: &Ask| ask.broken + ask.unrecorded;
        b.cost.total_cmp(&a.cost).then(open(b).cmp(&open(a)))
    });
    lines
}

/// The counts of these rows at every point, of rules that are not the technician's.
fn at_points(assessed: &Assessed, costs: &SharedOut, rows: &[u32]) -> Vec<AtPoint> {
    let judged = &assessed.judged;
    let mut theirs = RuleSet::NONE;
    for (rule, card) in cards().iter().enumerate() {
        if card.owner != Owner::Technician {
            theirs.insert(rule);
        }
    }
    let mut at_points = vec![[Counts::default(); COUNT]; assessed.points.len()];
    for &number in rows {
        let row = number as usize;
        let here = &mut at_points[judged.point[row] as usize];
        for rule in judged.applicable[row].and(theirs).iter() {
            let counts = &mut here[rule];
            counts.draws += 1;
            counts.broken += u64::from(judged.broken[row].has(rule));
            counts.unrecorded += u64::from(judged.unrecorded[row].has(rule));
        }
        let parts = costs.of_row(number).iter();
        for &(rule, parts) in parts.filter(|(rule, _)| theirs.has(*rule)) {
            here[rule].parts += parts;
        }
    }
    at_points
}

fn lines(assessed: &Assessed, at_points: &[AtPoint]) -> Vec<Ask> {
    let mut of_rule: FxHashMap<usize, i64> = FxHashMap::default();
    let mut lines: FxHashMap<(usize, Option<&str>, Option<usize>), Counts> = FxHashMap::default();
    let each = (at_points.iter().enumerate())
        .flat_map(|(point, rules)| rules.iter().enumerate().map(move |it| (point, it)));
    for (point, (rule, counts)) in each.filter(|(_, (_, counts))| counts.draws > 0) {
        let site = assessed.points[point].site.as_deref();
        let by_point = cards()[rule].owner == Owner::Plant;
        let line = lines
            .entry((rule, site, by_point.then_some(point)))
            .or_default();
        line.add(counts);
        *of_rule.entry(rule).or_default() += counts.parts;
    }
    let mut lines: Vec<_> = lines
        .into_iter()
        .filter(|(_, counts)| counts.broken + counts.unrecorded > 0)
        .collect();
    let owner_of = |rule: usize| {
        let owner = cards()[rule].owner;
        ASKED.iter().position(|&asked| asked == owner)
    };
    lines.sort_by_key(|&((rule, site, point), counts)| {
        let point = point.map(|place| assessed.points[place].id.as_str());
        let of_line = (
            -counts.parts,
            !counts.broken,
            !counts.unrecorded,
            site,
            point,
        );
        (owner_of(rule), -of_rule[&rule], rule, of_line)
    });
    lines
        .into_iter()
        .map(|((rule, site, point), counts)| Ask {
            owner: cards()[rule].owner,
            rule,
            site: site.map(str::to_owned),
            point,
            draws: counts.draws,
            broken: counts.broken,
            unrecorded: counts.unrecorded,
            cost: draws(counts.parts),
        })
        .collect()
}

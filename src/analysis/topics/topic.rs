//! Retraining topics: per technician or crew, the rules by which more draws are lost than
//! peers lose at the same points anyway.
//!
//! For a technician t and a rule r, C(t, r) is the sum of what r costs on t's draws
//! ([`SharedOut`](crate::analysis::SharedOut)). E(t, r) is what the same number of draws at the same points would have cost
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

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::draws::{ByPoint, Cell, Counts, Grouped};
use super::peers::{Surroundings, compared};
use crate::analysis::shared_out::draws;
use crate::analysis::{Assessed, BLANK, Filter, FilterKey, Selection};
use crate::model::Owner;
use crate::rules::{COUNT, cards};
use crate::stats::difference::Estimate;

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
    /// What every rule would have cost peers, in draws; none without peers.
    pub expected: Option<[f64; COUNT]>,
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
    let (keys, members) = units(assessed, unit);
    let own = Grouped::new(assessed, selection, &members);
    let apart = (selection != peers).then(|| Grouped::new(assessed, peers, &members));
    let others = apart.as_ref().unwrap_or(&own);
    let surroundings = Surroundings::of(others);
    let mut found: Vec<Topics> = (0..keys.len())
        .into_par_iter()
        .filter(|&number| own.drew(number))
        // Room for one unit's cells is made once for all that a thread goes through.
        .map_init(
            Default::default,
            |(draws, others): &mut (ByPoint, ByPoint), number| {
                own.write_by_point(number, draws);
                let left_out: &ByPoint = match &apart {
                    Some(apart) => {
                        apart.write_by_point(number, others);
                        others
                    }
                    None => draws,
                };
                Topics {
                    key: keys[number].to_owned(),
                    technician: (unit == Unit::Technician).then_some(number),
                    ..of_unit(&own.counts(number), draws, left_out, &surroundings)
                }
            },
        )
        .collect();
    found.sort_by(|one, other| one.key.cmp(&other.key));
    found
}

/// The names of units, and the technicians of each.
fn units(assessed: &Assessed, unit: Unit) -> (Vec<&str>, Vec<Vec<usize>>) {
    let technicians = assessed.technicians.iter().enumerate();
    if unit == Unit::Technician {
        let named = technicians.map(|(place, technician)| (technician.id.as_str(), vec![place]));
        return named.unzip();
    }
    let mut crews = Vec::new();
    let mut members: Vec<Vec<usize>> = Vec::new();
    let mut numbers = FxHashMap::default();
    for (place, technician) in technicians {
        let crew = technician.crew.as_deref();
        let number = *numbers.entry(crew).or_insert_with(|| {
            crews.push(crew.unwrap_or(BLANK));
            members.push(Vec::new());
            crews.len() - 1
        });
        members[number].push(place);
    }
    (crews, members)
}

/// The topics of one unit, without its name. `among_peers` are its own draws among the
/// peers' rows.
fn of_unit(
    counts: &Counts,
    own: &ByPoint,
    among_peers: &ByPoint,
    surroundings: &Surroundings,
) -> Topics {
    let mut sum = Cell::EMPTY;
    for (_, cell) in own.each() {
        sum.add(cell);
    }
    let (peers, at_shared_points) = compared(own, among_peers, surroundings);
    let mut topics: Vec<Topic> = (0..COUNT)
        .filter(|&rule| cards()[rule].owner == Owner::Technician && sum.parts[rule] > 0)
        .map(|rule| {
            let over_peers = peers.as_ref().map(|peers| peers.over(rule, &sum));
            Topic {
                rule,
                applies: counts.applies[rule],
                broken: counts.broken[rule],
                cost: draws(sum.parts[rule]),
                expected: peers.as_ref().map(|peers| peers.expected[rule]),
                over_peers,
                says: match over_peers {
                    None => Says::NoPeers,
                    Some(_) if sum.judged < FEW => Says::Few,
                    Some(over) if over.low > 0.0 => Says::MoreThanPeers,
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
        key: String::new(),
        technician: None,
        judged: sum.judged,
        unrepresentative: counts.unrepresentative,
        at_shared_points,
        topics,
        costs: sum.parts.map(draws),
        expected: peers.map(|peers| peers.expected),
    }
}

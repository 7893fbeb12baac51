//! What each draw costs, shared out among the rules broken on it.
//!
//! The players are the broken rules of class sample. A coalition S of them is worth 1 if
//! the draw would not be unrepresentative had the rules in S been met instead:
//!
//! v(S) = 1 if no decisive rule is left broken and 100·(W − B(S)) ≥ cut·W, else 0,
//!
//! with B(S) the weight of the broken rules outside S. W stays as it is, since the rules
//! still apply; what is unrecorded has no part in this line of the verdict. On an
//! unrepresentative draw v(∅) = 0. All broken rules together always work: nothing is left
//! broken, B = 0, and 100·W ≥ cut·W for every cut up to 100, which is the most a rulebook
//! may set. So the shares of an unrepresentative draw add up to 1, and those of a selection
//! to the number of its unrepresentative draws. A rule whose meeting never changes the
//! verdict gets 0; two rules that only work together get a half each.

mod shapley;

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::breakdown::count;
use super::share::CHUNK;
use super::{Assessed, Selection};
use crate::model::{Class, RuleSet, Verdict};
use crate::rules::{COUNT, InForce};
use crate::scoring::weigh::each_alone_regains;
pub use shapley::{MOST_PLAYERS, PARTS, shares};

/// A row that costs nothing, since it is not unrepresentative.
const NOTHING: u32 = u32::MAX;

/// The cost of every draw of a programme, in [`PARTS`] of a draw.
///
/// Draws repeat: a million of them know some thousands of ways to be broken, and each way
/// is shared out once.
#[derive(Clone, Debug)]
pub struct SharedOut {
    /// For each row its place in `ways`, or [`NOTHING`].
    way_of: Vec<u32>,
    ways: Vec<Costs>,
}

/// What draws cost that are broken in one way.
#[derive(Clone, Debug)]
struct Costs {
    /// Rules with their part of it above 0.
    parts: Vec<(usize, i64)>,
    /// Rules of which each alone, had it been met, would have kept the draw.
    alone: RuleSet,
}

/// All that the sharing out of one draw depends on.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
struct Way {
    in_force: usize,
    applicable: RuleSet,
    broken: RuleSet,
}

/// The ways found among some draws.
#[derive(Default)]
struct Found {
    places: FxHashMap<Way, u32>,
    distinct: Vec<Way>,
}

impl Found {
    /// Writes down for each of the rows from `first` on the place of its way, or [`NOTHING`].
    fn among(assessed: &Assessed, first: usize, way_of: &mut [u32]) -> Self {
        let sample = InForce::of_class(Class::Sample);
        let judged = &assessed.judged;
        let mut found = Found::default();
        for (row, number) in (first..).zip(way_of) {
            if judged.verdict[row] == Verdict::Unrepresentative {
                *number = found.number(Way {
                    in_force: assessed.in_force[judged.point[row] as usize],
                    applicable: judged.applicable[row].and(sample),
                    broken: judged.broken[row].and(sample),
                });
            }
        }
        found
    }

    /// The place of a way, which is new if it was not met before.
    fn number(&mut self, way: Way) -> u32 {
        *self.places.entry(way).or_insert_with(|| {
            self.distinct.push(way);
            u32::try_from(self.distinct.len() - 1).expect("fewer ways than draws")
        })
    }
}

impl SharedOut {
    /// Shares out every unrepresentative draw.
    #[must_use]
    pub fn of(assessed: &Assessed) -> Self {
        let mut way_of = vec![NOTHING; assessed.judged.len()];
        // Pieces find their own ways; joined in order, they make the same list of ways
        // whatever the number of threads.
        let pieces: Vec<Found> = (way_of.par_chunks_mut(CHUNK).enumerate())
            .map(|(piece, way_of)| Found::among(assessed, piece * CHUNK, way_of))
            .collect();
        let mut joined = Found::default();
        let mut numbers = |piece: &Found| -> Vec<u32> {
            let ways = piece.distinct.iter();
            ways.map(|way| joined.number(*way)).collect()
        };
        let numbers: Vec<Vec<u32>> = pieces.iter().map(&mut numbers).collect();
        (way_of.par_chunks_mut(CHUNK).zip(&numbers)).for_each(|(way_of, numbers)| {
            for way in way_of {
                *way = numbers.get(*way as usize).copied().unwrap_or(NOTHING);
            }
        });
        let books = assessed.rulebook.all_in_force();
        let sample = InForce::of_class(Class::Sample);
        let ways = (joined.distinct.into_par_iter())
            .map(|way| {
                let (in_force, applicable, broken) =
                    (&books[way.in_force], way.applicable, way.broken);
                Costs {
                    parts: share_out(in_force, applicable, broken),
                    alone: each_alone_regains(in_force, sample, applicable, broken),
                }
            })
            .collect();
        SharedOut { way_of, ways }
    }

    /// What the draw in this row costs: rules (by their place in the contract's order) with
    /// their part of it above 0, in [`PARTS`]. Empty for a draw that is not unrepresentative.
    #[must_use]
    pub fn of_row(&self, row: u32) -> &[(usize, i64)] {
        self.of_way(self.way_of[row as usize])
    }

    /// The number of the way in which the draw in this row is broken, for [`Self::of_way`].
    pub(super) fn way_of(&self, row: usize) -> u32 {
        self.way_of[row]
    }

    /// What a draw broken in this way costs, as [`Self::of_row`].
    pub(super) fn of_way(&self, way: u32) -> &[(usize, i64)] {
        match way {
            NOTHING => &[],
            way => &self.ways[way as usize].parts,
        }
    }

    /// The sum for each rule over the selected draws, in [`PARTS`].
    #[must_use]
    pub fn by_rule(&self, selection: &Selection) -> [i64; COUNT] {
        let mut sums = [0; COUNT];
        for (way, count) in self.ways.iter().zip(self.often(selection)) {
            for (rule, parts) in &way.parts {
                sums[*rule] += parts * count as i64;
            }
        }
        sums
    }

    /// For each rule, how many of the selected draws it is alone behind: unrepresentative ones
    /// that would not be so had it been met.
    pub(super) fn alone_behind(&self, selection: &Selection) -> [u64; COUNT] {
        let mut draws = [0; COUNT];
        for (way, count) in self.ways.iter().zip(self.often(selection)) {
            for rule in way.alone.iter() {
                draws[rule] += count;
            }
        }
        draws
    }

    /// How many of the selected draws are broken in each way.
    fn often(&self, selection: &Selection) -> Vec<u64> {
        count(selection, self.ways.len(), |row, often| {
            if let Some(count) = often.get_mut(self.way_of[row] as usize) {
                *count += 1;
            }
        })
    }
}

/// Shares one unrepresentative draw out among the rules of class sample broken on it, in
/// the contract's order, in [`PARTS`] of a draw; rules that never matter are left out.
///
/// `applicable` and `broken` hold rules of class sample only.
#[must_use]
pub fn share_out(in_force: &InForce, applicable: RuleSet, broken: RuleSet) -> Vec<(usize, i64)> {
    let broken = broken.and(applicable);
    let players: Vec<usize> = broken.iter().collect();
    let weight = |rule: usize| u64::from(in_force.weights[rule]);
    let whole: u64 = applicable.iter().map(weight).sum();
    let cut = u64::from(in_force.cuts.unrepresentative);
    let mut decisive = 0_u32;
    for (player, &rule) in players.iter().enumerate() {
        if in_force.decisive.has(rule) {
            decisive |= 1 << player;
        }
    }
    let regains = |met: u32| {
        if met & decisive != decisive {
            return 0;
        }
        let left = (players.iter().enumerate())
            .filter(|(player, _)| met & (1 << player) == 0)
            .map(|(_, &rule)| weight(rule));
        i64::from(100 * (whole - left.sum::<u64>()) >= cut * whole)
    };
    let shares = shapley::shares(players.len(), regains);
    let shared = players.into_iter().zip(shares);
    shared.filter(|&(_, parts)| parts > 0).collect()
}

/// Parts as draws.
#[must_use]
pub fn draws(parts: i64) -> f64 {
    parts as f64 / PARTS as f64
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use proptest::prelude::*;

    use super::*;
    use crate::rules::{Rulebook, cards, place_of};
    use crate::scoring::weigh::verdict;

    fn rules(ids: &[&str]) -> RuleSet {
        ids.iter().fold(RuleSet::NONE, |set, id| {
            set.or(RuleSet::of(place_of(id).unwrap()))
        })
    }

    fn shared(broken: &[&str], met: &[&str]) -> Vec<(&'static str, f64)> {
        let book = Rulebook::standard();
        let broken = rules(broken);
        let shares = share_out(&book.all_in_force()[0], broken.or(rules(met)), broken);
        shares
            .into_iter()
            .map(|(rule, parts)| (cards()[rule].id, draws(parts)))
            .collect()
    }

    #[test]
    fn there_are_no_more_rules_of_class_sample_than_can_be_shared_out_among() {
        let sample = InForce::of_class(Class::Sample);
        assert!(sample.len() as usize <= shapley::MOST_PLAYERS);
    }

    /// Worked out by hand; W, B and the default weights beside each.
    #[test]
    fn small_draws_are_shared_out_as_by_hand() {
        // one decisive breach bears it alone
        assert_eq!(
            shared(&["bottle-fit"], &["flush-met"]),
            [("bottle-fit", 1.0)]
        );
        // two decisive ones only work together; the light one beside them never matters:
        // W 16 + 12 + 20 + 6 = 54, 48 of 54 is above 60 %
        assert_eq!(
            shared(
                &["flush-met", "bottle-fit", "capped-at-once"],
                &["running-or-hot"]
            ),
            [("flush-met", 0.5), ("bottle-fit", 0.5)]
        );
        // by weight, W 42 (10 + 8 + 12 + 12): 24 of 42 is below 60 %, either alone regains it
        assert_eq!(
            shared(
                &["same-method", "fill-level"],
                &["same-point", "point-suited"]
            ),
            [("same-method", 0.5), ("fill-level", 0.5)]
        );
        // W 12 + 10 + 6 + 8 + 4 = 40, B 28; at most 16 may stay broken, so 12 must go:
        // same-point (12, just enough) or both others (16). Of the six orders same-point
        // turns the verdict in four, each other in one.
        assert_eq!(
            shared(
                &["same-point", "same-method", "capped-at-once"],
                &["point-cleaned", "looked-at"]
            ),
            [
                ("same-point", 4.0 / 6.0),
                ("same-method", 1.0 / 6.0),
                ("capped-at-once", 1.0 / 6.0)
            ]
        );
    }

    prop_compose! {
        /// Which rules of class sample are broken, met and unrecorded.
        fn any_sets()(sets in any::<[u32; 3]>()) -> [RuleSet; 3] {
            let sample = InForce::of_class(Class::Sample);
            let [broken, met, unrecorded] = sets.map(|set| RuleSet(set).and(sample));
            [broken, met.without(broken), unrecorded.without(broken.or(met))]
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]

        #[test]
        fn the_shares_of_an_unrepresentative_draw_add_up_to_exactly_one(
            [broken, met, unrecorded] in any_sets(),
        ) {
            let book = Rulebook::standard();
            let in_force = &book.all_in_force()[0];
            let applicable = broken.or(met).or(unrecorded);
            let shares = share_out(in_force, applicable, broken);
            let sum: i64 = shares.iter().map(|(_, parts)| parts).sum();
            let verdict = verdict(in_force, applicable, broken, unrecorded);
            if verdict == Verdict::Unrepresentative {
                prop_assert_eq!(sum, PARTS);
                let alone = each_alone_regains(
                    in_force,
                    InForce::of_class(Class::Sample),
                    applicable,
                    broken,
                );
                for rule in alone.iter() {
                    prop_assert!(shares.iter().any(|&(other, _)| other == rule));
                }
            }
            for (rule, parts) in shares {
                prop_assert!(broken.has(rule) && parts > 0);
            }
        }

        /// Against the verdict itself over every order in which rules can be put right.
        #[test]
        fn the_shares_are_those_over_all_orders_of_putting_right(
            order in Just(InForce::of_class(Class::Sample).iter().collect::<Vec<_>>()).prop_shuffle(),
            broken in 1usize..7,
            met in 0usize..10,
        ) {
            let book = Rulebook::standard();
            let in_force = &book.all_in_force()[0];
            let set = |rules: &[usize]| rules.iter().fold(RuleSet::NONE, |set, &rule| set.or(RuleSet::of(rule)));
            let broken = &order[..broken];
            let applicable = set(broken).or(set(&order[broken.len()..broken.len() + met]));
            let is_bad = |broken| verdict(in_force, applicable, broken, RuleSet::NONE) == Verdict::Unrepresentative;
            prop_assume!(is_bad(set(broken)));
            let mut turned = FxHashMap::default();
            let mut orders = 0;
            for_each_order(&mut broken.to_vec(), 0, &mut |order| {
                orders += 1;
                let mut left = set(order);
                for &rule in order {
                    left = left.without(RuleSet::of(rule));
                    if !is_bad(left) {
                        *turned.entry(rule).or_insert(0) += 1;
                        break;
                    }
                }
            });
            let shares = share_out(in_force, applicable, set(broken));
            prop_assert_eq!(shares.len(), turned.len());
            for (rule, parts) in shares {
                prop_assert_eq!(parts * orders, turned[&rule] * PARTS);
            }
        }
    }

    fn for_each_order(rules: &mut [usize], from: usize, each: &mut dyn FnMut(&[usize])) {
        if from == rules.len() {
            return each(rules);
        }
        for place in from..rules.len() {
            rules.swap(from, place);
            for_each_order(rules, from + 1, each);
            rules.swap(from, place);
        }
    }
}

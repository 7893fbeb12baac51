//! Counts of one against those of all others at the same places.

use rustc_hash::FxHashMap;

use super::{About, Comparison, Evidence};
use crate::stats::peers::{self, Unit};

/// So many trials of the whole stand behind the rate at one place: a place that others hardly
/// know has the rate of all places, and none has less.
const WEIGHT_OF_ALL: f64 = 20.0;

/// What was counted: trials and events of each unit at each place.
#[derive(Default)]
pub struct Counting {
    counts: FxHashMap<(u32, u32), (u64, u64)>,
    seen: FxHashMap<u32, Vec<Evidence>>,
}

impl Counting {
    /// Counts a trial of a unit at a place; with evidence, it is an event.
    pub fn trial(&mut self, unit: u32, place: u32, evidence: impl IntoIterator<Item = Evidence>) {
        let counts = self.counts.entry((unit, place)).or_default();
        counts.0 += 1;
        let mut evidence = evidence.into_iter().peekable();
        if evidence.peek().is_some() {
            counts.1 += 1;
            self.seen.entry(unit).or_default().extend(evidence);
        }
    }

    /// Every unit against the others; those with too few trials, or too few others, stand in
    /// the second list.
    pub fn compared(
        mut self,
        about: impl Fn(u32) -> About,
        column: Option<&'static str>,
    ) -> (Vec<Comparison>, Vec<u32>) {
        let mut counts: Vec<_> = self.counts.into_iter().collect();
        counts.sort_unstable_by_key(|(key, _)| *key);
        let mut places: FxHashMap<u32, (u64, u64)> = FxHashMap::default();
        let (mut trials, mut events) = (0, 0);
        for ((_, place), count) in &counts {
            let sum = places.entry(*place).or_default();
            sum.0 += count.0;
            sum.1 += count.1;
            trials += count.0;
            events += count.1;
        }
        let mut units = Vec::new();
        for own in counts.chunk_by(|one, next| one.0.0 == next.0.0) {
            let sum = |of: fn(&(u64, u64)) -> u64| own.iter().map(|(_, it)| of(it)).sum::<u64>();
            let (n, x) = (sum(|it| it.0), sum(|it| it.1));
            let rate = ((events - x) as f64 + 0.5) / ((trials - n) as f64 + 1.0);
            let expected = own
                .iter()
                .map(|((_, place), (n, x))| {
                    let at = places[place];
                    let others = ((at.0 - n) as f64, (at.1 - x) as f64);
                    let there = (others.1 + WEIGHT_OF_ALL * rate) / (others.0 + WEIGHT_OF_ALL);
                    // A place where nothing was ever seen is no proof that nothing can be.
                    *n as f64 * there.max(rate)
                })
                .sum();
            units.push((
                own[0].0.0,
                Unit {
                    trials: n,
                    events: x,
                    expected,
                },
            ));
        }
        let only: Vec<Unit> = units.iter().map(|(_, unit)| *unit).collect();
        let mut silent = Vec::new();
        let mut comparisons = Vec::new();
        for ((name, unit), chance) in units.iter().zip(peers::chances(&only)) {
            let Some(chance) = chance else {
                silent.push(*name);
                continue;
            };
            let mut evidence = self.seen.remove(name).unwrap_or_default();
            evidence.sort_unstable_by_key(|it| it.row);
            comparisons.push(Comparison {
                about: about(*name),
                column,
                events: unit.events,
                of: unit.trials,
                expected: unit.expected,
                chance,
                evidence,
            });
        }
        (comparisons, silent)
    }
}

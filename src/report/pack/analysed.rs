//! All that analysis says of the draws of a pack, worked out once.

use super::SHARES_BY;
use crate::analysis::attribution::NoAnswer;
use crate::analysis::topics::{Ask, RuleCost, Topics, Unit, asks_by_cost, rule_costs, topics};
use crate::analysis::training::{Trained, WINDOW_DAYS};
use crate::analysis::{
    Assessed, Attribution, Every, Group, Key, Selection, Tally, Trend, attribute, by, tally,
    trainings, trend,
};

/// All that analysis says of a selection.
pub struct Analysed {
    /// The verdicts.
    pub tally: Tally,
    /// The groups of every key of [`SHARES_BY`], in its order.
    pub by: Vec<Vec<Group>>,
    /// Month by month.
    pub trend: Trend,
    /// People and points told apart, or why they can't be.
    pub told_apart: Result<Attribution, NoAnswer>,
    /// Topics of technicians.
    pub topics: Vec<Topics>,
    /// Topics of crews.
    pub crew_topics: Vec<Topics>,
    /// What each rule costs.
    pub costs: Vec<RuleCost>,
    /// What to ask of others.
    pub asks: Vec<Ask>,
    /// Trainings before and after.
    pub trainings: Vec<Trained>,
    /// First and last of the draws, in seconds since 1970 UTC.
    pub between: Option<(i64, i64)>,
}

impl Analysed {
    /// Works all of it out. `go_on` is asked while the model is fitted.
    #[must_use]
    pub fn of(
        assessed: &Assessed,
        selection: &Selection,
        peers: &Selection,
        go_on: &mut dyn FnMut() -> bool,
    ) -> Self {
        let times = selection
            .iter()
            .map(|row| assessed.judged.drawn_at[*row as usize]);
        Analysed {
            tally: tally(assessed, selection),
            by: (SHARES_BY.iter())
                .map(|(key, _)| by(assessed, selection, *key))
                .collect(),
            trend: trend(assessed, selection, Every::Month),
            told_apart: attribute(assessed, selection, &[], go_on),
            topics: topics(assessed, selection, peers, Unit::Technician),
            crew_topics: topics(assessed, selection, peers, Unit::Crew),
            costs: rule_costs(assessed, selection),
            asks: asks_by_cost(assessed, selection),
            trainings: trainings(assessed, selection, peers, WINDOW_DAYS),
            between: times.clone().min().zip(times.max()),
        }
    }

    /// The groups of a key; empty for one that is not in a pack.
    #[must_use]
    pub fn groups(&self, key: Key) -> &[Group] {
        let place = SHARES_BY.iter().position(|(known, _)| *known == key);
        place.map_or(&[], |place| &self.by[place])
    }
}

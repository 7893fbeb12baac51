//! A technician's retraining plan: the topics and the draws that show them.

use super::topic::{Topic, Topics};
use crate::analysis::{Assessed, Selection, Share, Tally, tally};

/// Topics on one page; what follows can wait for the next one.
pub const TOPICS: usize = 3;
/// A topic that would regain less, in draws, is not worth a session.
pub const LEAST_REGAINED: f64 = 0.5;
/// Draws shown for each topic.
pub const EXAMPLES: usize = 3;

/// What stands on one technician's page.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Place of the technician in the programme's list.
    pub technician: usize,
    /// The verdicts over the technician's selected draws.
    pub tally: Tally,
    /// The share over them.
    pub share: Share,
    /// Judged draws at points where others drew too.
    pub at_shared_points: u64,
    /// First and last of these draws, in seconds since 1970 UTC.
    pub between: Option<(i64, i64)>,
    /// The first topics that regain [`LEAST_REGAINED`] or more, most first.
    pub topics: Vec<PlannedTopic>,
    /// How many further topics of that size there are.
    pub further: usize,
}

/// A topic with the draws that show it.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedTopic {
    /// The numbers.
    pub topic: Topic,
    /// Rows of the judged draws that show it: those it costs most of, of equals the latest.
    pub examples: Vec<u32>,
    /// How many further draws it costs a part of.
    pub further: usize,
}

/// The plan of one technician, from what [`topics`](super::topics) found.
///
/// # Panics
/// When these are the topics of a crew.
#[must_use]
pub fn plan(assessed: &Assessed, selection: &Selection, found: &Topics) -> Plan {
    let technician = found.technician.expect("plans are made for technicians");
    let judged = &assessed.judged;
    let own: Selection = (selection.iter().copied())
        .filter(|&row| judged.technician[row as usize] as usize == technician)
        .collect();
    let costs = assessed.shared_out();
    let worth_it = (found.topics.iter()).take_while(|topic| topic.regained() >= LEAST_REGAINED);
    let topics = worth_it.clone().take(TOPICS).map(|topic| {
        let mut shown: Vec<(i64, u32)> = (own.iter())
            .filter_map(|&row| {
                let mut shared = costs.of_row(row).iter();
                let &(_, parts) = shared.find(|(rule, _)| *rule == topic.rule)?;
                Some((parts, row))
            })
            .collect();
        // Rows stand in the order of time.
        shown.sort_unstable_by(|one, other| other.cmp(one));
        PlannedTopic {
            topic: *topic,
            further: shown.len().saturating_sub(EXAMPLES),
            examples: shown.iter().take(EXAMPLES).map(|(_, row)| *row).collect(),
        }
    });
    let topics: Vec<PlannedTopic> = topics.collect();
    let tally = tally(assessed, &own);
    let time = |row: &u32| judged.drawn_at[*row as usize];
    Plan {
        technician,
        tally,
        share: tally.share(),
        at_shared_points: found.at_shared_points,
        between: own.first().map(time).zip(own.last().map(time)),
        further: worth_it.count() - topics.len(),
        topics,
    }
}

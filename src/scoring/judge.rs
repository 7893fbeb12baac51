//! All rules over all of a history.

use rayon::prelude::*;

use super::groundwork::{Ground, Groundwork};
use super::order::{self, Dated};
use super::surroundings::Surroundings;
use super::weigh::verdict_within;
use crate::model::progress::Stage;
use crate::model::{History, Judged, Outcome, Progress, RuleSet, Verdict};
use crate::rules::{Rulebook, Situation};

/// Draws judged between two looks at whether someone asked to stop; also the largest
/// piece of work of one thread, so that a single large compartment is shared.
const PIECE: usize = 8192;

/// What is kept of one judged draw: a row of [`Judged`] without its time.
#[derive(Clone, Copy)]
struct Row {
    record: u32,
    point: u32,
    technician: u32,
    applicable: RuleSet,
    broken: RuleSet,
    unrecorded: RuleSet,
    method: u8,
    verdict: Verdict,
}

impl Row {
    const EMPTY: Row = Row {
        record: 0,
        point: 0,
        technician: 0,
        applicable: RuleSet::NONE,
        broken: RuleSet::NONE,
        unrecorded: RuleSet::NONE,
        method: BLANK_METHOD,
        verdict: Verdict::Unproven,
    };
}

/// How [`Judged`] writes a blank method.
const BLANK_METHOD: u8 = 255;

/// Judges every draw of a history, in parallel, with the same result whatever the number
/// of threads. `None` if `progress` asked to stop.
#[must_use]
pub fn judge_all(history: &History, rulebook: &Rulebook, progress: &Progress) -> Option<Judged> {
    progress.begin(Stage::Judging, history.draws.len() as u64);
    let (order, groundwork) = rayon::join(
        || order::of_all(history),
        || Groundwork::new(history, rulebook),
    );
    if progress.is_stopped() {
        return None;
    }
    let groups = Groups::new(history, &groundwork, &order);
    let mut rows = vec![Row::EMPTY; order.len()];
    groups
        .with_rows(&mut rows)
        .into_par_iter()
        .try_for_each_init(Surroundings::default, |surroundings, (draws, rows)| {
            if progress.is_stopped() {
                return None;
            }
            surroundings.look_at(history, &groundwork.bearers, draws);
            judge_compartment(&groundwork, surroundings, rows, progress)
        })?;
    let rows: Vec<Row> = groups
        .slot_of
        .par_iter()
        .map(|&slot| rows[slot as usize])
        .collect();
    Some(columns(&rows, &order))
}

/// The draws of all compartments, one compartment after another, each in order.
pub(super) struct Groups {
    /// The places of the draws in the history.
    draws: Vec<u32>,
    /// Where each compartment ends in `draws`.
    ends: Vec<usize>,
    /// For each draw in order: where it stands in `draws`.
    slot_of: Vec<u32>,
}

impl Groups {
    pub(super) fn new(history: &History, groundwork: &Groundwork, order: &[Dated]) -> Self {
        let compartment_of =
            |place: u32| groundwork.compartment_of(history.draws[place as usize].point);
        let compartments: Vec<u32> = order
            .par_iter()
            .map(|&(_, place)| order::number(compartment_of(place)))
            .collect();
        let mut ends = vec![0; groundwork.compartments];
        for &compartment in &compartments {
            ends[compartment as usize] += 1;
        }
        let mut filled = 0;
        for end in &mut ends {
            filled += std::mem::replace(end, filled);
        }
        let mut draws = vec![0; order.len()];
        let mut slot_of = Vec::with_capacity(order.len());
        for (&compartment, &(_, place)) in compartments.iter().zip(order) {
            let end = &mut ends[compartment as usize];
            draws[*end] = place;
            slot_of.push(order::number(*end));
            *end += 1;
        }
        Groups {
            draws,
            ends,
            slot_of,
        }
    }

    /// Each compartment's draws, in order.
    pub(super) fn each(&self) -> Vec<&[u32]> {
        let mut start = 0;
        let part = |&end: &usize| {
            let draws = &self.draws[start..end];
            start = end;
            draws
        };
        self.ends.iter().map(part).collect()
    }

    /// Each compartment's draws with its part of `rows`.
    fn with_rows<'a>(&'a self, mut rows: &'a mut [Row]) -> Vec<(&'a [u32], &'a mut [Row])> {
        let mut start = 0;
        let mut parts = Vec::with_capacity(self.ends.len());
        for &end in &self.ends {
            let (part, rest) = rows.split_at_mut(end - start);
            parts.push((&self.draws[start..end], part));
            rows = rest;
            start = end;
        }
        parts
    }
}

/// Judges the draws of one compartment; `None` if `progress` asked to stop.
fn judge_compartment(
    groundwork: &Groundwork,
    surroundings: &Surroundings,
    rows: &mut [Row],
    progress: &Progress,
) -> Option<()> {
    rows.par_chunks_mut(PIECE)
        .enumerate()
        .try_for_each(|(piece, rows)| {
            if progress.is_stopped() {
                return None;
            }
            for (row, place) in rows.iter_mut().zip(piece * PIECE..) {
                let point = surroundings.draw(place).point;
                let ground = &groundwork.points[point as usize];
                let situation = surroundings.situation(place, &ground.prepared);
                *row = judge_one(&situation, ground, groundwork.sample);
            }
            progress.advance(rows.len() as u64);
            Some(())
        })
}

/// All rules over one draw.
fn judge_one(situation: &Situation, ground: &Ground, sample: RuleSet) -> Row {
    let mut applicable = ground.rules;
    let mut broken = RuleSet::NONE;
    let mut unrecorded = RuleSet::NONE;
    for place in ground.rules.iter() {
        let Some(rule) = &ground.in_force.rules[place] else {
            continue;
        };
        match rule.judge(situation).outcome {
            Outcome::Met => {}
            Outcome::Broken => broken.insert(place),
            Outcome::Unrecorded => unrecorded.insert(place),
            Outcome::NotApplicable => applicable = applicable.without(RuleSet::of(place)),
        }
    }
    let draw = situation.draw;
    Row {
        record: draw.record,
        point: draw.point,
        technician: draw.technician,
        applicable,
        broken,
        unrecorded,
        method: draw.method.map_or(BLANK_METHOD, |method| method.index()),
        verdict: verdict_within(ground.in_force, sample, applicable, broken, unrecorded),
    }
}

/// The rows, in order, a column a fact.
fn columns(rows: &[Row], order: &[Dated]) -> Judged {
    fn column<T: Send>(rows: &[Row], of: impl Fn(&Row) -> T + Sync + Send) -> Vec<T> {
        rows.par_iter().map(of).collect()
    }
    Judged {
        record: column(rows, |row| row.record),
        point: column(rows, |row| row.point),
        technician: column(rows, |row| row.technician),
        drawn_at: order.par_iter().map(|dated| dated.0).collect(),
        method: column(rows, |row| row.method),
        verdict: column(rows, |row| row.verdict),
        applicable: column(rows, |row| row.applicable),
        broken: column(rows, |row| row.broken),
        unrecorded: column(rows, |row| row.unrecorded),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use proptest::prelude::*;

    use super::*;
    use crate::model::{Draw, Kind, Look, Looks, Method, Moment, Number, Place, Point, Texts};
    use crate::scoring::{Explainer, explain};

    /// A history of many kinds of draws at five points in three compartments.
    fn history(rows: &[[u8; 8]]) -> History {
        let kinds = [
            Kind::Circulating,
            Kind::Sump,
            Kind::Tank,
            Kind::Tank,
            Kind::Grease,
        ];
        let mut history = History::default();
        for (number, kind) in kinds.into_iter().enumerate() {
            let compartment = format!("C-{}", number / 2);
            let mut point = Point::bare(&format!("P-{number}"), &compartment, kind);
            point.place = Place::from_index(u8::try_from(number * 3).unwrap());
            point.agreed = Some(number == 1);
            point.interval_days = Some(30.0);
            point.dead_extra_ml = Some(20.0);
            history.points.push(point);
        }
        let mut texts = Texts::default();
        for (number, row) in rows.iter().enumerate() {
            let [point, time, bottle, method, measures, answers, looks, fill] = *row;
            let mut text = |of: u8| (of > 0).then(|| texts.intern(&of.to_string())).flatten();
            let mut draw = Draw::bare(u32::from(point % 5), 0, i64::from(time % 16) * 40_000);
            draw.record = u32::try_from(number).unwrap() + 1;
            draw.bottle = text(bottle % 6);
            draw.second_fill = fill % 4 == 0;
            draw.pair_of = text(fill % 6);
            draw.set_id = text(fill % 3);
            draw.method = Method::from_index(method % 9);
            draw.flushed_ml = Number::from((measures % 3 > 0).then(|| f64::from(measures)));
            draw.fill_pct = Number::from((measures % 5 > 0).then(|| f64::from(measures % 100)));
            draw.machine_hours = Number::from((measures % 7 > 0).then(|| f64::from(measures)));
            draw.dispatched_at = Moment::from((answers > 99).then(|| draw.drawn_at + 100_000));
            draw.bottle_ok = [None, Some(true), Some(false)][usize::from(answers % 3)];
            draw.point_cleaned = [None, Some(true)][usize::from(answers % 2)];
            draw.looks = Look::from_index(looks % 8).map_or(Looks::NONE, |it| Looks::NONE.with(it));
            history.draws.push(draw);
            history.identities.push(&format!(
                "D-{:03}",
                u32::from(time) * 7 % 10 + 10 * draw.record
            ));
        }
        history
    }

    fn judged(history: &History, threads: usize) -> Judged {
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .unwrap();
        let progress = Progress::default();
        let judged = pool.install(|| judge_all(history, &Rulebook::standard(), &progress));
        assert_eq!(progress.read().1, history.draws.len() as u64);
        judged.unwrap()
    }

    #[test]
    fn nothing_is_judged_of_nothing_and_after_a_stop() {
        assert_eq!(judged(&History::default(), 1), Judged::default());
        let progress = Progress::default();
        progress.stop();
        let history = history(&[[1; 8]]);
        assert_eq!(judge_all(&history, &Rulebook::standard(), &progress), None);
    }

    #[test]
    fn a_large_compartment_is_judged_in_pieces() {
        let rows: Vec<[u8; 8]> = (0..2 * PIECE + 5)
            .map(|row| {
                u64::try_from(row)
                    .unwrap()
                    .wrapping_mul(0x9e37_79b9_7f4a_7c15)
                    .to_le_bytes()
            })
            .map(|mut row| {
                row[0] = 0;
                row
            })
            .collect();
        let history = history(&rows);
        let whole = judged(&history, 2);
        let book = Rulebook::standard();
        let explainer = Explainer::of(&history, &book, &[0]);
        for row in (0..whole.len()).step_by(97) {
            let explained = explainer.explain(whole.record[row] as usize - 1);
            assert_eq!(explained.verdict, whole.verdict[row]);
        }
    }

    proptest! {
        #[test]
        fn rows_stand_in_order_and_say_what_explaining_says(
            rows in prop::collection::vec(any::<[u8; 8]>(), 0..40),
        ) {
            let history = history(&rows);
            let judged = judged(&history, 2);
            prop_assert_eq!(judged.len(), rows.len());
            let places: Vec<usize> = judged.record.iter().map(|it| *it as usize - 1).collect();
            let key = |place: usize| (history.draws[place].drawn_at, history.identities.get(place));
            prop_assert!(places.is_sorted_by_key(|&place| key(place)));
            let explained = explain(&history, &places, &Rulebook::standard());
            for (row, explained) in explained.iter().enumerate() {
                let draw = &history.draws[places[row]];
                prop_assert_eq!(judged.verdict[row], explained.verdict);
                prop_assert_eq!(judged.point[row], draw.point);
                prop_assert_eq!(judged.drawn_at[row], draw.drawn_at);
                let method = draw.method.map_or(BLANK_METHOD, |method| method.index());
                prop_assert_eq!(judged.method[row], method);
                for (rule, answer) in explained.answers.iter().enumerate() {
                    prop_assert_eq!(judged.outcome(row, rule), answer.outcome);
                }
            }
        }

        #[test]
        fn neither_threads_nor_the_order_of_the_history_matter(
            rows in prop::collection::vec(any::<[u8; 8]>(), 0..40), turn in 0usize..40,
        ) {
            let history = history(&rows);
            let one = judged(&history, 1);
            prop_assert_eq!(&judged(&history, 3), &one);
            let mut turned = History { points: history.points.clone(), ..History::default() };
            for place in (0..rows.len()).map(|place| (place + turn) % rows.len()) {
                turned.draws.push(history.draws[place]);
                turned.identities.push(history.identities.get(place));
            }
            prop_assert_eq!(&judged(&turned, 2), &one);
        }
    }
}

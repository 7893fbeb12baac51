//! How much of each column is filled, and what its blanks cost: the unproven draws that
//! recording it would settle.
//!
//! A column *settles* an unproven draw if, were it filled there and all else left as it is,
//! the draw would be judged whatever was written. It settles it *if kept* where that holds
//! for values that show the rules kept. Both are found by the rules and the verdict
//! themselves, see `fill`; a test compares them with judging the filled history anew.

pub mod column;
mod fill;
mod groups;
mod settle;

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::{Assessed, Key, Selection};
use crate::model::{Class, History, Progress, Verdict};
use crate::rules::InForce;
use crate::scoring::ask_each;

pub use column::{Column, Sheet};
use fill::{Filler, Question};
use groups::Groups;

/// What coverage found, group by group.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Coverage {
    /// Sorted by the text of the key, months in time; one group named `all` without a key.
    pub groups: Vec<Covered>,
}

/// One group of draws.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Covered {
    /// The value of the key as sheets write it; `(blank)` for a blank, `all` without a key.
    pub key: String,
    /// Its draws.
    pub draws: u64,
    /// Those without a verdict.
    pub unproven: u64,
    /// Unproven draws on which no blank can be filled that a rule asks for: what is written
    /// there contradicts itself, or no rule applies.
    pub no_blank: u64,
    /// Every column that is asked for on some draw, in the order of the sheets.
    pub columns: Vec<Filled>,
    /// Which column to record first, which next, at most 12.
    pub order: Vec<Step>,
}

/// How much of a column is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Filled {
    /// The column.
    pub column: Column,
    /// Draws on which it has a meaning.
    pub asked: u64,
    /// Those on which it is filled; for a column of points, those at points that have it.
    pub filled: u64,
    /// For a column of points: points of these draws that lack it.
    pub points_without: u64,
    /// Unproven draws on which it is blank.
    pub unproven_without: u64,
    /// Unproven draws that it alone would settle.
    pub settles: Settled,
}

impl Filled {
    /// The share filled, from 0 to 1; none where it is asked for nowhere.
    #[must_use]
    pub fn share(&self) -> Option<f64> {
        (self.asked > 0).then(|| self.filled as f64 / self.asked as f64)
    }
}

/// How many draws would be judged.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Settled {
    /// Whatever was written.
    pub whatever: u64,
    /// If what was written showed the rules kept; never fewer.
    pub if_kept: u64,
}

/// One column more to record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// The column.
    pub column: Column,
    /// Draws settled by it and all before it together.
    pub together: Settled,
}

/// What is counted of one group.
struct Counts {
    draws: u64,
    unproven: u64,
    asked: Vec<u64>,
    filled: Vec<u64>,
    unproven_without: Vec<u64>,
}

impl Counts {
    fn none() -> Self {
        let zeros = || vec![0; Column::ALL.len()];
        Counts {
            draws: 0,
            unproven: 0,
            asked: zeros(),
            filled: zeros(),
            unproven_without: zeros(),
        }
    }

    fn add(&mut self, other: &Counts) {
        self.draws += other.draws;
        self.unproven += other.unproven;
        for (one, other) in [
            (&mut self.asked, &other.asked),
            (&mut self.filled, &other.filled),
            (&mut self.unproven_without, &other.unproven_without),
        ] {
            for (one, other) in one.iter_mut().zip(other) {
                *one += other;
            }
        }
    }
}

/// Counts over the selected draws, by a key if one is given. `history` holds every draw of
/// the programme, with the same points as `assessed`. [`Key::Rule`] groups nothing: it counts
/// as none. `None` if `progress` asked to stop.
#[must_use]
pub fn coverage(
    history: &History,
    assessed: &Assessed,
    selection: &Selection,
    by: Option<Key>,
    progress: &Progress,
) -> Option<Coverage> {
    let groups = Groups::of(assessed, by);
    let places = places(history, assessed);
    let counts = count(history, assessed, selection, &places, &groups);
    let questions = ask(history, assessed, selection, &places, progress)?;
    let books = assessed.rulebook.all_in_force();
    let mut of_group: Vec<FxHashMap<usize, u64>> = vec![FxHashMap::default(); groups.count()];
    for (row, question) in &questions.of_row {
        let group = groups.group_of(assessed, *row as usize);
        *of_group[group].entry(*question).or_default() += 1;
    }
    let without = points_without(history, assessed, selection, &places, &groups);
    let mut found: Vec<(usize, Covered)> = counts
        .par_iter()
        .zip(&of_group)
        .zip(&without)
        .enumerate()
        .filter(|(_, ((counts, _), _))| counts.draws > 0)
        .map(|(group, ((counts, asked), without))| {
            (
                group,
                covered(
                    &groups.names[group],
                    counts,
                    asked,
                    without,
                    &questions.distinct,
                    books,
                ),
            )
        })
        .collect();
    groups.sort(&mut found);
    Some(Coverage {
        groups: found.into_iter().map(|(_, covered)| covered).collect(),
    })
}

fn covered(
    key: &str,
    counts: &Counts,
    asked: &FxHashMap<usize, u64>,
    points_without: &[u64],
    questions: &[Question],
    books: &[InForce],
) -> Covered {
    let mut draws: Vec<(usize, u64)> = asked.iter().map(|(at, count)| (*at, *count)).collect();
    draws.sort_unstable();
    let draws: Vec<(&Question, u64)> = draws
        .into_iter()
        .map(|(at, count)| (&questions[at], count))
        .collect();
    let alone = settle::alone(&draws, books);
    let no_blank = draws
        .iter()
        .filter(|(question, _)| question.parts.is_empty())
        .map(|(_, count)| count)
        .sum();
    Covered {
        key: key.to_owned(),
        draws: counts.draws,
        unproven: counts.unproven,
        no_blank,
        columns: Column::ALL
            .iter()
            .map(|column| {
                let at = column.index();
                Filled {
                    column: *column,
                    asked: counts.asked[at],
                    filled: counts.filled[at],
                    points_without: points_without[at],
                    unproven_without: counts.unproven_without[at],
                    settles: alone[at],
                }
            })
            .filter(|filled| filled.asked > 0)
            .collect(),
        order: settle::in_turn(&draws, books),
    }
}

/// For each row the place of its draw in the history; past its end for a draw that another
/// process has replaced since the programme was judged, which is then passed over.
fn places(history: &History, assessed: &Assessed) -> Vec<u32> {
    let number = |place: usize| u32::try_from(place).expect("draws are counted in 32 bits");
    let last = history.draws.iter().map(|draw| draw.record).max();
    let mut place_of = vec![u32::MAX; last.map_or(0, |last| last as usize + 1)];
    for (place, draw) in history.draws.iter().enumerate() {
        place_of[draw.record as usize] = number(place);
    }
    let records = &assessed.judged.record;
    records
        .par_iter()
        .map(|record| place_of.get(*record as usize).copied().unwrap_or(u32::MAX))
        .collect()
}

fn count(
    history: &History,
    assessed: &Assessed,
    selection: &Selection,
    places: &[u32],
    groups: &Groups,
) -> Vec<Counts> {
    let nothing = || -> Vec<Counts> { (0..groups.count()).map(|_| Counts::none()).collect() };
    // Few large pieces: each carries counts of its own, which many groups make long.
    let piece = (selection.len() / (4 * rayon::current_num_threads()) + 1).max(1 << 14);
    selection
        .par_chunks(piece)
        .map(|rows| {
            let mut counts = nothing();
            for row in rows.iter().map(|row| *row as usize) {
                let Some(draw) = history.draws.get(places[row] as usize) else {
                    continue;
                };
                let point = &history.points[draw.point as usize];
                let is_unproven = assessed.judged.verdict[row] == Verdict::Unproven;
                let counts = &mut counts[groups.group_of(assessed, row)];
                counts.draws += 1;
                counts.unproven += u64::from(is_unproven);
                for column in Column::ALL {
                    if column.is_asked(draw, point) {
                        let is_blank = column.is_blank(draw, point);
                        counts.asked[column.index()] += 1;
                        counts.filled[column.index()] += u64::from(!is_blank);
                        let costs = is_blank && is_unproven;
                        counts.unproven_without[column.index()] += u64::from(costs);
                    }
                }
            }
            counts
        })
        .reduce(nothing, |mut one, other| {
            for (one, other) in one.iter_mut().zip(&other) {
                one.add(other);
            }
            one
        })
}

/// For each group and column, how many of its points lack it.
fn points_without(
    history: &History,
    assessed: &Assessed,
    selection: &Selection,
    places: &[u32],
    groups: &Groups,
) -> Vec<Vec<u64>> {
    let mut without = vec![vec![0; Column::ALL.len()]; groups.count()];
    let of_points: Vec<Column> = Column::ALL
        .iter()
        .copied()
        .filter(|column| column.sheet() == Sheet::Points)
        .collect();
    let mut seen = rustc_hash::FxHashSet::default();
    for row in selection.iter().map(|row| *row as usize) {
        let Some(draw) = history.draws.get(places[row] as usize) else {
            continue;
        };
        let point = &history.points[draw.point as usize];
        let group = groups.group_of(assessed, row);
        for column in &of_points {
            if column.is_blank(draw, point)
                && column.is_asked(draw, point)
                && seen.insert((group, draw.point, *column))
            {
                without[group][column.index()] += 1;
            }
        }
    }
    without
}

/// The questions of all unproven draws of a selection, each distinct one once.
struct Questions {
    distinct: Vec<Question>,
    /// The row and the place of its question.
    of_row: Vec<(u32, usize)>,
}

fn ask(
    history: &History,
    assessed: &Assessed,
    selection: &Selection,
    places: &[u32],
    progress: &Progress,
) -> Option<Questions> {
    let mut row_of = vec![u32::MAX; history.draws.len()];
    for &row in selection {
        let is_unproven = assessed.judged.verdict[row as usize] == Verdict::Unproven;
        if is_unproven && let Some(of) = row_of.get_mut(places[row as usize] as usize) {
            *of = row;
        }
    }
    let filler = Filler::new();
    let sample = InForce::of_class(Class::Sample);
    let asked = ask_each(
        history,
        &assessed.rulebook,
        |place| row_of[place] != u32::MAX,
        progress,
        |open| {
            let point = open.situation.draw.point as usize;
            Question::of(open, assessed.in_force[point], sample, &filler)
        },
    )?;
    let mut known: FxHashMap<Question, usize> = FxHashMap::default();
    let mut of_row = Vec::with_capacity(asked.len());
    for (place, question) in asked {
        let next = known.len();
        let question = *known.entry(question).or_insert(next);
        of_row.push((row_of[place as usize], question));
    }
    let mut distinct: Vec<(usize, Question)> = known
        .into_iter()
        .map(|(question, place)| (place, question))
        .collect();
    distinct.sort_unstable_by_key(|(place, _)| *place);
    Some(Questions {
        distinct: distinct.into_iter().map(|(_, question)| question).collect(),
        of_row,
    })
}

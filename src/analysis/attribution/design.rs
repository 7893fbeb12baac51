//! Counts to the cells of the model, and adjustments to its columns.
//!
//! A level of an adjustment on which no draw or every draw is unrepresentative has no
//! finite effect: its draws tell nothing about people and points. They are left out and
//! reported with their counts.

use rustc_hash::FxHashMap;

use super::adjust::Levels;
use super::counts::{Count, Counts};
use super::given_way::GivenWay;
use super::{Adjust, Adjusted, LeftOut, NoAnswer};
use crate::analysis::Assessed;
use crate::stats::crossed::{Cell, Coefficient, CrossedError, Data};
use crate::stats::exact;

/// Columns beyond which fitting would take minutes.
pub(super) const MOST_COLUMNS: usize = 200;

/// What the model is fitted to.
pub(super) struct Design {
    pub data: Data,
    /// For each technician of the model, the place in the programme's list.
    pub technicians: Vec<u32>,
    /// For each point of the model, the place in the programme's list.
    pub points: Vec<u32>,
    /// The levels that have a column, in the order of the columns; without estimates yet.
    pub columns: Vec<Adjusted>,
    /// For each adjustment, its reference level; none if a single level is left.
    pub references: Vec<(Adjust, Option<String>)>,
    pub left_out: Vec<LeftOut>,
    /// Levels without a column, since they follow from what else is adjusted for.
    pub follows: Vec<(Adjust, String)>,
    /// For each count, its row of fixed effects; none if it is left out.
    pub pattern_of: Vec<Option<u32>>,
    levels: Vec<Levels>,
}

impl Design {
    pub fn new(
        assessed: &Assessed,
        counts: &Counts,
        adjust: &[Adjust],
        given_way: &GivenWay,
    ) -> Result<Design, NoAnswer> {
        let all = &counts.counts;
        let levels: Vec<Levels> = adjust
            .iter()
            .map(|adjust| Levels::new(assessed, all, *adjust))
            .collect();
        let (kept, left_out) = leave_out(all, &levels, given_way)?;
        let mut columns = Vec::new();
        let mut references = Vec::new();
        // For each adjustment, the column of each level, none for the reference.
        let mut column_of: Vec<Vec<Option<usize>>> = Vec::new();
        for levels in &levels {
            let tallies = tallies(all, levels, &kept);
            let of_level = columns_of(levels, &tallies, &given_way.follows, &mut columns);
            references.push((levels.adjust, of_level.1));
            column_of.push(of_level.0);
        }
        if columns.len() > MOST_COLUMNS {
            return Err(NoAnswer::TooManyLevels {
                levels: columns.len(),
                most: MOST_COLUMNS,
            });
        }
        let kept_counts = || all.iter().enumerate().filter(|(place, _)| kept[*place]);
        let technicians = numbers(kept_counts().map(|(_, count)| count.technician));
        let points = numbers(kept_counts().map(|(_, count)| count.point));
        let mut patterns = Patterns::new(columns.len());
        let mut pattern_of = vec![None; all.len()];
        let cells: Vec<Cell> = kept_counts()
            .map(|(place, count)| {
                let ones = levels.iter().zip(&column_of);
                let ones = ones.filter_map(|(levels, columns)| columns[levels.of[place] as usize]);
                let pattern = patterns.number(ones.collect());
                pattern_of[place] = Some(pattern);
                Cell {
                    levels: [
                        place_in(&technicians, count.technician),
                        place_in(&points, count.point),
                    ],
                    pattern,
                    events: count.events,
                    trials: count.trials,
                }
            })
            .collect();
        let sizes = [technicians.len(), points.len()];
        let data =
            Data::new(sizes, &patterns.rows, cells).map_err(|error| named(error, &columns))?;
        Ok(Design {
            data,
            technicians,
            points,
            columns,
            references,
            left_out,
            follows: given_way.follows.clone(),
            pattern_of,
            levels,
        })
    }

    /// The levels of everything adjusted for of the count at this place: the first one's
    /// name, and the others' in words behind its level.
    ///
    /// # Panics
    /// When nothing is adjusted for.
    pub fn combination(&self, place: usize) -> (Adjust, String) {
        let name = |levels: &Levels| levels.names[levels.of[place] as usize].clone();
        let (first, others) = self
            .levels
            .split_first()
            .expect("only what is adjusted for parts draws");
        let others = others
            .iter()
            .map(|levels| format!(", {} {}", levels.adjust, name(levels)));
        (first.adjust, name(first) + &others.collect::<String>())
    }
}

/// The model's error with its columns named.
pub(super) fn named(error: CrossedError, columns: &[Adjusted]) -> NoAnswer {
    NoAnswer::of(error, |column| {
        (columns[column].adjust, columns[column].level.clone())
    })
}

/// Which counts stay, and the levels that go. Leaving draws out can empty another level of
/// its unrepresentative draws, so this goes on until nothing more goes.
fn leave_out(
    counts: &[Count],
    all: &[Levels],
    given_way: &GivenWay,
) -> Result<(Vec<bool>, Vec<LeftOut>), NoAnswer> {
    let mut kept: Vec<bool> = given_way.out.iter().map(|out| !out).collect();
    let mut left_out = given_way.left_out.clone();
    loop {
        let before = left_out.len();
        for levels in all {
            let tallies = tallies(counts, levels, &kept);
            let goes: Vec<bool> = tallies
                .iter()
                .map(|(events, trials)| *trials > 0 && (*events == 0 || events == trials))
                .collect();
            for (place, (events, trials)) in tallies.iter().enumerate() {
                if goes[place] {
                    let (low, high) = exact::interval(*events, *trials, 0.95).unwrap_or((0.0, 1.0));
                    left_out.push(LeftOut {
                        adjust: levels.adjust,
                        level: levels.names[place].clone(),
                        draws: *trials,
                        unrepresentative: *events,
                        low,
                        high,
                    });
                }
            }
            for (kept, level) in kept.iter_mut().zip(&levels.of) {
                *kept &= !goes[*level as usize];
            }
            if !kept.contains(&true) {
                return Err(NoAnswer::NothingLeft {
                    adjust: levels.adjust,
                });
            }
        }
        if left_out.len() == before {
            return Ok((kept, left_out));
        }
    }
}

/// Unrepresentative and all draws of each level, over the counts that are kept.
fn tallies(counts: &[Count], levels: &Levels, kept: &[bool]) -> Vec<(u64, u64)> {
    let mut tallies = vec![(0, 0); levels.names.len()];
    for ((count, level), kept) in counts.iter().zip(&levels.of).zip(kept) {
        if *kept {
            let tally = &mut tallies[*level as usize];
            tally.0 += count.events;
            tally.1 += count.trials;
        }
    }
    tallies
}

/// Gives every level a column but the reference and those that follow from others. The
/// reference is the level with most draws, of equal ones the first.
fn columns_of(
    levels: &Levels,
    tallies: &[(u64, u64)],
    follows: &[(Adjust, String)],
    columns: &mut Vec<Adjusted>,
) -> (Vec<Option<usize>>, Option<String>) {
    let present = || (0..tallies.len()).filter(|place| tallies[*place].1 > 0);
    let reference = present().max_by_key(|place| (tallies[*place].1, std::cmp::Reverse(*place)));
    let mut column_of = vec![None; tallies.len()];
    let has_column = |place: &usize| {
        let mut following = follows.iter();
        Some(*place) != reference
            && !following
                .any(|(adjust, level)| *adjust == levels.adjust && *level == levels.names[*place])
    };
    for place in present().filter(has_column) {
        column_of[place] = Some(columns.len());
        columns.push(Adjusted {
            adjust: levels.adjust,
            level: levels.names[place].clone(),
            draws: tallies[place].1,
            unrepresentative: tallies[place].0,
            effect: Coefficient {
                value: 0.0,
                se: 0.0,
            },
        });
    }
    let named = reference.filter(|_| present().count() > 1);
    (column_of, named.map(|place| levels.names[place].clone()))
}

fn numbers(places: impl Iterator<Item = u32>) -> Vec<u32> {
    let mut numbers: Vec<u32> = places.collect();
    numbers.sort_unstable();
    numbers.dedup();
    numbers
}

fn place_in(numbers: &[u32], place: u32) -> u32 {
    // Fewer of them than draws, which are counted in u32.
    u32::try_from(numbers.partition_point(|number| *number < place)).unwrap_or(u32::MAX)
}

/// Distinct rows of fixed effects, numbered as they come.
struct Patterns {
    width: usize,
    numbers: FxHashMap<Vec<usize>, u32>,
    rows: Vec<Vec<f64>>,
}

impl Patterns {
    fn new(width: usize) -> Self {
        Patterns {
            width,
            numbers: FxHashMap::default(),
            rows: Vec::new(),
        }
    }

    fn number(&mut self, ones: Vec<usize>) -> u32 {
        if let Some(number) = self.numbers.get(&ones) {
            return *number;
        }
        let mut row = vec![0.0; self.width];
        for place in &ones {
            row[*place] = 1.0;
        }
        let number = u32::try_from(self.rows.len()).unwrap_or(u32::MAX);
        self.rows.push(row);
        self.numbers.insert(ones, number);
        number
    }
}

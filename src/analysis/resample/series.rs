//! Draws that follow each other, and the latest visit of each such series.

use std::collections::BTreeSet;

use rustc_hash::FxHashMap;

use super::{VISIT_HOURS, by_compartment};
use crate::analysis::Assessed;

/// How far back a machine's pace is looked for.
const YEAR: i64 = 365 * 86_400;

/// A number for each series.
pub(super) type Series = usize;

/// The series that each point belongs to.
pub(super) struct SeriesOf {
    of_point: Vec<Series>,
    count: usize,
}

/// What a series' draws show.
pub(super) struct Found {
    /// Its latest draw.
    pub latest: u32,
    /// Its first draw.
    pub first: u32,
    /// Its earliest draw in the year before the latest.
    pub year_ago: u32,
    /// The draw that speaks for the latest visit.
    pub speaks: u32,
    /// How many draws that visit has.
    pub visit_draws: u32,
    /// The last draw that can be trusted.
    pub last_trusted: Option<u32>,
    visit_begins: i64,
    trusted_in_visit: bool,
}

impl Found {
    /// Whether the sample of the latest visit can be trusted.
    pub fn is_trusted(&self) -> bool {
        self.trusted_in_visit
    }
}

impl SeriesOf {
    /// Numbers the series.
    pub fn points(assessed: &Assessed) -> Self {
        let mut numbers: FxHashMap<&str, Series> = FxHashMap::default();
        let mut count = 0;
        let mut next = || {
            count += 1;
            count - 1
        };
        let of_point = assessed
            .points
            .iter()
            .map(|point| {
                if by_compartment(point.kind) {
                    *numbers.entry(&point.compartment).or_insert_with(&mut next)
                } else {
                    next()
                }
            })
            .collect();
        SeriesOf { of_point, count }
    }

    /// The agreed points of each series, in the order of the programme's list.
    pub fn agreed(&self, assessed: &Assessed) -> Vec<Vec<usize>> {
        let mut agreed = vec![Vec::new(); self.count];
        for (place, point) in assessed.points.iter().enumerate() {
            if point.is_agreed() {
                agreed[self.of_point[place]].push(place);
            }
        }
        agreed
    }

    /// Goes over the draws before row `until`, the latest first; rows stand in the order of
    /// time. None for a series without draws.
    pub fn go_over(
        &self,
        assessed: &Assessed,
        until: usize,
        trusted: &dyn Fn(usize) -> bool,
        set_aside: &BTreeSet<u32>,
    ) -> Vec<Option<Found>> {
        let judged = &assessed.judged;
        let mut series: Vec<Option<Found>> = (0..self.count).map(|_| None).collect();
        for row in (0..until).rev() {
            let at = judged.drawn_at[row];
            let number = u32::try_from(row).expect("rows are counted in 32 bits");
            let found = &mut series[self.of_point[judged.point[row] as usize]];
            let found = found.get_or_insert_with(|| Found {
                latest: number,
                first: number,
                year_ago: number,
                speaks: number,
                visit_draws: 0,
                last_trusted: None,
                visit_begins: at - VISIT_HOURS * 3600,
                trusted_in_visit: false,
            });
            found.first = number;
            if at >= judged.drawn_at[found.latest as usize] - YEAR {
                found.year_ago = number;
            }
            let is_trusted = trusted(row);
            if at >= found.visit_begins {
                found.visit_draws += 1;
                found.trusted_in_visit |= is_trusted;
                let standing = |row: u32| {
                    let verdict = judged.verdict[row as usize];
                    (!set_aside.contains(&row), verdict)
                };
                if standing(number) > standing(found.speaks) {
                    found.speaks = number;
                }
            }
            if is_trusted && found.last_trusted.is_none() {
                found.last_trusted = Some(number);
            }
        }
        series
    }
}

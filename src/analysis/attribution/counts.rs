//! Judged draws counted by technician, point and what changes from draw to draw.
//!
//! Every judged draw becomes one whole number; sorting the numbers brings equal draws
//! together. A million of them take less than a tenth of a second, and nothing depends on
//! the order of rows.

use rayon::prelude::*;

use super::{Adjust, NoAnswer};
use crate::analysis::zone::Months;
use crate::analysis::{Assessed, Selection};
use crate::model::Verdict;

/// Draws that share technician, point and, where they are asked for, method and month.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Count {
    /// Place in the programme's list of technicians.
    pub technician: u32,
    /// Place in the programme's list of points.
    pub point: u32,
    /// As in [`Judged::method`](crate::model::Judged::method); 255 where not asked for.
    pub method: u8,
    /// The month's number; 0 where not asked for.
    pub month: i32,
    /// Unrepresentative ones.
    pub events: u64,
    /// All of them.
    pub trials: u64,
}

/// The counts of a selection, ordered by technician, point, method, month.
pub(super) struct Counts {
    pub counts: Vec<Count>,
    /// Draws of the selection that are unproven and so left out.
    pub unproven: u64,
}

impl Counts {
    pub fn of(
        assessed: &Assessed,
        selection: &Selection,
        adjust: &[Adjust],
    ) -> Result<Self, NoAnswer> {
        let judged = &assessed.judged;
        let by_method = adjust.contains(&Adjust::Method);
        let months = Numbered::of(assessed, selection, adjust.contains(&Adjust::Month));
        let sizes = [
            assessed.technicians.len() as u64,
            assessed.points.len() as u64,
            1 << 8,
            months.ends.len() as u64 + 1,
            2,
        ];
        if sizes
            .iter()
            .try_fold(1_u64, |all, size| all.checked_mul(*size))
            .is_none()
        {
            return Err(NoAnswer::TooManyUnits {
                units: assessed.technicians.len(),
            });
        }
        let key = |row: &u32| {
            let row = *row as usize;
            let verdict = judged.verdict[row];
            let digits = [
                u64::from(judged.technician[row]),
                u64::from(judged.point[row]),
                u64::from(if by_method {
                    judged.method[row]
                } else {
                    u8::MAX
                }),
                months.place(judged.drawn_at[row]),
                u64::from(verdict == Verdict::Unrepresentative),
            ];
            let number = digits
                .into_iter()
                .zip(sizes)
                .fold(0, |number, (digit, size)| number * size + digit);
            (verdict != Verdict::Unproven).then_some(number)
        };
        let mut keys: Vec<u64> = selection.par_iter().filter_map(key).collect();
        keys.par_sort_unstable();
        let unproven = (selection.len() - keys.len()) as u64;
        let mut counts: Vec<Count> = Vec::new();
        let mut before = None;
        for equal in keys.chunk_by(|a, b| a == b) {
            let (group, events) = (equal[0] / 2, equal[0] % 2);
            if before != Some(group) {
                before = Some(group);
                counts.push(count(group, sizes, months.first));
            }
            if let Some(count) = counts.last_mut() {
                count.trials += equal.len() as u64;
                count.events += events * equal.len() as u64;
            }
        }
        Ok(Counts { counts, unproven })
    }

    /// Unrepresentative and all draws.
    pub fn totals(&self) -> (u64, u64) {
        let add = |(events, trials), count: &Count| (events + count.events, trials + count.trials);
        self.counts.iter().fold((0, 0), add)
    }
}

/// The count without draws that a number stands for.
fn count(group: u64, [_, points, methods, months, _]: [u64; 5], first_month: i32) -> Count {
    // Each remainder is smaller than what it was put in with.
    let small = |number: u64| u32::try_from(number).unwrap_or(u32::MAX);
    let (rest, month) = (group / months, small(group % months));
    let (rest, method) = (rest / methods, small(rest % methods));
    Count {
        technician: small(rest / points),
        point: small(rest % points),
        method: u8::try_from(method).unwrap_or(u8::MAX),
        month: first_month.saturating_add_unsigned(month),
        events: 0,
        trials: 0,
    }
}

/// The months of a selection, if they are asked for.
struct Numbered {
    first: i32,
    /// The instant at which each month but the last ends.
    ends: Vec<i64>,
}

impl Numbered {
    fn of(assessed: &Assessed, selection: &Selection, wanted: bool) -> Self {
        let drawn_at = || {
            selection
                .iter()
                .map(|row| assessed.judged.drawn_at[*row as usize])
        };
        let (Some(earliest), Some(latest), true) = (drawn_at().min(), drawn_at().max(), wanted)
        else {
            return Numbered {
                first: 0,
                ends: Vec::new(),
            };
        };
        let months: Vec<(i32, i64)> = Months::between(earliest, latest, assessed.zone)
            .each_with_end()
            .collect();
        Numbered {
            first: months.first().map_or(0, |(month, _)| *month),
            ends: months
                .iter()
                .rev()
                .skip(1)
                .rev()
                .map(|(_, end)| *end)
                .collect(),
        }
    }

    /// How many months after the first.
    fn place(&self, drawn_at: i64) -> u64 {
        self.ends.partition_point(|end| *end <= drawn_at) as u64
    }
}

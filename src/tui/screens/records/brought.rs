//! What a batch brought: its draws, and why rows were refused.

use std::collections::BTreeMap;

use rustc_hash::FxHashSet;

use crate::analysis::{Assessed, Selection, Tally, tally};
use crate::model::time;
use crate::programme::Refused;
use crate::tui::text;

/// How many reasons are told.
const MOST_REASONS: usize = 5;

/// The draws that stand as a batch brought them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Brought {
    tally: Tally,
    points: u64,
    technicians: u64,
    /// When the first and the last were drawn, in seconds since 1970 UTC.
    drawn: Option<(i64, i64)>,
}

impl Brought {
    pub(crate) fn of(assessed: &Assessed, rows: &Selection) -> Self {
        let judged = &assessed.judged;
        let many = |of: &[u32]| {
            let different: FxHashSet<u32> = rows.iter().map(|row| of[*row as usize]).collect();
            different.len() as u64
        };
        let drawn = || rows.iter().map(|row| judged.drawn_at[*row as usize]);
        Brought {
            tally: tally(assessed, rows),
            points: many(&judged.point),
            technicians: many(&judged.technician),
            drawn: drawn().min().zip(drawn().max()),
        }
    }

    /// In a sentence or two; none where no draw stands as the batch brought it.
    pub(crate) fn words(&self, assessed: &Assessed) -> Option<String> {
        let (first, last) = self.drawn?;
        let day = |seconds| -> String {
            let text = time::local_text(seconds, assessed.zone);
            text.chars().take(10).collect()
        };
        let (first, last) = (day(first), day(last));
        let days = match first == last {
            true => format!("of {first}"),
            false => format!("of {first} to {last}"),
        };
        let judged = match self.tally.judged() {
            0 => "None of them can be judged.".to_owned(),
            judged => format!(
                "{} of {} judged ones unrepresentative.",
                text::percent(self.tally.share().share),
                text::count(judged)
            ),
        };
        Some(format!(
            "{} {days}, at {}, by {}. {judged}",
            text::plural(self.tally.draws, "draw", "draws"),
            text::plural(self.points, "point", "points"),
            text::plural(self.technicians, "person", "people"),
        ))
    }
}

/// Why rows and values were refused, the most frequent reasons first, each with its count.
pub(crate) fn reasons(refused: &[Refused]) -> Option<String> {
    let mut counts: BTreeMap<String, u64> = BTreeMap::new();
    for refused in refused {
        // What follows is what was done about it, or what was meant.
        let reason = refused.reason.split(';').next().unwrap_or_default();
        let reason = match refused.column.as_str() {
            "" => reason.to_owned(),
            column => format!("{column} {reason}"),
        };
        *counts.entry(reason).or_default() += 1;
    }
    let mut counts: Vec<(String, u64)> = counts.into_iter().collect();
    counts.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    let more = counts.len().saturating_sub(MOST_REASONS);
    let told = counts.iter().take(MOST_REASONS);
    let mut told: Vec<String> = told
        .map(|(reason, count)| format!("{} × {reason}", text::count(*count)))
        .collect();
    if more > 0 {
        told.push(text::plural(more as u64, "more reason", "more reasons"));
    }
    (!told.is_empty()).then(|| format!("Refused: {}.", told.join("; ")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reasons_are_counted_by_what_was_wrong() {
        let refused = |column: &str, reason: &str| Refused {
            sheet: "draws.csv".to_owned(),
            line: 2,
            column: column.to_owned(),
            value: String::new(),
            reason: reason.to_owned(),
            whole_row: true,
        };
        let all = [
            refused("fill_pct", "is not a number; left blank"),
            refused("point_id", "this point is not known; the nearest is A"),
            refused("point_id", "this point is not known; the nearest is B"),
        ];
        assert_eq!(
            reasons(&all).as_deref(),
            Some("Refused: 2 × point_id this point is not known; 1 × fill_pct is not a number.")
        );
        assert_eq!(reasons(&[]), None);
    }
}

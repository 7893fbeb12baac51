//! What gives way so that everything adjusted for has a finite effect.
//!
//! Two adjustments may say the same of some draws (thief draws are tank draws), and a
//! combination of levels may hold a few draws that all turned out alike. Neither is a reason
//! to refuse an answer: the level that follows from the others needs no column of its own,
//! and the draws of the combination tell nothing of people and points. Both are reported.

use super::counts::Counts;
use super::design::Design;
use super::{Adjust, LeftOut};
use crate::stats::crossed::CrossedError;
use crate::stats::exact;

/// What has given way so far.
pub(super) struct GivenWay {
    /// For each count, whether its draws are left out.
    pub out: Vec<bool>,
    /// The combinations of levels left out, with their counts.
    pub left_out: Vec<LeftOut>,
    /// Levels without a column, since they follow from what else is adjusted for.
    pub follows: Vec<(Adjust, String)>,
}

impl GivenWay {
    /// Nothing yet, over this many counts.
    pub fn nothing(counts: usize) -> Self {
        GivenWay {
            out: vec![false; counts],
            left_out: Vec::new(),
            follows: Vec::new(),
        }
    }

    /// Gives way to what the model found wrong with the design; `false` if that can't help.
    /// A column or some draws go every time, so it comes to an end.
    pub fn to(&mut self, error: &CrossedError, design: &Design, counts: &Counts) -> bool {
        match *error {
            CrossedError::Collinear { column } => {
                let column = &design.columns[column];
                self.follows.push((column.adjust, column.level.clone()));
                true
            }
            CrossedError::Separated {
                pattern: Some(pattern),
                ..
            } => self.leave_out(pattern, design, counts),
            _ => false,
        }
    }

    /// Leaves out the draws of a pattern if they all turned out alike.
    fn leave_out(&mut self, pattern: usize, design: &Design, counts: &Counts) -> bool {
        let of_pattern = || {
            let patterns = design.pattern_of.iter().enumerate();
            patterns
                .filter(|(_, of)| of.is_some_and(|of| of as usize == pattern))
                .map(|(place, _)| place)
        };
        let (draws, unrepresentative) = of_pattern().fold((0, 0), |(draws, bad), place| {
            let count = &counts.counts[place];
            (draws + count.trials, bad + count.events)
        });
        let Some(first) = of_pattern().next() else {
            return false;
        };
        if unrepresentative != 0 && unrepresentative != draws {
            return false;
        }
        let (low, high) = exact::interval(unrepresentative, draws, 0.95).unwrap_or((0.0, 1.0));
        let (adjust, level) = design.combination(first);
        self.left_out.push(LeftOut {
            adjust,
            level,
            draws,
            unrepresentative,
            low,
            high,
        });
        for place in of_pattern() {
            self.out[place] = true;
        }
        true
    }
}

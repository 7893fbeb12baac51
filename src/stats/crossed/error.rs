//! Why there is no answer.

use std::fmt;

/// One of the two factors.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// The first factor.
    First,
    /// The second factor.
    Second,
}

impl Side {
    /// Both, in order.
    pub const BOTH: [Side; 2] = [Side::First, Side::Second];

    /// 0 or 1.
    #[must_use]
    pub fn index(self) -> usize {
        self as usize
    }

    /// The other one.
    #[must_use]
    pub fn other(self) -> Side {
        match self {
            Side::First => Side::Second,
            Side::Second => Side::First,
        }
    }
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Side::First => "first",
            Side::Second => "second",
        })
    }
}

/// Why the model has no answer. Columns of fixed effects are counted from 0, without the
/// intercept.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum CrossedError {
    /// A cell that contradicts itself or the numbers of levels and patterns.
    #[error(
        "cell {cell} does not fit: more events than trials, or a level or pattern out of range"
    )]
    Cell {
        /// Which one, from 0, in the order given.
        cell: usize,
    },
    /// Patterns of unequal length or with values that are not finite.
    #[error("pattern {pattern} of fixed effects is not finite or not as long as the others")]
    Pattern {
        /// Which one, from 0.
        pattern: usize,
    },
    /// No trials at all.
    #[error("there are no trials to fit a model to")]
    Empty,
    /// The event happened in none or in all trials: nothing to explain.
    #[error(
        "{events} of {trials} trials have the event: nothing varies, so nothing can be explained"
    )]
    OneOutcome {
        /// Trials with the event.
        events: u64,
        /// All trials.
        trials: u64,
    },
    /// A fixed effect is the same everywhere or follows from the others.
    #[error("fixed effect {column} is constant or follows from the others; leave it out")]
    Collinear {
        /// The column.
        column: usize,
    },
    /// A fixed effect parts events from others completely, so its estimate is infinite.
    #[error(
        "fixed effect {column} parts events from others completely; leave it out and report its counts"
    )]
    Separated {
        /// The column.
        column: usize,
        /// The row of fixed effects whose trials go beyond all bounds, where columns only
        /// part events together; none where the column does so alone.
        pattern: Option<usize>,
    },
    /// Each level of one factor meets one level of the other only, both ways round.
    #[error(
        "each level of one factor meets a single level of the other: the two cannot be told apart"
    )]
    Inseparable,
    /// Too many levels in the smaller factor for a dense solution.
    #[error(
        "{levels} levels in the smaller factor are too many (at most {most}); narrow the selection"
    )]
    TooManyLevels {
        /// Levels of the smaller factor.
        levels: usize,
        /// What can be solved.
        most: usize,
    },
    /// A factor parts events from others so far that its spread has no finite estimate.
    #[error(
        "the spread of the {side} factor has no finite estimate: its levels have nearly all or nearly none"
    )]
    Unbounded {
        /// The factor.
        side: Side,
    },
    /// The search did not arrive.
    #[error(
        "no minimum was found after {evaluations} evaluations; the numbers would not be trustworthy"
    )]
    NotConverged {
        /// Evaluations of the deviance.
        evaluations: usize,
    },
    /// The caller asked to stop.
    #[error("stopped")]
    Stopped,
}

//! Why people and points can't be told apart here, in plain sentences.

use super::{Adjust, Side};
use crate::stats::crossed::CrossedError;

/// Why there is no answer: the question has none, or the model did not settle.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoAnswer {
    /// No judged draw at all.
    #[error("there is no judged draw among these, so nothing can be attributed")]
    NoDraws,
    /// No draw is unrepresentative.
    #[error(
        "none of the {draws} judged draws is unrepresentative, so there is nothing to attribute \
         to people or points"
    )]
    AllRepresentative {
        /// Judged draws.
        draws: u64,
    },
    /// Every draw is unrepresentative.
    #[error(
        "all of the {draws} judged draws are unrepresentative, so no person and no point differs \
         from another: look at what they share"
    )]
    AllUnrepresentative {
        /// Judged draws.
        draws: u64,
    },
    /// One technician drew everything.
    #[error(
        "all of the {draws} judged draws are by one technician, {id}, so people can't be told \
         from points; widen the selection"
    )]
    OneTechnician {
        /// Who.
        id: String,
        /// Judged draws.
        draws: u64,
    },
    /// Each technician has one point that nobody else serves.
    #[error(
        "every technician draws at one point that nobody else serves, so people and points \
         can't be told apart; let rounds overlap"
    )]
    Inseparable,
    /// Adjusting would leave no draws.
    #[error(
        "by {adjust}, the draws are either all unrepresentative or none is: adjusting for it \
         leaves nothing to compare; leave it out"
    )]
    NothingLeft {
        /// What was adjusted for.
        adjust: Adjust,
    },
    /// Levels taken together part unrepresentative draws from others completely.
    #[error(
        "together with what else is adjusted for, {adjust} \"{level}\" parts unrepresentative \
         draws from others completely, so its effect has no finite estimate; adjust for less"
    )]
    Parts {
        /// What was adjusted for.
        adjust: Adjust,
        /// The level.
        level: String,
    },
    /// Too many levels to adjust for.
    #[error(
        "there are {levels} levels to adjust for, at most {most} can be; narrow the selection or \
         adjust for less"
    )]
    TooManyLevels {
        /// Levels beside the reference ones.
        levels: usize,
        /// What can be.
        most: usize,
    },
    /// Too many technicians and points at once.
    #[error(
        "there are too many technicians and points at once ({units} of the fewer); narrow the \
         selection, say to a site"
    )]
    TooManyUnits {
        /// Of the fewer of the two.
        units: usize,
    },
    /// A spread without a finite estimate.
    #[error(
        "nearly every one of the {side} has either all or none of the draws unrepresentative, so \
         how far they differ has no finite estimate; take more draws in"
    )]
    Unbounded {
        /// People or points.
        side: Side,
    },
    /// The search did not arrive.
    #[error(
        "the model did not settle ({evaluations} evaluations), so its numbers could not be \
         trusted and none are given; adjust for less or take more draws in"
    )]
    NotConverged {
        /// Evaluations of the model.
        evaluations: usize,
    },
    /// Someone asked to stop.
    #[error("stopped")]
    Stopped,
}

impl NoAnswer {
    /// What the model says, in the words of this trade. `column` names a fixed effect.
    pub(super) fn of(error: CrossedError, column: impl Fn(usize) -> (Adjust, String)) -> NoAnswer {
        match error {
            CrossedError::Empty => NoAnswer::NoDraws,
            CrossedError::OneOutcome { events: 0, trials } => {
                NoAnswer::AllRepresentative { draws: trials }
            }
            CrossedError::OneOutcome { trials, .. } => {
                NoAnswer::AllUnrepresentative { draws: trials }
            }
            CrossedError::Separated { column: place, .. } => {
                let (adjust, level) = column(place);
                NoAnswer::Parts { adjust, level }
            }
            CrossedError::Inseparable => NoAnswer::Inseparable,
            CrossedError::TooManyLevels { levels, .. } => NoAnswer::TooManyUnits { units: levels },
            CrossedError::Unbounded { side } => NoAnswer::Unbounded { side: side.into() },
            CrossedError::NotConverged { evaluations } => NoAnswer::NotConverged { evaluations },
            CrossedError::Stopped => NoAnswer::Stopped,
            CrossedError::Collinear { .. }
            | CrossedError::Cell { .. }
            | CrossedError::Pattern { .. } => {
                unreachable!("cells are made here and fit, and columns that follow go: {error}")
            }
        }
    }
}

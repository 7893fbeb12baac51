//! People and points told apart: how much of the unrepresentative draws goes with who
//! draws, how much with where, and how much with neither.
//!
//! A logistic model of "unrepresentative" over the judged draws of a selection (unproven
//! ones are left out) with crossed random intercepts for technician and point
//! ([`crate::stats::crossed`]), and fixed effects for what is adjusted for.
//!
//! ```text
//! adjust    what can be adjusted for: site, area, class, crew, method, month
//! counts    judged draws counted by technician, point and what is adjusted for
//! design    counts to the cells and columns of the model; levels that can't be fitted
//! answer    the types it is said in
//! fit       the model fitted and its answer put into those types
//! no_answer why there is none, in plain sentences
//! cautions  what to know before believing the numbers
//! reading   what the numbers say, in plain sentences
//! funnel    each unit against exact limits of chance
//! kept      answers kept by selection
//! ```
//!
//! Nothing here ranks people. An effect is against the average of those there are, it
//! comes with its interval, and few draws never make a verdict.

mod adjust;
mod answer;
mod cautions;
mod counts;
mod design;
mod fit;
mod funnel;
mod given_way;
mod kept;
mod no_answer;
mod reading;

pub use adjust::Adjust;
pub use answer::{Adjusted, Attribution, FEW_DRAWS, Island, LeftOut, Part, Unit};
pub use cautions::Caution;
pub use fit::attribute;
pub use funnel::{Dot, Funnel};
pub use kept::Kept;
pub use no_answer::NoAnswer;

use std::fmt;

/// People or places: the two factors of the model.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Side {
    /// Those who draw.
    Technicians,
    /// Where they draw.
    Points,
}

impl Side {
    /// Both, technicians first.
    pub const BOTH: [Side; 2] = [Side::Technicians, Side::Points];

    /// One of them: `technician` or `point`.
    #[must_use]
    pub const fn noun(self) -> &'static str {
        match self {
            Side::Technicians => "technician",
            Side::Points => "point",
        }
    }
}

impl fmt::Display for Side {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Side::Technicians => "technicians",
            Side::Points => "points",
        })
    }
}

impl From<crate::stats::crossed::Side> for Side {
    fn from(side: crate::stats::crossed::Side) -> Self {
        match side {
            crate::stats::crossed::Side::First => Side::Technicians,
            crate::stats::crossed::Side::Second => Side::Points,
        }
    }
}

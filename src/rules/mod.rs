//! The rules, one file each, and the rulebook that sets their weights and limits.
//!
//! Every rule file has the same five parts in the same order: the background, the
//! [`Card`] with its facts and texts, the parameters with their defaults (they are the
//! rule's own type), [`Rule::judge`], and tests at the edges. To add one: the file, its
//! `mod` line here, one line in `registry.rs`.

pub mod card;
pub mod confirmed;
pub mod page;
pub mod parameter;
pub mod registry;
pub mod rulebook;
pub mod situation;

mod age_at_dispatch;
mod age_at_receipt;
mod bottle_fit;
mod bottle_unique;
mod capped_at_once;
mod fill_level;
mod flush_met;
mod fresh_tube;
mod grease_midway;
mod hours_forward;
mod interval_kept;
mod label_complete;
mod level_set;
mod looked_at;
mod oil_worked_in;
mod point_cleaned;
mod point_suited;
mod registered;
mod running_or_hot;
mod safety_confirmed;
mod same_method;
mod same_point;
mod second_fill;
mod times_in_order;
mod tube_depth;

#[cfg(test)]
mod testing;

pub use card::Card;
pub use parameter::Parameter;
pub use registry::{COUNT, cards, place_of};
pub use rulebook::{Cuts, InForce, Problem, Rulebook, Setting, default_yaml};
pub use situation::{PreparedPoint, SecondFills, SetMember, Situation};

use crate::model::Answer;

/// A rule with its parameters set, ready to judge.
pub trait Rule: Send + Sync {
    /// Judges one draw. Called only where the rule is on and its kinds list the point's
    /// kind; pure, and without allocation, since it runs for every draw of a programme.
    fn judge(&self, situation: &Situation<'_>) -> Answer;
}

//! The verdict: a draw's surroundings, all rules, weights.

pub mod explain;
mod groundwork;
pub mod judge;
mod nearest;
mod order;
mod situations;
mod surroundings;
pub mod weigh;

pub use explain::{Explained, Explainer, explain};
pub use judge::judge_all;
pub use situations::{Open, ask_each};
pub use weigh::{Scores, scores, verdict};

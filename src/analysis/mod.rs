//! Questions asked of a judged programme: which draws, what share, of whom, where, when.

pub mod assessed;
pub mod attribution;
pub mod breakdown;
mod by_technician;
pub mod cost;
pub mod coverage;
pub mod doubts;
pub mod effect;
pub mod filter;
pub mod findings;
mod how_often;
pub mod months;
mod nearest;
mod order;
mod periods;
pub mod picks;
pub mod point_facts;
pub mod reach;
pub mod resample;
pub mod row_score;
pub mod share;
pub mod shared_out;
pub mod told;
pub mod topics;
pub mod training;
pub mod trend;
mod zone;

pub use assessed::{Assessed, WorkedOut};
pub use attribution::{Adjust, Attribution, attribute};
pub use breakdown::{Group, Key, by};
pub use cost::{Cost, cost};
pub use coverage::{Coverage, coverage};
pub use doubts::{Doubt, Doubts, doubts};
pub(crate) use filter::Value;
pub use filter::{BLANK, Days, Filter, FilterError, FilterKey, Offer, Offers, Term};
pub use months::{Limits, Month, months};
pub use nearest::nearest;
pub use periods::Every;
pub use point_facts::{PointFacts, all_point_facts};
pub use row_score::{Named, class_score, row_score};
pub use share::{Share, Tally, tally};
pub use shared_out::SharedOut;
pub use training::trainings;
pub use trend::{Trend, trend};

/// The rows of a programme's [`Judged`](crate::model::Judged) that passed a filter, in
/// its order.
pub type Selection = Vec<u32>;

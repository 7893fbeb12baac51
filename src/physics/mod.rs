//! The physics of a sample point: numbers in, numbers out, units in the names.
//!
//! `viscosity`, `flow`, `tube` and `settling` hold the raw formulas, which judging uses as
//! the scoring contract fixes them. [`calc`] holds the same for use at a desk: it refuses
//! what a formula can't answer for, and says the range. Sources, ranges and examples stand
//! in `docs/physics.md`.

pub mod calc;
pub mod flow;
pub mod limits;
mod out_of_range;
pub mod settling;
pub mod tube;
pub mod viscosity;
pub mod viscosity_index;

pub use out_of_range::OutOfRange;

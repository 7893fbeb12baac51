//! The formulas with their ranges, for checking a point at a desk: plain numbers in, named
//! results or an [`OutOfRange`](super::OutOfRange) out.

pub mod dead_volume;
pub mod reynolds;
pub mod settling;
pub mod viscosity;

pub use dead_volume::{DeadVolume, dead_volume};
pub use reynolds::{Flow, reynolds};
pub use settling::{Settling, StillOil, settling, size_below_middle_um};
pub use viscosity::{Oil, TemperatureFor, ViscosityAt, temperature_for, viscosity_at};

use super::out_of_range::Range;

/// A kinematic viscosity that flow and settling are worked out with.
const VISCOSITY: Range = Range {
    quantity: "kinematic viscosity",
    low: 2.0,
    high: 1e6,
    unit: "mm²/s",
    reason: "an oil outside these is no lubricant that flows past a point or settles in a sump",
};

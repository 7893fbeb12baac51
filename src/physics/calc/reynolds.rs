//! Flow past a point: velocity, Reynolds number, and the flow that would be turbulent.

use super::super::OutOfRange;
use super::super::flow::{self, Regime};
use super::super::out_of_range::Range;
use super::VISCOSITY;

const FLOW: Range = Range {
    quantity: "flow",
    low: 0.0,
    high: 1e6,
    unit: "L/min",
    reason: "flow is given in litres a minute",
};
const BORE: Range = Range {
    quantity: "bore of the line",
    low: 0.5,
    high: 3000.0,
    unit: "mm",
    reason: "the bore is given in millimetres",
};

/// The flow past a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flow {
    /// Mean velocity in m/s.
    pub velocity_m_s: f64,
    /// Reynolds number.
    pub reynolds: f64,
    /// Laminar, between, or turbulent.
    pub regime: Regime,
    /// Flow in L/min from which this line would be turbulent (Re 4000).
    pub turbulent_from_l_min: f64,
}

/// Velocity, Reynolds number and regime: flow in L/min, bore in mm, kinematic viscosity in
/// mm²/s.
///
/// # Errors
/// A flow outside 0 to 10⁶ L/min, a bore outside 0.5 to 3000 mm, a viscosity outside 2 to
/// 10⁶ mm²/s.
pub fn reynolds(flow_l_min: f64, bore_mm: f64, viscosity_cst: f64) -> Result<Flow, OutOfRange> {
    FLOW.check(flow_l_min)?;
    BORE.check(bore_mm)?;
    VISCOSITY.check(viscosity_cst)?;
    let reynolds = flow::reynolds(flow_l_min, bore_mm, viscosity_cst);
    Ok(Flow {
        velocity_m_s: flow::velocity_m_s(flow_l_min, bore_mm),
        reynolds,
        regime: Regime::of(reynolds),
        turbulent_from_l_min: flow::flow_for_l_min(Regime::TURBULENT_FROM, bore_mm, viscosity_cst),
    })
}

//! Flow past a point.

use std::fmt;

/// Mean velocity in m/s: flow in L/min, bore in mm.
#[must_use]
pub fn velocity_m_s(flow_l_min: f64, bore_mm: f64) -> f64 {
    let bore_m = bore_mm / 1000.0;
    let flow_m3_s = flow_l_min / 60_000.0;
    flow_m3_s / (std::f64::consts::PI * bore_m * bore_m / 4.0)
}

/// Reynolds number `v·D/ν` with `v = Q/(π·D²/4)`: flow in L/min, bore in mm, kinematic
/// viscosity in mm²/s.
#[must_use]
pub fn reynolds(flow_l_min: f64, bore_mm: f64, viscosity_cst: f64) -> f64 {
    velocity_m_s(flow_l_min, bore_mm) * (bore_mm / 1000.0) / (viscosity_cst * 1e-6)
}

/// Flow in L/min that gives this Reynolds number: bore in mm, kinematic viscosity in
/// mm²/s. `Q = Re·ν·π·D/4`.
#[must_use]
pub fn flow_for_l_min(reynolds: f64, bore_mm: f64, viscosity_cst: f64) -> f64 {
    let flow_m3_s =
        reynolds * viscosity_cst * 1e-6 * std::f64::consts::PI * (bore_mm / 1000.0) / 4.0;
    flow_m3_s * 60_000.0
}

/// How the oil flows past a point.
///
/// Handbooks put the end of laminar flow at 2000 to 2300 and the beginning of turbulent
/// flow at 4000; between them a line may do either.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Regime {
    /// Below 2300: the oil slides in layers and does not mix.
    Laminar,
    /// From 2300 and below 4000: not to be relied on.
    Between,
    /// From 4000: the flow mixes the oil.
    Turbulent,
}

impl Regime {
    /// Up to here, not included, the flow counts as laminar.
    pub const LAMINAR_BELOW: f64 = 2300.0;
    /// From here on the flow counts as turbulent.
    pub const TURBULENT_FROM: f64 = 4000.0;

    /// The regime at a Reynolds number.
    #[must_use]
    pub fn of(reynolds: f64) -> Self {
        if reynolds < Self::LAMINAR_BELOW {
            Regime::Laminar
        } else if reynolds < Self::TURBULENT_FROM {
            Regime::Between
        } else {
            Regime::Turbulent
        }
    }

    /// The words used on screens and in files.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Regime::Laminar => "laminar",
            Regime::Between => "between laminar and turbulent",
            Regime::Turbulent => "turbulent",
        }
    }
}

impl fmt::Display for Regime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

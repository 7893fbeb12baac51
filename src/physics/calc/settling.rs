//! Settling in still oil after a stop, Stokes' law, with its limit of validity.

use super::super::OutOfRange;
use super::super::out_of_range::Range;
use super::super::settling as raw;
use super::VISCOSITY;

const DEPTH: Range = Range {
    quantity: "depth of the oil",
    low: 0.1,
    high: 5000.0,
    unit: "cm",
    reason: "the depth is given in centimetres",
};
const DIAMETER: Range = Range {
    quantity: "diameter of the particle",
    low: 0.5,
    high: 5000.0,
    unit: "µm",
    reason: "finer ones are kept afloat by the motion of heat; the diameter is given in µm",
};
const OIL: Range = Range {
    quantity: "density of the oil",
    low: 600.0,
    high: 1300.0,
    unit: "kg/m³",
    reason: "lubricating oils lie between these",
};
const PARTICLE_HIGH: f64 = 23_000.0;
const MINUTES: Range = Range {
    quantity: "time since the stop",
    low: 0.1,
    high: 1e5,
    unit: "min",
    reason: "the time is given in minutes",
};
const PARTICLE_REYNOLDS: Range = Range {
    quantity: "particle Reynolds number",
    low: 0.0,
    high: 1.0,
    unit: "",
    reason: "above 1 Stokes' law is far too fast; the particle is too large for it",
};

/// Above this particle Reynolds number the result is some percent too fast.
const REMARK_FROM: f64 = 0.1;

/// Oil at rest and a particle in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StillOil {
    /// Depth of the oil in cm.
    pub depth_cm: f64,
    /// Kinematic viscosity in mm²/s.
    pub viscosity_cst: f64,
    /// Density of the oil in kg/m³.
    pub oil_kg_m3: f64,
    /// Density of the particle in kg/m³.
    pub particle_kg_m3: f64,
    /// Diameter of the particle in µm.
    pub diameter_um: f64,
}

impl StillOil {
    /// What the settling limit of the rules takes: iron of 20 µm, 7850 kg/m³, in oil of
    /// 870 kg/m³. Depth in cm, kinematic viscosity in mm²/s.
    #[must_use]
    pub const fn of_the_rules(depth_cm: f64, viscosity_cst: f64) -> Self {
        StillOil {
            depth_cm,
            viscosity_cst,
            oil_kg_m3: raw::OIL_KG_M3,
            particle_kg_m3: raw::IRON_KG_M3,
            diameter_um: raw::LIMIT_DIAMETER_UM,
        }
    }

    fn check(&self) -> Result<(), OutOfRange> {
        DEPTH.check(self.depth_cm)?;
        VISCOSITY.check(self.viscosity_cst)?;
        OIL.check(self.oil_kg_m3)?;
        DIAMETER.check(self.diameter_um)?;
        Range {
            quantity: "density of the particle",
            low: self.oil_kg_m3 + 1.0,
            high: PARTICLE_HIGH,
            unit: "kg/m³",
            reason: "only what is heavier than the oil settles",
        }
        .check(self.particle_kg_m3)?;
        Ok(())
    }

    fn speed_m_s(&self, diameter_um: f64) -> f64 {
        raw::stokes_m_s(
            self.particle_kg_m3,
            self.oil_kg_m3,
            diameter_um,
            self.viscosity_cst,
        )
    }
}

/// How a particle settles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settling {
    /// Settling speed in m/s.
    pub speed_m_s: f64,
    /// Particle Reynolds number.
    pub particle_reynolds: f64,
    /// Minutes from the surface to mid-depth.
    pub minutes_to_middle: f64,
    /// Some percent too fast: the particle Reynolds number is above 0.1.
    pub rough: bool,
}

/// Settling of one particle.
///
/// # Errors
/// A depth outside 0.1 to 5000 cm, a viscosity outside 2 to 10⁶ mm²/s, a diameter outside
/// 0.5 to 5000 µm, an oil density outside 600 to 1300 kg/m³, a particle not heavier than
/// the oil, a particle Reynolds number above 1.
pub fn settling(oil: &StillOil) -> Result<Settling, OutOfRange> {
    oil.check()?;
    let speed_m_s = oil.speed_m_s(oil.diameter_um);
    let particle_reynolds = PARTICLE_REYNOLDS.check(raw::particle_reynolds(
        speed_m_s,
        oil.diameter_um,
        oil.viscosity_cst,
    ))?;
    Ok(Settling {
        speed_m_s,
        particle_reynolds,
        minutes_to_middle: oil.depth_cm / 100.0 / 2.0 / speed_m_s / 60.0,
        rough: particle_reynolds > REMARK_FROM,
    })
}

/// Diameter in µm above which every particle that started at the surface has passed
/// mid-depth some minutes after the stop. The oil's own `diameter_um` is not used.
///
/// # Errors
/// As [`settling`], for a particle of the size found; a time outside 0.1 to 10⁵ min.
pub fn size_below_middle_um(oil: &StillOil, minutes: f64) -> Result<f64, OutOfRange> {
    MINUTES.check(minutes)?;
    let asked = StillOil {
        diameter_um: raw::LIMIT_DIAMETER_UM,
        ..*oil
    };
    asked.check()?;
    let size_um = raw::size_below_middle_um(
        oil.particle_kg_m3,
        oil.oil_kg_m3,
        oil.viscosity_cst,
        oil.depth_cm,
        minutes,
    );
    settling(&StillOil {
        diameter_um: size_um,
        ..*oil
    })?;
    Ok(size_um)
}

//! How fast particles settle in still oil: Stokes' law.

/// Standard gravity in m/s².
pub const GRAVITY_M_S2: f64 = 9.80665;
/// Density of iron in kg/m³, as the settling limit takes it.
pub const IRON_KG_M3: f64 = 7850.0;
/// Density of oil in kg/m³, as the settling limit takes it.
pub const OIL_KG_M3: f64 = 870.0;
/// Diameter in µm of the particle of the settling limit.
pub const LIMIT_DIAMETER_UM: f64 = 20.0;

/// Stokes' settling speed in m/s: `g·(ρp − ρo)·d²/(18·μ)` with `μ = ν·ρo`. Densities in
/// kg/m³, diameter in µm, kinematic viscosity in mm²/s.
#[must_use]
pub fn stokes_m_s(
    particle_kg_m3: f64,
    oil_kg_m3: f64,
    diameter_um: f64,
    viscosity_cst: f64,
) -> f64 {
    let diameter_m = diameter_um * 1e-6;
    let dynamic_pa_s = viscosity_cst * 1e-6 * oil_kg_m3;
    GRAVITY_M_S2 * (particle_kg_m3 - oil_kg_m3) * diameter_m * diameter_m / (18.0 * dynamic_pa_s)
}

/// Minutes a 20 µm iron particle that started at the oil surface takes to pass mid-depth.
/// Depth in cm, kinematic viscosity in mm²/s.
#[must_use]
pub fn limit_min(oil_depth_cm: f64, viscosity_cst: f64) -> f64 {
    let speed_m_s = stokes_m_s(IRON_KG_M3, OIL_KG_M3, LIMIT_DIAMETER_UM, viscosity_cst);
    oil_depth_cm / 100.0 / 2.0 / speed_m_s / 60.0
}

/// Particle Reynolds number `v·d/ν`: speed in m/s, diameter in µm, kinematic viscosity in
/// mm²/s. Stokes' law holds well below 1; at 0.1 it is about 2 % too fast (Oseen's term
/// 3/16·Re, from memory).
#[must_use]
pub fn particle_reynolds(speed_m_s: f64, diameter_um: f64, viscosity_cst: f64) -> f64 {
    speed_m_s * diameter_um / viscosity_cst
}

/// Diameter in µm above which every particle that started at the surface has passed
/// mid-depth after some minutes: `sqrt(18·μ·h/(g·Δρ·t))`, h half the depth. Densities in
/// kg/m³, kinematic viscosity in mm²/s, depth in cm, time in min.
#[must_use]
pub fn size_below_middle_um(
    particle_kg_m3: f64,
    oil_kg_m3: f64,
    viscosity_cst: f64,
    oil_depth_cm: f64,
    minutes: f64,
) -> f64 {
    let dynamic_pa_s = viscosity_cst * 1e-6 * oil_kg_m3;
    let half_depth_m = oil_depth_cm / 100.0 / 2.0;
    let pull = GRAVITY_M_S2 * (particle_kg_m3 - oil_kg_m3) * minutes * 60.0;
    (18.0 * dynamic_pa_s * half_depth_m / pull).sqrt() * 1e6
}

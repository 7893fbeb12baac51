//! Kinematic viscosity at a temperature and the temperature for a viscosity, ASTM D341.
//!
//! The equation with 0.7 holds from 2 mm²/s on (below, the standard adds correction terms,
//! from memory) up to 2·10⁷ mm²/s (the standard's scope, from memory). How far a line may be
//! drawn out past its two temperatures is not in the standard; wax, boiling and oxidation
//! end it in practice. Ours: said from outside 0 to 150 °C on, refused outside −40 to 200 °C.

use super::super::OutOfRange;
use super::super::out_of_range::Range;
use super::super::viscosity::{Walther, grade_at_100};

const TEMP: Range = Range {
    quantity: "oil temperature",
    low: -40.0,
    high: 200.0,
    unit: "°C",
    reason: "the line is not drawn out further: wax or boiling would bend it",
};
const GIVEN_TEMP: Range = Range {
    quantity: "temperature of a given viscosity",
    low: -20.0,
    high: 150.0,
    unit: "°C",
    reason: "viscosities are measured between these, usually at 40 and 100 °C",
};
const APART: Range = Range {
    quantity: "difference of the two temperatures",
    low: 10.0,
    high: f64::INFINITY,
    unit: "°C",
    reason: "closer pairs magnify the error of the measurement",
};
const GIVEN: Range = Range {
    quantity: "given kinematic viscosity",
    low: 2.0,
    high: 2e7,
    unit: "mm²/s",
    reason: "the equation needs correction terms below and is not defined above",
};
const RESULT: Range = Range {
    quantity: "kinematic viscosity at this temperature",
    low: 2.0,
    high: 2e7,
    unit: "mm²/s",
    reason: "the equation needs correction terms below and is not defined above",
};
const GRADE: Range = Range {
    quantity: "ISO VG",
    low: 10.0,
    high: 1000.0,
    unit: "",
    reason: "grades 10 15 22 32 46 68 100 150 220 320 460 680 1000 are tabled; for another oil \
             give two viscosities",
};

/// Outside these temperatures in °C the result is said to be drawn out.
const CUSTOMARY_C: (f64, f64) = (0.0, 150.0);

/// How an oil is described.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Oil {
    /// An ISO 3448 grade; a viscosity index of 95 is assumed.
    IsoVg(f64),
    /// Two pairs of a temperature in °C and the viscosity there in mm²/s.
    Two((f64, f64), (f64, f64)),
}

/// A viscosity worked out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ViscosityAt {
    /// Kinematic viscosity in mm²/s.
    pub viscosity_cst: f64,
    /// The line it was read from.
    pub line: Walther,
    /// The temperature lies outside 0 to 150 °C.
    pub drawn_out: bool,
}

/// A temperature worked out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TemperatureFor {
    /// Oil temperature in °C.
    pub temp_c: f64,
    /// The line it was read from.
    pub line: Walther,
    /// The temperature lies outside 0 to 150 °C.
    pub drawn_out: bool,
}

/// The viscosity line of an oil.
///
/// # Errors
/// A grade that is not tabled; a viscosity below 2 mm²/s; temperatures outside −20 to
/// 150 °C or less than 10 °C apart; an oil that does not thin out as it gets warmer.
pub fn line(oil: Oil) -> Result<Walther, OutOfRange> {
    let (one, other) = match oil {
        Oil::IsoVg(grade) => {
            let at_100 = grade_at_100(grade).ok_or(GRADE.refusal(grade))?;
            ((40.0, grade), (100.0, at_100))
        }
        Oil::Two(one, other) => (one, other),
    };
    for (temp_c, viscosity_cst) in [one, other] {
        GIVEN_TEMP.check(temp_c)?;
        GIVEN.check(viscosity_cst)?;
    }
    APART.check((one.0 - other.0).abs())?;
    let (cool, warm) = if one.0 < other.0 {
        (one, other)
    } else {
        (other, one)
    };
    Walther::through_two(cool, warm).ok_or(OutOfRange {
        quantity: "viscosity at the higher temperature",
        value: warm.1,
        low: 2.0,
        high: cool.1,
        unit: "mm²/s",
        reason: "an oil is thinner when it is warmer; are the two swapped?",
    })
}

/// Kinematic viscosity at a temperature in °C.
///
/// # Errors
/// As [`line()`]; a temperature outside −40 to 200 °C; a result outside 2 to 2·10⁷ mm²/s.
pub fn viscosity_at(oil: Oil, temp_c: f64) -> Result<ViscosityAt, OutOfRange> {
    let line = line(oil)?;
    TEMP.check(temp_c)?;
    Ok(ViscosityAt {
        viscosity_cst: RESULT.check(line.at(temp_c))?,
        line,
        drawn_out: is_drawn_out(temp_c),
    })
}

/// Temperature in °C at which an oil has a viscosity in mm²/s.
///
/// # Errors
/// As [`line()`]; a viscosity outside 2 to 2·10⁷ mm²/s; a result outside −40 to 200 °C.
pub fn temperature_for(oil: Oil, viscosity_cst: f64) -> Result<TemperatureFor, OutOfRange> {
    let line = line(oil)?;
    GIVEN.check(viscosity_cst)?;
    let temp_c = TEMP.check(line.temp_c_for(viscosity_cst))?;
    Ok(TemperatureFor {
        temp_c,
        line,
        drawn_out: is_drawn_out(temp_c),
    })
}

fn is_drawn_out(temp_c: f64) -> bool {
    temp_c < CUSTOMARY_C.0 || temp_c > CUSTOMARY_C.1
}

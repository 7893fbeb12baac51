//! Units that sheets are written in, and the way from one to another.
//!
//! Factors are exact: they follow from definitions (inch, pound, gallon, the standard
//! acceleration of gravity), named beside each. Most are written as a ratio, so that no digit
//! is lost before the one division.

use serde::{Serialize, Serializer};

/// What a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// Temperature; a point on a scale, not a difference.
    Temperature,
    /// Length.
    Length,
    /// Volume.
    Volume,
    /// Pressure; gauge and absolute are not told apart.
    Pressure,
    /// Duration.
    Duration,
    /// Volume a time.
    Flow,
    /// A share of a whole.
    Share,
    /// Kinematic viscosity.
    Viscosity,
}

/// A unit: a value in it, plus `plus`, times `times` over `over`, is the value in the unit
/// that its quantity is counted in here.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// As maps write it.
    pub name: &'static str,
    /// What it measures.
    pub quantity: Quantity,
    plus: f64,
    times: f64,
    over: f64,
    /// How else it is spelt in sheets, in lower case without blanks, dots and brackets.
    spellings: &'static [&'static str],
}

impl Serialize for Unit {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.name)
    }
}

const fn unit(
    name: &'static str,
    quantity: Quantity,
    times: f64,
    over: f64,
    spellings: &'static [&'static str],
) -> Unit {
    Unit {
        name,
        quantity,
        plus: 0.0,
        times,
        over,
        spellings,
    }
}

const fn degrees(
    name: &'static str,
    plus: f64,
    times: f64,
    over: f64,
    spellings: &'static [&'static str],
) -> Unit {
    Unit {
        plus,
        ..unit(name, Quantity::Temperature, times, over, spellings)
    }
}

use Quantity::{Duration, Flow, Length, Pressure, Share, Viscosity, Volume};

/// Every unit that is known.
#[rustfmt::skip]
pub static UNITS: &[Unit] = &[
    // NIST SP 811 (2008), section B.8: t/°C = (t/°F − 32)/1.8 and t/°C = T/K − 273.15.
    degrees("°C", 0.0, 1.0, 1.0, &["c", "degc", "celsius", "gradc", "grad", "centigrade", "stc"]),
    degrees("°F", -32.0, 5.0, 9.0, &["f", "degf", "fahrenheit"]),
    degrees("K", -273.15, 1.0, 1.0, &["kelvin"]),
    // NIST SP 811, table B.8: the inch is 25.4 mm, the foot 12 inches, exactly.
    unit("mm", Length, 1.0, 1.0, &["millimeter", "millimetre", "millimeters", "millimetres", "millimètres"]),
    unit("cm", Length, 10.0, 1.0, &["centimeter", "centimetre", "centimeters", "centimetres"]),
    unit("m", Length, 1000.0, 1.0, &["meter", "metre", "meters", "metres"]),
    unit("in", Length, 254.0, 10.0, &["inch", "inches", "\"", "″", "zoll", "pouce", "pouces", "pulgadas", "pulg", "pollici", "cal"]),
    unit("ft", Length, 3048.0, 10.0, &["foot", "feet", "'", "′"]),
    // NIST Handbook 44, appendix C: the US gallon is 231 cubic inches, the fluid ounce its
    // 128th, pint its 8th, quart its 4th part.
    unit("mL", Volume, 1.0, 1.0, &["ml", "milliliter", "millilitre", "milliliters", "millilitres", "cc", "ccm", "cm3", "cm³"]),
    unit("cL", Volume, 10.0, 1.0, &["cl", "centiliter", "centilitre"]),
    unit("dL", Volume, 100.0, 1.0, &["dl", "deciliter", "decilitre"]),
    unit("L", Volume, 1000.0, 1.0, &["l", "liter", "litre", "liters", "litres", "ltr", "lt", "litros", "litri", "dm3", "dm³"]),
    unit("m³", Volume, 1e6, 1.0, &["m3", "cbm"]),
    unit("fl oz (US)", Volume, 29.573_529_562_5, 1.0, &["flozus", "usfloz", "ozus", "usoz"]),
    unit("pt (US)", Volume, 473.176_473, 1.0, &["ptus", "uspt", "pintus", "uspint"]),
    unit("qt (US)", Volume, 946.352_946, 1.0, &["qtus", "usqt", "quartus", "usquart"]),
    unit("gal (US)", Volume, 3_785.411_784, 1.0, &["galus", "usgal", "gallonus", "usgallon", "gallonsus", "usgallons", "usg"]),
    // Weights and Measures Act 1985 (United Kingdom), schedule 1: the gallon is 4.54609 dm³,
    // the pint its 8th, the fluid ounce its 160th part.
    unit("fl oz (imperial)", Volume, 28.413_062_5, 1.0, &["flozimperial", "flozimp", "impfloz", "imperialfloz", "flozuk", "ukfloz"]),
    unit("pt (imperial)", Volume, 568.261_25, 1.0, &["ptimperial", "ptimp", "imppt", "ptuk", "ukpt"]),
    unit("qt (imperial)", Volume, 1_136.522_5, 1.0, &["qtimperial", "qtimp", "impqt", "qtuk", "ukqt"]),
    unit("gal (imperial)", Volume, 4_546.09, 1.0, &["galimperial", "galimp", "impgal", "imperialgallon", "galuk", "ukgal"]),
    // The pascal and the bar: SI brochure (9th edition) and NIST SP 811, section 5.2. The pound
    // (0.45359237 kg) times standard gravity (9.80665 m/s²) on a square inch: NIST SP 811, B.8.
    unit("bar", Pressure, 1.0, 1.0, &["barg", "bars"]),
    unit("mbar", Pressure, 1.0, 1000.0, &["hpa", "millibar"]),
    unit("Pa", Pressure, 1.0, 1e5, &["pascal"]),
    unit("kPa", Pressure, 1.0, 100.0, &["kilopascal", "kpag"]),
    unit("MPa", Pressure, 10.0, 1.0, &["mpa", "megapascal"]),
    unit("psi", Pressure, 4.448_221_615_260_5, 64.516, &["psig", "lbf/in2", "lb/in2", "lbs/in2"]),
    unit("kgf/cm²", Pressure, 0.980_665, 1.0, &["kgf/cm2", "kg/cm2", "kg/cm²", "at"]),
    // SI brochure, table 8.
    unit("s", Duration, 1.0, 60.0, &["sec", "secs", "second", "seconds", "sek", "sekunden", "secondes", "segundos"]),
    unit("min", Duration, 1.0, 1.0, &["mins", "minute", "minutes", "minuten", "minutos", "minuti", "mn", "minut", "minuter"]),
    unit("h", Duration, 60.0, 1.0, &["hr", "hrs", "hour", "hours", "std", "stunden", "heure", "heures", "hora", "horas", "ore", "uur", "uren", "godz", "tim", "timmar", "bh", "smu"]),
    unit("d", Duration, 1440.0, 1.0, &["day", "days", "tag", "tage", "jour", "jours", "día", "días", "dia", "dias", "giorno", "giorni", "dag", "dagen", "dni", "dagar"]),
    unit("weeks", Duration, 10_080.0, 1.0, &["week", "wk", "wks", "woche", "wochen", "semaines", "semanas", "settimane", "weken", "tygodnie", "veckor"]),
    unit("L/min", Flow, 1.0, 1.0, &["l/min", "lpm", "l/mn", "liter/min", "litre/min"]),
    unit("L/s", Flow, 60.0, 1.0, &["l/s", "l/sec"]),
    unit("L/h", Flow, 1.0, 60.0, &["l/h", "lph", "l/hr"]),
    unit("m³/h", Flow, 1000.0, 60.0, &["m3/h", "m³/hr", "cbm/h"]),
    unit("mL/min", Flow, 1.0, 1000.0, &["ml/min"]),
    unit("gpm (US)", Flow, 3.785_411_784, 1.0, &["gpmus", "usgpm", "galus/min", "usgal/min"]),
    unit("gpm (imperial)", Flow, 4.546_09, 1.0, &["gpmimperial", "gpmimp", "impgpm", "igpm", "gpmuk"]),
    unit("%", Share, 1.0, 1.0, &["percent", "pct", "prozent", "pourcent", "porcentaje", "procent", "proc", "vol%", "vol-%"]),
    unit("fraction", Share, 100.0, 1.0, &["of1", "ratio", "0-1", "anteil"]),
    // ISO 3104: 1 mm²/s is 1 cSt.
    unit("mm²/s", Viscosity, 1.0, 1.0, &["mm2/s", "cst", "centistokes"]),
    unit("St", Viscosity, 100.0, 1.0, &["stokes"]),
];

/// Spellings that mean one thing in the United States and another elsewhere.
const TWO_MEANINGS: &[(&str, &[&str])] = &[
    (
        "fl oz",
        &[
            "floz",
            "oz",
            "ounce",
            "ounces",
            "fluidounce",
            "fluidounces",
            "onzas",
            "fl",
        ],
    ),
    ("pt", &["pint", "pints"]),
    ("qt", &["qts", "quart", "quarts"]),
    ("gal", &["gals", "gallon", "gallons", "galones", "gallonen"]),
    ("gpm", &["gal/min"]),
];

/// What a spelling says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Said {
    /// This unit.
    Unit(&'static Unit),
    /// One of two: the United States' or the imperial one.
    Either(&'static Unit, &'static Unit),
    /// No unit that is known.
    Unknown,
}

/// The unit of exactly this name.
#[must_use]
pub fn named(name: &str) -> Option<&'static Unit> {
    UNITS.iter().find(|unit| unit.name == name)
}

/// All units of a quantity.
pub fn of(quantity: Quantity) -> impl Iterator<Item = &'static Unit> {
    UNITS.iter().filter(move |unit| unit.quantity == quantity)
}

/// Reads a unit as people spell it: case, blanks, dots and brackets do not count.
#[must_use]
pub fn said(text: &str) -> Said {
    let plain = plain(text);
    if plain.is_empty() {
        return Said::Unknown;
    }
    let is = |unit: &&Unit| self::plain(unit.name) == plain || unit.spellings.contains(&&*plain);
    if let Some(unit) = UNITS.iter().find(is) {
        return Said::Unit(unit);
    }
    let both = TWO_MEANINGS
        .iter()
        .find(|(name, spellings)| self::plain(name) == plain || spellings.contains(&&*plain));
    match both.map(|(name, _)| {
        (
            named(&format!("{name} (US)")),
            named(&format!("{name} (imperial)")),
        )
    }) {
        Some((Some(us), Some(imperial))) => Said::Either(us, imperial),
        _ => Said::Unknown,
    }
}

fn plain(text: &str) -> String {
    let kept = text
        .chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '.' | '(' | ')' | '[' | ']' | '_' | ','))
        .map(|c| if matches!(c, 'º' | '˚') { '°' } else { c });
    let lower: String = kept.flat_map(char::to_lowercase).collect();
    // A degree sign may stand before its letter or be left out, but alone it says nothing.
    match lower.strip_prefix('°') {
        Some(scale @ ("c" | "f" | "k")) => scale.to_owned(),
        _ => lower,
    }
}

impl Unit {
    /// The value of this unit in another of the same quantity.
    ///
    /// The result is rounded to twelve digits: a value that was converted into a sheet's unit
    /// and back is then the value it was, and no instrument of the trade shows as many.
    #[must_use]
    pub fn convert(&self, value: f64, to: &Unit) -> f64 {
        if self == to {
            return value;
        }
        let there = (value + self.plus) * (self.times * to.over) / (self.over * to.times);
        rounded(there - to.plus)
    }
}

/// The number to twelve significant digits.
fn rounded(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    format!("{value:.11e}").parse().unwrap_or(value)
}

/// A number and the unit that follows it in a cell, as in `500 mL`; the unit is empty where
/// the cell bears none.
#[must_use]
pub fn split_cell(text: &str) -> (&str, &str) {
    let end = text
        .char_indices()
        .rev()
        .take_while(|(_, c)| !c.is_ascii_digit())
        .last()
        .map_or(text.len(), |(at, _)| at);
    let (number, unit) = text.split_at(end);
    // A mark that ends a number (`5.`) is no unit.
    let unit = unit.trim_start_matches(['.', ',']).trim();
    (number.trim_end(), unit)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn no_spelling_is_said_of_two_units() {
        let mut seen = std::collections::BTreeMap::new();
        for unit in UNITS {
            let spellings = unit.spellings.iter().map(|text| (*text).to_owned());
            for name in spellings.chain([plain(unit.name)]) {
                assert_eq!(plain(&name), name, "{name} is not written plainly");
                let before = seen.insert(name.clone(), unit.name);
                assert!(before.is_none_or(|other| other == unit.name), "{name}");
            }
        }
        for (name, spellings) in TWO_MEANINGS {
            for spelling in spellings.iter().chain([name]) {
                assert!(!seen.contains_key(&plain(spelling)), "{spelling}");
                assert!(matches!(said(spelling), Said::Either(..)), "{spelling}");
            }
        }
    }

    #[test]
    fn units_are_read_as_people_spell_them() {
        for (text, name) in [
            ("°F", "°F"),
            ("ºF", "°F"),
            ("Deg. F", "°F"),
            ("US gal.", "gal (US)"),
            ("fl. oz. (imperial)", "fl oz (imperial)"),
            ("Std.", "h"),
            ("l/MIN", "L/min"),
            ("[%]", "%"),
        ] {
            assert_eq!(said(text), Said::Unit(named(name).unwrap()), "{text}");
        }
        for text in ["", "°", "stone", "5"] {
            assert_eq!(said(text), Said::Unknown, "{text}");
        }
    }

    #[test]
    fn a_cell_may_bear_its_unit() {
        for (text, number, unit) in [
            ("500 mL", "500", "mL"),
            ("180°F", "180", "°F"),
            ("5", "5", ""),
            ("5.", "5", ""),
            ("1.234,5 l", "1.234,5", "l"),
            ("mL", "", "mL"),
            ("", "", ""),
        ] {
            assert_eq!(split_cell(text), (number, unit), "{text}");
        }
    }
}

//! Values seen and wanted, small enough to copy, and how they are written out.

use std::fmt;

use super::compact::Number;
use super::word_set::{LabelFields, Places};
use super::words::{Looks, MachineState, Method, Place};

/// The units that values are shown in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// A bare number.
    None,
    /// Minutes.
    Minute,
    /// Hours.
    Hour,
    /// Days of 24 hours.
    Day,
    /// Degrees Celsius.
    Celsius,
    /// Millilitres.
    Millilitre,
    /// Centimetres.
    Centimetre,
    /// Percent.
    Percent,
}

impl Unit {
    /// The unit as it stands behind a number, with its blank.
    #[must_use]
    pub const fn suffix(self) -> &'static str {
        match self {
            Unit::None => "",
            Unit::Minute => " min",
            Unit::Hour => " h",
            Unit::Day => " d",
            Unit::Celsius => " °C",
            Unit::Millilitre => " mL",
            Unit::Centimetre => " cm",
            Unit::Percent => " %",
        }
    }
}

/// A value seen or wanted, to be written out when it is shown.
///
/// Values seen are written as they were recorded. Limits are rounded to two decimals
/// towards the side of the rule, so that whoever keeps to the limit as shown keeps the
/// rule.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Phrase {
    /// Nothing to show.
    Nothing,
    /// The record is blank here.
    Blank,
    /// `yes` or `no`.
    YesNo(bool),
    /// A fixed text.
    Text(&'static str),
    /// A number with its unit.
    Amount(f64, Unit),
    /// At least this much.
    AtLeast(f64, Unit),
    /// At most this much.
    AtMost(f64, Unit),
    /// From the first to the second, both included.
    Between(f64, f64, Unit),
    /// This much, give or take the second.
    Around(f64, f64, Unit),
    /// What was seen in the bottle.
    Looks(Looks),
    /// What was seen in the bottle, and what was done about it.
    LooksAnd(Looks, &'static str),
    /// Time gone by in seconds, 0 or more, counted up to hours or up to days.
    Elapsed(i64, Unit),
    /// Not recorded as sent; arrived this many seconds after the draw.
    ArrivedAfter(i64),
    /// The machine's state, the minutes since it stopped, the oil temperature in °C.
    Machine(Option<MachineState>, Number, Number),
    /// Running, or stopped at most so many minutes (`true` where settling sets the limit),
    /// and the oil not below so many °C, if that limit is known.
    RunningOrHot(f64, bool, Number),
    /// Volume run off in mL, and how many dead volumes that is, if known.
    Flushed(f64, Number),
    /// Volume to run off: so many times the dead volume in mL; blank where it is unknown.
    Flush(f64, Number),
    /// The agreed method.
    AgreedMethod(Method),
    /// The method of the previous draw.
    PreviousMethod(Method),
    /// A place on a line with its Reynolds number, away from any bend.
    Flow(Place, f64),
    /// At least this Reynolds number, or a bend.
    Turbulent(f64),
    /// Any of these places.
    AnyPlace(Places),
    /// These places, found in a set.
    AllPlaces(Places),
    /// All of these places within so many hours.
    AllPlacesWithin(Places, f64),
    /// Fields that are written.
    Fields(LabelFields),
    /// Fields that are blank.
    Missing(LabelFields),
    /// How many draws bear the same bottle.
    Bearers(u32),
    /// At most an agreed interval with so many percent on top.
    Interval(f64, f64, Unit),
}

impl fmt::Display for Phrase {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Phrase::Nothing => Ok(()),
            Phrase::Blank => f.write_str("blank"),
            Phrase::YesNo(yes) => f.write_str(if yes { "yes" } else { "no" }),
            Phrase::Text(text) => f.write_str(text),
            Phrase::Amount(value, unit) => write!(f, "{}{}", exact(value), unit.suffix()),
            Phrase::AtLeast(limit, unit) => {
                write!(f, "at least {}{}", tidy_up(limit), unit.suffix())
            }
            Phrase::AtMost(limit, unit) => {
                write!(f, "at most {}{}", tidy_down(limit), unit.suffix())
            }
            Phrase::Between(low, high, unit) => {
                write!(
                    f,
                    "{} to {}{}",
                    tidy_up(low),
                    tidy_down(high),
                    unit.suffix()
                )
            }
            Phrase::Around(value, give, unit) => {
                write!(f, "{} ± {}{}", exact(value), exact(give), unit.suffix())
            }
            Phrase::Looks(looks) => write!(f, "{looks}"),
            Phrase::LooksAnd(looks, done) => write!(f, "{looks}; {done}"),
            Phrase::Elapsed(seconds, unit) => f.write_str(&elapsed(seconds, unit)),
            Phrase::ArrivedAfter(seconds) => {
                let after = elapsed(seconds, Unit::Hour);
                write!(f, "sending not recorded, arrived after {after}")
            }
            Phrase::Machine(state, stopped_min, oil_temp_c) => {
                machine(f, state, stopped_min.get(), oil_temp_c.get())
            }
            Phrase::RunningOrHot(window_min, by_settling, coldest_c) => {
                write!(
                    f,
                    "running, or stopped at most {} min",
                    tidy_down(window_min)
                )?;
                if by_settling {
                    f.write_str(" (settling)")?;
                }
                match coldest_c.get() {
                    Some(limit) => write!(f, ", and not below {} °C", tidy_up(limit)),
                    None => Ok(()),
                }
            }
            Phrase::Flushed(flushed_ml, multiple) => {
                write!(f, "{} mL", exact(flushed_ml))?;
                match multiple.get() {
                    Some(times) => write!(f, ", {} × dead volume", tidy_down(times)),
                    None => Ok(()),
                }
            }
            Phrase::Flush(multiple, dead_ml) => match dead_ml.get() {
                Some(dead) => write!(
                    f,
                    "at least {} mL ({} × {} mL)",
                    tidy_up(multiple * dead),
                    exact(multiple),
                    tidy(dead)
                ),
                None => write!(
                    f,
                    "at least {} × dead volume (not known at this point)",
                    exact(multiple)
                ),
            },
            Phrase::AgreedMethod(method) => write!(f, "{method} (agreed)"),
            Phrase::PreviousMethod(method) => write!(f, "{method} (as last time)"),
            Phrase::Flow(place, reynolds) => {
                write!(f, "{place}, Reynolds number {reynolds:.0}, not at a bend")
            }
            Phrase::Turbulent(reynolds) => {
                write!(
                    f,
                    "Reynolds number at least {}, or a bend",
                    tidy_up(reynolds)
                )
            }
            Phrase::AnyPlace(places) => listed(f, places.iter(), "or"),
            Phrase::AllPlaces(places) if places.is_empty() => f.write_str("none of the levels"),
            Phrase::AllPlaces(places) => listed(f, places.iter(), "and"),
            Phrase::AllPlacesWithin(places, hours) => {
                listed(f, places.iter(), "and")?;
                write!(f, " within {} h", exact(hours))
            }
            Phrase::Fields(fields) => listed(f, fields.iter(), "and"),
            Phrase::Missing(fields) => {
                f.write_str("missing: ")?;
                listed(f, fields.iter(), "and")
            }
            Phrase::Bearers(1) => f.write_str("one draw with this bottle_id"),
            Phrase::Bearers(count) => write!(f, "{count} draws with this bottle_id"),
            Phrase::Interval(interval, late_pct, unit) => {
                let limit = tidy_down(interval * (1.0 + late_pct / 100.0));
                let unit = unit.suffix();
                let (interval, late) = (exact(interval), exact(late_pct));
                write!(f, "at most {limit}{unit} ({interval}{unit} + {late} %)")
            }
        }
    }
}

/// What is known of a machine at the draw.
fn machine(
    f: &mut fmt::Formatter<'_>,
    state: Option<MachineState>,
    stopped_min: Option<f64>,
    oil_temp_c: Option<f64>,
) -> fmt::Result {
    match (state, stopped_min) {
        (Some(MachineState::Running), _) => f.write_str("running")?,
        (Some(MachineState::Stopped), Some(min)) => write!(f, "stopped for {} min", exact(min))?,
        (None, Some(min)) => write!(f, "state blank, stopped for {} min", exact(min))?,
        (Some(MachineState::Stopped), None) => f.write_str("stopped, minutes blank, oil")?,
        (None, None) => f.write_str("state blank, oil")?,
    }
    let oil_named = state != Some(MachineState::Running) && stopped_min.is_none();
    match oil_temp_c {
        Some(temp) => write!(f, " at {} °C", exact(temp)),
        None if oil_named => f.write_str(" temperature blank"),
        None => f.write_str(", oil temperature blank"),
    }
}

/// Words with commas between them and `last` before the last one.
fn listed<W: fmt::Display>(
    f: &mut fmt::Formatter<'_>,
    words: impl Iterator<Item = W>,
    last: &str,
) -> fmt::Result {
    let mut words = words.peekable();
    let mut first = true;
    while let Some(word) = words.next() {
        if first {
            write!(f, "{word}")?;
        } else if words.peek().is_some() {
            write!(f, ", {word}")?;
        } else {
            write!(f, " {last} {word}")?;
        }
        first = false;
    }
    Ok(())
}

/// Time gone by such as `51 h 30 min`, or `7 d 2 h` when counted in days; parts that are
/// zero are left out.
fn elapsed(seconds: i64, unit: Unit) -> String {
    let days = if unit == Unit::Day {
        seconds / 86_400
    } else {
        0
    };
    let rest = seconds - days * 86_400;
    let parts = [
        (days, "d"),
        (rest / 3600, "h"),
        (rest / 60 % 60, "min"),
        (rest % 60, "s"),
    ];
    let written: Vec<String> = parts
        .iter()
        .filter(|(count, _)| *count != 0)
        .map(|(count, name)| format!("{count} {name}"))
        .collect();
    if written.is_empty() {
        let name = if unit == Unit::Day { "d" } else { "h" };
        return format!("0 {name}");
    }
    written.join(" ")
}

/// A number as it was recorded: at most nine decimals, no trailing zeros.
#[must_use]
pub fn exact(value: f64) -> String {
    trimmed(&format!("{value:.9}"))
}

/// A number with at most two decimals and no trailing zeros.
#[must_use]
pub fn tidy(value: f64) -> String {
    trimmed(&format!("{value:.2}"))
}

/// As [`tidy`], rounded up unless it lies on a hundredth.
fn tidy_up(value: f64) -> String {
    tidy(to_hundredth(value, f64::ceil))
}

/// As [`tidy`], rounded down unless it lies on a hundredth.
fn tidy_down(value: f64) -> String {
    tidy(to_hundredth(value, f64::floor))
}

/// A value that arithmetic moved off its hundredth by a hair goes back to it.
fn to_hundredth(value: f64, round: fn(f64) -> f64) -> f64 {
    let hundredths = value * 100.0;
    let nearest = hundredths.round();
    if (hundredths - nearest).abs() <= 1e-9 * hundredths.abs().max(1.0) {
        nearest / 100.0
    } else {
        round(hundredths) / 100.0
    }
}

fn trimmed(text: &str) -> String {
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}

#[cfg(test)]
mod tests {
    use super::super::words::{LabelField, Look};
    use super::*;

    #[test]
    fn phrases_read_as_a_person_would_say_them() {
        let stopped = Some(MachineState::Stopped);
        let (blank, n) = (Number::BLANK, Number::new);
        let levels = Places::of(&[Place::TankUpper, Place::TankMiddle, Place::TankLower]);
        let cases = [
            (Phrase::Nothing, ""),
            (Phrase::Blank, "blank"),
            (Phrase::YesNo(true), "yes"),
            (Phrase::Amount(42.0, Unit::Millilitre), "42 mL"),
            (Phrase::Amount(30.004, Unit::Centimetre), "30.004 cm"),
            (
                Phrase::Amount(250.100_000_000_000_36, Unit::Hour),
                "250.1 h",
            ),
            (Phrase::Amount(-0.000_000_000_1, Unit::None), "0"),
            (
                Phrase::AtLeast(62.831_853, Unit::Millilitre),
                "at least 62.84 mL",
            ),
            (Phrase::AtMost(18.279, Unit::Minute), "at most 18.27 min"),
            (Phrase::AtMost(48.0, Unit::Hour), "at most 48 h"),
            (Phrase::Between(50.0, 80.0, Unit::Percent), "50 to 80 %"),
            (Phrase::Around(30.0, 5.0, Unit::Centimetre), "30 ± 5 cm"),
            (
                Phrase::LooksAnd(Looks::NONE.with(Look::Metal), "no second fill"),
                "metal; no second fill",
            ),
            (Phrase::Elapsed(172_801, Unit::Hour), "48 h 1 s"),
            (Phrase::Elapsed(700_200, Unit::Day), "8 d 2 h 30 min"),
            (Phrase::Elapsed(0, Unit::Hour), "0 h"),
            (
                Phrase::ArrivedAfter(185_400),
                "sending not recorded, arrived after 51 h 30 min",
            ),
            (
                Phrase::Machine(stopped, n(42.0), n(61.0)),
                "stopped for 42 min at 61 °C",
            ),
            (
                Phrase::Machine(stopped, blank, blank),
                "stopped, minutes blank, oil temperature blank",
            ),
            (
                Phrase::Machine(None, n(5.0), n(61.5)),
                "state blank, stopped for 5 min at 61.5 °C",
            ),
            (
                Phrase::RunningOrHot(18.2, true, n(60.0)),
                "running, or stopped at most 18.2 min (settling), and not below 60 °C",
            ),
            (
                Phrase::RunningOrHot(30.0, false, blank),
                "running, or stopped at most 30 min",
            ),
            (Phrase::Flushed(40.0, n(2.122)), "40 mL, 2.12 × dead volume"),
            (Phrase::Flushed(40.0, blank), "40 mL"),
            (
                Phrase::Flush(5.0, n(18.8496)),
                "at least 94.25 mL (5 × 18.85 mL)",
            ),
            (
                Phrase::Flush(5.0, blank),
                "at least 5 × dead volume (not known at this point)",
            ),
            (Phrase::AgreedMethod(Method::TubePump), "tube-pump (agreed)"),
            (
                Phrase::PreviousMethod(Method::Drain),
                "drain (as last time)",
            ),
            (
                Phrase::Flow(Place::ReturnLine, 1107.16),
                "return-line, Reynolds number 1107, not at a bend",
            ),
            (
                Phrase::AnyPlace(Places::of(&[Place::ReturnLine, Place::SupplyLine])),
                "return-line or supply-line",
            ),
            (
                Phrase::AllPlacesWithin(levels, 24.0),
                "tank-upper, tank-middle and tank-lower within 24 h",
            ),
            (Phrase::AllPlaces(Places::NONE), "none of the levels"),
            (
                Phrase::Missing(LabelFields::of(&[LabelField::Fluid, LabelField::OilHours])),
                "missing: fluid and oil_hours",
            ),
            (Phrase::Bearers(3), "3 draws with this bottle_id"),
            (
                Phrase::Interval(250.0, 10.0, Unit::Hour),
                "at most 275 h (250 h + 10 %)",
            ),
        ];
        for (phrase, text) in cases {
            assert_eq!(phrase.to_string(), text);
        }
    }
}

//! The value of a cell in its canonical form: numbers in our unit, days and times, yes and no.

use std::fmt::Write as _;

use super::BoundColumn;
use crate::intake::cell;
use crate::intake::columns::{Range, Reading};
use crate::intake::maps::recipe::folded;
use crate::intake::maps::unit::{self, Said, Unit};

impl BoundColumn {
    /// Reads a text by the kind of the column.
    pub(super) fn read(&self, text: &str, into: &mut String) -> Result<(), String> {
        match self.column.reading {
            Reading::Number(_) => self.number(text, into),
            Reading::YesNo if self.yes.contains(&folded(text)) => push(into, "yes"),
            Reading::YesNo if self.no.contains(&folded(text)) => push(into, "no"),
            Reading::Time | Reading::Date => self.date(text, into),
            _ => push(into, text),
        }
    }

    fn number(&self, text: &str, into: &mut String) -> Result<(), String> {
        let (mut text, mut from) = (text, self.recipe.unit);
        if self.recipe.unit_in_cell {
            let (number, unit) = unit::split_cell(text);
            if !unit.is_empty() {
                from = Some(self.unit_of_cell(unit)?);
                text = number;
            }
        }
        let canonical = self.recipe.manner.numbers.canonical(text)?;
        let (Some(from), Some(ours)) = (from, self.ours) else {
            return push(into, &canonical);
        };
        if from == ours {
            return push(into, &canonical);
        }
        let value = cell::number(&canonical, Range::Any)?;
        // Writing to a text does not fail.
        let _ = write!(into, "{}", from.convert(value, ours));
        Ok(())
    }

    fn unit_of_cell(&self, text: &str) -> Result<&'static Unit, String> {
        let ours = self.ours.ok_or("the column has no unit")?;
        match unit::said(text) {
            Said::Unit(unit) if unit.quantity == ours.quantity => Ok(unit),
            Said::Unit(unit) => Err(format!("{} is no unit for {}", unit.name, self.column.name)),
            // What the map says decides which of the two is meant.
            Said::Either(us, imperial) => match self.recipe.unit {
                Some(unit) if unit == us || unit == imperial => Ok(unit),
                _ => Err(format!(
                    "{text} may be {} or {}; say so in the map with unit",
                    us.name, imperial.name
                )),
            },
            Said::Unknown => Err(format!("{text:?} is no unit that is known")),
        }
    }

    fn date(&self, text: &str, into: &mut String) -> Result<(), String> {
        let manner = &self.recipe.manner;
        let mut why = None;
        for form in &manner.dates {
            match form.read(text, manner.pivot) {
                Ok(moment) => {
                    let canonical = match self.column.reading {
                        Reading::Date => Some(moment.as_day()),
                        _ => moment.as_time(),
                    };
                    match canonical {
                        Some(canonical) => return push(into, &canonical),
                        None => why = Some("a date alone is not a time".to_owned()),
                    }
                }
                Err(reason) => why = why.or(reason),
            }
        }
        // What stands in the canonical form needs no form of the map.
        let canonical = cell::day_of(text.as_bytes()).is_some();
        if canonical || manner.dates.is_empty() {
            let is_day = matches!(self.column.reading, Reading::Date);
            return push(into, if is_day { midnight_cut(text) } else { text });
        }
        Err(why.unwrap_or_else(|| {
            let forms: Vec<&str> = manner
                .dates
                .iter()
                .map(|form| form.written.as_str())
                .collect();
            format!("not written as {}", forms.join(" or "))
        }))
    }
}

#[allow(
    clippy::unnecessary_wraps,
    reason = "the last step of ways that can fail"
)]
pub(super) fn push(into: &mut String, text: &str) -> Result<(), String> {
    into.push_str(text);
    Ok(())
}

/// One half of date and time as a spreadsheet hands it over: a day at midnight, or a time on
/// the day before its count begins.
pub(super) fn cut_for_time(text: &str) -> &str {
    if cell::day_of(text.as_bytes()).is_none() {
        return text;
    }
    let day_zero = ["1899-12-30", "1899-12-31", "1904-01-01", "1900-01-00"];
    if text.len() > 11 && day_zero.iter().any(|day| text.starts_with(day)) {
        return text.get(11..).unwrap_or(text);
    }
    midnight_cut(text)
}

/// A canonical day without the midnight that stands behind it.
fn midnight_cut(text: &str) -> &str {
    let rest = text.get(10..).unwrap_or_default();
    let rest = rest.trim_start_matches([' ', 'T']);
    match rest {
        "00:00" | "00:00:00" | "00:00:00.000" => text.get(..10).unwrap_or(text),
        _ => text,
    }
}

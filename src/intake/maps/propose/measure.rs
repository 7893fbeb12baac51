//! The unit that a column of numbers is in.

use super::lines::{Line, Question, scalar};
use super::sample::Sampled;
use crate::intake::columns::Column;
use crate::intake::maps::unit::{self, Quantity, Said, Unit, split_cell};

/// What each measure usually is, in our unit; common practice, no source. It only tells what to
/// ask, and never decides by itself.
const USUAL: &[(&str, f64, f64)] = &[
    ("normal_temp_c", 15.0, 125.0),
    ("oil_temp_c", 15.0, 125.0),
    ("line_flow_l_min", 1.0, 6000.0),
    ("line_bore_mm", 4.0, 600.0),
    ("line_pressure_bar", 0.2, 450.0),
    ("tube_bore_mm", 2.0, 30.0),
    ("tube_length_cm", 8.0, 600.0),
    ("dead_extra_ml", 0.5, 500.0),
    ("tube_mark_cm", 8.0, 300.0),
    ("oil_depth_cm", 8.0, 1000.0),
    ("bottle_ml", 40.0, 1000.0),
    ("stopped_min", 1.0, 1500.0),
    ("topped_up_l", 0.1, 500.0),
    ("flushed_ml", 20.0, 5000.0),
    ("fill_pct", 20.0, 100.0),
    ("interval_h", 20.0, 12_000.0),
    ("interval_days", 3.0, 800.0),
];

/// What is proposed for the unit of a column.
#[derive(Debug, Default)]
pub struct Measure {
    /// The lines that say it.
    pub lines: Vec<Line>,
    /// What is said of it beside the other reasons.
    pub told: String,
    /// How much less sure the column is for it, as a factor.
    pub doubt: f64,
}

/// Finds the unit of a column. `imperial` says whether other columns of the sheet are in units of
/// the United States or imperial ones.
pub fn measure(theirs: &Sampled, ours: &Column, imperial: bool) -> Measure {
    let mut found = Measure {
        doubt: 1.0,
        ..Measure::default()
    };
    let Said::Unit(target) = unit::said(ours.unit) else {
        return found;
    };
    let in_cells = theirs.marks.with_unit > 0;
    if in_cells {
        found
            .lines
            .push(Line::plain("unit_in_cell", "true".to_owned()));
        found.told = format!("{} values bear a unit", theirs.marks.with_unit);
    }
    match theirs.heading.unit(target.quantity) {
        Some((Said::Unit(unit), text)) => {
            if unit != target {
                found.lines.push(Line::plain("unit", scalar(unit.name)));
            }
            also(&mut found.told, &format!("the header says {text}"));
        }
        Some((Said::Either(us, imperial), text)) => {
            found.lines.push(either(text, us, imperial));
        }
        Some((Said::Unknown, _)) | None => {
            if let Some((us, imperial, text)) = either_in_cells(theirs, target.quantity) {
                found.lines.push(either(&text, us, imperial));
            } else if theirs.marks.with_unit < theirs.marks.numbers && theirs.name != ours.name {
                unsaid(theirs, ours, target, imperial, &mut found);
            }
        }
    }
    found
}

/// Whether a column says a unit of the United States or an imperial one.
pub fn is_imperial(theirs: &Sampled) -> bool {
    const NAMES: [&str; 4] = ["°F", "in", "ft", "psi"];
    let quantities = [
        Quantity::Temperature,
        Quantity::Length,
        Quantity::Volume,
        Quantity::Pressure,
        Quantity::Flow,
    ];
    quantities.iter().any(|quantity| {
        matches!(theirs.heading.unit(*quantity), Some((Said::Either(..), _)))
            || matches!(theirs.heading.unit(*quantity), Some((Said::Unit(unit), _))
                if NAMES.contains(&unit.name) || unit.name.ends_with(')'))
    })
}

fn also(told: &mut String, more: &str) {
    if !told.is_empty() {
        told.push_str("; ");
    }
    told.push_str(more);
}

fn either(text: &str, us: &Unit, imperial: &Unit) -> Line {
    let choices = [us, imperial].map(|unit| (unit.name.to_owned(), scalar(unit.name)));
    Line::open(
        "unit",
        Question::of(format!("{text}: which of the two is it?"), choices),
    )
}

/// A unit with two meanings that cells bear.
fn either_in_cells(
    theirs: &Sampled,
    quantity: Quantity,
) -> Option<(&'static Unit, &'static Unit, String)> {
    theirs.values.iter().find_map(|value| {
        let (_, text) = split_cell(value);
        match unit::said(text) {
            Said::Either(us, imperial) if us.quantity == quantity => {
                Some((us, imperial, text.to_owned()))
            }
            _ => None,
        }
    })
}

/// Nobody says the unit: what the values are usual for is taken or asked.
fn unsaid(
    theirs: &Sampled,
    ours: &Column,
    target: &'static Unit,
    imperial: bool,
    found: &mut Measure,
) {
    let Some((_, low, high)) = USUAL.iter().find(|(name, _, _)| *name == ours.name) else {
        return;
    };
    let Some((median, greatest)) = middle(theirs) else {
        return;
    };
    if target.quantity == Quantity::Share && greatest <= 1.0 {
        found.lines.push(Line::plain("unit", "fraction".to_owned()));
        also(
            &mut found.told,
            "no value is above 1, so they are parts of 1",
        );
        return;
    }
    let is_usual = |unit: &&'static Unit| (*low..=*high).contains(&unit.convert(median, target));
    let of_other_habit = ["in", "ft", "psi"];
    let may_be = |unit: &&'static Unit| {
        let is_foreign = of_other_habit.contains(&unit.name) || unit.name.ends_with(')');
        *unit == target
            || (target.quantity == Quantity::Temperature && is_usual(unit))
            || (is_usual(unit) && (imperial || !is_usual(&target)) && (imperial || !is_foreign))
    };
    let possible: Vec<&'static Unit> = unit::of(target.quantity).filter(may_be).collect();
    if possible.len() == 1 {
        also(
            &mut found.told,
            &format!("no unit is said; the values look like {}", target.name),
        );
        found.doubt = if is_usual(&target) { 0.9 } else { 0.7 };
        return;
    }
    let choices = possible
        .iter()
        .map(|unit| (unit.name.to_owned(), scalar(unit.name)));
    let text = format!(
        "no unit is said, and the values (about {}) may be in",
        crate::model::phrase::tidy(median)
    );
    found
        .lines
        .push(Line::open("unit", Question::of(text, choices)));
}

/// The middle and the greatest of the numbers that can be read whatever their marks.
fn middle(theirs: &Sampled) -> Option<(f64, f64)> {
    let read = |text: &String| {
        let (number, _) = split_cell(text);
        number.replace(',', ".").parse::<f64>().ok()
    };
    let mut numbers: Vec<f64> = theirs.values.iter().filter_map(read).collect();
    numbers.sort_by(f64::total_cmp);
    let greatest = *numbers.last()?;
    Some((numbers[numbers.len() / 2], greatest))
}

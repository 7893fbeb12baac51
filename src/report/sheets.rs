//! The programme's own sheets, as they can be taken in again.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::io::{self, Write};

use serde_json::{Map, Value};

use crate::model::{Point, Technician, Training};

/// The columns of `technicians.csv`.
pub const TECHNICIANS: [&str; 4] = ["technician_id", "name", "crew", "active_from"];

/// The columns of `trainings.csv`.
pub const TRAININGS: [&str; 3] = ["technician_id", "topic", "held_on"];

/// The names of the columns that were kept aside with rows.
#[derive(Clone, Debug, Default)]
pub struct KeptAside(BTreeSet<String>);

impl KeptAside {
    /// Adds those of a row, as it keeps them: a JSON object, or nothing.
    pub fn add(&mut self, row: &str) {
        for name in object(row).keys() {
            if !self.0.contains(name) {
                self.0.insert(name.clone());
            }
        }
    }
}

fn object(row: &str) -> Map<String, Value> {
    match serde_json::from_str(row) {
        Ok(Value::Object(members)) => members,
        // Blank where nothing was kept aside.
        _ => Map::new(),
    }
}

/// Writes one sheet as CSV, a row at a time.
pub struct Sheet<W: Write> {
    writer: csv::Writer<W>,
    kept_aside: Vec<String>,
    exact: bool,
    /// How many rows were written.
    pub rows: u64,
    /// How many cells got an apostrophe in front.
    pub tamed: u64,
}

impl<W: Write> Sheet<W> {
    /// Begins with the header. Unless `exact`, texts that a spreadsheet would take for formulas
    /// get an apostrophe in front.
    ///
    /// # Errors
    /// What the writer returns.
    pub fn new<'a>(
        inner: W,
        columns: impl IntoIterator<Item = &'a str>,
        kept_aside: KeptAside,
        exact: bool,
    ) -> io::Result<Self> {
        let mut sheet = Sheet {
            writer: csv::Writer::from_writer(inner),
            kept_aside: kept_aside.0.into_iter().collect(),
            exact,
            rows: 0,
            tamed: 0,
        };
        for column in columns {
            sheet.writer.write_field(column)?;
        }
        for place in 0..sheet.kept_aside.len() {
            let name = std::mem::take(&mut sheet.kept_aside[place]);
            sheet.cell(&name)?;
            sheet.kept_aside[place] = name;
        }
        sheet.writer.write_record(None::<&[u8]>)?;
        Ok(sheet)
    }

    /// Adds a row: its cells in the order of the columns, and what was kept aside with it.
    ///
    /// # Errors
    /// What the writer returns.
    pub fn row<T: AsRef<str>>(
        &mut self,
        cells: impl IntoIterator<Item = T>,
        kept_aside: &str,
    ) -> io::Result<()> {
        for cell in cells {
            self.cell(cell.as_ref())?;
        }
        let kept = object(kept_aside);
        for place in 0..self.kept_aside.len() {
            let cell = kept.get(&self.kept_aside[place]);
            self.cell(cell.and_then(Value::as_str).unwrap_or_default())?;
        }
        self.writer.write_record(None::<&[u8]>)?;
        self.rows += 1;
        Ok(())
    }

    fn cell(&mut self, text: &str) -> io::Result<()> {
        let cell = if self.exact {
            Cow::Borrowed(text)
        } else {
            tamed(text)
        };
        self.tamed += u64::from(matches!(cell, Cow::Owned(_)));
        Ok(self.writer.write_field(cell.as_bytes())?)
    }

    /// Writes out what is buffered and gives the inner writer back.
    ///
    /// # Errors
    /// What the writer returns.
    pub fn finish(self) -> io::Result<W> {
        self.writer
            .into_inner()
            .map_err(csv::IntoInnerError::into_error)
    }
}

/// With an apostrophe in front where a spreadsheet would take the text for a formula; a number
/// is none, whatever its sign.
fn tamed(text: &str) -> Cow<'_, str> {
    let is_formula = text.starts_with(['=', '+', '-', '@', '\t', '\r'])
        && !text.parse::<f64>().is_ok_and(f64::is_finite);
    if is_formula {
        Cow::Owned(format!("'{text}"))
    } else {
        Cow::Borrowed(text)
    }
}

/// The cells of a point, in the order of [`Point::COLUMNS`].
#[must_use]
pub fn point(point: &Point) -> [String; Point::COLUMNS.len()] {
    let text = |text: &Option<String>| text.clone().unwrap_or_default();
    let word = |word: Option<&str>| word.unwrap_or_default().to_owned();
    let yes_no = |answer: Option<bool>| word(answer.map(|yes| if yes { "yes" } else { "no" }));
    let number = |value: Option<f64>| value.map_or_else(String::new, |value| value.to_string());
    [
        point.id.clone(),
        point.compartment.clone(),
        text(&point.machine),
        text(&point.site),
        text(&point.area),
        word(point.machine_class.map(|word| word.as_str())),
        point.kind.as_str().to_owned(),
        word(point.place.map(|word| word.as_str())),
        yes_no(point.at_bend),
        yes_no(point.agreed),
        word(point.method.map(|word| word.as_str())),
        text(&point.fluid),
        number(point.iso_vg),
        number(point.viscosity_40_cst),
        number(point.viscosity_100_cst),
        number(point.normal_temp_c),
        number(point.line_flow_l_min),
        number(point.line_bore_mm),
        number(point.line_pressure_bar),
        number(point.tube_bore_mm),
        number(point.tube_length_cm),
        number(point.dead_extra_ml),
        number(point.tube_mark_cm),
        number(point.oil_depth_cm),
        number(point.bottle_ml),
        number(point.interval_h),
        number(point.interval_days),
    ]
}

/// The cells of a technician, in the order of [`TECHNICIANS`].
#[must_use]
pub fn technician(technician: &Technician) -> [String; TECHNICIANS.len()] {
    [
        technician.id.clone(),
        technician.name.clone().unwrap_or_default(),
        technician.crew.clone().unwrap_or_default(),
        technician
            .active_from
            .map_or_else(String::new, |day| day.to_string()),
    ]
}

/// The cells of a training, in the order of [`TRAININGS`].
#[must_use]
pub fn training(training: &Training) -> [String; TRAININGS.len()] {
    [
        training.technician_id.clone(),
        training.topic.clone(),
        training.held_on.to_string(),
    ]
}

//! Column maps as both faces see them.

use crate::intake::SheetKind;
use crate::intake::maps::unit::{self, Said};

pub use crate::intake::ColumnMap;
pub use crate::intake::maps::propose::{
    Choice, Line, Proposal, ProposedSheet, Question, Value, confidence_word, scalar,
};
pub use crate::written::Problem;

/// A column that sheets can be mapped to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mappable {
    /// Its name.
    pub name: &'static str,
    /// Whether a row without it is refused.
    pub required: bool,
    /// What it takes, in words.
    pub values: String,
    /// The unit its numbers are kept in; empty if there is none.
    pub unit: &'static str,
    /// The units it can be mapped from, its own included.
    pub units: Vec<&'static str>,
    /// What it means.
    pub meaning: &'static str,
}

/// The columns that sheets of this kind can be mapped to, in their order.
#[must_use]
pub fn mappable(kind: SheetKind) -> Vec<Mappable> {
    let columns = kind.columns().iter();
    columns
        .map(|column| Mappable {
            name: column.name,
            required: column.required,
            values: column.reading.values(),
            unit: column.unit,
            units: match unit::said(column.unit) {
                Said::Unit(ours) => unit::of(ours.quantity).map(|unit| unit.name).collect(),
                Said::Either(..) | Said::Unknown => Vec::new(),
            },
            meaning: column.meaning,
        })
        .collect()
}

//! Values of a filter that nothing in the programme is called.

use std::fmt;

use super::select::named;
use super::{Filter, FilterKey, Term, Value};
use crate::analysis::Assessed;
use crate::analysis::nearest::nearest;
use crate::model::printable::printable;

/// A value that no draw can have, since nothing in the programme is called so. That is no
/// error (the next import may bring it), but worth a remark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnknownValue {
    /// The key of its term.
    pub key: FilterKey,
    /// The value as it was given.
    pub value: String,
    /// What may have been meant.
    pub nearest: Option<String>,
}

impl fmt::Display for UnknownValue {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let value = printable(&self.value);
        write!(f, "no {} is called \"{value}\"", self.key.noun())?;
        match &self.nearest {
            Some(nearest) => write!(f, "; the nearest is \"{}\"", printable(nearest)),
            None => Ok(()),
        }
    }
}

impl Filter {
    /// The values that nothing in the programme is called, in the order of the filter.
    #[must_use]
    pub fn unknown_values(&self, assessed: &Assessed) -> Vec<UnknownValue> {
        let mut unknown = Vec::new();
        for term in &self.terms {
            let known = known(term.key, assessed);
            for value in &term.values {
                let Value::Text(text) = value else { continue };
                if is_known(term.key, text, &known, assessed) {
                    continue;
                }
                unknown.push(UnknownValue {
                    key: term.key,
                    value: text.clone(),
                    nearest: nearest(text, known.iter().copied()).map(str::to_owned),
                });
            }
        }
        unknown
    }
}

fn is_known(key: FilterKey, text: &str, known: &[&str], assessed: &Assessed) -> bool {
    if key != FilterKey::Technician {
        return known.contains(&text);
    }
    let alone = Term {
        excludes: false,
        key,
        values: vec![Value::Text(text.to_owned())],
    };
    named(&alone, &assessed.technicians).contains(&true)
}

/// What things are called in the programme; technicians by id and by name.
fn known(key: FilterKey, assessed: &Assessed) -> Vec<&str> {
    let points = assessed.points.iter();
    let technicians = assessed.technicians.iter();
    match key {
        FilterKey::Site => points.filter_map(|point| point.site.as_deref()).collect(),
        FilterKey::Area => points.filter_map(|point| point.area.as_deref()).collect(),
        FilterKey::Machine => points
            .filter_map(|point| point.machine.as_deref())
            .collect(),
        FilterKey::Point => points.map(|point| point.id.as_str()).collect(),
        FilterKey::Compartment => points.map(|point| point.compartment.as_str()).collect(),
        FilterKey::Crew => technicians.filter_map(|one| one.crew.as_deref()).collect(),
        FilterKey::Technician => technicians
            .flat_map(|one| [Some(one.id.as_str()), one.name.as_deref()])
            .flatten()
            .collect(),
        _ => Vec::new(),
    }
}

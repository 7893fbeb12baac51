//! The checked form: what a rulebook changes, with nothing left of how it was written but
//! the places, for mistakes that show only when changes are put together.

use chrono::NaiveDate;

use super::{Cuts, Standing};
use crate::model::MachineClass;
use crate::written::Place;

/// What a file says, checked but not yet laid over the default.
pub struct Checked {
    /// Its name.
    pub name: String,
    /// Its revision.
    pub revision: String,
    /// Its date.
    pub date: Option<NaiveDate>,
    /// The cuts, the default's where the file says nothing.
    pub cuts: Cuts,
    /// What it changes everywhere.
    pub changes: Vec<Change>,
    /// What it changes in some places; later ones win.
    pub overrides: Vec<Override>,
}

/// A change for some machine classes, some sites, or both together.
pub struct Override {
    /// The machine classes; `None` for all.
    pub classes: Option<Vec<MachineClass>>,
    /// The sites; `None` for all.
    pub sites: Option<Vec<String>>,
    /// What it changes.
    pub changes: Vec<Change>,
}

/// One thing that differs from the default.
pub struct Change {
    /// The rule, by its place in the order.
    pub rule: usize,
    /// What differs.
    pub what: What,
    /// Where it is written.
    pub at: Place,
}

/// What of a rule differs.
pub enum What {
    /// On or off.
    On(bool),
    /// The weight.
    Weight(u32),
    /// Whether a breach alone is decisive.
    Decisive(bool),
    /// A parameter.
    Parameter(&'static str, serde_json::Value),
}

impl Change {
    /// Lays this change over how the rules stand.
    pub fn apply(&self, standings: &mut [Standing]) {
        let standing = &mut standings[self.rule];
        match &self.what {
            What::On(on) => standing.on = *on,
            What::Weight(weight) => standing.weight = *weight,
            What::Decisive(decisive) => standing.decisive = *decisive,
            What::Parameter(name, value) => {
                standing.settings.insert((*name).to_owned(), value.clone());
            }
        }
    }
}

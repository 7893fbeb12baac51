//! A training that was held.

use chrono::NaiveDate;

/// One row of `trainings.csv`: this technician was trained in this rule on this day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Training {
    /// Who was trained.
    pub technician_id: String,
    /// The id of the rule it was about.
    pub topic: String,
    /// The day it was held.
    pub held_on: NaiveDate,
}

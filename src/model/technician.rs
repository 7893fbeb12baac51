//! Who draws.

use chrono::NaiveDate;

/// One row of `technicians.csv`. A `None` is a blank cell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Technician {
    /// Unique name in the sheets.
    pub id: String,
    /// The name people call them by.
    pub name: Option<String>,
    /// The crew they belong to.
    pub crew: Option<String>,
    /// First day in the programme.
    pub active_from: Option<NaiveDate>,
}

//! What narrows a filter to the draws behind a line on screen.

use crate::analysis::{Filter, FilterError, FilterKey};

/// One value or two (the first and the last day of a month).
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Narrower(Vec<(FilterKey, String)>);

impl Narrower {
    /// Draws that have this value.
    pub(crate) fn one(key: FilterKey, value: &str) -> Self {
        Narrower(vec![(key, value.to_owned())])
    }

    /// Draws of a month, written `2026-03`.
    pub(crate) fn month(month: &str) -> Self {
        let month = month.to_owned();
        Narrower(vec![
            (FilterKey::From, month.clone()),
            (FilterKey::To, month),
        ])
    }

    /// The filter, narrowed.
    pub(crate) fn narrow(&self, filter: &Filter) -> Result<Filter, FilterError> {
        let mut narrowed = filter.clone();
        for (key, value) in &self.0 {
            narrowed = narrowed.with(*key, value)?;
        }
        Ok(narrowed)
    }
}

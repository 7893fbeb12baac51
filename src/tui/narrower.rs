//! What narrows a filter to the draws behind a line on screen.

use chrono::{NaiveDate, Weekday};

use crate::analysis::{Filter, FilterError, FilterKey};

/// One value or more, of which all must hold (the first and the last day of a month).
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Narrower(Vec<(FilterKey, Vec<String>)>);

impl Narrower {
    /// Draws that have this value.
    pub(crate) fn one(key: FilterKey, value: &str) -> Self {
        Narrower::any(key, &[value])
    }

    /// Draws that have one of these values.
    pub(crate) fn any(key: FilterKey, values: &[&str]) -> Self {
        let values = values.iter().map(|value| (*value).to_owned());
        Narrower(vec![(key, values.collect())])
    }

    /// Draws of a month, written `2026-03`.
    pub(crate) fn month(month: &str) -> Self {
        Narrower::one(FilterKey::From, month).and(FilterKey::To, month)
    }

    /// Draws of a week, a month, a quarter or a year, written `2026-W10`, `2026-03`, `2026-Q1`,
    /// `2026`; none for any other text.
    pub(crate) fn period(key: &str) -> Option<Self> {
        if let Ok(year) = key.parse::<u32>() {
            let months = [format!("{year:04}-01"), format!("{year:04}-12")];
            return Some(Narrower::one(FilterKey::From, &months[0]).and(FilterKey::To, &months[1]));
        }
        let (year, rest) = key.split_once('-')?;
        let year: i32 = year.parse().ok()?;
        let (from, to) = if let Some(week) = rest.strip_prefix('W') {
            let week = week.parse().ok()?;
            let day = |day| NaiveDate::from_isoywd_opt(year, week, day);
            (
                day(Weekday::Mon)?.to_string(),
                day(Weekday::Sun)?.to_string(),
            )
        } else if let Some(quarter) = rest.strip_prefix('Q') {
            let last = 3 * quarter
                .parse::<u32>()
                .ok()
                .filter(|it| (1..=4).contains(it))?;
            (
                format!("{year:04}-{:02}", last - 2),
                format!("{year:04}-{last:02}"),
            )
        } else {
            return Some(Narrower::month(key));
        };
        Some(Narrower::one(FilterKey::From, &from).and(FilterKey::To, &to))
    }

    /// The same and draws that have this value too.
    pub(crate) fn and(mut self, key: FilterKey, value: &str) -> Self {
        self.0.push((key, vec![value.to_owned()]));
        self
    }

    /// The filter, narrowed.
    pub(crate) fn narrow(&self, filter: &Filter) -> Result<Filter, FilterError> {
        let mut narrowed = filter.clone();
        for (key, values) in &self.0 {
            let values: Vec<&str> = values.iter().map(String::as_str).collect();
            narrowed = narrowed.with_any(*key, &values)?;
        }
        Ok(narrowed)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn periods_become_their_first_and_last_day() {
        for (key, filter) in [
            ("2026-03", "from:2026-03 to:2026-03"),
            ("2026-Q1", "from:2026-01 to:2026-03"),
            ("2025-Q4", "from:2025-10 to:2025-12"),
            ("2026", "from:2026-01 to:2026-12"),
            ("2026-W01", "from:2025-12-29 to:2026-01-04"),
        ] {
            let narrowed = Narrower::period(key).unwrap().narrow(&Filter::default());
            assert_eq!(narrowed.unwrap().to_string(), filter);
        }
        assert_eq!(Narrower::period("2026-Q5"), None);
        assert_eq!(Narrower::period("2026-W54"), None);
        assert_eq!(Narrower::period("once"), None);
    }
}

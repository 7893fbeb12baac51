//! The periods on offer, told from the newest draw: a history of years ago has its last month
//! too.

use chrono::{Datelike, NaiveDate};

use crate::analysis::Days;
use crate::tui::action::Command;

/// One period on offer; days of one's own have none yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Offer {
    /// What chooses it by its letter.
    pub(super) command: Command,
    pub(super) name: &'static str,
    pub(super) days: Option<Days>,
}

/// Every offer where the newest draw is of this day.
pub(super) fn offers(newest: NaiveDate) -> Vec<Offer> {
    let month = newest.year() * 12 + newest.month0().cast_signed();
    let quarter = month.div_euclid(3) * 3;
    let year = newest.year() * 12;
    let months = |first, last| Days::months(first, last).unwrap_or_default();
    let offer = |command: Command, name, days| Offer {
        command,
        name,
        days,
    };
    use Command as C;
    vec![
        offer(C::ThisMonth, "this month", Some(months(month, month))),
        offer(
            C::LastMonth,
            "last month",
            Some(months(month - 1, month - 1)),
        ),
        offer(
            C::LastQuarter,
            "last quarter",
            Some(months(quarter - 3, quarter - 1)),
        ),
        offer(C::LastYear, "last year", Some(months(year - 12, year - 1))),
        offer(
            C::LastTwelve,
            "last 12 months",
            Some(months(month - 11, month)),
        ),
        offer(C::AllDays, "all days", Some(Days::default())),
        offer(C::OwnDays, "own days", None),
    ]
}

/// The last full month, where a filter says nothing of days.
pub(super) fn last_month(newest: NaiveDate) -> Days {
    let month = newest.year() * 12 + newest.month0().cast_signed() - 1;
    Days::months(month, month).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn named(newest: &str) -> Vec<(&'static str, String)> {
        let newest: NaiveDate = newest.parse().unwrap();
        let end = |day: Option<NaiveDate>| day.map_or_else(|| "-".to_owned(), |it| it.to_string());
        let written = |days: Days| format!("{} {}", end(days.first), end(days.last));
        offers(newest)
            .into_iter()
            .filter_map(|offer| Some((offer.name, written(offer.days?))))
            .collect()
    }

    /// By hand from the calendar.
    #[test]
    fn last_is_told_from_the_newest_draw() {
        let expected = [
            ("this month", "2026-03-01 2026-03-31"),
            ("last month", "2026-02-01 2026-02-28"),
            ("last quarter", "2025-10-01 2025-12-31"),
            ("last year", "2025-01-01 2025-12-31"),
            ("last 12 months", "2025-04-01 2026-03-31"),
            ("all days", "- -"),
        ];
        assert_eq!(
            named("2026-03-31"),
            expected.map(|(n, d)| (n, d.to_owned()))
        );
        let january = named("2024-01-01");
        assert_eq!(january[1].1, "2023-12-01 2023-12-31");
        assert_eq!(january[2].1, "2023-10-01 2023-12-31");
        assert_eq!(january[4].1, "2023-02-01 2024-01-31");
        let own = last_month("2024-03-31".parse().unwrap());
        assert_eq!(own.last.unwrap().to_string(), "2024-02-29");
    }
}

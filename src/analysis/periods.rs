//! Weeks, months, quarters and years as a programme's zone counts them.

use chrono::{Datelike, Days, Months, NaiveDate, Weekday};

use super::zone::start_of_day;
use crate::model::time::{self, Tz};

/// How long the periods of a trend are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Every {
    /// A week from Monday, numbered as ISO 8601 does.
    Week,
    /// A calendar month.
    Month,
    /// A quarter of a calendar year.
    Quarter,
    /// A calendar year.
    Year,
}

impl Every {
    /// Every length, the shortest first.
    pub const ALL: [Every; 4] = [Every::Week, Every::Month, Every::Quarter, Every::Year];

    /// The word for it on the command line and on screens.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Every::Week => "week",
            Every::Month => "month",
            Every::Quarter => "quarter",
            Every::Year => "year",
        }
    }

    /// How many of them a year has, the odd week apart.
    #[must_use]
    pub const fn in_a_year(self) -> u32 {
        match self {
            Every::Week => 52,
            Every::Month => 12,
            Every::Quarter => 4,
            Every::Year => 1,
        }
    }

    /// The first day of the period that a day lies in.
    fn first_day(self, day: NaiveDate) -> NaiveDate {
        let first = match self {
            Every::Week => return day.week(Weekday::Mon).first_day(),
            Every::Month => day.month(),
            Every::Quarter => day.month0() / 3 * 3 + 1,
            Every::Year => 1,
        };
        NaiveDate::from_ymd_opt(day.year(), first, 1).unwrap_or(day)
    }

    /// The first day of the next period.
    fn next(self, first: NaiveDate) -> Option<NaiveDate> {
        match self {
            Every::Week => first.checked_add_days(Days::new(7)),
            Every::Month => first.checked_add_months(Months::new(1)),
            Every::Quarter => first.checked_add_months(Months::new(3)),
            Every::Year => first.checked_add_months(Months::new(12)),
        }
    }

    /// `2026-W10`, `2026-03`, `2026-Q1`, `2026`.
    fn name(self, first: NaiveDate) -> String {
        match self {
            Every::Week => {
                let week = first.iso_week();
                format!("{:04}-W{:02}", week.year(), week.week())
            }
            Every::Month => format!("{:04}-{:02}", first.year(), first.month()),
            Every::Quarter => format!("{:04}-Q{}", first.year(), first.month0() / 3 + 1),
            Every::Year => format!("{:04}", first.year()),
        }
    }
}

/// Every period between two instants, both included.
pub(super) struct Periods {
    /// The first instant of each.
    starts: Vec<i64>,
    /// The first day of each.
    first_days: Vec<NaiveDate>,
    every: Every,
}

impl Periods {
    pub fn between(earliest: i64, latest: i64, every: Every, zone: Tz) -> Self {
        let mut periods = Periods {
            starts: Vec::new(),
            first_days: Vec::new(),
            every,
        };
        let mut next = day_of(earliest, zone).map(|day| every.first_day(day));
        while let Some(first) = next
            && let Some(start) = start_of_day(first, zone)
            && (start <= latest || periods.starts.is_empty())
        {
            periods.starts.push(start);
            periods.first_days.push(first);
            next = every.next(first);
        }
        periods
    }

    /// The name of each with the instant at which the next begins. The last has no end.
    pub fn each_with_end(&self) -> impl Iterator<Item = (String, i64)> {
        let ends = self.starts.iter().copied().skip(1).chain([i64::MAX]);
        let names = self.first_days.iter().map(|first| self.every.name(*first));
        names.zip(ends)
    }
}

/// The day an instant falls in.
pub(super) fn day_of(seconds: i64, zone: Tz) -> Option<NaiveDate> {
    let local = seconds + i64::from(time::offset_s(seconds, zone));
    let days = i32::try_from(local.div_euclid(86_400)).ok()?;
    NaiveDate::from_epoch_days(days)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use proptest::prelude::*;

    use super::*;

    fn names(from: &str, to: &str, every: Every) -> Vec<String> {
        let at = |text: &str| {
            let day: NaiveDate = text.parse().unwrap();
            day.and_hms_opt(12, 0, 0).unwrap().and_utc().timestamp()
        };
        let periods = Periods::between(at(from), at(to), every, Tz::UTC);
        periods.each_with_end().map(|(name, _)| name).collect()
    }

    /// ISO 8601-1:2019, 4.3: the week with the year's first Thursday is week 01. 2020 had
    /// 53 weeks, and 2021-01-01 lies in the last of them.
    #[test]
    fn weeks_at_the_turn_of_a_year_are_those_of_iso_8601() {
        assert_eq!(
            names("2020-12-27", "2021-01-04", Every::Week),
            ["2020-W52", "2020-W53", "2021-W01"]
        );
        assert_eq!(names("2024-12-30", "2024-12-30", Every::Week), ["2025-W01"]);
    }

    #[test]
    fn months_quarters_and_years_run_over_the_turn_of_a_year() {
        assert_eq!(
            names("2025-11-30", "2026-01-01", Every::Month),
            ["2025-11", "2025-12", "2026-01"]
        );
        assert_eq!(
            names("2025-12-31", "2026-04-01", Every::Quarter),
            ["2025-Q4", "2026-Q1", "2026-Q2"]
        );
        assert_eq!(
            names("2024-12-31", "2026-01-01", Every::Year),
            ["2024", "2025", "2026"]
        );
    }

    proptest! {
        #[test]
        fn an_instant_falls_in_the_period_of_its_day(
            seconds in 1_000_000_000i64..2_000_000_000,
            before in 0i64..100_000_000,
            every in prop::sample::select(&Every::ALL[..]),
            zone in prop::sample::select(vec!["UTC", "Europe/Paris", "Asia/Tokyo", "Pacific/Apia"]),
        ) {
            let zone = time::zone(zone).unwrap();
            let periods = Periods::between(seconds - before, seconds + before, every, zone);
            let of = |seconds: i64| periods.each_with_end().find(|(_, end)| seconds < *end).unwrap().0;
            let name = |seconds| every.name(every.first_day(day_of(seconds, zone).unwrap()));
            prop_assert_eq!(of(seconds), name(seconds));
            let all: Vec<String> = periods.each_with_end().map(|(name, _)| name).collect();
            prop_assert_eq!(all.first(), Some(&name(seconds - before)));
            prop_assert_eq!(all.last(), Some(&name(seconds + before)));
        }
    }
}

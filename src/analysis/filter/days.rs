//! The period that a filter leaves, and another put in its place.

use chrono::{Datelike, NaiveDate};

use super::{Filter, FilterKey, Term, Value};

/// Days from the first to the last, both included; an open end where there is none.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Days {
    /// The first day.
    pub first: Option<NaiveDate>,
    /// The last day.
    pub last: Option<NaiveDate>,
}

impl Days {
    /// From the first to the last day of these months, counted as
    /// [`month_number`](crate::model::time::month_number) does; `None` beyond the calendar.
    #[must_use]
    pub fn months(first: i32, last: i32) -> Option<Self> {
        let (first, next) = (month_start(first)?, month_start(last.checked_add(1)?)?);
        Days::within_calendar(first, next.pred_opt()?)
    }

    /// A filter knows days of the years 1 to 9999.
    fn within_calendar(first: NaiveDate, last: NaiveDate) -> Option<Self> {
        let is_known = |day: NaiveDate| (1..=9999).contains(&day.year());
        (is_known(first) && is_known(last)).then_some(Days {
            first: Some(first),
            last: Some(last),
        })
    }

    /// Whether no end is given.
    #[must_use]
    pub const fn is_open(&self) -> bool {
        self.first.is_none() && self.last.is_none()
    }

    /// The months it is made of, as their numbers; `None` unless it begins with the first day
    /// of a month and ends with the last day of one.
    #[must_use]
    pub fn whole_months(&self) -> Option<(i32, i32)> {
        let (first, last) = (self.first?, self.last?);
        let next = last.succ_opt()?;
        let whole = first.day() == 1 && next.day() == 1 && first < next;
        whole.then(|| (month_number(first), month_number(next) - 1))
    }

    /// The period of the same length right after this one, or before it: as many months where
    /// it is made of whole ones, as many days otherwise. `None` where an end is open, or beyond
    /// the calendar.
    #[must_use]
    pub fn shifted(&self, later: bool) -> Option<Self> {
        if let Some((first, last)) = self.whole_months() {
            let months = if later {
                last - first + 1
            } else {
                first - last - 1
            };
            return Days::months(first + months, last + months);
        }
        let (first, last) = (self.first?, self.last?);
        let length = last.signed_duration_since(first) + chrono::Duration::days(1);
        let shift = if later { length } else { -length };
        Days::within_calendar(
            first.checked_add_signed(shift)?,
            last.checked_add_signed(shift)?,
        )
    }
}

impl Filter {
    /// The days that pass, as far as `from` and `to` say; open ends where they say nothing.
    #[must_use]
    pub fn days(&self) -> Days {
        let mut days = Days::default();
        for term in &self.terms {
            let Some(value) = term.values.first() else {
                continue;
            };
            // A minus before `from` leaves the days before, one before `to` those after.
            match (term.key, term.excludes) {
                (FilterKey::From, false) => later(&mut days.first, value.first_day()),
                (FilterKey::To, false) => earlier(&mut days.last, value.last_day()),
                (FilterKey::From, true) => {
                    let before = value.first_day().and_then(|day| day.pred_opt());
                    earlier(&mut days.last, before);
                }
                (FilterKey::To, true) => {
                    later(
                        &mut days.first,
                        value.last_day().and_then(|day| day.succ_opt()),
                    );
                }
                _ => {}
            }
        }
        days
    }

    /// This filter with these days in place of whatever it says of days, at its end; whole
    /// months are written as months.
    #[must_use]
    pub fn with_days(&self, days: &Days) -> Self {
        let mut filter = self.without(FilterKey::From).without(FilterKey::To);
        let whole = days.whole_months().is_some();
        let month = |day: NaiveDate| day.with_day(1).filter(|_| whole);
        let ends = [(FilterKey::From, days.first), (FilterKey::To, days.last)];
        for (key, day) in ends {
            filter.terms.extend(day.map(|day| Term {
                excludes: false,
                key,
                values: vec![month(day).map_or(Value::Day(day), Value::Month)],
            }));
        }
        filter
    }
}

fn later(kept: &mut Option<NaiveDate>, day: Option<NaiveDate>) {
    *kept = (*kept).max(day);
}

fn earlier(kept: &mut Option<NaiveDate>, day: Option<NaiveDate>) {
    *kept = match (*kept, day) {
        (Some(kept), Some(day)) => Some(kept.min(day)),
        (kept, day) => kept.or(day),
    };
}

fn month_number(day: NaiveDate) -> i32 {
    day.year() * 12 + day.month0().cast_signed()
}

fn month_start(number: i32) -> Option<NaiveDate> {
    let month = number.rem_euclid(12).cast_unsigned() + 1;
    NaiveDate::from_ymd_opt(number.div_euclid(12), month, 1)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use proptest::prelude::*;

    use super::*;

    fn day(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    fn days(first: &str, last: &str) -> Days {
        Days {
            first: Some(day(first)),
            last: Some(day(last)),
        }
    }

    /// By hand from the calendar.
    #[test]
    fn periods_shift_by_their_own_length() {
        for (first, last, before, after) in [
            (
                "2026-03-01",
                "2026-03-31",
                ("2026-02-01", "2026-02-28"),
                ("2026-04-01", "2026-04-30"),
            ),
            (
                "2024-01-01",
                "2024-03-31",
                ("2023-10-01", "2023-12-31"),
                ("2024-04-01", "2024-06-30"),
            ),
            (
                "2025-01-01",
                "2025-12-31",
                ("2024-01-01", "2024-12-31"),
                ("2026-01-01", "2026-12-31"),
            ),
            (
                "2026-03-02",
                "2026-03-08",
                ("2026-02-23", "2026-03-01"),
                ("2026-03-09", "2026-03-15"),
            ),
            (
                "2026-01-01",
                "2026-01-01",
                ("2025-12-31", "2025-12-31"),
                ("2026-01-02", "2026-01-02"),
            ),
        ] {
            let own = days(first, last);
            assert_eq!(own.shifted(false), Some(days(before.0, before.1)));
            assert_eq!(own.shifted(true), Some(days(after.0, after.1)));
        }
    }

    #[test]
    fn beyond_the_calendar_and_with_open_ends_there_is_nothing_to_shift_to() {
        assert_eq!(days("9999-12-01", "9999-12-31").shifted(true), None);
        assert_eq!(days("0001-01-01", "0001-01-31").shifted(false), None);
        assert_eq!(days("0001-01-01", "0001-01-09").shifted(false), None);
        let open = Days {
            last: None,
            ..days("2026-01-01", "2026-01-31")
        };
        assert_eq!(open.shifted(true), None);
        assert_eq!(Days::default().whole_months(), None);
    }

    #[test]
    fn the_days_of_a_filter_are_those_that_all_its_terms_leave() {
        for (filter, first, last) in [
            ("", None, None),
            ("from:2026-03", Some("2026-03-01"), None),
            ("to:2026-02", None, Some("2026-02-28")),
            (
                "from:2026-01 from:2026-02-10 to:2026-12 to:2026-05-04",
                Some("2026-02-10"),
                Some("2026-05-04"),
            ),
            (
                "-from:2026-03 -to:2025-12",
                Some("2026-01-01"),
                Some("2026-02-28"),
            ),
        ] {
            let read = Filter::parse(filter).unwrap().days();
            assert_eq!(read.first, first.map(day), "{filter}");
            assert_eq!(read.last, last.map(day), "{filter}");
        }
    }

    #[test]
    fn another_period_replaces_the_one_there() {
        let filter = Filter::parse("from:2025-01-07 kind:sump -to:2024 to:2025-02");
        assert!(filter.is_err(), "a year is no day");
        let filter = Filter::parse("from:2025-01-07 kind:sump -to:2024-05 to:2025-02").unwrap();
        let month = filter.with_days(&days("2026-03-01", "2026-03-31"));
        assert_eq!(month.to_string(), "kind:sump from:2026-03 to:2026-03");
        let week = filter.with_days(&days("2026-03-02", "2026-03-08"));
        assert_eq!(week.to_string(), "kind:sump from:2026-03-02 to:2026-03-08");
        assert_eq!(filter.with_days(&Days::default()).to_string(), "kind:sump");
    }

    proptest! {
        #[test]
        fn what_is_written_is_read_and_shifts_come_back(
            first in 1i64..3_000_000, length in 0i64..4000, later: bool
        ) {
            let first = NaiveDate::from_ymd_opt(1, 1, 1).unwrap() + chrono::Duration::days(first);
            let last = first + chrono::Duration::days(length);
            let own = Days { first: Some(first), last: Some(last) };
            let filter = Filter::parse("kind:sump to:2020-01").unwrap().with_days(&own);
            prop_assert_eq!(filter.days(), own);
            prop_assert_eq!(&Filter::parse(&filter.to_string()).unwrap(), &filter);
            if let Some(shifted) = own.shifted(later) {
                // Days may come to lie on a whole month, which then shifts as one.
                if shifted.whole_months().is_some() == own.whole_months().is_some() {
                    prop_assert_eq!(shifted.shifted(!later), Some(own));
                }
                let (near, far) = if later { (own, shifted) } else { (shifted, own) };
                prop_assert_eq!(near.last.unwrap().succ_opt(), far.first);
            }
        }
    }
}

//! Days and months as a programme's zone counts them.

use chrono::NaiveDate;

use crate::model::time::{self, Tz};

/// The first instant of a day in a zone, in seconds since 1970 UTC. A day that the zone
/// left out, as some did on moving across the date line, begins with the next one.
pub(super) fn start_of_day(day: NaiveDate, zone: Tz) -> Option<i64> {
    day.iter_days()
        .take(3)
        .find_map(|day| time::day_start(day, zone))
}

/// The months of a zone over a span of time, each with its first instant: asking the zone
/// of each of a million draws takes a hundred times as long.
pub(super) struct Months {
    first: i32,
    /// The first instant of each month, from `first` on.
    starts: Vec<i64>,
}

impl Months {
    /// The months that these instants lie between, both included.
    pub fn between(earliest: i64, latest: i64, zone: Tz) -> Self {
        let first = time::month_number(earliest, zone);
        let last = time::month_number(latest, zone);
        let start = |month: i32| {
            let (year, month) = (month.div_euclid(12), month.rem_euclid(12).cast_unsigned());
            start_of_day(NaiveDate::from_ymd_opt(year, month + 1, 1)?, zone)
        };
        Months {
            first,
            starts: (first..=last).map_while(start).collect(),
        }
    }

    /// Each month, counted as [`time::month_number`] does, with the instant at which the
    /// next begins. The last has no end.
    pub fn each_with_end(&self) -> impl Iterator<Item = (i32, i64)> {
        let ends = self.starts.iter().copied().skip(1);
        (self.first..)
            .zip(ends.chain([i64::MAX]))
            .take(self.starts.len())
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]

    use proptest::prelude::*;

    use super::*;

    #[test]
    fn a_day_that_a_zone_left_out_begins_with_the_next() {
        // Samoa moved across the date line: 2011-12-29 was followed by 2011-12-31
        // (tz database, zone Pacific/Apia).
        let apia = time::zone("Pacific/Apia").unwrap();
        let day = |day| NaiveDate::from_ymd_opt(2011, 12, day).unwrap();
        assert_eq!(start_of_day(day(30), apia), start_of_day(day(31), apia));
        let begin = start_of_day(day(31), apia).unwrap();
        assert_eq!(time::utc_text(begin), "2011-12-30T10:00:00Z");
    }

    proptest! {
        #[test]
        fn months_agree_with_the_zone(
            seconds in 0i64..2_000_000_000,
            before in 0i64..200_000_000,
            zone in prop::sample::select(vec!["UTC", "Europe/Paris", "America/St_Johns", "Pacific/Apia"]),
        ) {
            let zone = time::zone(zone).unwrap();
            let months = Months::between(seconds - before, seconds + before, zone);
            let month = months.each_with_end().find(|(_, end)| seconds < *end).unwrap().0;
            prop_assert_eq!(month, time::month_number(seconds, zone));
        }
    }
}

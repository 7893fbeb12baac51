//! Days and times of the scenario: local hours to instants and back to zoned text.

use chrono::{Datelike, NaiveDate};

use super::scenario::ZONE;
use crate::model::time;

/// Seconds of a day of 24 hours.
pub const DAY_S: i64 = 86_400;

/// The number of a day, counted from 1970-01-01.
#[must_use]
pub fn day_number(year: i32, month: u32, day: u32) -> i64 {
    NaiveDate::from_ymd_opt(year, month, day).map_or(0, |date| i64::from(date.to_epoch_days()))
}

/// The date of a day number.
#[must_use]
pub fn date(day: i64) -> NaiveDate {
    i32::try_from(day)
        .ok()
        .and_then(NaiveDate::from_epoch_days)
        .unwrap_or_default()
}

/// The clock of the scenario's zone over a span of days, looked up once.
pub struct Clock {
    /// From this instant on (seconds since 1970 UTC), this offset from UTC in seconds.
    changes: Vec<(i64, i32)>,
}

impl Clock {
    /// The clock from one day to another, with a margin for bottles on their way.
    #[must_use]
    pub fn over(first_day: i64, last_day: i64) -> Self {
        let zone = time::zone(ZONE).unwrap_or(time::Tz::UTC);
        let mut changes = Vec::new();
        let mut known = None;
        // Clocks change on the hour, so looking at every hour of a day that differs from
        // the one before finds the instant.
        for day in first_day - 40..=last_day + 80 {
            let noon = time::offset_s(day * DAY_S, zone);
            if known == Some(noon) {
                continue;
            }
            let change = (0..24)
                .map(|hour| (day - 1) * DAY_S + hour * 3600)
                .find(|at| known.is_some() && Some(time::offset_s(*at, zone)) != known)
                .unwrap_or(day * DAY_S);
            changes.push((change, noon));
            known = Some(noon);
        }
        Clock { changes }
    }

    /// The offset from UTC in seconds at an instant.
    #[must_use]
    pub fn offset_s(&self, instant: i64) -> i32 {
        let after = self.changes.partition_point(|(from, _)| *from <= instant);
        after.checked_sub(1).map_or_else(
            || self.changes.first().map_or(0, |(_, offset)| *offset),
            |place| self.changes[place].1,
        )
    }

    /// The instant of a local minute of a day. Meant for working hours, when clocks do not
    /// change.
    #[must_use]
    pub fn instant(&self, day: i64, minute: i64) -> i64 {
        let noon = day * DAY_S + DAY_S / 2;
        day * DAY_S + minute * 60 - i64::from(self.offset_s(noon))
    }

    /// Writes an instant as `2026-03-04T09:30+00:00` (RFC 3339, seconds left out).
    pub fn write(&self, instant: i64, text: &mut Vec<u8>) {
        let offset = self.offset_s(instant);
        let local = instant + i64::from(offset);
        let day = date(local.div_euclid(DAY_S));
        let minute = local.rem_euclid(DAY_S) / 60;
        let year = day.year().unsigned_abs();
        two(year / 100, text);
        two(year % 100, text);
        text.push(b'-');
        two(day.month(), text);
        text.push(b'-');
        two(day.day(), text);
        text.push(b'T');
        two((minute / 60) as u32, text);
        text.push(b':');
        two((minute % 60) as u32, text);
        text.push(if offset < 0 { b'-' } else { b'+' });
        let ahead = offset.unsigned_abs() / 60;
        two(ahead / 60, text);
        text.push(b':');
        two(ahead % 60, text);
    }
}

fn two(value: u32, text: &mut Vec<u8>) {
    text.push(b'0' + (value / 10 % 10) as u8);
    text.push(b'0' + (value % 10) as u8);
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn text(clock: &Clock, instant: i64) -> String {
        let mut bytes = Vec::new();
        clock.write(instant, &mut bytes);
        String::from_utf8(bytes).unwrap()
    }

    #[test]
    fn times_carry_winter_and_summer_offsets() {
        let clock = Clock::over(day_number(2024, 11, 1), day_number(2026, 10, 31));
        let winter = clock.instant(day_number(2026, 3, 4), 9 * 60 + 30);
        assert_eq!(text(&clock, winter), "2026-03-04T09:30+00:00");
        let summer = clock.instant(day_number(2026, 7, 4), 9 * 60 + 30);
        assert_eq!(text(&clock, summer), "2026-07-04T09:30+01:00");
    }

    /// Clocks go forward on the last Sunday of March at 01:00 UTC and back on the last
    /// Sunday of October at 01:00 UTC (Directive 2000/84/EC).
    #[test]
    fn clocks_change_at_one_in_the_morning_utc() {
        let clock = Clock::over(day_number(2026, 1, 1), day_number(2026, 12, 1));
        let spring = day_number(2026, 3, 29) * DAY_S + 3600;
        assert_eq!(clock.offset_s(spring - 1), 0);
        assert_eq!(clock.offset_s(spring), 3600);
        let autumn = day_number(2026, 10, 25) * DAY_S + 3600;
        assert_eq!(clock.offset_s(autumn - 1), 3600);
        assert_eq!(clock.offset_s(autumn), 0);
    }
}

//! Instants and their text. All use of chrono outside plain dates stands here.

use chrono::{
    DateTime, Datelike, LocalResult, NaiveDate, NaiveDateTime, Offset, TimeZone, Timelike, Utc,
};
pub use chrono_tz::Tz;

/// Writes an instant as `2026-03-04T08:30:00Z`.
#[must_use]
pub fn utc_text(seconds: i64) -> String {
    match DateTime::<Utc>::from_timestamp(seconds, 0) {
        Some(time) => {
            let mut text = day_and_clock(time.naive_utc(), 'T')
                .unwrap_or_else(|| time.format("%Y-%m-%dT%H:%M").to_string());
            text.push(':');
            push_digits(&mut text, time.second(), 2);
            text.push('Z');
            text
        }
        None => format!("{seconds}s"),
    }
}

/// `2026-03-04`, a mark, `09:30`; `None` where the year has not four digits. Lists write
/// this for every draw, and chrono's own formatting takes several times as long.
fn day_and_clock(time: NaiveDateTime, mark: char) -> Option<String> {
    let year = u32::try_from(time.year())
        .ok()
        .filter(|year| *year <= 9999)?;
    let mut text = String::with_capacity(20);
    push_digits(&mut text, year, 4);
    for (before, number) in [
        ('-', time.month()),
        ('-', time.day()),
        (mark, time.hour()),
        (':', time.minute()),
    ] {
        text.push(before);
        push_digits(&mut text, number, 2);
    }
    Some(text)
}

fn push_digits(text: &mut String, number: u32, count: u32) {
    for place in (0..count).rev() {
        text.extend(char::from_digit(number / 10_u32.pow(place) % 10, 10));
    }
}

/// Writes an instant as `2026-03-04 09:30` in a zone, for screens.
#[must_use]
pub fn local_text(seconds: i64, zone: Tz) -> String {
    match zone.timestamp_opt(seconds, 0).single() {
        Some(time) => day_and_clock(time.naive_local(), ' ')
            .unwrap_or_else(|| time.format("%Y-%m-%d %H:%M").to_string()),
        None => format!("{seconds}s"),
    }
}

/// How far a zone's clock is ahead of UTC at an instant, in seconds.
#[must_use]
pub fn offset_s(seconds: i64, zone: Tz) -> i32 {
    zone.timestamp_opt(seconds, 0)
        .single()
        .map_or(0, |time| time.offset().fix().local_minus_utc())
}

/// The month an instant falls in, in a zone, counted as `year * 12 + month - 1`.
#[must_use]
pub fn month_number(seconds: i64, zone: Tz) -> i32 {
    match zone.timestamp_opt(seconds, 0).single() {
        Some(time) => time.year() * 12 + time.month0().cast_signed(),
        None => 0,
    }
}

/// The day an instant falls in, in a zone.
#[must_use]
pub fn day_of(seconds: i64, zone: Tz) -> NaiveDate {
    zone.timestamp_opt(seconds, 0)
        .single()
        .map_or(NaiveDate::MIN, |time| time.date_naive())
}

/// Writes a month number as `2026-03`.
#[must_use]
pub fn month_text(month_number: i32) -> String {
    format!(
        "{:04}-{:02}",
        month_number.div_euclid(12),
        month_number.rem_euclid(12) + 1
    )
}

/// The first instant of a day in a zone, in seconds since 1970 UTC. Where midnight does
/// not exist (a clock change), the first instant after it.
#[must_use]
pub fn day_start(day: NaiveDate, zone: Tz) -> Option<i64> {
    let midnight = day.and_hms_opt(0, 0, 0)?;
    (0..=8)
        .map(|quarters| midnight + chrono::Duration::minutes(15 * quarters))
        .find_map(|local| zone.from_local_datetime(&local).earliest())
        .map(|time| time.timestamp())
}

/// How a local time stands to the clock changes of its zone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LocalTime {
    /// It exists once.
    Once,
    /// It exists twice; the earlier of the two instants is meant.
    Twice,
    /// It does not exist; it is shifted forward by the gap.
    Missing,
}

/// The instant of a local time, in seconds since 1970 UTC. `None` for a second of the day
/// past 86,399.
#[must_use]
pub fn instant_of(day: NaiveDate, second_of_day: u32, zone: Tz) -> Option<(i64, LocalTime)> {
    let time = chrono::NaiveTime::from_num_seconds_from_midnight_opt(second_of_day, 0)?;
    let local = day.and_time(time);
    if zone == Tz::UTC {
        return Some((local.and_utc().timestamp(), LocalTime::Once));
    }
    Some(match zone.from_local_datetime(&local) {
        LocalResult::Single(instant) => (instant.timestamp(), LocalTime::Once),
        LocalResult::Ambiguous(one, other) => {
            (one.timestamp().min(other.timestamp()), LocalTime::Twice)
        }
        LocalResult::None => {
            // Shifting forward by the gap is reading the clock as it went before the change.
            // The longest gap known is a whole day.
            let before = (1..=104).find_map(|quarters| {
                let earlier = local.checked_sub_signed(chrono::Duration::minutes(15 * quarters))?;
                zone.from_local_datetime(&earlier).latest()
            })?;
            let ahead = before.naive_local().and_utc().timestamp() - before.timestamp();
            (local.and_utc().timestamp() - ahead, LocalTime::Missing)
        }
    })
}

/// Reads an IANA zone name such as `Europe/Paris`.
#[must_use]
pub fn zone(name: &str) -> Option<Tz> {
    name.parse().ok()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn instants_are_written_in_utc_and_in_a_zone() {
        let paris = zone("Europe/Paris").unwrap();
        assert_eq!(utc_text(1_772_613_000), "2026-03-04T08:30:00Z");
        assert_eq!(local_text(1_772_613_000, paris), "2026-03-04 09:30");
        assert_eq!(zone("Mars/Olympus"), None);
        assert_eq!(utc_text(-62_135_596_800), "0001-01-01T00:00:00Z");
        assert_eq!(utc_text(253_402_300_799), "9999-12-31T23:59:59Z");
        assert_eq!(utc_text(253_402_300_800), "+10000-01-01T00:00:00Z");
    }

    #[test]
    fn a_month_is_that_of_the_zone() {
        let paris = zone("Europe/Paris").unwrap();
        // 2026-02-28T23:30:00Z is already March in Paris.
        let late = 1_772_321_400;
        assert_eq!(month_text(month_number(late, chrono_tz::UTC)), "2026-02");
        assert_eq!(month_text(month_number(late, paris)), "2026-03");
        assert_eq!(month_text(month_number(-1, chrono_tz::UTC)), "1969-12");
    }

    #[test]
    fn a_day_begins_at_the_zones_midnight() {
        let paris = zone("Europe/Paris").unwrap();
        let day = NaiveDate::from_ymd_opt(2026, 3, 4).unwrap();
        assert_eq!(
            utc_text(day_start(day, paris).unwrap()),
            "2026-03-03T23:00:00Z"
        );
    }
}

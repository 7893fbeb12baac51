//! From the text of a cell to an instant: RFC 3339, or a local time in the import's zone.

use chrono::NaiveDate;

use super::cell::{day_of, two};
use crate::model::time::{LocalTime, Tz, instant_of};

/// An instant and how it came about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Read {
    /// Seconds since 1970 UTC.
    pub seconds: i64,
    /// How a local time stood to the zone's clock changes; `None` where the text itself
    /// says its distance from UTC.
    pub local: Option<LocalTime>,
}

const EXPECTED: &str = "not a time: 2026-03-04T09:30:00+01:00 or 2026-03-04 09:30 is expected";

/// From 0001-01-01T00:00:00Z to 9999-12-31T23:59:59Z in seconds since 1970 UTC: the
/// instants whose year has four digits, as identities and reports write it (RFC 3339).
const WRITABLE: std::ops::RangeInclusive<i64> = -62_135_596_800..=253_402_300_799;

/// Reads a time. Fractions of a second are cut off.
///
/// # Errors
/// A text that is no time, a date alone, a day or an hour that does not exist, an instant
/// before the year 0001 or after 9999 in UTC.
pub fn time(text: &str, zone: Tz) -> Result<Read, String> {
    let bytes = text.as_bytes();
    let (year, month, of_month) = day_of(bytes).ok_or(EXPECTED)?;
    let day = NaiveDate::from_ymd_opt(year, month, of_month)
        .ok_or("there is no such day in the calendar")?;
    if bytes.len() == 10 {
        return Err("a date alone is not a time: hours and minutes are missing".to_owned());
    }
    let (of_day, rest) = clock(&bytes[10..]).ok_or(EXPECTED)?;
    let of_day = of_day.ok_or("hours go to 23, minutes and seconds to 59")?;
    let read = if rest.is_empty() {
        let (seconds, local) = instant_of(day, of_day, zone).ok_or(EXPECTED)?;
        Read {
            seconds,
            local: Some(local),
        }
    } else {
        let ahead = distance(rest).ok_or(EXPECTED)?;
        let (seconds, _) = instant_of(day, of_day, Tz::UTC).ok_or(EXPECTED)?;
        Read {
            seconds: seconds - ahead,
            local: None,
        }
    };
    if WRITABLE.contains(&read.seconds) {
        Ok(read)
    } else {
        Err("in UTC it lies outside the years 0001 to 9999".to_owned())
    }
}

/// Reads ` HH:MM[:SS[.f…]]` (blank or `T` in front) and gives the second of the day, the
/// inner `None` where a number is too large, and what follows.
fn clock(text: &[u8]) -> Option<(Option<u32>, &[u8])> {
    let (head, mut rest) = text.split_at_checked(6)?;
    if !matches!(head[0], b' ' | b'T' | b't') || head[3] != b':' {
        return None;
    }
    let (hours, minutes) = (two(&head[1..3])?, two(&head[4..6])?);
    let mut seconds = 0;
    if let [b':', tail @ ..] = rest {
        seconds = two(tail.get(..2)?)?;
        rest = &tail[2..];
        if let [b'.', fraction @ ..] = rest {
            let digits = fraction
                .iter()
                .take_while(|byte| byte.is_ascii_digit())
                .count();
            if digits == 0 {
                return None;
            }
            rest = &fraction[digits..];
        }
    }
    let exists = hours < 24 && minutes < 60 && seconds < 60;
    Some((
        exists.then_some(hours * 3600 + minutes * 60 + seconds),
        rest,
    ))
}

/// Reads `Z` or `±HH:MM` as seconds ahead of UTC.
fn distance(text: &[u8]) -> Option<i64> {
    match text {
        b"Z" | b"z" => Some(0),
        [sign @ (b'+' | b'-'), rest @ ..] if rest.len() == 5 && rest[2] == b':' => {
            let (hours, minutes) = (two(&rest[..2])?, two(&rest[3..])?);
            if hours > 23 || minutes > 59 {
                return None;
            }
            let ahead = i64::from(hours * 3600 + minutes * 60);
            Some(if *sign == b'-' { -ahead } else { ahead })
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::model::time::{utc_text, zone};

    fn read(text: &str, zone_name: &str) -> Result<String, String> {
        time(text, zone(zone_name).unwrap()).map(|read| utc_text(read.seconds))
    }

    #[test]
    fn times_with_their_distance_from_utc_need_no_zone() {
        let cases = [
            ("2026-03-04T09:30:00+01:00", "2026-03-04T08:30:00Z"),
            ("2026-03-04T09:30+01:00", "2026-03-04T08:30:00Z"),
            ("2026-03-04 09:30:00z", "2026-03-04T09:30:00Z"),
            ("2026-03-04t09:30:59.999Z", "2026-03-04T09:30:59Z"),
            ("1969-12-31T23:59:59.9Z", "1969-12-31T23:59:59Z"),
            ("2026-03-04T09:30:00-03:30", "2026-03-04T13:00:00Z"),
            ("2026-01-01T00:30:00-00:00", "2026-01-01T00:30:00Z"),
        ];
        for (text, utc) in cases {
            assert_eq!(read(text, "Europe/Paris").as_deref(), Ok(utc), "{text}");
        }
    }

    #[test]
    fn local_times_are_read_in_the_zone() {
        // Winter and summer time of Europe/Paris, IANA time zone database.
        let cases = [
            ("2026-03-04 09:30", "2026-03-04T08:30:00Z"),
            ("2026-07-04T09:30:15", "2026-07-04T07:30:15Z"),
            ("2026-07-04T09:30:15.75", "2026-07-04T07:30:15Z"),
        ];
        for (text, utc) in cases {
            assert_eq!(read(text, "Europe/Paris").as_deref(), Ok(utc), "{text}");
        }
        assert_eq!(
            read("2026-07-04 09:30", "UTC").as_deref(),
            Ok("2026-07-04T09:30:00Z")
        );
    }

    #[test]
    fn a_clock_change_is_resolved_as_the_contract_says() {
        let paris = zone("Europe/Paris").unwrap();
        let gap = time("2026-03-29 02:30", paris).unwrap();
        assert_eq!(utc_text(gap.seconds), "2026-03-29T01:30:00Z");
        assert_eq!(gap.local, Some(LocalTime::Missing));
        let twice = time("2026-10-25 02:30", paris).unwrap();
        assert_eq!(utc_text(twice.seconds), "2026-10-25T00:30:00Z");
        assert_eq!(twice.local, Some(LocalTime::Twice));
        let once = time("2026-10-25 03:00", paris).unwrap();
        assert_eq!(once.local, Some(LocalTime::Once));
        // Samoa skipped the whole of 2011-12-30 (IANA time zone database).
        let apia = time("2011-12-30 12:00", zone("Pacific/Apia").unwrap()).unwrap();
        assert_eq!(utc_text(apia.seconds), "2011-12-30T22:00:00Z");
        // Lord Howe Island changes by half an hour.
        let howe = time("2026-10-04 02:15", zone("Australia/Lord_Howe").unwrap()).unwrap();
        assert_eq!(utc_text(howe.seconds), "2026-10-03T15:45:00Z");
    }

    #[test]
    fn an_instant_has_a_year_of_four_digits_in_utc() {
        let cases = [
            ("9999-12-31T23:59:59Z", Some("9999-12-31T23:59:59Z")),
            ("9999-12-31T23:59:59+10:00", Some("9999-12-31T13:59:59Z")),
            ("9999-12-31T23:59:59-10:00", None),
            ("9999-12-31T23:59:59-00:01", None),
            ("0001-01-01T00:00:00Z", Some("0001-01-01T00:00:00Z")),
            ("0001-01-01T00:00:00-10:00", Some("0001-01-01T10:00:00Z")),
            ("0001-01-01T00:00:00+00:01", None),
            ("0000-12-31T23:59:59Z", None),
        ];
        for (text, utc) in cases {
            assert_eq!(read(text, "UTC").ok().as_deref(), utc, "{text}");
        }
        // New York is behind UTC at all times.
        assert!(read("9999-12-31 23:00", "America/New_York").is_err());
        assert!(read("9999-12-31 12:00", "America/New_York").is_ok());
    }

    #[test]
    fn what_is_no_time_is_refused() {
        let cases = [
            "2026-03-04",
            "09:30",
            "04.03.2026 09:30",
            "2026-3-4 9:30",
            "2026-03-04 9:30",
            "2026-03-04T09:30:00+0100",
            "2026-03-04T09:30:00 +01:00",
            "2026-03-04T09:30:00.Z",
            "2026-03-04  09:30",
            "2026-03-04T09",
            "2026-02-30 09:30",
            "2026-03-04 24:00",
            "2026-03-04 09:60",
            "2026-03-04 09:30:60",
            "2026-03-04 09:30 PM",
            "26-03-04 09:30",
            "2026-03-04T09:30+24:00",
            "46085.5",
            "２026-03-04 09:30",
            "2026-03-04T09:30é",
        ];
        for text in cases {
            assert!(read(text, "UTC").is_err(), "{text}");
        }
    }
}

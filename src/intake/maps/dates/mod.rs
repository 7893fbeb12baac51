//! How a sheet writes dates and times.
//!
//! `notation` reads the form that a map gives, `parts` a text by such a form, and `serial`
//! days as spreadsheets count them.

mod notation;
mod parts;
mod serial;

use std::fmt::Write as _;

use chrono::{Datelike, NaiveDate, NaiveTime, Timelike};
use serde::{Serialize, Serializer};

use notation::{complete, notation, percent};
use parts::read_parts;
use serial::serial;

/// A form that dates and times are written in, such as `DD.MM.YYYY HH:mm`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DateForm {
    /// As the map writes it.
    pub written: String,
    form: Form,
}

impl Serialize for DateForm {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.written)
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
enum Form {
    Parts(Vec<Part>),
    /// Days since an epoch, as spreadsheets count them.
    Serial(Epoch),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Epoch {
    Y1900,
    Y1904,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Part {
    Year,
    ShortYear,
    Month,
    MonthName,
    Day,
    Weekday,
    Hour,
    HalfDayHour,
    Minute,
    Second,
    HalfDay,
    Offset,
    Blank,
    Mark(char),
}

/// What was read: a day, perhaps a time of day, perhaps the distance from UTC.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Moment {
    /// The day.
    pub day: NaiveDate,
    /// The time of day, where the form has one.
    pub time: Option<NaiveTime>,
    /// Minutes ahead of UTC, where the text says so.
    pub ahead_min: Option<i32>,
}

impl DateForm {
    /// Reads a form: `DD.MM.YYYY HH:mm`, the same in strftime's letters (`%d.%m.%Y %H:%M`), or
    /// `serial 1900` and `serial 1904` for days as spreadsheets count them.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn parse(text: &str) -> Result<Self, String> {
        let written = text.trim().to_owned();
        let form = match written.to_ascii_lowercase().as_str() {
            "serial 1900" => Form::Serial(Epoch::Y1900),
            "serial 1904" => Form::Serial(Epoch::Y1904),
            _ if written.contains('%') => Form::Parts(percent(&written)?),
            _ => Form::Parts(notation(&written)?),
        };
        if let Form::Parts(parts) = &form {
            complete(parts)?;
        }
        Ok(DateForm { written, form })
    }

    /// Whether years are written with two digits.
    #[must_use]
    pub fn has_short_year(&self) -> bool {
        self.has(Part::ShortYear)
    }

    /// Whether the form says a time of day.
    #[must_use]
    pub fn has_time(&self) -> bool {
        matches!(self.form, Form::Serial(_)) || self.has(Part::Hour) || self.has(Part::HalfDayHour)
    }

    fn has(&self, part: Part) -> bool {
        matches!(&self.form, Form::Parts(parts) if parts.contains(&part))
    }

    /// Whether the two differ in nothing but the order of day and month: they would read the
    /// same text as different days.
    #[must_use]
    pub fn conflicts(&self, other: &DateForm) -> bool {
        let (Form::Parts(one), Form::Parts(two)) = (&self.form, &other.form) else {
            return matches!((&self.form, &other.form), (Form::Serial(a), Form::Serial(b)) if a != b);
        };
        let alike = |part: &Part| match part {
            Part::Month => Part::Day,
            Part::ShortYear => Part::Day,
            part => *part,
        };
        one != two && one.len() == two.len() && one.iter().map(alike).eq(two.iter().map(alike))
    }

    /// Reads a text. Two-digit years from `pivot` on are of the 20th century.
    ///
    /// # Errors
    /// `None` where the text is not of this form; a reason where it is, but there is no such
    /// day or time.
    pub fn read(&self, text: &str, pivot: u32) -> Result<Moment, Option<String>> {
        match &self.form {
            Form::Serial(epoch) => serial(text, *epoch),
            Form::Parts(parts) => read_parts(parts, text, pivot),
        }
    }
}

impl Moment {
    /// As canonical sheets write an instant; `None` without a time of day.
    #[must_use]
    pub fn as_time(&self) -> Option<String> {
        let time = self.time?;
        let mut text = self.as_day();
        let _ = write!(
            text,
            " {:02}:{:02}:{:02}",
            time.hour(),
            time.minute(),
            time.second()
        );
        if let Some(ahead) = self.ahead_min {
            let sign = if ahead < 0 { '-' } else { '+' };
            let _ = write!(
                text,
                "{sign}{:02}:{:02}",
                ahead.abs() / 60,
                ahead.abs() % 60
            );
        }
        Some(text)
    }

    /// As canonical sheets write a day.
    #[must_use]
    pub fn as_day(&self) -> String {
        format!(
            "{:04}-{:02}-{:02}",
            self.day.year(),
            self.day.month(),
            self.day.day()
        )
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn read(form: &str, text: &str) -> String {
        match DateForm::parse(form).unwrap().read(text, 70) {
            Ok(moment) => moment.as_time().unwrap_or_else(|| moment.as_day()),
            Err(Some(reason)) => reason,
            Err(None) => "-".to_owned(),
        }
    }

    #[test]
    fn forms_read_what_they_say() {
        let cases = [
            (
                "DD.MM.YYYY HH:mm",
                "04.03.2026 09:30",
                "2026-03-04 09:30:00",
            ),
            ("DD.MM.YYYY HH:mm", "4.3.2026  9:05", "2026-03-04 09:05:00"),
            ("DD.MM.YYYY HH:mm", "04.03.2026", "-"),
            ("DD.MM.YYYY HH:mm", "04.03.26 09:30", "-"),
            (
                "DD.MM.YYYY",
                "31.02.2026",
                "there is no such day in the calendar",
            ),
            ("DD/MM/YY HH[h]mm", "04/03/26 9h05", "2026-03-04 09:05:00"),
            ("DD/MM/YY", "04/03/71", "1971-03-04"),
            (
                "M/D/YYYY h:mm A",
                "3/4/2026 12:05 a.m.",
                "2026-03-04 00:05:00",
            ),
            (
                "M/D/YYYY h:mm A",
                "3/4/2026 12:05 PM",
                "2026-03-04 12:05:00",
            ),
            (
                "M/D/YYYY h:mm A",
                "3/4/2026 13:05 PM",
                "hours before am or pm go from 1 to 12",
            ),
            ("D MMM YYYY", "4 août 2026", "2026-08-04"),
            ("ddd, D. MMMM YYYY", "Mi., 4. März 2026", "2026-03-04"),
            ("YYYYMMDDHHmmss", "20260304093015", "2026-03-04 09:30:15"),
            (
                "YYYY-MM-DD[T]HH:mm:ssZ",
                "2026-03-04T09:30:15.25+0130",
                "2026-03-04 09:30:15+01:30",
            ),
            ("%d.%m.%Y %H:%M", "04.03.2026 09:30", "2026-03-04 09:30:00"),
            (
                "%-m/%-d/%y %I:%M %p",
                "3/4/26 9:30 am",
                "2026-03-04 09:30:00",
            ),
            (
                "%F %T",
                "2026-03-04 24:30:00",
                "hours go to 23, minutes and seconds to 59",
            ),
        ];
        for (form, text, expected) in cases {
            assert_eq!(read(form, text), expected, "{form} {text}");
        }
    }

    #[test]
    fn serial_numbers_are_days_since_their_epoch() {
        // ECMA-376 part 1, 18.17.4.1: serial 1 is 1900-01-01 in the one system, 0 is 1904-01-01
        // in the other. 46085.395833… is 2026-03-04 09:30 by LibreOffice's and pandas' count.
        let cases = [
            ("serial 1900", "1", "1900-01-01 00:00:00"),
            ("serial 1900", "59", "1900-02-28 00:00:00"),
            ("serial 1900", "61", "1900-03-01 00:00:00"),
            ("serial 1900", "46085.3958333333", "2026-03-04 09:30:00"),
            ("serial 1904", "0", "1904-01-01 00:00:00"),
            ("serial 1904", "44623.3958333333", "2026-03-04 09:30:00"),
            ("serial 1900", "46085,5", "-"),
            ("serial 1900", "-3", "-"),
        ];
        for (form, text, expected) in cases {
            assert_eq!(read(form, text), expected, "{form} {text}");
        }
        assert!(read("serial 1900", "60").contains("never was"));
        assert!(read("serial 1900", "99999999").contains("outside"));
    }

    #[test]
    fn forms_that_say_no_day_or_two_are_none() {
        for form in [
            "",
            "DD.MM.",
            "DD.MM.YYYY YY",
            "MM/MM/YYYY",
            "DD.MM.YYYY hh:mm",
            "DD.MM.YYYY mm",
            "DD.MM.YYYY HH:mm A",
            "%Q",
            "DD.MM.YYYY um HH",
            "DD.MM.YYYY [um HH",
            "%d %m",
        ] {
            assert!(DateForm::parse(form).is_err(), "{form}");
        }
    }

    #[test]
    fn day_first_and_month_first_do_not_go_together() {
        let form = |text| DateForm::parse(text).unwrap();
        assert!(form("DD/MM/YYYY").conflicts(&form("MM/DD/YYYY")));
        assert!(form("DD/MM/YY").conflicts(&form("%m/%d/%y")));
        assert!(form("DD.MM.YY").conflicts(&form("YY.MM.DD")));
        assert!(form("serial 1900").conflicts(&form("serial 1904")));
        assert!(!form("DD/MM/YYYY").conflicts(&form("DD.MM.YYYY")));
        assert!(!form("DD/MM/YYYY").conflicts(&form("DD/MM/YYYY HH:mm")));
        assert!(!form("DD/MM/YYYY").conflicts(&form("D/M/YYYY")));
    }
}

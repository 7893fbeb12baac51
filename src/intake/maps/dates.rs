//! How a sheet writes dates and times.

use std::fmt::Write as _;

use chrono::{Datelike, NaiveDate, NaiveDateTime, NaiveTime, Timelike};
use serde::{Serialize, Serializer};

use super::months::month_at_start;

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

/// Friendly notation, the longest first.
const NOTATION: &[(&str, Part)] = &[
    ("YYYY", Part::Year),
    ("YY", Part::ShortYear),
    ("MMMM", Part::MonthName),
    ("MMM", Part::MonthName),
    ("MM", Part::Month),
    ("M", Part::Month),
    ("dddd", Part::Weekday),
    ("ddd", Part::Weekday),
    ("DD", Part::Day),
    ("D", Part::Day),
    ("HH", Part::Hour),
    ("H", Part::Hour),
    ("hh", Part::HalfDayHour),
    ("h", Part::HalfDayHour),
    ("mm", Part::Minute),
    ("ss", Part::Second),
    ("A", Part::HalfDay),
    ("Z", Part::Offset),
];

/// The same parts as strftime writes them.
const PERCENT: &[(&str, &[Part])] = &[
    ("Y", &[Part::Year]),
    ("y", &[Part::ShortYear]),
    ("m", &[Part::Month]),
    ("b", &[Part::MonthName]),
    ("h", &[Part::MonthName]),
    ("B", &[Part::MonthName]),
    ("d", &[Part::Day]),
    ("e", &[Part::Day]),
    ("a", &[Part::Weekday]),
    ("A", &[Part::Weekday]),
    ("H", &[Part::Hour]),
    ("k", &[Part::Hour]),
    ("I", &[Part::HalfDayHour]),
    ("l", &[Part::HalfDayHour]),
    ("M", &[Part::Minute]),
    ("S", &[Part::Second]),
    ("p", &[Part::HalfDay]),
    ("P", &[Part::HalfDay]),
    ("z", &[Part::Offset]),
    (":z", &[Part::Offset]),
    ("%", &[Part::Mark('%')]),
    (
        "F",
        &[
            Part::Year,
            Part::Mark('-'),
            Part::Month,
            Part::Mark('-'),
            Part::Day,
        ],
    ),
    (
        "T",
        &[
            Part::Hour,
            Part::Mark(':'),
            Part::Minute,
            Part::Mark(':'),
            Part::Second,
        ],
    ),
    ("R", &[Part::Hour, Part::Mark(':'), Part::Minute]),
];

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

fn notation(text: &str) -> Result<Vec<Part>, String> {
    let (mut parts, mut rest) = (Vec::new(), text);
    while let Some(c) = rest.chars().next() {
        if let Some(inner) = rest.strip_prefix('[') {
            let end = inner
                .find(']')
                .ok_or("a bracket [ is never closed; it holds letters that stand as they are")?;
            parts.extend(inner[..end].chars().map(Part::Mark));
            rest = &inner[end + 1..];
        } else if let Some((letters, part)) = NOTATION
            .iter()
            .find(|(letters, _)| rest.starts_with(letters))
        {
            parts.push(*part);
            rest = &rest[letters.len()..];
        } else if c.is_whitespace() {
            parts.push(Part::Blank);
            rest = rest.trim_start();
        } else if c.is_alphabetic() && c != 'T' {
            return Err(format!(
                "the letter {c} is none of YYYY YY MM MMM DD ddd HH hh mm ss A Z; put letters that stand \
                 as they are into brackets, as in HH[h]mm"
            ));
        } else {
            parts.push(Part::Mark(c));
            rest = &rest[c.len_utf8()..];
        }
    }
    Ok(parts)
}

fn percent(text: &str) -> Result<Vec<Part>, String> {
    let (mut parts, mut rest) = (Vec::new(), text);
    while let Some(c) = rest.chars().next() {
        rest = &rest[c.len_utf8()..];
        if c == '%' {
            // Paddings do not matter to reading.
            rest = rest.trim_start_matches(['-', '_', '0']);
            let known = PERCENT
                .iter()
                .find(|(letter, _)| rest.starts_with(letter))
                .ok_or_else(|| {
                    let letter: String = rest.chars().take(1).collect();
                    format!("%{letter} is not known; known are %Y %y %m %b %d %a %H %I %M %S %p %z %F %T %R")
                })?;
            parts.extend_from_slice(known.1);
            rest = &rest[known.0.len()..];
        } else if c.is_whitespace() {
            parts.push(Part::Blank);
            rest = rest.trim_start();
        } else {
            parts.push(Part::Mark(c));
        }
    }
    Ok(parts)
}

/// Whether the parts say one day and at most one time.
fn complete(parts: &[Part]) -> Result<(), String> {
    let count = |wanted: &[Part]| parts.iter().filter(|part| wanted.contains(part)).count();
    let once = [
        ("a year (YYYY or YY)", count(&[Part::Year, Part::ShortYear])),
        (
            "a month (MM or MMM)",
            count(&[Part::Month, Part::MonthName]),
        ),
        ("a day (DD)", count(&[Part::Day])),
    ];
    for (what, count) in once {
        if count != 1 {
            return Err(format!("{what} must stand in it once, not {count} times"));
        }
    }
    let (hour, half) = (count(&[Part::Hour]), count(&[Part::HalfDayHour]));
    let (minute, second) = (count(&[Part::Minute]), count(&[Part::Second]));
    if hour + half > 1 || minute > 1 || second > 1 || count(&[Part::Offset]) > 1 {
        return Err("hours, minutes, seconds and Z may stand in it once".to_owned());
    }
    if half != count(&[Part::HalfDay]) {
        return Err("hh and A (am or pm) go together; hours from 0 to 23 are HH".to_owned());
    }
    if minute > hour + half || second > minute {
        return Err("minutes need hours, and seconds need minutes".to_owned());
    }
    Ok(())
}

#[derive(Default)]
struct Found {
    year: i32,
    month: u32,
    day: u32,
    hour: Option<u32>,
    minute: u32,
    second: u32,
    afternoon: Option<bool>,
    ahead_min: Option<i32>,
}

fn read_parts(parts: &[Part], text: &str, pivot: u32) -> Result<Moment, Option<String>> {
    let (mut found, mut rest) = (Found::default(), text.trim());
    for (place, part) in parts.iter().enumerate() {
        let next_is_digits = parts.get(place + 1).is_some_and(|part| part.is_digits());
        rest = found.part(*part, rest, next_is_digits, pivot).ok_or(None)?;
    }
    if !rest.is_empty() {
        return Err(None);
    }
    found.moment().map_err(|reason| Some(reason.to_owned()))
}

impl Part {
    fn is_digits(self) -> bool {
        !matches!(
            self,
            Part::MonthName
                | Part::Weekday
                | Part::HalfDay
                | Part::Offset
                | Part::Blank
                | Part::Mark(_)
        )
    }
}

impl Found {
    /// Reads one part from the start of a text and gives what follows.
    fn part<'t>(
        &mut self,
        part: Part,
        text: &'t str,
        next_is_digits: bool,
        pivot: u32,
    ) -> Option<&'t str> {
        // One digit may stand for two, unless digits follow at once.
        let least = if next_is_digits { 2 } else { 1 };
        let (into, rest) = match part {
            Part::Mark(mark) => {
                // A mark is found whatever blanks stand before it.
                let mut chars = text.chars();
                return (chars.next()? == mark).then_some(chars.as_str());
            }
            Part::Blank => {
                let rest = text.trim_start();
                return (rest.len() < text.len()).then_some(rest);
            }
            Part::Year => {
                let (year, rest) = digits(text, 4, 4)?;
                self.year = year.cast_signed();
                return Some(rest);
            }
            Part::ShortYear => {
                let (year, rest) = digits(text, 2, 2)?;
                let century = if year >= pivot { 1900 } else { 2000 };
                self.year = (century + year).cast_signed();
                return Some(rest);
            }
            Part::MonthName => {
                let (month, length) = month_at_start(text)?;
                self.month = month;
                return Some(&text[length..]);
            }
            Part::Weekday => {
                let rest = text.trim_start_matches(char::is_alphabetic);
                return (rest.len() < text.len()).then(|| rest.trim_start_matches('.'));
            }
            Part::HalfDay => {
                let (afternoon, rest) = half_day(text)?;
                self.afternoon = Some(afternoon);
                return Some(rest);
            }
            Part::Offset => {
                let (ahead, rest) = offset(text)?;
                self.ahead_min = Some(ahead);
                return Some(rest);
            }
            Part::Second => {
                let (second, rest) = digits(text, least, 2)?;
                self.second = second;
                return Some(without_fraction(rest));
            }
            Part::Month => (&mut self.month, text),
            Part::Day => (&mut self.day, text),
            Part::Minute => (&mut self.minute, text),
            Part::Hour | Part::HalfDayHour => (self.hour.insert(0), text),
        };
        let (value, rest) = digits(rest, least, 2)?;
        *into = value;
        Some(rest)
    }

    fn moment(&self) -> Result<Moment, &'static str> {
        let day = NaiveDate::from_ymd_opt(self.year, self.month, self.day)
            .ok_or("there is no such day in the calendar")?;
        let time = match (self.hour, self.afternoon) {
            (None, _) => None,
            (Some(hour), None) => Some(hour),
            // 12 am is midnight, 12 pm is noon.
            (Some(hour @ 1..=12), Some(afternoon)) => Some(hour % 12 + u32::from(afternoon) * 12),
            (Some(_), Some(_)) => return Err("hours before am or pm go from 1 to 12"),
        };
        let time = match time {
            None => None,
            Some(hour) => Some(
                NaiveTime::from_hms_opt(hour, self.minute, self.second)
                    .ok_or("hours go to 23, minutes and seconds to 59")?,
            ),
        };
        Ok(Moment {
            day,
            time,
            ahead_min: self.ahead_min,
        })
    }
}

/// A number of at least and at most so many digits at the start of a text.
fn digits(text: &str, least: usize, most: usize) -> Option<(u32, &str)> {
    let count = text
        .bytes()
        .take(most)
        .take_while(u8::is_ascii_digit)
        .count();
    if count < least {
        return None;
    }
    Some((text[..count].parse().ok()?, &text[count..]))
}

fn without_fraction(text: &str) -> &str {
    match text.strip_prefix(['.', ',']) {
        Some(rest) if rest.starts_with(|c: char| c.is_ascii_digit()) => {
            rest.trim_start_matches(|c: char| c.is_ascii_digit())
        }
        _ => text,
    }
}

fn half_day(text: &str) -> Option<(bool, &str)> {
    const SPELT: [(&str, bool); 4] = [("a.m.", false), ("p.m.", true), ("am", false), ("pm", true)];
    SPELT.iter().find_map(|(spelling, afternoon)| {
        let head = text.get(..spelling.len())?;
        head.eq_ignore_ascii_case(spelling)
            .then(|| (*afternoon, &text[spelling.len()..]))
    })
}

/// `Z`, `+01:00`, `+0100` or `+01` in minutes ahead of UTC.
fn offset(text: &str) -> Option<(i32, &str)> {
    if let Some(rest) = text.strip_prefix(['Z', 'z']) {
        return Some((0, rest));
    }
    let behind = text.starts_with('-');
    let (hours, rest) = digits(text.strip_prefix(['+', '-'])?, 2, 2)?;
    let (minutes, rest) = match rest.strip_prefix(':') {
        Some(rest) => digits(rest, 2, 2)?,
        None => digits(rest, 2, 2).unwrap_or((0, rest)),
    };
    if hours > 23 || minutes > 59 {
        return None;
    }
    let ahead = (hours * 60 + minutes).cast_signed();
    Some((if behind { -ahead } else { ahead }, rest))
}

/// Days since the epoch with a fraction for the time of day. In the older count 1900 has a
/// 29 February that never was, so day 60 is refused and days before it are one later (ECMA-376
/// part 1, section 18.17.4).
fn serial(text: &str, epoch: Epoch) -> Result<Moment, Option<String>> {
    let sound = text
        .bytes()
        .all(|byte| byte.is_ascii_digit() || byte == b'.');
    let days: f64 = (sound && !text.is_empty())
        .then(|| text.parse().ok())
        .flatten()
        .ok_or(None)?;
    let out_of_range = || Some("lies outside the years 1900 to 9999 as a serial number".to_owned());
    if days >= 2_958_466.0 {
        return Err(out_of_range());
    }
    // Spreadsheets keep a time to the second at best; a fraction is off by less.
    #[allow(clippy::cast_possible_truncation)]
    let seconds = (days * 86_400.0).round() as i64;
    let whole = seconds.div_euclid(86_400);
    let (year, month, day) = match (epoch, whole) {
        (Epoch::Y1904, _) => (1904, 1, 1),
        (Epoch::Y1900, 0..60) => (1899, 12, 31),
        (Epoch::Y1900, 60) => {
            let reason = "29 February 1900 never was; is this a date?";
            return Err(Some(reason.to_owned()));
        }
        (Epoch::Y1900, _) => (1899, 12, 30),
    };
    let start = NaiveDate::from_ymd_opt(year, month, day).and_then(|day| day.and_hms_opt(0, 0, 0));
    let moment: NaiveDateTime = start
        .and_then(|start| start.checked_add_signed(chrono::Duration::seconds(seconds)))
        .filter(|moment| moment.year() <= 9999)
        .ok_or_else(out_of_range)?;
    Ok(Moment {
        day: moment.date(),
        time: Some(moment.time()),
        ahead_min: None,
    })
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

//! A text read part by part, in the order in which a form names them.

use chrono::{NaiveDate, NaiveTime};

use super::{Moment, Part};
use crate::intake::maps::months::month_at_start;

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

pub(super) fn read_parts(parts: &[Part], text: &str, pivot: u32) -> Result<Moment, Option<String>> {
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

//! A typed cell of a workbook as text.

use calamine::{DataRef, ExcelDateTime};

/// The value of a cell as text, and whether it is an error instead of a value. `format` is the
/// number format of the cell where the file tells it, such as `yyyy-mm-dd hh:mm`.
pub(super) fn text(value: &DataRef<'_>, format: Option<&str>) -> (String, bool) {
    let text = match value {
        DataRef::Empty => String::new(),
        DataRef::String(text) => text.clone(),
        DataRef::SharedString(text) => (*text).to_owned(),
        DataRef::Int(number) => number.to_string(),
        DataRef::Float(value) if format.is_some_and(is_percent) => {
            format!("{}%", number(value * 100.0))
        }
        DataRef::Float(value) => number(*value),
        DataRef::Bool(true) => "yes".to_owned(),
        DataRef::Bool(false) => "no".to_owned(),
        DataRef::DateTime(moment) => date_time(*moment, format),
        DataRef::DateTimeIso(text) => iso_date_time(text),
        DataRef::DurationIso(text) => time_of_duration(text).unwrap_or_else(|| text.clone()),
        DataRef::Error(error) => return (error.to_string(), true),
    };
    (text, false)
}

/// The errors that a spreadsheet may write as text.
pub(super) fn is_error_text(text: &str) -> bool {
    const ERRORS: [&str; 7] = [
        "#N/A", "#DIV/0!", "#REF!", "#NAME?", "#NULL!", "#NUM!", "#VALUE!",
    ];
    ERRORS.contains(&text)
        || text
            .strip_prefix("Err:")
            .is_some_and(|code| code.len() == 3 && code.bytes().all(|byte| byte.is_ascii_digit()))
}

/// Whether a text is a day without a time, as [`text`] writes it.
pub(super) fn is_day(text: &str) -> bool {
    text.len() == 10 && text.bytes().filter(|byte| *byte == b'-').count() == 2
}

/// A number in its shortest form. Spreadsheets keep 15 digits; what arithmetic leaves behind
/// them, as in 0.1 + 0.2, is no part of the value.
fn number(value: f64) -> String {
    let whole = value.fract() == 0.0 && value.abs() < 9_007_199_254_740_992.0;
    if whole || !value.is_finite() {
        // Without the sign of a negative zero.
        return (value + 0.0).to_string();
    }
    let rounded = format!("{value:.14e}").parse().unwrap_or(value);
    let (short, full) = (f64::to_string(&rounded), value.to_string());
    if short.len() < full.len() {
        short
    } else {
        full
    }
}

/// The serial numbers that spreadsheets take for days, up to the year 9999.
const DAYS: std::ops::Range<f64> = 0.0..2_958_466.0;

fn date_time(moment: ExcelDateTime, format: Option<&str>) -> String {
    let serial = moment.as_f64();
    if !DAYS.contains(&serial) {
        return number(serial);
    }
    if moment.is_duration() {
        let seconds = (serial * 86_400.0).round() as u64;
        return clock(seconds / 3600, seconds / 60 % 60, seconds % 60, 0);
    }
    let (has_date, has_time) = format.map_or((false, false), parts);
    let (year, month, day, hour, minute, second, milli) = moment.to_ymd_hms_milli();
    let time = clock(hour.into(), minute.into(), second.into(), milli);
    let is_midnight = (hour, minute, second, milli) == (0, 0, 0, 0);
    if serial < 1.0 && !has_date {
        return time;
    }
    let date = format!("{year:04}-{month:02}-{day:02}");
    if is_midnight && !has_time {
        date
    } else {
        format!("{date} {time}")
    }
}

/// A moment that the file itself writes in ISO 8601, in the same form as the others.
fn iso_date_time(text: &str) -> String {
    match text.split_once('T') {
        Some((date, time)) if time.len() == 8 => {
            format!("{date} {}", time.strip_suffix(":00").unwrap_or(time))
        }
        _ => text.to_owned(),
    }
}

/// `09:30`, with seconds and thousandths where there are any.
fn clock(hour: u64, minute: u64, second: u64, milli: u16) -> String {
    match (second, milli) {
        (0, 0) => format!("{hour:02}:{minute:02}"),
        (_, 0) => format!("{hour:02}:{minute:02}:{second:02}"),
        _ => format!("{hour:02}:{minute:02}:{second:02}.{milli:03}"),
    }
}

/// Whether a format shows a date, and whether it shows a time.
fn parts(format: &str) -> (bool, bool) {
    let bare = bare(format);
    let has = |letter: char| bare.contains(letter);
    let (date, time) = (has('y') || has('d'), has('h') || has('s'));
    // A lone m is a month.
    (date || (has('m') && !time), time)
}

fn is_percent(format: &str) -> bool {
    bare(format).contains('%')
}

/// The first part of a format in lower case, without what it quotes and brackets.
fn bare(format: &str) -> String {
    let mut bare = String::new();
    let mut letters = format.chars();
    while let Some(letter) = letters.next() {
        match letter {
            ';' => break,
            '\\' | '_' | '*' => {
                letters.next();
            }
            '"' => letters
                .by_ref()
                .take_while(|letter| *letter != '"')
                .for_each(drop),
            '[' => letters
                .by_ref()
                .take_while(|letter| *letter != ']')
                .for_each(drop),
            other => bare.extend(other.to_lowercase()),
        }
    }
    bare
}

/// A time of day that is written as a duration, `PT09H30M00S`, as OpenDocument does.
fn time_of_duration(text: &str) -> Option<String> {
    let rest = text.strip_prefix("PT")?;
    let (hours, rest) = rest.split_once('H')?;
    let (minutes, rest) = rest.split_once('M')?;
    let seconds = rest.strip_suffix('S')?;
    let seconds: f64 = seconds.parse().ok()?;
    let milli = (seconds.fract() * 1000.0).round();
    if !(0.0..60.0).contains(&seconds) || milli >= 1000.0 {
        return None;
    }
    Some(clock(
        hours.parse().ok()?,
        minutes.parse().ok()?,
        seconds.trunc() as u64,
        milli as u16,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use calamine::{CellErrorType, ExcelDateTimeType};

    #[test]
    fn numbers_are_as_short_as_they_can_be() {
        for (value, expected) in [
            (0.0, "0"),
            (-0.0, "0"),
            (80.0, "80"),
            (61.5, "61.5"),
            (0.1 + 0.2, "0.3"),
            (1.0 / 3.0, "0.333333333333333"),
            (1_234_567_890_123_456.0, "1234567890123456"),
            (-2.5, "-2.5"),
            (1e-7, "0.0000001"),
        ] {
            assert_eq!(number(value), expected);
        }
        assert_eq!(text(&DataRef::Float(0.8), Some("0%")).0, "80%");
        assert_eq!(text(&DataRef::Float(0.075), Some("0.0\\ %")).0, "7.5%");
        assert_eq!(text(&DataRef::Float(0.8), Some("0.0\"%\"")).0, "0.8");
    }

    /// Serial numbers from ECMA-376 part 1, 18.17.4: day 1 is 1900-01-01, in the other system
    /// day 0 is 1904-01-01, a day is 1.
    #[test]
    fn dates_and_times_are_written_as_in_iso_8601() {
        let at = |serial, format, is_1904| {
            let moment = ExcelDateTime::new(serial, ExcelDateTimeType::DateTime, is_1904);
            text(&DataRef::DateTime(moment), format).0
        };
        assert_eq!(at(46085.0, Some("yyyy-mm-dd"), false), "2026-03-04");
        assert_eq!(
            at(46085.0, Some("dd.mm.yyyy hh:mm"), false),
            "2026-03-04 00:00"
        );
        assert_eq!(at(46_085.395_833_333_336, None, false), "2026-03-04 09:30");
        assert_eq!(
            at(46_085.395_833_333_336, Some("d/m/yy"), false),
            "2026-03-04 09:30"
        );
        assert_eq!(at(44_623.395_833_333_336, None, true), "2026-03-04 09:30");
        assert_eq!(at(0.395_833_333_333_333_3, Some("h:mm"), false), "09:30");
        assert_eq!(at(0.0, Some("[$-409]h:mm:ss AM/PM;@"), false), "00:00");
        assert_eq!(at(0.395_844_907_407_407_4, None, false), "09:30:01");
        assert_eq!(at(0.0, None, false), "00:00");
        assert_eq!(at(-3.0, Some("yyyy"), false), "-3");
        assert_eq!(at(1e9, Some("yyyy"), false), "1000000000");
        let long = ExcelDateTime::new(1.25, ExcelDateTimeType::TimeDelta, false);
        assert_eq!(text(&DataRef::DateTime(long), None).0, "30:00");
    }

    #[test]
    fn everything_else_is_said_in_words() {
        assert_eq!(text(&DataRef::Bool(true), None).0, "yes");
        assert_eq!(
            text(&DataRef::Error(CellErrorType::Div0), None),
            ("#DIV/0!".to_owned(), true)
        );
        assert_eq!(
            text(&DataRef::DurationIso("PT09H30M00S".to_owned()), None).0,
            "09:30"
        );
        assert_eq!(text(&DataRef::DurationIso("P1D".to_owned()), None).0, "P1D");
        let iso = |moment: &str| text(&DataRef::DateTimeIso(moment.to_owned()), None).0;
        assert_eq!(iso("2026-03-04T09:30:00"), "2026-03-04 09:30");
        assert_eq!(iso("2026-03-04T09:30:15"), "2026-03-04 09:30:15");
        assert_eq!(iso("2026-03-04"), "2026-03-04");
        assert_eq!(
            iso("2026-03-04T09:30:00+01:00"),
            "2026-03-04T09:30:00+01:00"
        );
        assert!(is_error_text("#N/A") && is_error_text("Err:502"));
        assert!(!is_error_text("N/A") && !is_error_text("Err:") && !is_error_text("#1"));
    }
}

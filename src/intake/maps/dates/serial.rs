//! Days as spreadsheets count them.

use chrono::{Datelike, NaiveDate, NaiveDateTime};

use super::{Epoch, Moment};

/// Days since the epoch with a fraction for the time of day. In the older count 1900 has a
/// 29 February that never was, so day 60 is refused and days before it are one later (ECMA-376
/// part 1, section 18.17.4).
pub(super) fn serial(text: &str, epoch: Epoch) -> Result<Moment, Option<String>> {
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

//! How the time since the last trustworthy sample stands to the agreed interval.

use std::cmp::Ordering;

use super::descending;
use crate::model::answer::exact;
use crate::model::{Point, Unit};

const SECONDS_OF_DAY: f64 = 86_400.0;
const HOURS_OF_DAY: f64 = 24.0;

/// A machine's pace is read off draws at least so far apart, in days.
const LEAST_DAYS: f64 = 7.0;

/// The time gone by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Since {
    /// Seconds since the last trustworthy draw, else since the first of all.
    pub seconds: i64,
    /// Whether there ever was a trustworthy one.
    pub ever: bool,
}

impl Since {
    /// In days of 24 hours.
    #[must_use]
    pub fn days(self) -> f64 {
        self.seconds as f64 / SECONDS_OF_DAY
    }
}

/// The time gone by against the interval. Where an interval is agreed in days and in running
/// hours, what is further gone counts: that which comes first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    /// The time gone by.
    pub since: Since,
    /// Running hours since then, if the counters tell.
    pub hours: Option<f64>,
    /// The agreed interval in days.
    pub interval_days: Option<f64>,
    /// The agreed interval in running hours.
    pub interval_h: Option<f64>,
}

impl Standing {
    /// By days alone; the interval is that of the point to draw at.
    #[must_use]
    pub fn by_days(since: Since, point: &Point) -> Self {
        Standing {
            since,
            hours: None,
            interval_days: point.interval_days,
            interval_h: point.interval_h,
        }
    }

    /// With the running hours.
    #[must_use]
    pub fn with_hours(self, hours: Option<f64>) -> Self {
        Standing { hours, ..self }
    }

    /// The interval that is further gone, with its unit and how often it has gone by.
    #[must_use]
    pub fn counted(&self) -> Option<(f64, Unit, f64)> {
        let by = |interval: Option<f64>, gone: Option<f64>, unit| {
            let interval = interval?;
            Some((interval, unit, gone? / interval))
        };
        let days = by(self.interval_days, Some(self.since.days()), Unit::Day);
        let hours = by(self.interval_h, self.hours, Unit::Hour);
        match (days, hours) {
            (Some(days), Some(hours)) if hours.2 > days.2 => Some(hours),
            (days, hours) => days.or(hours),
        }
    }

    /// The time gone by as a multiple of the interval; none without an interval.
    #[must_use]
    pub fn ratio(&self) -> Option<f64> {
        self.counted().map(|(_, _, ratio)| ratio)
    }

    /// In words, such as `59 days, 2.0 times the agreed interval of 30 d`.
    #[must_use]
    pub fn words(&self) -> String {
        let days = self.since.days().floor();
        let days = format!("{days} day{}", if days == 1.0 { "" } else { "s" });
        match self.counted() {
            None => format!("{days}; no interval to count against"),
            Some((interval, unit, ratio)) => format!(
                "{days}, {} times the agreed interval of {}{}",
                times(ratio),
                exact(interval),
                unit.suffix()
            ),
        }
    }

    /// The more urgent first: never a trustworthy one, then the greater ratio, none last.
    #[must_use]
    pub fn urgency(&self, other: &Self) -> Ordering {
        let never_first = self.since.ever.cmp(&other.since.ever);
        never_first.then_with(|| match (self.ratio(), other.ratio()) {
            (Some(own), Some(others)) => descending(own, others),
            (own, others) => others.is_some().cmp(&own.is_some()),
        })
    }
}

/// A ratio with one decimal, rounded down, so that none that is not over its interval reads
/// as if it were.
#[must_use]
pub fn times(ratio: f64) -> String {
    format!("{:.1}", (ratio * 10.0 + 1e-9).floor() / 10.0)
}

/// The machine's counter on three draws: when, in seconds since 1970 UTC, and hours.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Counters {
    /// On the draw that the time is counted from.
    pub from: Option<(i64, f64)>,
    /// On the latest draw of the series.
    pub latest: Option<(i64, f64)>,
    /// On the earliest draw in the year before the latest.
    pub year_ago: Option<(i64, f64)>,
}

impl Counters {
    /// Running hours since the draw that time is counted from: what the counter went on by
    /// until the latest draw, and after it the pace of the year before, if one is known. None
    /// where the counter is blank or ran backwards.
    #[must_use]
    pub fn hours_since(&self, now: i64) -> Option<f64> {
        let (_, begin) = self.from?;
        let (latest_at, latest) = self.latest?;
        let counted = latest - begin;
        if counted < 0.0 {
            return None;
        }
        let days = (now - latest_at) as f64 / SECONDS_OF_DAY;
        Some(counted + self.hours_a_day().unwrap_or(0.0) * days)
    }

    /// Running hours a day over the year before the latest draw; none if the draws are less
    /// than a week apart, the counter ran backwards, or went on faster than time does.
    fn hours_a_day(&self) -> Option<f64> {
        let (earlier_at, earlier) = self.year_ago?;
        let (latest_at, latest) = self.latest?;
        let days = (latest_at - earlier_at) as f64 / SECONDS_OF_DAY;
        let pace = (latest - earlier) / days;
        (days >= LEAST_DAYS && (0.0..=HOURS_OF_DAY).contains(&pace)).then_some(pace)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    const DAY: i64 = 86_400;

    fn standing(
        days: i64,
        interval_days: Option<f64>,
        hours: Option<f64>,
        h: Option<f64>,
    ) -> Standing {
        Standing {
            since: Since {
                seconds: days * DAY,
                ever: true,
            },
            hours,
            interval_days,
            interval_h: h,
        }
    }

    #[test]
    fn the_interval_that_comes_first_counts() {
        for (standing, wanted) in [
            (
                standing(30, Some(30.0), None, None),
                Some((30.0, Unit::Day, 1.0)),
            ),
            (
                standing(45, Some(30.0), None, Some(250.0)),
                Some((30.0, Unit::Day, 1.5)),
            ),
            (
                standing(45, Some(30.0), Some(500.0), Some(250.0)),
                Some((250.0, Unit::Hour, 2.0)),
            ),
            (
                standing(45, Some(30.0), Some(100.0), Some(250.0)),
                Some((30.0, Unit::Day, 1.5)),
            ),
            // As far gone in both: days are named.
            (
                standing(30, Some(30.0), Some(250.0), Some(250.0)),
                Some((30.0, Unit::Day, 1.0)),
            ),
            (
                standing(45, None, Some(125.0), Some(250.0)),
                Some((250.0, Unit::Hour, 0.5)),
            ),
            (standing(45, None, None, Some(250.0)), None),
            (standing(45, None, Some(100.0), None), None),
        ] {
            assert_eq!(standing.counted(), wanted, "{standing:?}");
        }
    }

    #[test]
    fn running_hours_are_counted_and_then_reckoned_by_the_pace() {
        let on = |day: i64, hours: f64| Some((day * DAY, hours));
        let counters = |from, latest, year_ago| Counters {
            from,
            latest,
            year_ago,
        };
        for (counters, hours) in [
            // 100 h counted, then ten days at 300 h in 30 days.
            (
                counters(on(50, 900.0), on(60, 1000.0), on(30, 700.0)),
                Some(200.0),
            ),
            // Less than a week apart, backwards, or faster than time: no pace.
            (
                counters(on(50, 900.0), on(60, 1000.0), on(54, 940.0)),
                Some(100.0),
            ),
            (
                counters(on(50, 900.0), on(60, 1000.0), on(30, 1001.0)),
                Some(100.0),
            ),
            (
                counters(on(50, 900.0), on(60, 1000.0), on(50, 700.0)),
                Some(100.0),
            ),
            // 24 h a day for ten days is as fast as time.
            (
                counters(on(50, 900.0), on(60, 1000.0), on(50, 760.0)),
                Some(340.0),
            ),
            (counters(on(50, 900.0), on(60, 1000.0), None), Some(100.0)),
            (
                counters(on(50, 1001.0), on(60, 1000.0), on(30, 700.0)),
                None,
            ),
            (counters(None, on(60, 1000.0), on(30, 700.0)), None),
            (counters(on(50, 900.0), None, on(30, 700.0)), None),
        ] {
            assert_eq!(counters.hours_since(70 * DAY), hours, "{counters:?}");
        }
    }

    #[test]
    fn never_goes_before_late_and_late_before_no_interval() {
        let late = standing(60, Some(30.0), None, None);
        let later = standing(61, Some(30.0), None, None);
        let open = standing(600, None, None, None);
        let mut never = standing(1, Some(30.0), None, None);
        never.since.ever = false;
        assert_eq!(never.urgency(&later), Ordering::Less);
        assert_eq!(later.urgency(&late), Ordering::Less);
        assert_eq!(late.urgency(&open), Ordering::Less);
        assert_eq!(open.urgency(&open), Ordering::Equal);
    }
}

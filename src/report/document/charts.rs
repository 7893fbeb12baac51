//! The charts of the report.

use super::chart::{Anchor, Chart, Fill, Ink, Mark, Shape, line, steps, text};
use crate::analysis::{Tally, Trend};
use crate::model::Verdict;
use crate::report::wording::{count, percent};

/// How wide charts are: the text of a page of A4.
pub const WIDTH: f64 = 496.0;

/// The verdicts as parts of one bar, with the words and counts below.
#[must_use]
pub fn verdicts(tally: &Tally) -> Chart {
    let parts = [
        (
            Verdict::Unrepresentative,
            tally.unrepresentative,
            Ink::Alert,
            Fill::Full,
        ),
        (Verdict::Doubtful, tally.doubtful, Ink::Alert, Fill::Rising),
        (
            Verdict::Representative,
            tally.representative,
            Ink::Accent,
            Fill::Full,
        ),
        (Verdict::Unproven, tally.unproven, Ink::Quiet, Fill::Crossed),
    ];
    let all = tally.draws.max(1) as f64;
    let mut shapes = Vec::new();
    let mut left = 0.0;
    for (_, number, ink, fill) in parts {
        let width = WIDTH * number as f64 / all;
        if width > 0.0 {
            shapes.push(Shape::Bar {
                x: left,
                y: 2.0,
                width,
                height: 22.0,
                ink,
                fill,
            });
        }
        left += width;
    }
    // Two by two: side by side, long counts would not fit.
    for (place, (verdict, number, ink, fill)) in parts.into_iter().enumerate() {
        let x = (place % 2) as f64 * WIDTH / 2.0;
        let y = 35.0 + (place / 2) as f64 * 16.0;
        shapes.push(Shape::Bar {
            x,
            y,
            width: 9.0,
            height: 9.0,
            ink,
            fill,
        });
        let said = format!(
            "{} {}, {}",
            count(number),
            verdict.as_str(),
            percent(number as f64 / all)
        );
        shapes.push(text((x + 13.0, y + 7.5), Anchor::Start, Ink::Plain, said));
    }
    let told = parts.map(|(verdict, number, ..)| format!("{} {}", count(number), verdict.as_str()));
    Chart {
        title: "What the records say of the draws".to_owned(),
        description: format!("{} of {} draws.", told.join(", "), count(tally.draws)),
        width: WIDTH,
        height: 64.0,
        shapes,
    }
}

/// The share period by period with its limits.
#[must_use]
pub fn trend(trend: &Trend) -> Option<Chart> {
    const LEFT: f64 = 34.0;
    const TOP: f64 = 10.0;
    const HEIGHT: f64 = 150.0;
    let chart = trend.chart?;
    let periods = &trend.periods;
    let right = WIDTH - 6.0;
    let highest = periods
        .iter()
        .flat_map(|period| {
            let limit = period
                .point
                .filter(|point| !point.is_small)
                .map(|point| point.high);
            [period.share.share, limit]
        })
        .flatten()
        .fold(chart.centre, f64::max);
    let (step, steps_up) = steps((highest * 1.05).min(1.0), 5.0);
    let top = step * steps_up as f64;
    let wide = (right - LEFT) / periods.len() as f64;
    let x = |place: usize| LEFT + wide * (place as f64 + 0.5);
    let y = |share: f64| TOP + HEIGHT * (1.0 - share.min(top) / top);
    let mut shapes = Vec::new();
    for (place, period) in periods.iter().enumerate() {
        if let Some(point) = period.point {
            let (from, to) = (x(place) - wide / 2.0, x(place) + wide / 2.0);
            let (low, high) = (y(point.low), y(point.high));
            shapes.push(Shape::Area {
                points: vec![(from, high), (to, high), (to, low), (from, low)],
                ink: Ink::Band,
            });
        }
    }
    for number in 0..=steps_up {
        let share = step * number as f64;
        shapes.push(line((LEFT, y(share)), (right, y(share)), Ink::Grid));
        let said = percent(share).replace(".0", "");
        shapes.push(text(
            (LEFT - 5.0, y(share) + 2.8),
            Anchor::End,
            Ink::Quiet,
            said,
        ));
    }
    for (place, period) in periods.iter().enumerate() {
        if let Some(point) = period.point {
            let (from, to) = (x(place) - wide / 2.0, x(place) + wide / 2.0);
            for limit in [point.low, point.high]
                .into_iter()
                .filter(|limit| *limit < top)
            {
                shapes.push(Shape::Line {
                    points: vec![(from, y(limit)), (to, y(limit))],
                    ink: Ink::Quiet,
                    width: 0.7,
                    dashed: false,
                });
            }
        }
    }
    shapes.push(Shape::Line {
        points: vec![(LEFT, y(chart.centre)), (right, y(chart.centre))],
        ink: Ink::Quiet,
        width: 0.9,
        dashed: true,
    });
    let seen = || {
        let shares = periods.iter().enumerate();
        shares.filter_map(|(place, period)| Some((place, period, period.share.share?)))
    };
    shapes.push(Shape::Line {
        points: seen()
            .map(|(place, _, share)| (x(place), y(share)))
            .collect(),
        ink: Ink::Accent,
        width: 1.1,
        dashed: false,
    });
    let mut signals = 0;
    for (place, period, share) in seen() {
        let point = period.point;
        let stands_out = point.is_some_and(|point| point.signal.is_some());
        let is_small = point.is_none_or(|point| point.is_small);
        signals += usize::from(stands_out);
        let (mark, radius, ink) = match (stands_out, is_small) {
            (true, _) => (Mark::Diamond, 4.2, Ink::Alert),
            (false, true) => (Mark::Ring, 2.2, Ink::Accent),
            (false, false) => (Mark::Dot, 2.2, Ink::Accent),
        };
        shapes.push(Shape::Mark {
            at: (x(place), y(share)),
            radius,
            mark,
            ink,
        });
    }
    let every = (34.0 / wide).ceil().max(1.0) as usize;
    for (place, period) in periods.iter().enumerate().step_by(every) {
        let at = (x(place), TOP + HEIGHT + 13.0);
        shapes.push(text(at, Anchor::Middle, Ink::Quiet, &period.key));
    }
    let foot = TOP + HEIGHT + 31.0;
    for (left, mark, ink, said) in [
        (LEFT, Mark::Dot, Ink::Accent, "share"),
        (LEFT + 60.0, Mark::Ring, Ink::Accent, "share of few draws"),
        (LEFT + 165.0, Mark::Diamond, Ink::Alert, "signal"),
    ] {
        let radius = if mark == Mark::Diamond { 4.2 } else { 2.2 };
        shapes.push(Shape::Mark {
            at: (left, foot - 3.0),
            radius,
            mark,
            ink,
        });
        shapes.push(text((left + 8.0, foot), Anchor::Start, Ink::Plain, said));
    }
    shapes.push(Shape::Bar {
        x: LEFT + 215.0,
        y: foot - 8.0,
        width: 16.0,
        height: 9.0,
        ink: Ink::Band,
        fill: Fill::Full,
    });
    shapes.push(text(
        (LEFT + 236.0, foot),
        Anchor::Start,
        Ink::Plain,
        "within the control limits",
    ));
    shapes.push(Shape::Line {
        points: vec![(LEFT + 345.0, foot - 3.0), (LEFT + 361.0, foot - 3.0)],
        ink: Ink::Quiet,
        width: 0.9,
        dashed: true,
    });
    shapes.push(text(
        (LEFT + 366.0, foot),
        Anchor::Start,
        Ink::Plain,
        "centre",
    ));
    Some(Chart {
        title: "Share of unrepresentative draws by month".to_owned(),
        description: format!(
            "Line chart of {} months around a centre of {}; {signals} of them signal a change. \
             The table of the trend in the pack holds the numbers.",
            periods.len(),
            percent(chart.centre)
        ),
        width: WIDTH,
        height: foot + 6.0,
        shapes,
    })
}

/// One row of a chart of intervals.
pub struct Row {
    /// Whose it is.
    pub label: String,
    /// Lower end, value, upper end.
    pub interval: [f64; 3],
    /// What is said of it, to the right.
    pub said: String,
    /// How it stands out.
    pub stands_out: StandsOut,
}

/// How an interval stands to the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StandsOut {
    /// It does not stand out.
    No,
    /// It lies above.
    Above,
    /// It lies below.
    Below,
}

/// How intervals are laid out.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Scale {
    /// Shares from 0.
    Share,
    /// Odds against an average of 1, on a logarithmic scale.
    Odds,
}

/// Intervals below each other, with a line where they are looked at from.
#[must_use]
pub fn intervals(title: &str, about: &str, rows: &[Row], scale: Scale, from: f64) -> Chart {
    const LABEL: f64 = 118.0;
    const SAID: f64 = 138.0;
    const ROW: f64 = 14.5;
    const TOP: f64 = 18.0;
    let (left, right) = (LABEL, WIDTH - SAID);
    let most = rows.iter().map(|row| row.interval[2]).fold(from, f64::max);
    let least = rows.iter().map(|row| row.interval[0]).fold(from, f64::min);
    let marks = match scale {
        Scale::Share => {
            let (step, count) = steps((most * 1.02).min(1.0), 4.0);
            (0..=count).map(|number| step * number as f64).collect()
        }
        Scale::Odds => around_one(least, most),
    };
    let (first, last) = (marks[0], marks[marks.len() - 1]);
    let x = |value: f64| {
        let part = match scale {
            Scale::Share => (value - first) / (last - first),
            Scale::Odds => (value / first).ln() / (last / first).ln(),
        };
        left + (right - left) * part.clamp(0.0, 1.0)
    };
    let foot = TOP + ROW * rows.len() as f64 + 2.0;
    let mut shapes = Vec::new();
    for mark in &marks {
        shapes.push(line((x(*mark), TOP - 3.0), (x(*mark), foot), Ink::Grid));
        let said = match scale {
            Scale::Share => percent(*mark).replace(".0", ""),
            Scale::Odds if *mark < 1.0 => format!("1/{}", (1.0 / mark).round()),
            Scale::Odds => format!("{mark}"),
        };
        shapes.push(text(
            (x(*mark), TOP - 6.5),
            Anchor::Middle,
            Ink::Quiet,
            said,
        ));
    }
    shapes.push(Shape::Line {
        points: vec![(x(from), TOP - 3.0), (x(from), foot)],
        ink: Ink::Plain,
        width: 0.9,
        dashed: true,
    });
    for (place, row) in rows.iter().enumerate() {
        let y = TOP + ROW * (place as f64 + 0.5);
        let [low, value, high] = row.interval;
        let stands_out = row.stands_out != StandsOut::No;
        let ink = match row.stands_out {
            StandsOut::Above => Ink::Alert,
            StandsOut::No | StandsOut::Below => Ink::Accent,
        };
        shapes.push(Shape::Text {
            at: (LABEL - 10.0, y + 2.8),
            size: 8.0,
            anchor: Anchor::End,
            ink: Ink::Plain,
            bold: stands_out,
            text: shortened(&row.label, 24),
        });
        shapes.push(Shape::Line {
            points: vec![(x(low), y), (x(high), y)],
            ink,
            width: if stands_out { 2.6 } else { 1.6 },
            dashed: false,
        });
        // An interval that runs off the scale has no end there.
        for end in [low, high]
            .into_iter()
            .filter(|end| (first..=last).contains(end))
        {
            shapes.push(line((x(end), y - 2.5), (x(end), y + 2.5), ink));
        }
        let (mark, radius) = match stands_out {
            true => (Mark::Diamond, 4.2),
            false => (Mark::Dot, 2.6),
        };
        shapes.push(Shape::Mark {
            at: (x(value), y),
            radius,
            mark,
            ink,
        });
        let said = shortened(&row.said, 34);
        shapes.push(text(
            (right + 10.0, y + 2.8),
            Anchor::Start,
            Ink::Quiet,
            said,
        ));
    }
    let listed: Vec<String> = (rows.iter())
        .map(|row| format!("{}: {}", row.label, row.said))
        .collect();
    Chart {
        title: title.to_owned(),
        description: format!("{about} {}.", listed.join("; ")),
        width: WIDTH,
        height: foot + 4.0,
        shapes,
    }
}

/// Round values on both sides of 1.
fn around_one(least: f64, most: f64) -> Vec<f64> {
    const ROUND: [f64; 6] = [2.0, 4.0, 8.0, 16.0, 32.0, 64.0];
    let reach = |times: f64| {
        let steps = ROUND.iter().position(|step| *step >= times);
        &ROUND[..=steps.unwrap_or(ROUND.len() - 1)]
    };
    let below = reach(1.0 / least.max(1e-9)).iter().rev().map(|it| 1.0 / it);
    below
        .chain([1.0])
        .chain(reach(most).iter().copied())
        .collect()
}

/// Bars of amounts with words to the right.
#[must_use]
pub fn bars(title: &str, about: &str, rows: &[(String, f64, String)]) -> Chart {
    const LABEL: f64 = 118.0;
    const SAID: f64 = 150.0;
    const ROW: f64 = 15.0;
    let most = rows.iter().map(|row| row.1).fold(0.0, f64::max).max(1e-9);
    let mut shapes = Vec::new();
    for (place, (label, amount, said)) in rows.iter().enumerate() {
        let y = 2.0 + ROW * place as f64;
        let width = (WIDTH - LABEL - SAID) * amount / most;
        let label = shortened(label, 24);
        shapes.push(text((LABEL - 8.0, y + 8.2), Anchor::End, Ink::Plain, label));
        shapes.push(Shape::Bar {
            x: LABEL,
            y,
            width: width.max(0.5),
            height: 10.5,
            ink: Ink::Accent,
            fill: Fill::Full,
        });
        let at = (LABEL + width + 7.0, y + 8.2);
        shapes.push(text(at, Anchor::Start, Ink::Quiet, said));
    }
    let listed: Vec<String> = rows
        .iter()
        .map(|row| format!("{}: {}", row.0, row.2))
        .collect();
    Chart {
        title: title.to_owned(),
        description: format!("{about} {}.", listed.join("; ")),
        width: WIDTH,
        height: 4.0 + ROW * rows.len() as f64,
        shapes,
    }
}

/// A text of at most so many characters.
fn shortened(text: &str, most: usize) -> String {
    match text.char_indices().nth(most) {
        None => text.to_owned(),
        Some(_) => text.chars().take(most - 1).chain(['…']).collect(),
    }
}

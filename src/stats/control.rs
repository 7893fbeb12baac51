//! Control charts of a share over time: the p chart and Laney's p-prime.
//!
//! p chart: the centre is the pooled share p̄, each point has its own
//! σᵢ = √(p̄(1 − p̄)/nᵢ) and limits p̄ ± 3 σᵢ clipped to 0..=1 (D. C. Montgomery,
//! Introduction to Statistical Quality Control, 6th ed. 2009, 7.2).
//!
//! p-prime: limits p̄ ± 3 σᵢ σ_z, where σ_z is the mean moving range of
//! zᵢ = (pᵢ − p̄)/σᵢ over d2 = 1.128, the constant of Laney's paper rounded as there
//! (exactly 2/√π), and large moving ranges are kept (D. B. Laney, Quality Engineering 14
//! (2002) 531–537). For shares that vary more than chance from one period to the next;
//! it also swallows a real event. Below σ_z = 1 use the plain chart.
//!
//! Two signals: a point strictly outside its clipped limits, and eight points in a row
//! on one side of the centre (Western Electric, Statistical Quality Control Handbook
//! (1956); common practice). With nᵢ p̄ below 5 the limits mean little: use longer periods.

use super::chi_square;

/// Laney's constant for a moving range of two.
pub const D2: f64 = 1.128;

/// How many points in a row on one side make a signal.
pub const RUN: usize = 8;

/// What one period counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Period {
    /// Trials with the event; at most `trials`.
    pub events: u64,
    /// All trials; a period without any has no point.
    pub trials: u64,
}

/// A side of the centre line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Over the centre.
    Above,
    /// Under the centre.
    Below,
}

/// One point of a chart with its own limits; all shares 0..=1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Events by trials.
    pub share: f64,
    /// The standard deviation by chance alone.
    pub sigma: f64,
    /// Distance from the centre in `sigma`; 0 if the centre is 0 or 1.
    pub z: f64,
    /// Lower limit, clipped.
    pub low: f64,
    /// Upper limit, clipped.
    pub high: f64,
    /// The limit the point lies strictly beyond.
    pub outside: Option<Side>,
    /// The side of the run, if this point is the eighth or later of one.
    pub run: Option<Side>,
}

/// A control chart.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// The centre line.
    pub centre: f64,
    /// What the limits were widened by: 1 on a p chart, Laney's σ_z on a p-prime chart.
    pub widened: f64,
    /// One for each period; `None` where there were no trials.
    pub points: Vec<Option<Point>>,
}

/// Whether the periods vary more than chance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dispersion {
    /// Sum of z².
    pub chi2: f64,
    /// Periods with trials, less one.
    pub df: u64,
    /// Upper tail of the chi-square distribution.
    pub p: f64,
}

/// The p chart around the pooled share, or around a `centre` fixed beforehand; `None`
/// without trials.
#[must_use]
pub fn p_chart(periods: &[Period], centre: Option<f64>) -> Option<Chart> {
    chart(periods, centre, 1.0)
}

/// Laney's p-prime chart; `None` if fewer than two periods have trials.
#[must_use]
pub fn p_prime_chart(periods: &[Period], centre: Option<f64>) -> Option<Chart> {
    let plain = p_chart(periods, centre)?;
    let z: Vec<f64> = plain.points.iter().flatten().map(|point| point.z).collect();
    if z.len() < 2 {
        return None;
    }
    let moved: f64 = z.windows(2).map(|pair| (pair[1] - pair[0]).abs()).sum();
    let mean_range = moved / (z.len() - 1) as f64;
    chart(periods, centre, mean_range / D2)
}

/// The test that the periods vary no more than chance around the chart's centre; `None`
/// with fewer than two points or a centre of 0 or 1, where nothing can vary.
#[must_use]
pub fn dispersion(chart: &Chart) -> Option<Dispersion> {
    if chart.centre <= 0.0 || chart.centre >= 1.0 {
        return None;
    }
    let df = (chart.points.iter().flatten().count() as u64).checked_sub(1)?;
    let chi2 = chart
        .points
        .iter()
        .flatten()
        .map(|point| point.z * point.z)
        .sum();
    Some(Dispersion {
        chi2,
        df,
        p: chi_square::at_least(chi2, df)?,
    })
}

fn chart(periods: &[Period], centre: Option<f64>, widened: f64) -> Option<Chart> {
    let trials: u64 = periods.iter().map(|period| period.trials).sum();
    let events: u64 = periods.iter().map(|period| period.events).sum();
    if trials == 0 {
        return None;
    }
    let centre = centre.unwrap_or(events as f64 / trials as f64);
    let mut points: Vec<Option<Point>> = periods
        .iter()
        .map(|period| point(*period, centre, widened))
        .collect();
    mark_runs(&mut points, centre);
    Some(Chart {
        centre,
        widened,
        points,
    })
}

fn point(period: Period, centre: f64, widened: f64) -> Option<Point> {
    if period.trials == 0 {
        return None;
    }
    let n = period.trials as f64;
    let share = period.events as f64 / n;
    let sigma = (centre * (1.0 - centre) / n).sqrt();
    let low = (centre - 3.0 * sigma * widened).max(0.0);
    let high = (centre + 3.0 * sigma * widened).min(1.0);
    let outside = if share > high {
        Some(Side::Above)
    } else if share < low {
        Some(Side::Below)
    } else {
        None
    };
    Some(Point {
        share,
        sigma,
        z: if sigma > 0.0 {
            (share - centre) / sigma
        } else {
            0.0
        },
        low,
        high,
        outside,
        run: None,
    })
}

/// A point on the centre line ends a run; a period without trials does not.
fn mark_runs(points: &mut [Option<Point>], centre: f64) {
    let mut current = None;
    let mut length = 0;
    for point in points.iter_mut().flatten() {
        let side = if point.share > centre {
            Some(Side::Above)
        } else if point.share < centre {
            Some(Side::Below)
        } else {
            None
        };
        length = if side.is_some() && side == current {
            length + 1
        } else {
            1
        };
        current = side;
        point.run = side.filter(|_| length >= RUN);
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn periods(events: &[u64], trials: u64) -> Vec<Period> {
        let period = |&events| Period { events, trials };
        events.iter().map(period).collect()
    }

    #[test]
    fn eight_in_a_row_signal_from_the_eighth_on() {
        let mut counts = vec![30; 9];
        counts.extend([29, 10, 10, 10, 10, 10, 10, 10]);
        let chart = p_chart(&periods(&counts, 100), Some(0.2)).unwrap();
        let runs: Vec<usize> = (0..counts.len())
            .filter(|&i| chart.points[i].unwrap().run.is_some())
            .collect();
        assert_eq!(runs, [7, 8, 9]);
        assert_eq!(chart.points[7].unwrap().run, Some(Side::Above));
    }

    #[test]
    fn the_centre_line_ends_a_run_and_an_empty_period_does_not() {
        let mut counts = vec![30; 7];
        counts.push(20);
        counts.extend([30; 7]);
        let chart = p_chart(&periods(&counts, 100), Some(0.2)).unwrap();
        assert!(
            chart
                .points
                .iter()
                .flatten()
                .all(|point| point.run.is_none())
        );

        let mut gap = periods(&[30; 7], 100);
        gap.push(Period {
            events: 0,
            trials: 0,
        });
        gap.extend(periods(&[30], 100));
        let chart = p_chart(&gap, Some(0.2)).unwrap();
        assert_eq!(chart.points[7], None);
        assert_eq!(chart.points[8].unwrap().run, Some(Side::Above));
    }

    #[test]
    fn a_point_on_its_limit_is_no_signal() {
        // centre 1/2 and 100 trials: sigma is exactly 0.05
        let chart = p_chart(&periods(&[65, 66, 35, 34], 100), Some(0.5)).unwrap();
        let outside: Vec<_> = chart.points.iter().map(|p| p.unwrap().outside).collect();
        assert_eq!(outside, [None, Some(Side::Above), None, Some(Side::Below)]);
    }

    #[test]
    fn nothing_and_constants_are_quiet() {
        assert_eq!(p_chart(&[], None), None);
        assert_eq!(p_chart(&periods(&[0], 0), None), None);
        let none = p_chart(&periods(&[0, 0, 0], 10), None).unwrap();
        assert!(none.points.iter().flatten().all(|p| p.outside.is_none()));
        assert_eq!(dispersion(&none), None);
        assert_eq!(p_prime_chart(&periods(&[3], 10), None), None);
    }
}

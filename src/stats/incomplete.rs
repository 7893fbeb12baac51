//! How far the share could lie either way when some trials show no outcome.
//!
//! Least: every missing one without the event; most: every one with it. The outer
//! interval takes the lower end of the interval at the least and the upper end at the
//! most, so it covers both the gap and chance (and is wider than it need be: G. W.
//! Imbens, C. F. Manski, Econometrica 72 (2004) 1845–1857, shorten it).
//!
//! Source: C. F. Manski, Journal of Human Resources 24 (1989) 343–360; J. L. Horowitz,
//! C. F. Manski, Journal of the American Statistical Association 95 (2000) 77–84.

use super::{exact, wilson};

/// Bounds on a share with missing outcomes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// The share if no missing one had the event.
    pub least: f64,
    /// The share if every missing one had it.
    pub most: f64,
    /// The share among those with an outcome; `None` if there are none. Right only if
    /// the missing ones are like the others, which they seldom are.
    pub complete: Option<f64>,
    /// Wilson's interval at 95 %, its lower end at the least, its upper end at the most.
    pub wilson: (f64, f64),
    /// The same with the exact interval.
    pub exact: (f64, f64),
}

/// The bounds for `events` with, `others` without and `missing` of unknown outcome;
/// `None` if there is nothing at all.
#[must_use]
pub fn bounds(events: u64, others: u64, missing: u64) -> Option<Bounds> {
    let known = events + others;
    let all = known + missing;
    let ends = |interval: fn(u64, u64) -> Option<(f64, f64)>| {
        Some((interval(events, all)?.0, interval(events + missing, all)?.1))
    };
    Some(Bounds {
        wilson: ends(|x, n| wilson::interval(x, n, wilson::Z_95))?,
        exact: ends(|x, n| exact::interval(x, n, 0.95))?,
        least: events as f64 / all as f64,
        most: (events + missing) as f64 / all as f64,
        complete: (known > 0).then(|| events as f64 / known as f64),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_at_all_has_no_bounds() {
        assert_eq!(bounds(0, 0, 0), None);
    }
}

//! The columns of `fairdraw trend`.

use super::rows::{column, count, number, part, spare, table_only, yes_no};
use super::{Cell, Column};
use crate::analysis::trend::{Period, Point};

/// `fairdraw trend`: one row a period.
pub const TREND: &[Column] = &[
    column(
        "period",
        "period",
        "`2026-W10` (ISO 8601 week), `2026-03`, `2026-Q1` or `2026`, in the programme's zone; periods without draws are listed too",
    ),
    count("draws", "draws", "all draws of the period"),
    spare(count("judged", "judged", "draws less the unproven ones"), 7),
    spare(
        count(
            "unrepresentative",
            "unrepresentative",
            "draws with this verdict",
        ),
        8,
    ),
    spare(count("unproven", "", "draws with this verdict"), 7),
    part(
        "share",
        "share",
        "unrepresentative / judged; blank if nothing is judged",
    ),
    spare(
        part(
            "share_low",
            "from",
            "lower end of the 95 % Wilson interval of the share",
        ),
        6,
    ),
    spare(
        part(
            "share_high",
            "to",
            "upper end of the 95 % Wilson interval of the share",
        ),
        5,
    ),
    spare(
        part(
            "limit_low",
            "limits from",
            "lower control limit of the chart in use",
        ),
        2,
    ),
    spare(
        part(
            "limit_high",
            "to",
            "upper control limit of the chart in use",
        ),
        2,
    ),
    part(
        "plain_limit_low",
        "",
        "lower limit of the plain p chart; the same where the limits are not widened",
    ),
    part("plain_limit_high", "", "upper limit of the plain p chart"),
    part(
        "centre",
        "",
        "the share over all periods together, the centre line",
    ),
    number(
        "widened",
        "",
        "what the limits were widened by: 1 on a p chart, above 1 on a p-prime chart (Laney)",
    ),
    column(
        "signal",
        "",
        "`above the limit`, `below the limit`, `eight or more in a row above the centre`, `eight or more in a row below the centre`; blank if there is none",
    ),
    yes_no(
        "few",
        "",
        "whether fewer than 5 unrepresentative draws were expected, so that the limits mean little",
    ),
    table_only("what it shows"),
];

/// A row of [`TREND`]; `chart` holds centre and widening.
#[must_use]
pub fn trend<'a>(period: &'a Period, chart: Option<(f64, f64)>) -> Vec<Cell<'a>> {
    let point = period.point;
    let part = |of: fn(&Point) -> f64| Cell::part(point.as_ref().map(of));
    let signal = point.and_then(|point| point.signal);
    let is_small = point.is_some_and(|point| point.is_small);
    let shows = match (signal, is_small) {
        (Some(signal), true) => format!("{} (few draws)", signal.as_str()),
        (Some(signal), false) => signal.as_str().to_owned(),
        (None, true) => "few draws".to_owned(),
        (None, false) => String::new(),
    };
    vec![
        Cell::text(&period.key),
        Cell::Count(period.tally.draws),
        Cell::Count(period.tally.judged()),
        Cell::Count(period.tally.unrepresentative),
        Cell::Count(period.tally.unproven),
        Cell::part(period.share.share),
        Cell::part(period.share.low),
        Cell::part(period.share.high),
        part(|point| point.low),
        part(|point| point.high),
        part(|point| point.plain_low),
        part(|point| point.plain_high),
        Cell::part(chart.map(|(centre, _)| centre)),
        chart.map_or(Cell::Blank, |(_, widened)| Cell::Quantity(widened)),
        signal.map_or(Cell::Blank, |signal| Cell::text(signal.as_str())),
        Cell::YesNo(is_small),
        Cell::text(shows),
    ]
}

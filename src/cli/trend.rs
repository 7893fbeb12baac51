//! `fairdraw trend`: the share period by period, with control limits and signals.

use std::path::Path;

use super::args::{Format, TrendArgs};
use super::ask::{Asked, ask};
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use crate::analysis::trend;
use crate::analysis::trend::Period;
use crate::report::trend_rows;

/// Runs the command.
pub fn run(file: &Path, args: &TrendArgs, output: &mut Output) -> Result<Finish, Failure> {
    let Asked {
        assessed,
        selection,
        ..
    } = ask(file, &args.reading)?;
    let found = trend(&assessed, &selection, args.every);
    let chart = found.chart.map(|chart| (chart.centre, chart.widened));
    let rows = found
        .periods
        .iter()
        .map(|period| trend_rows::trend(period, chart));
    let format = args.reading.format.format;
    output.report(format.into(), trend_rows::TREND, rows)?;
    if matches!(format, Format::Table)
        && let Some(chart) = found.chart
    {
        output.flush()?;
        remark(&chart.words());
        let is_small = |period: &Period| period.point.is_some_and(|point| point.is_small);
        if found.periods.iter().any(is_small) {
            remark(
                "few draws: fewer than 5 unrepresentative ones expected, so the limits mean \
                 little; take longer periods with --every",
            );
        }
    }
    Ok(Finish::Done)
}

//! `fairdraw resample`: compartments whose latest sample can't be trusted.

use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use clap::{Args, ValueEnum};

use super::args::{Format, Reading};
use super::ask::{Asked, ask};
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use crate::analysis::resample::by_site;
use crate::analysis::{Assessed, all_point_facts, nearest};
use crate::model::time::{Tz, day_start, local_text};
use crate::programme::resamples::{SheetsError, ToResample};
use crate::report::resample_rows::{self, Row};

const LEGEND: &str = "\
intervals: time since the last trusted sample (of one that never had any, since the first draw) as \
a multiple of the agreed interval; rules broken last time say what to do differently: `fairdraw \
rules show RULE`, or print sheets with --sheets DIR";

#[derive(Args)]
pub struct ResampleArgs {
    /// Count them instead of listing them
    #[arg(long, value_name = "KEY", conflicts_with = "sheets")]
    pub by: Option<By>,
    /// Take a doubtful sample as one that can't be trusted, too
    #[arg(long)]
    pub strict: bool,
    /// Count time up to the end of this day, as 2026-03-04, and leave later draws out
    #[arg(long, value_name = "DAY")]
    pub on: Option<String>,
    /// Write a sheet to print for each site into this folder
    #[arg(long, value_name = "DIR")]
    pub sheets: Option<PathBuf>,
    /// Sheets for these sites only, with commas between them
    #[arg(
        long = "for",
        value_name = "SITE",
        value_delimiter = ',',
        requires = "sheets"
    )]
    pub sites: Vec<String>,
    #[command(flatten)]
    pub reading: Reading,
}

/// What compartments are counted by.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum By {
    /// By site
    Site,
}

/// Runs the command.
pub fn run(file: &Path, args: &ResampleArgs, output: &mut Output) -> Result<Finish, Failure> {
    let day = args.on.as_deref().map(|text| {
        read_day(text).ok_or_else(|| {
            Failure::WrongUse(format!("--on: {text:?} is no day; write it as 2026-03-04"))
        })
    });
    let day = day.transpose()?;
    let Asked {
        programme,
        assessed,
        filter,
        selection,
        watch,
    } = ask(file, &args.reading)?;
    let now = match day {
        None => programme.now(),
        Some(day) => end_of_day(day, assessed.zone)
            .ok_or_else(|| Failure::WrongUse("--on: there is no such day".to_owned()))?,
    };
    let mut found = watch.over(true, |progress| {
        programme.resamples(&assessed, &selection, now, args.strict, progress)
    })?;
    let format = args.reading.format.format;
    if let Some(folder) = &args.sheets {
        only(&assessed, &mut found, &args.sites)?;
        let written = watch.over(true, |progress| {
            let filter = filter.to_string();
            match programme.write_resample_sheets(folder, &assessed, &found, &filter, progress) {
                Err(SheetsError::Programme(error)) => Err(error),
                other => Ok(other),
            }
        })?;
        let written = written.map_err(|error| Failure::CouldNot(error.to_string()))?;
        if written.is_empty() {
            remark("there is nothing to sample again, so no sheet was written");
        }
        let rows = written.iter().map(|sheet| {
            let file = sheet.file.display().to_string();
            resample_rows::sheet(sheet.site.as_deref(), sheet.compartments, file)
        });
        output.report(format.into(), resample_rows::SHEETS, rows)?;
        return Ok(Finish::Done);
    }
    if args.by == Some(By::Site) {
        let groups = by_site(&assessed, &found.found.list);
        let rows = groups.iter().map(resample_rows::site);
        output.report(format.into(), resample_rows::BY_SITE, rows)?;
        return Ok(Finish::Done);
    }
    let facts = all_point_facts(&assessed);
    let rows = found.found.list.iter().map(|resample| {
        let row = Row {
            assessed: &assessed,
            found: resample,
            latest: found.latest(resample),
            trusted: (resample.last_trusted)
                .and_then(|row| found.identities.get(&row))
                .map(String::as_str),
            set_aside: (found.set_aside.get(&resample.row))
                .map(|set| (set.decided.who.as_str(), set.decided.because.as_str())),
            facts: &facts[resample.point],
        };
        row.cells()
    });
    output.report(format.into(), resample_rows::RESAMPLES, rows)?;
    if matches!(format, Format::Table) {
        output.flush()?;
        remark(&told(&assessed, &found));
        if !found.found.list.is_empty() {
            remark(LEGEND);
        }
    }
    Ok(Finish::Done)
}

/// Reads a day as 2026-03-04 and nothing looser.
fn read_day(text: &str) -> Option<NaiveDate> {
    let day = NaiveDate::parse_from_str(text, "%Y-%m-%d").ok()?;
    (day.format("%Y-%m-%d").to_string() == text).then_some(day)
}

/// The last instant of a day in a zone, in seconds since 1970 UTC.
fn end_of_day(day: NaiveDate, zone: Tz) -> Option<i64> {
    // Some zones left a day out when they moved across the date line.
    let mut next = day.iter_days().skip(1).take(3);
    next.find_map(|day| day_start(day, zone))
        .map(|start| start - 1)
}

/// What is said under the table.
fn told(assessed: &Assessed, found: &ToResample) -> String {
    let (list, all) = (found.found.list.len(), found.found.series);
    let mut text = format!(
        "{list} of {all} compartments with draws, as of {} ({})",
        local_text(found.now, assessed.zone),
        assessed.zone
    );
    if found.found.later > 0 {
        text.push_str(&format!(
            "; {} draw{} dated later left out",
            found.found.later,
            if found.found.later == 1 { "" } else { "s" }
        ));
    }
    text
}

/// Leaves the compartments of these sites, if any are named.
fn only(assessed: &Assessed, found: &mut ToResample, sites: &[String]) -> Result<(), Failure> {
    let known = || {
        assessed
            .points
            .iter()
            .filter_map(|point| point.site.as_deref())
    };
    for site in sites {
        if !known().any(|other| other == site) {
            let meant = nearest(site, known())
                .map_or_else(String::new, |other| format!("; did you mean {other}?"));
            return Err(Failure::WrongUse(format!(
                "--for: there is no site {site}{meant}"
            )));
        }
    }
    if !sites.is_empty() {
        found.found.list.retain(|resample| {
            let site = assessed.points[resample.point].site.as_ref();
            site.is_some_and(|site| sites.contains(site))
        });
    }
    Ok(())
}

//! The tables of a pack, each as CSV and as JSON with a schema.

use std::io::Write;

use super::folder::Staging;
use super::{Content, PackError, WORKBOOK, hidden, write_schema};
use crate::analysis::attribution::Side;
use crate::programme::Error;
use crate::report::pack::{self, Sheet};
use crate::report::xlsx::{self, Book, XlsxError};
use crate::report::{
    Cell, Format, Look, Place, Writer, attribution, schema, score_rows, share_rows, topic_rows,
    trail_rows, training_rows, trend_rows, writer,
};

/// Name, title and rows of each table, for `pack.json`.
type Listed = Vec<(&'static str, &'static str, u64)>;

/// Up to so many draws, JSON says of each what every rule saw and wanted, some 3 kB a draw.
pub const MOST_EXPLAINED: usize = 100_000;

/// The rows of a table.
pub(super) type Rows<'a> = Vec<Vec<Cell<'a>>>;

/// Takes a table.
pub(super) type Put<'p> = &'p mut dyn FnMut(Sheet, Rows<'_>) -> Result<(), Error>;

impl Content<'_> {
    /// Writes every table and lists them.
    pub(super) fn write_tables(
        &self,
        staging: &mut Staging,
        book: &mut Book,
    ) -> Result<Listed, Error> {
        let mut listed = Vec::new();
        let mut put = |sheet: Sheet, mut rows: Rows<'_>| -> Result<(), Error> {
            self.go_on()?;
            if let Some(codes) = self.codes {
                for row in &mut rows {
                    hidden::hide(codes, sheet, row);
                }
            }
            write(staging, sheet, &rows)?;
            book.add(sheet, &rows).map_err(in_workbook)?;
            listed.push((sheet.name, sheet.title, rows.len() as u64));
            Ok(())
        };
        self.decided(&mut put)?;
        self.shares(&mut put)?;
        self.told_apart(&mut put)?;
        self.topics(&mut put)?;
        put(
            pack::RULES,
            pack::rows::rules_in_force(&self.assessed.rulebook),
        )?;
        let zone = self.assessed.zone;
        let links = self.trail.iter().map(|link| trail_rows::trail(link, zone));
        put(pack::TRAIL, links.collect())?;
        self.draws(staging, book)?;
        listed.push((
            pack::DRAWS.name,
            pack::DRAWS.title,
            self.selection.len() as u64,
        ));
        Ok(listed)
    }

    fn shares(&self, put: Put<'_>) -> Result<(), Error> {
        put(
            pack::SHARE,
            vec![share_rows::share("all", &self.analysed.tally)],
        )?;
        for ((_, sheet), groups) in pack::SHARES_BY.iter().zip(&self.analysed.by) {
            let rows = groups
                .iter()
                .map(|group| share_rows::share(&group.key, &group.tally));
            put(*sheet, rows.collect())?;
        }
        let trend = &self.analysed.trend;
        let chart = trend.chart.map(|chart| (chart.centre, chart.widened));
        let periods = trend.periods.iter();
        put(
            pack::TREND,
            periods
                .map(|period| trend_rows::trend(period, chart))
                .collect(),
        )
    }

    fn told_apart(&self, put: Put<'_>) -> Result<(), Error> {
        // Where nothing can be told apart the tables are empty; the report says why.
        let found = self.analysed.told_apart.as_ref().ok();
        for (sheet, side) in [
            (pack::PEOPLE, Side::Technicians),
            (pack::POINTS, Side::Points),
        ] {
            let units = found.map_or(&[][..], |found| &found.part(side).units);
            let row = |unit| attribution::row(self.assessed, side, unit);
            put(sheet, units.iter().map(row).collect())?;
        }
        let model = found.map(|found| attribution::model(self.assessed, found));
        put(pack::MODEL, model.into_iter().collect())
    }

    fn topics(&self, put: Put<'_>) -> Result<(), Error> {
        let (assessed, analysed) = (self.assessed, self.analysed);
        for (sheet, found) in [
            (pack::TOPICS, &analysed.topics),
            (pack::TOPICS_OF_CREWS, &analysed.crew_topics),
        ] {
            let rows = found.iter().flat_map(|of| {
                let ranked = (1..).zip(&of.topics);
                ranked.map(|(rank, topic)| topic_rows::topic(of, rank, topic))
            });
            put(sheet, rows.collect())?;
        }
        let costs = analysed.costs.iter();
        put(pack::RULE_COSTS, costs.map(topic_rows::rule_cost).collect())?;
        let rows = analysed
            .asks
            .iter()
            .map(|ask| topic_rows::ask(assessed, ask));
        put(pack::ASKS, rows.collect())?;
        let row = |trained| training_rows::trained(assessed, trained, false);
        put(
            pack::TRAININGS,
            analysed.trainings.iter().map(row).collect(),
        )
    }

    /// The draws, a piece at a time.
    fn draws(&self, staging: &mut Staging, book: &mut Book) -> Result<(), Error> {
        let sheet = pack::DRAWS;
        let count = Some(self.selection.len() as u64);
        let fits = self.selection.len() <= xlsx::MOST_DRAWS;
        let mut long = match fits {
            true => Some(book.begin(sheet).map_err(in_workbook)?),
            false => None,
        };
        let (mut csv_out, mut json_out) = (
            staging.create(&csv_path(sheet))?,
            staging.create(&json_path(sheet))?,
        );
        {
            let mut csv = writer(Format::Csv, sheet.columns, Look::file(), &mut csv_out)?;
            let mut json = writer(Format::Json, sheet.columns, Look::file(), &mut json_out)?;
            let (programme, assessed) = (self.programme, self.assessed);
            let mut write = |row: &[Cell<'_>]| {
                csv.row(row)?;
                json.row(row)?;
                match &mut long {
                    Some(long) => book.row(long, row).map_err(std::io::Error::other),
                    None => Ok(()),
                }
            };
            if self.selection.len() <= MOST_EXPLAINED {
                programme.explain_each(
                    assessed,
                    self.selection,
                    self.progress,
                    &mut |explained| {
                        explained.iter().try_for_each(|(named, all)| {
                            write(&score_rows::score(
                                Format::Json,
                                assessed,
                                *named,
                                Some(all),
                            ))
                        })
                    },
                )?;
            } else {
                programme.name_each(assessed, self.selection, self.progress, &mut |named| {
                    (named.iter()).try_for_each(|named| {
                        write(&score_rows::score(Format::Json, assessed, *named, None))
                    })
                })?;
            }
            csv.finish()?;
            json.finish()?;
        }
        if let Some(long) = long {
            book.finish(long).map_err(in_workbook)?;
        }
        staging.finish(csv_out, count)?;
        staging.finish(json_out, count)?;
        describe(staging, sheet)?;
        Ok(())
    }
}

/// An error of the library that writes workbooks.
pub(super) fn in_workbook(error: XlsxError) -> PackError {
    PackError::unwritten(WORKBOOK, std::io::Error::other(error))
}

fn csv_path(sheet: Sheet) -> String {
    format!("tables/{}.csv", sheet.name)
}

fn json_path(sheet: Sheet) -> String {
    format!("tables/{}.json", sheet.name)
}

/// A small table in both forms. One that only JSON can hold has no CSV.
fn write(staging: &mut Staging, sheet: Sheet, rows: &[Vec<Cell<'_>>]) -> Result<(), PackError> {
    let has_csv = (sheet.columns.iter()).any(|column| column.place == Place::Everywhere);
    let csv = has_csv.then_some((Format::Csv, csv_path(sheet)));
    let json = Some((Format::Json, json_path(sheet)));
    for (format, path) in [csv, json].into_iter().flatten() {
        let mut out = staging.create(&path)?;
        let written = write_rows(format, sheet, rows, &mut out);
        written.map_err(|source| PackError::unwritten(&path, source))?;
        staging.finish(out, Some(rows.len() as u64))?;
    }
    describe(staging, sheet)
}

fn write_rows(
    format: Format,
    sheet: Sheet,
    rows: &[Vec<Cell<'_>>],
    out: &mut dyn Write,
) -> std::io::Result<()> {
    let mut writer: Box<dyn Writer + '_> = writer(format, sheet.columns, Look::file(), out)?;
    for row in rows {
        for (column, cell) in sheet.columns.iter().zip(row) {
            let fits = column.place == Place::TableOnly || cell.fits(column.holds);
            debug_assert!(fits, "{} of {} holds {cell:?}", column.name, sheet.name);
        }
        writer.row(row)?;
    }
    writer.finish()
}

fn describe(staging: &mut Staging, sheet: Sheet) -> Result<(), PackError> {
    let schema = schema::of_rows(sheet.title, sheet.about, sheet.columns);
    write_schema(staging, sheet.name, schema)
}

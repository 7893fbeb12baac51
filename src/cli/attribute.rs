//! `fairdraw attribute`: people and points told apart.

use std::cmp::Reverse;
use std::path::Path;

use clap::builder::{PossibleValuesParser, TypedValueParser};
use clap::{Args, ValueEnum};

use super::args::{Format, Reading};
use super::ask::{Asked, ask};
use super::exit::{Failure, Finish};
use super::output::{Output, remark};
use crate::analysis::attribution::{Caution, Part, Side, Unit};
use crate::analysis::{Adjust, Assessed, Attribution, attribute};
use crate::model::progress::Stage;
use crate::report::{attribution, plain};

const LEGEND: &str = "\
seen: unrepresentative draws; expected: of an average one at the same points (with the same \
technicians); odds: of an unrepresentative draw against an average one, with its 95 % interval \
(from, to); q: p allowing for all those compared. It is no ranking of people: an interval that \
holds 1 shows no difference, and few draws show none either way";

#[derive(Args)]
pub struct AttributeArgs {
    /// Adjust for these too, several joined with commas
    ///
    /// Adjusted for crew, people are compared within their crew. An area goes with its site.
    /// A level none or all of whose draws are unrepresentative is reported and left out.
    #[arg(
        long,
        value_name = "KEY,…",
        value_delimiter = ',',
        value_parser = PossibleValuesParser::new(Adjust::ALL.map(Adjust::as_str)).map(|word| {
            Adjust::parse(&word).expect("only words of adjustments are offered")
        })
    )]
    pub adjust: Vec<Adjust>,
    /// Order of technicians and of points
    #[arg(long, value_name = "ORDER", default_value = "difference")]
    pub sort: Order,
    #[command(flatten)]
    pub reading: Reading,
}

/// The order of technicians and of points.
#[derive(Clone, Copy, ValueEnum)]
pub enum Order {
    /// Most seen beyond expected first
    Difference,
    /// By id
    Id,
    /// Most draws first
    Draws,
}

/// Runs the command.
pub fn run(file: &Path, args: &AttributeArgs, output: &mut Output) -> Result<Finish, Failure> {
    let Asked {
        assessed,
        selection,
        watch,
        ..
    } = ask(file, &args.reading)?;
    let fitted = watch.over(true, |progress| {
        progress.begin(Stage::Fitting, 0);
        attribute(&assessed, &selection, &args.adjust, &mut || {
            !progress.is_stopped()
        })
    });
    let found = fitted.map_err(|reason| Failure::CouldNot(reason.to_string()))?;
    let units = Side::BOTH.map(|side| sorted(&assessed, side, found.part(side), args.sort));
    match args.reading.format.format {
        Format::Table => table(&assessed, &found, &units, output)?,
        Format::Csv => {
            let rows = Side::BOTH
                .into_iter()
                .zip(&units)
                .flat_map(|(side, units)| {
                    let row = |unit| attribution::row(&assessed, side, unit);
                    units.iter().map(row).collect::<Vec<_>>()
                });
            output.report(Format::Csv.into(), attribution::TECHNICIANS, rows)?;
        }
        Format::Json => {
            let mut json = Vec::new();
            let units = [&units[0][..], &units[1][..]];
            attribution::write_json(&assessed, &found, units, &mut json)?;
            output.bytes(&json)?;
        }
    }
    Ok(Finish::Done)
}

fn table(
    assessed: &Assessed,
    found: &Attribution,
    units: &[Vec<Unit>; 2],
    output: &mut Output,
) -> Result<(), Failure> {
    let words = plain::page(&attribution::in_words(assessed, found), output.width());
    output.text(&words)?;
    for (side, units) in Side::BOTH.into_iter().zip(units) {
        output.bytes(b"\n")?;
        let rows = units
            .iter()
            .map(|unit| attribution::row(assessed, side, unit));
        output.report(Format::Table.into(), attribution::columns(side), rows)?;
    }
    output.flush()?;
    remark(LEGEND);
    for caution in &found.cautions {
        if let Caution::NotAdjusted { adjust, .. } = caution {
            remark(&format!("to adjust for {adjust}: --adjust {adjust}"));
        }
    }
    Ok(())
}

/// The units in an order; equal ones keep that of their ids.
fn sorted(assessed: &Assessed, side: Side, part: &Part, order: Order) -> Vec<Unit> {
    let id = |unit: &Unit| match side {
        Side::Technicians => &assessed.technicians[unit.place as usize].id,
        Side::Points => &assessed.points[unit.place as usize].id,
    };
    let mut units = part.units.clone();
    units.sort_by(|a, b| id(a).cmp(id(b)));
    match order {
        Order::Id => {}
        Order::Draws => units.sort_by_key(|unit| Reverse(unit.draws)),
        Order::Difference => units.sort_by(|a, b| b.excess().total_cmp(&a.excess())),
    }
    units
}

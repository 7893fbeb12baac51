//! People and points told apart: rows of both and the whole as JSON; `model` has the columns of
//! the model itself, `words` says what it says in sentences.

mod model;
mod words;

use std::borrow::Cow;
use std::io::{self, Write};

use super::rows::{column, count, number, part, spare, yes_no};
use super::{Cell, Column, Place, json};
use crate::analysis::Assessed;
use crate::analysis::attribution::{Attribution, Side, Unit};

pub use model::{MODEL, model};
pub use words::in_words;

/// `fairdraw attribute`: one row a technician.
pub const TECHNICIANS: &[Column] = &[
    Column {
        place: Place::Everywhere,
        ..column(
            "factor",
            "",
            "CSV: `technician` or `point`; JSON has a list of each instead",
        )
    },
    column("id", "technician", "the technician or the point"),
    count("draws", "draws", "judged draws in the model"),
    count(
        "unrepresentative",
        "seen",
        "unrepresentative ones among them",
    ),
    part("share", "", "unrepresentative / draws"),
    number(
        "expected",
        "expected",
        "unrepresentative draws expected if this were an average technician serving the same points (an average point served by the same technicians), all else alike",
    ),
    spare(
        number("difference", "diff.", "unrepresentative less expected"),
        1,
    ),
    number(
        "effect",
        "",
        "effect on the log-odds scale (conditional mode: shrunk towards 0 as far as draws are few)",
    ),
    number("effect_se", "", "its conditional standard deviation"),
    number(
        "odds_ratio",
        "odds",
        "odds of an unrepresentative draw against an average one",
    ),
    number(
        "low",
        "from",
        "lower end of the 95 % interval of the odds ratio",
    ),
    number(
        "high",
        "to",
        "upper end of the 95 % interval of the odds ratio",
    ),
    number(
        "p",
        "",
        "twice the probability, given the data, that the effect lies on the other side of 0",
    ),
    spare(
        number(
            "q",
            "q",
            "p adjusted for comparing all of them (Benjamini and Hochberg)",
        ),
        2,
    ),
    part(
        "shared",
        "",
        "part of the draws at points that others serve too (of a point: by technicians who serve others too); only those can tell person and point apart",
    ),
    count(
        "part",
        "",
        "the part of the programme it is in, from 1; parts never meet and can't be compared",
    ),
    yes_no(
        "few",
        "",
        "yes with fewer than 20 judged draws: too few for more than an interval",
    ),
    Column {
        place: Place::TableOnly,
        ..column("", "note", "")
    },
];

/// The same, one row a point.
pub const POINTS: &[Column] = &{
    let mut columns = [column("", "", ""); TECHNICIANS.len()];
    let mut place = 0;
    while place < TECHNICIANS.len() {
        columns[place] = TECHNICIANS[place];
        place += 1;
    }
    columns[1].title = "point";
    columns
};

/// The columns of one side.
#[must_use]
pub const fn columns(side: Side) -> &'static [Column] {
    match side {
        Side::Technicians => TECHNICIANS,
        Side::Points => POINTS,
    }
}

/// A row of [`TECHNICIANS`] or [`POINTS`].
#[must_use]
pub fn row<'a>(assessed: &'a Assessed, side: Side, unit: &Unit) -> Vec<Cell<'a>> {
    vec![
        Cell::text(side.noun()),
        Cell::text(id(assessed, side, unit.place)),
        Cell::Count(unit.draws),
        Cell::Count(unit.unrepresentative),
        Cell::Part(unit.share()),
        Cell::Rounded(unit.expected, 1),
        Cell::Rounded(unit.excess(), 1),
        Cell::Quantity(unit.effect),
        Cell::Quantity(unit.effect_se),
        Cell::Rounded(unit.odds_ratio, 2),
        Cell::Rounded(unit.low, 2),
        Cell::Rounded(unit.high, 2),
        Cell::Quantity(unit.p),
        Cell::Rounded(unit.q, 3),
        Cell::Part(unit.shared as f64 / unit.draws as f64),
        Cell::Count(unit.island as u64 + 1),
        Cell::YesNo(unit.is_few()),
        Cell::text(note(unit)),
    ]
}

fn id(assessed: &Assessed, side: Side, place: u32) -> &str {
    match side {
        Side::Technicians => &assessed.technicians[place as usize].id,
        Side::Points => &assessed.points[place as usize].id,
    }
}

/// What keeps a row from being read like the others.
fn note(unit: &Unit) -> Cow<'static, str> {
    let few = if unit.is_few() { "few draws" } else { "" };
    let apart = match unit.island {
        0 if unit.shared == 0 => Cow::Borrowed("alone"),
        0 => Cow::Borrowed(""),
        island => Cow::Owned(format!("part {}", island + 1)),
    };
    match (few, &*apart) {
        ("", _) => apart,
        (few, "") => few.into(),
        (few, apart) => format!("{few}, {apart}").into(),
    }
}

/// Writes `{"model": {…}, "technicians": […], "points": […]}`, the units in the order given.
///
/// # Errors
/// What the output returns.
pub fn write_json(
    assessed: &Assessed,
    attribution: &Attribution,
    units: [&[Unit]; 2],
    out: &mut dyn Write,
) -> io::Result<()> {
    out.write_all(b"{\"model\": ")?;
    json::row(MODEL, &model(assessed, attribution), out)?;
    for (side, units) in Side::BOTH.into_iter().zip(units) {
        write!(out, ",\n\"{side}\": [")?;
        for (place, unit) in units.iter().enumerate() {
            out.write_all(if place == 0 { b"\n" } else { b",\n" })?;
            // The list they stand in says the factor.
            json::row(&columns(side)[1..], &row(assessed, side, unit)[1..], out)?;
        }
        out.write_all(b"\n]")?;
    }
    out.write_all(b"}\n")
}

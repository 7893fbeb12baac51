//! People and points told apart: rows of both, and the model as JSON and in words.

use std::borrow::Cow;
use std::fmt::Write as _;
use std::io::{self, Write};

use super::rows::{column, count, items, number, object, part, spare, yes_no};
use super::table::percent;
use super::{Cell, Column, Place, json};
use crate::analysis::Assessed;
use crate::analysis::attribution::{
    Adjust, Adjusted, Attribution, Island, LeftOut, Part, Side, Unit,
};

const fn json_only(column: Column) -> Column {
    Column {
        place: Place::JsonOnly,
        ..column
    }
}

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

/// `model` of `fairdraw attribute --format json`.
pub const MODEL: &[Column] = &[
    json_only(count("draws", "", "judged draws in the model")),
    json_only(count(
        "technicians",
        "",
        "technicians with draws in the model",
    )),
    json_only(count("points", "", "points with draws in the model")),
    json_only(number(
        "intercept",
        "",
        "log odds of an unrepresentative draw for an average technician at an average point, at the reference levels",
    )),
    json_only(number("intercept_se", "", "its standard error")),
    json_only(number(
        "sd_technician",
        "",
        "standard deviation of technicians on the log-odds scale; 0 if they differ by no more than chance and the rest explain",
    )),
    json_only(number("sd_point", "", "the same of points")),
    json_only(number(
        "deviance",
        "",
        "-2 times the log-likelihood by Laplace's approximation, of draws one by one",
    )),
    json_only(number(
        "median_odds_ratio_technician",
        "",
        "of two technicians picked at random, how much higher the odds of the worse are, typically",
    )),
    json_only(number("median_odds_ratio_point", "", "the same of points")),
    json_only(yes_no(
        "converged",
        "",
        "always true: a model that did not settle is an error, never numbers",
    )),
    json_only(count(
        "unrepresentative",
        "",
        "unrepresentative draws among `draws`",
    )),
    json_only(count(
        "unproven",
        "",
        "unproven draws of the selection, which take no part",
    )),
    json_only(number(
        "sd_technician_se",
        "",
        "standard error of `sd_technician`; `null` at 0",
    )),
    json_only(number(
        "sd_point_se",
        "",
        "standard error of `sd_point`; `null` at 0",
    )),
    json_only(number(
        "p_technician",
        "",
        "p of no difference between technicians",
    )),
    json_only(number("p_point", "", "p of no difference between points")),
    json_only(part(
        "variance_technician",
        "",
        "share of the variance of the log odds that goes with people",
    )),
    json_only(part("variance_point", "", "share that goes with points")),
    json_only(part("variance_neither", "", "share that goes with neither")),
    json_only(object(
        "reference",
        "",
        "an object of what was adjusted for, each with its reference level (`null` if all draws share one level)",
    )),
    json_only(items(
        "adjusted",
        "",
        "the levels adjusted for: `by`, `level`, `draws`, `unrepresentative`, `effect` against the reference on the log-odds scale, `effect_se`, `odds_ratio`, `low`, `high`",
    )),
    json_only(items(
        "left_out",
        "",
        "levels, or combinations of levels, without a finite effect, none or all of whose draws are unrepresentative: `by`, `level`, `draws`, `unrepresentative`, and the exact 95 % interval of the share, `low` and `high`; their draws take no part",
    )),
    json_only(items(
        "follows",
        "",
        "levels without an effect of their own, since they follow from what else is adjusted for: `by`, `level`",
    )),
    json_only(items(
        "parts",
        "",
        "parts of the programme that never meet, the largest first, if there are several: `draws`, `technicians`, `points`",
    )),
    json_only(items(
        "cautions",
        "",
        "what to know before believing the numbers, in sentences",
    )),
    json_only(column("reading", "", "what the numbers say, in sentences")),
];

/// The row of [`MODEL`].
#[must_use]
pub fn model<'a>(assessed: &'a Assessed, attribution: &'a Attribution) -> Vec<Cell<'a>> {
    let Attribution {
        technicians,
        points,
        ..
    } = attribution;
    let count = |part: &Part| Cell::Count(part.units.len() as u64);
    let or_blank = |value: Option<f64>| value.map_or(Cell::Blank, Cell::Quantity);
    let references = attribution.references.iter().map(|(adjust, level)| {
        let level = level.as_deref().map_or(Cell::Blank, Cell::text);
        (adjust.as_str(), level)
    });
    let parts = match &attribution.islands[..] {
        [_] => &[][..],
        several => several,
    };
    let cautions = attribution.cautions.iter();
    vec![
        Cell::Count(attribution.draws),
        count(technicians),
        count(points),
        Cell::Quantity(attribution.intercept.value),
        Cell::Quantity(attribution.intercept.se),
        Cell::Quantity(technicians.sigma),
        Cell::Quantity(points.sigma),
        Cell::Quantity(attribution.deviance),
        Cell::Quantity(technicians.median_odds_ratio),
        Cell::Quantity(points.median_odds_ratio),
        Cell::YesNo(true),
        Cell::Count(attribution.unrepresentative),
        Cell::Count(attribution.unproven),
        or_blank(technicians.sigma_se),
        or_blank(points.sigma_se),
        Cell::Quantity(technicians.p),
        Cell::Quantity(points.p),
        Cell::Part(technicians.variance_share),
        Cell::Part(points.variance_share),
        Cell::Part(attribution.neither()),
        Cell::Fields(references.collect()),
        Cell::Items(attribution.adjusted.iter().map(adjusted).collect()),
        Cell::Items(attribution.left_out.iter().map(left_out).collect()),
        Cell::Items(attribution.follows.iter().map(follows).collect()),
        Cell::Items(
            parts
                .iter()
                .map(|island| part_of(assessed, island))
                .collect(),
        ),
        Cell::Items(
            cautions
                .map(|caution| Cell::text(caution.to_string()))
                .collect(),
        ),
        Cell::text(attribution.reading()),
    ]
}

fn adjusted(level: &Adjusted) -> Cell<'_> {
    let (odds_ratio, low, high) = level.odds_ratio();
    Cell::Fields(vec![
        ("by", Cell::text(level.adjust.as_str())),
        ("level", Cell::text(&level.level)),
        ("draws", Cell::Count(level.draws)),
        ("unrepresentative", Cell::Count(level.unrepresentative)),
        ("effect", Cell::Quantity(level.effect.value)),
        ("effect_se", Cell::Quantity(level.effect.se)),
        ("odds_ratio", Cell::Quantity(odds_ratio)),
        ("low", Cell::Quantity(low)),
        ("high", Cell::Quantity(high)),
    ])
}

fn left_out(level: &LeftOut) -> Cell<'_> {
    Cell::Fields(vec![
        ("by", Cell::text(level.adjust.as_str())),
        ("level", Cell::text(&level.level)),
        ("draws", Cell::Count(level.draws)),
        ("unrepresentative", Cell::Count(level.unrepresentative)),
        ("low", Cell::Part(level.low)),
        ("high", Cell::Part(level.high)),
    ])
}

fn follows((adjust, level): &(Adjust, String)) -> Cell<'_> {
    Cell::Fields(vec![
        ("by", Cell::text(adjust.as_str())),
        ("level", Cell::text(level)),
    ])
}

fn part_of<'a>(assessed: &'a Assessed, island: &Island) -> Cell<'a> {
    let ids = |side: Side, places: &[u32]| {
        let texts = places
            .iter()
            .map(|place| Cell::text(id(assessed, side, *place)));
        Cell::Items(texts.collect())
    };
    Cell::Fields(vec![
        ("draws", Cell::Count(island.draws)),
        ("technicians", ids(Side::Technicians, &island.technicians)),
        ("points", ids(Side::Points, &island.points)),
    ])
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

/// The model in words, a paragraph a line: what it was fitted to, what it says, what to
/// know before believing it.
#[must_use]
pub fn in_words(assessed: &Assessed, attribution: &Attribution) -> String {
    let Attribution {
        technicians,
        points,
        ..
    } = attribution;
    let mut text = format!(
        "{} judged draws by {} technicians at {} {}, {} of them unrepresentative ({}); {} \
         unproven left out.\n\n{}\n\n",
        attribution.draws,
        technicians.units.len(),
        points.units.len(),
        if points.units.len() == 1 {
            "point"
        } else {
            "points"
        },
        attribution.unrepresentative,
        percent(attribution.share()),
        attribution.unproven,
        attribution.reading()
    );
    for (name, part) in [("People", technicians), ("Points", points)] {
        // Writing to a text cannot fail.
        let _ = writeln!(text, "{name}: {}.", spread(part));
    }
    adjusted_in_words(&mut text, attribution);
    for island in attribution.islands.iter().skip(1) {
        let _ = writeln!(text, "Apart from the rest: {}.", apart(assessed, island));
    }
    if !attribution.cautions.is_empty() {
        text.push('\n');
    }
    for caution in &attribution.cautions {
        let _ = writeln!(text, "Caution: {caution}");
    }
    text
}

fn spread(part: &Part) -> String {
    let p = if part.p < 0.001 {
        "p below 0.001".to_owned()
    } else {
        format!("p {:.3}", part.p)
    };
    match part.sigma_se {
        None => "standard deviation 0; they differ by no more than chance and the rest explain, \
                 so every odds ratio is 1"
            .to_owned(),
        Some(se) => format!(
            "standard deviation {:.2} (standard error {se:.2}) in log odds, {p}",
            part.sigma
        ),
    }
}

/// Levels adjusted for that are told in words.
const MOST_LEVELS: usize = 12;

fn adjusted_in_words(text: &mut String, attribution: &Attribution) {
    for (adjust, reference) in &attribution.references {
        let levels = attribution.adjusted.iter();
        let mut levels: Vec<String> = levels
            .filter(|level| level.adjust == *adjust)
            .map(|level| {
                let (ratio, low, high) = level.odds_ratio();
                format!("{} {ratio:.2} ({low:.2} to {high:.2})", level.level)
            })
            .collect();
        if levels.len() > MOST_LEVELS {
            let more = levels.split_off(MOST_LEVELS).len();
            levels.push(format!("and {more} more, which JSON lists"));
        }
        let _ = match reference {
            None => writeln!(
                text,
                "Adjusted for {adjust}: all draws in the model are alike in it."
            ),
            Some(reference) => writeln!(
                text,
                "Adjusted for {adjust}, odds against {reference}: {}.",
                levels.join(", ")
            ),
        };
    }
    for level in &attribution.left_out {
        let _ = writeln!(
            text,
            "Left out: {} {}, {} of {} unrepresentative (exact 95 % interval {} to {}).",
            level.adjust,
            level.level,
            level.unrepresentative,
            level.draws,
            percent(level.low),
            percent(level.high)
        );
    }
    for (adjust, level) in &attribution.follows {
        let _ = writeln!(
            text,
            "No effect of its own: {adjust} {level} follows from what else is adjusted for."
        );
    }
}

/// Names of an island, the first few of many.
fn apart(assessed: &Assessed, island: &Island) -> String {
    const SHOWN: usize = 8;
    let names = |side: Side, places: &[u32]| {
        let shown = places.iter().take(SHOWN);
        let mut names: Vec<String> = shown
            .map(|place| id(assessed, side, *place).to_owned())
            .collect();
        if places.len() > SHOWN {
            names.push(format!("{} more", places.len() - SHOWN));
        }
        format!("{side} {}", names.join(", "))
    };
    format!(
        "{} with {}",
        names(Side::Technicians, &island.technicians),
        names(Side::Points, &island.points)
    )
}

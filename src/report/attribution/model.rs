//! The model behind the rows of people and points: its columns, which only JSON has.

use super::id;
use crate::analysis::Assessed;
use crate::analysis::attribution::{Adjust, Adjusted, Attribution, Island, LeftOut, Part, Side};
use crate::report::rows::{column, count, items, number, object, part, yes_no};
use crate::report::{Cell, Column, Place};

const fn json_only(column: Column) -> Column {
    Column {
        place: Place::JsonOnly,
        ..column
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

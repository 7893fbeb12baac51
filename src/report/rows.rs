//! How columns of reports are said, once for tables, CSV and JSON; the columns of small reports
//! and how a row of each is made; and the list of all reports.

use super::{Cell, Column, Holds, Place, attribution};
use crate::rules::Card;

pub(super) const fn column(
    name: &'static str,
    title: &'static str,
    meaning: &'static str,
) -> Column {
    Column {
        name,
        title,
        meaning,
        holds: Holds::Words,
        place: Place::Everywhere,
        spare: 0,
    }
}

/// A column of values of another sort than words.
const fn holding(
    holds: Holds,
    name: &'static str,
    title: &'static str,
    meaning: &'static str,
) -> Column {
    Column {
        holds,
        ..column(name, title, meaning)
    }
}

pub(super) const fn count(
    name: &'static str,
    title: &'static str,
    meaning: &'static str,
) -> Column {
    holding(Holds::Count, name, title, meaning)
}

pub(super) const fn number(
    name: &'static str,
    title: &'static str,
    meaning: &'static str,
) -> Column {
    holding(Holds::Number, name, title, meaning)
}

pub(super) const fn part(name: &'static str, title: &'static str, meaning: &'static str) -> Column {
    holding(Holds::Part, name, title, meaning)
}

pub(super) const fn yes_no(
    name: &'static str,
    title: &'static str,
    meaning: &'static str,
) -> Column {
    holding(Holds::YesNo, name, title, meaning)
}

pub(super) const fn time(name: &'static str, title: &'static str, meaning: &'static str) -> Column {
    holding(Holds::Time, name, title, meaning)
}

pub(super) const fn day(name: &'static str, title: &'static str, meaning: &'static str) -> Column {
    holding(Holds::Day, name, title, meaning)
}

pub(super) const fn ids(name: &'static str, title: &'static str, meaning: &'static str) -> Column {
    holding(Holds::Ids, name, title, meaning)
}

pub(super) const fn object(
    name: &'static str,
    title: &'static str,
    meaning: &'static str,
) -> Column {
    holding(Holds::Object, name, title, meaning)
}

pub(super) const fn items(
    name: &'static str,
    title: &'static str,
    meaning: &'static str,
) -> Column {
    holding(Holds::Items, name, title, meaning)
}

pub(super) const fn verdict(
    name: &'static str,
    title: &'static str,
    meaning: &'static str,
) -> Column {
    holding(Holds::Verdict, name, title, meaning)
}

pub(super) const fn spare(column: Column, spare: u8) -> Column {
    Column { spare, ..column }
}

pub(super) const fn table_only(title: &'static str) -> Column {
    Column {
        place: Place::TableOnly,
        ..column("", title, "")
    }
}

/// `fairdraw rules list`: one row a rule.
pub const RULES: &[Column] = &[
    column("id", "rule", "the rule's id"),
    column("class", "class", "`sample`, `record` or `conduct`"),
    count("weight", "weight", "weight in the default rulebook"),
    yes_no(
        "decisive",
        "decisive",
        "whether a breach alone makes the draw unrepresentative, in the default rulebook",
    ),
    spare(
        column(
            "owner",
            "answers to",
            "who can put it right: `technician`, `plant`, `planner`, `dispatch` or `desk`",
        ),
        1,
    ),
    ids("kinds", "", "the kinds of point it applies to"),
    column("asks", "asks", "what it asks, in one sentence"),
];

/// A row of [`RULES`].
#[must_use]
pub fn rule(card: &Card) -> Vec<Cell<'static>> {
    vec![
        Cell::text(card.id),
        Cell::text(card.class.as_str()),
        Cell::Count(card.weight.into()),
        Cell::YesNo(card.decisive),
        Cell::text(card.owner.as_str()),
        Cell::List(card.kinds.iter().map(|kind| kind.as_str()).collect()),
        Cell::text(card.asks),
    ]
}

/// `fairdraw import`: one row a sheet.
pub const IMPORT: &[Column] = &[
    column("sheet", "sheet", "the file as it was named"),
    spare(
        column(
            "kind",
            "kind",
            "`points`, `technicians`, `trainings` or `draws`",
        ),
        1,
    ),
    count("taken", "taken", "rows new to the programme"),
    count(
        "unchanged",
        "unchanged",
        "rows equal to what the programme held",
    ),
    count("changed", "changed", "rows that superseded an older state"),
    count("refused_rows", "refused", "rows refused whole"),
    count(
        "refused_values",
        "values refused",
        "values refused alone; the row was taken with a blank in their place",
    ),
];

/// A row of [`IMPORT`]; `counts` are taken, unchanged, changed, refused rows and refused
/// values.
#[must_use]
pub fn import<'a>(sheet: &'a str, kind: &'static str, counts: [u64; 5]) -> Vec<Cell<'a>> {
    let mut cells = vec![Cell::text(sheet), Cell::text(kind)];
    cells.extend(counts.map(Cell::Count));
    cells
}

/// `fairdraw calc`: one row a quantity.
pub const CALC: &[Column] = &[
    column("quantity", "quantity", "what was worked out"),
    number("value", "value", "its value, in full precision"),
    column("unit", "unit", "its unit; blank for a bare number"),
];

/// A row of [`CALC`].
#[must_use]
pub fn quantity(name: &'static str, value: f64, unit: &'static str) -> Vec<Cell<'static>> {
    vec![Cell::text(name), Cell::Quantity(value), Cell::text(unit)]
}

/// `fairdraw check`: one row a fault.
pub const CHECK: &[Column] = &[column(
    "fault",
    "fault",
    "what is wrong with the programme file",
)];

/// A report with the columns it has, for the documentation.
pub const REPORTS: &[(&str, &[Column])] = &[
    ("fairdraw score", super::score_rows::SCORE),
    ("fairdraw share", super::share_rows::SHARE),
    ("fairdraw attribute", attribution::TECHNICIANS),
    ("fairdraw attribute, `model`", attribution::MODEL),
    ("fairdraw trend", super::trend_rows::TREND),
    (
        "fairdraw topics --by technician",
        super::topic_rows::TOPICS_OF_TECHNICIANS,
    ),
    (
        "fairdraw topics --by crew",
        super::topic_rows::TOPICS_OF_CREWS,
    ),
    ("fairdraw topics --by rule", super::topic_rows::RULE_COSTS),
    ("fairdraw topics --by owner", super::topic_rows::ASKS),
    ("fairdraw topics --plans", super::topic_rows::PLANS),
    ("fairdraw trainings", super::training_rows::TRAININGS),
    ("fairdraw resample", super::resample_rows::RESAMPLES),
    ("fairdraw resample --by site", super::resample_rows::BY_SITE),
    ("fairdraw resample --sheets", super::resample_rows::SHEETS),
    ("fairdraw set-aside --list", super::resample_rows::SET_ASIDE),
    ("fairdraw coverage", super::coverage_rows::COVERAGE),
    ("fairdraw coverage --by", super::coverage_rows::COVERAGE_BY),
    ("fairdraw doubts", super::doubt_rows::DOUBTS),
    ("fairdraw doubts --by signal", super::doubt_rows::BY_SIGNAL),
    (
        "fairdraw doubts --by technician",
        super::doubt_rows::BY_TECHNICIAN,
    ),
    ("fairdraw doubts --by site", super::doubt_rows::BY_SITE),
    ("fairdraw import", IMPORT),
    ("fairdraw rules list", RULES),
    ("fairdraw maps show", super::map_rows::MAP_COLUMNS),
    ("fairdraw calc", CALC),
    ("fairdraw pick list", super::pick_rows::PICKS),
    ("fairdraw pick show", super::pick_rows::DRAWS),
    ("fairdraw pick show, `outcome`", super::pick_rows::OUTCOME),
    ("fairdraw pick show, `parts`", super::pick_rows::PARTS),
    ("fairdraw finding list", super::finding_rows::FINDINGS),
    (
        "fairdraw finding show, `evidence`",
        super::finding_rows::EVIDENCE,
    ),
    ("fairdraw filters", super::filter_rows::FILTERS),
    ("fairdraw ledger", super::ledger_rows::LEDGER),
    ("fairdraw ledger show", super::ledger_rows::SHEETS),
    ("fairdraw trail", super::trail_rows::TRAIL),
    ("fairdraw check", CHECK),
    ("fairdraw check --pack", super::pack::rows::CHECK_PACK),
    ("fairdraw export", super::pack::rows::EXPORTED),
];

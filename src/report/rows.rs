//! The columns of every report, said once for tables, CSV and JSON, and how a row of each
//! is made.

use super::{Cell, Column, Format, Holds, Place, attribution};
use crate::analysis::{Assessed, Named, Share, Tally, class_score, row_score};
use crate::model::time::local_text;
use crate::model::{Class, Phrase, RuleSet, draw};
use crate::rules::{Card, cards, place_of};
use crate::scoring::Explained;

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

/// `fairdraw score`: one row a draw.
pub const SCORE: &[Column] = &[
    column(
        "draw_id",
        "draw",
        "the draw's identity: its draw_id or, where the sheet has none, `bottle_id@point_id@drawn_at`",
    ),
    column(
        "bottle_id",
        "",
        "the code on the bottle; blank if it was not recorded",
    ),
    spare(column("point_id", "point", "the point it was drawn at"), 2),
    spare(column("technician_id", "technician", "who drew it"), 3),
    time(
        "drawn_at",
        "",
        "when it was drawn, in UTC, as `2026-03-04T08:30:00Z`",
    ),
    spare(table_only("drawn at"), 1),
    verdict(
        "verdict",
        "verdict",
        "`unrepresentative`, `unproven`, `doubtful` or `representative`",
    ),
    spare(
        number(
            "score",
            "score",
            "percent of the weight of the recorded rules of class sample that are met; blank if none is recorded",
        ),
        5,
    ),
    number(
        "score_low",
        "",
        "the score if everything unrecorded were broken; blank if no rule of the class applies",
    ),
    number(
        "score_high",
        "",
        "the score if everything unrecorded were met; blank if no rule of the class applies",
    ),
    spare(
        number(
            "evidence",
            "evidence",
            "percent of the weight of the applicable rules of class sample that the record speaks about",
        ),
        6,
    ),
    number(
        "record_score",
        "",
        "the score of class record (traceability)",
    ),
    number(
        "conduct_score",
        "",
        "the score of class conduct (personal safety)",
    ),
    ids(
        "broken",
        "broken",
        "ids of the broken rules of all classes, in the order of the rulebook",
    ),
    spare(
        ids(
            "unrecorded",
            "unrecorded",
            "ids of the unrecorded rules of all classes, in the order of the rulebook",
        ),
        7,
    ),
    Column {
        place: Place::JsonOnly,
        ..object(
            "rules",
            "",
            "an object of every rule by its id: `outcome` (`met`, `broken`, `unrecorded`, `not applicable`), `weight` in force, `seen` and `wanted` in words (`null` where there is nothing to say)",
        )
    },
];

/// A row of [`SCORE`]; `explained` is looked at for JSON alone. Cells that this format does
/// not show are left blank, for speed.
///
/// # Panics
/// When it is no draw of this programme.
#[must_use]
pub fn score<'a>(
    format: Format,
    assessed: &'a Assessed,
    draw: Named<'a>,
    explained: Option<&Explained>,
) -> Vec<Cell<'a>> {
    let (judged, row) = (&assessed.judged, draw.row);
    let point = &assessed.points[judged.point[row] as usize];
    let technician = &assessed.technicians[judged.technician[row] as usize];
    let drawn_at = judged.drawn_at[row];
    let (utc, local) = match format {
        Format::Table => (Cell::Blank, Cell::text(local_text(drawn_at, assessed.zone))),
        Format::Csv | Format::Json => (Cell::Time(drawn_at), Cell::Blank),
    };
    let rules = match (format, explained) {
        (Format::Json, Some(explained)) => every_rule(explained),
        _ => Cell::Blank,
    };
    let sample = row_score(assessed, row);
    let score_of = |class| Cell::score(class_score(assessed, row, class).score);
    vec![
        identity(assessed, draw),
        Cell::text(draw.bottle_id),
        Cell::text(&point.id),
        Cell::text(&technician.id),
        utc,
        local,
        Cell::Verdict(judged.verdict[row]),
        Cell::score(sample.score),
        Cell::score(sample.low),
        Cell::score(sample.high),
        Cell::score(sample.evidence),
        score_of(Class::Record),
        score_of(Class::Conduct),
        ids_of(judged.broken[row]),
        ids_of(judged.unrecorded[row]),
        rules,
    ]
}

fn every_rule(explained: &Explained) -> Cell<'static> {
    let rules = cards().iter().zip(&explained.answers);
    let fields = rules
        .zip(explained.weights)
        .map(|((card, answer), weight)| {
            let fields = vec![
                ("outcome", Cell::text(answer.outcome.as_str())),
                ("weight", Cell::Count(weight.into())),
                ("seen", phrase(answer.seen)),
                ("wanted", phrase(answer.wanted)),
            ];
            (card.id, Cell::Fields(fields))
        });
    Cell::Fields(fields.collect())
}

/// An identity begins with `@` where draw_id and bottle_id are blank. It is left as it is if
/// what follows can only be read as a name and a time.
fn identity<'a>(assessed: &Assessed, draw: Named<'a>) -> Cell<'a> {
    let tame = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | '.' | ' ');
    if !draw.draw_id.is_empty() && !draw.draw_id.starts_with('@') {
        return Cell::text(draw.draw_id);
    }
    let own = draw.identity(assessed);
    if !own.starts_with('@') {
        return Cell::text(own);
    }
    let judged = &assessed.judged;
    let point = &assessed.points[judged.point[draw.row] as usize].id;
    let nameless = draw::identity("", "", point, judged.drawn_at[draw.row]);
    if own == nameless && point.chars().all(tame) {
        Cell::Exact(own)
    } else {
        Cell::text(own)
    }
}

fn ids_of(rules: RuleSet) -> Cell<'static> {
    Cell::List(rules.iter().map(|place| cards()[place].id).collect())
}

/// Ids of rules as they were kept; rules are never dropped from the registry.
pub(super) fn known_ids(ids: &[String]) -> Cell<'static> {
    let known = ids.iter().filter_map(|id| place_of(id));
    Cell::List(known.map(|place| cards()[place].id).collect())
}

fn phrase(phrase: Phrase) -> Cell<'static> {
    match phrase {
        Phrase::Nothing => Cell::Blank,
        said => Cell::text(said.to_string()),
    }
}

/// `fairdraw share`: one row a group.
pub const SHARE: &[Column] = &[
    column(
        "key",
        "group",
        "the value of the key the draws are grouped by; `all` without `--by`, `(blank)` for a blank",
    ),
    count(
        "draws",
        "draws",
        "all draws of the group (by rule: draws the rule applies to)",
    ),
    spare(count("judged", "judged", "draws less the unproven ones"), 3),
    spare(
        count(
            "unrepresentative",
            "unrepresentative",
            "draws with this verdict (by rule: draws that break it)",
        ),
        5,
    ),
    spare(
        count(
            "doubtful",
            "doubtful",
            "draws with this verdict (by rule: always 0)",
        ),
        6,
    ),
    spare(
        count(
            "representative",
            "representative",
            "draws with this verdict (by rule: draws that meet it)",
        ),
        7,
    ),
    spare(
        count(
            "unproven",
            "unproven",
            "draws with this verdict (by rule: draws on which it is unrecorded)",
        ),
        4,
    ),
    part(
        "share",
        "share",
        "unrepresentative / judged; blank if nothing is judged",
    ),
    part(
        "share_low",
        "from",
        "lower end of the 95 % Wilson interval of the share",
    ),
    part(
        "share_high",
        "to",
        "upper end of the 95 % Wilson interval of the share",
    ),
    spare(
        part(
            "least",
            "least",
            "unrepresentative / draws: the least the share of all draws can be, whatever the unproven ones hide",
        ),
        2,
    ),
    spare(
        part(
            "most",
            "most",
            "(unrepresentative + unproven) / draws: the most it can be",
        ),
        1,
    ),
];

/// `fairdraw share --by rule`: the fields of [`SHARE`], with the headings a rule asks for.
pub const SHARE_BY_RULE: &[Column] = &{
    let mut columns = [column("", "", ""); SHARE.len()];
    let titles = [
        "rule",
        "applies",
        "recorded",
        "broken",
        "",
        "met",
        "unrecorded",
        "share",
        "from",
        "to",
        "least",
        "most",
    ];
    let mut place = 0;
    while place < SHARE.len() {
        columns[place] = Column {
            title: titles[place],
            ..SHARE[place]
        };
        place += 1;
    }
    columns
};

/// A row of [`SHARE`] or [`SHARE_BY_RULE`].
#[must_use]
pub fn share<'a>(key: &'a str, tally: &Tally) -> Vec<Cell<'a>> {
    let Share {
        share,
        low,
        high,
        least,
        most,
    } = tally.share();
    vec![
        Cell::text(key),
        Cell::Count(tally.draws),
        Cell::Count(tally.judged()),
        Cell::Count(tally.unrepresentative),
        Cell::Count(tally.doubtful),
        Cell::Count(tally.representative),
        Cell::Count(tally.unproven),
        Cell::part(share),
        Cell::part(low),
        Cell::part(high),
        Cell::part(least),
        Cell::part(most),
    ]
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
    ("fairdraw score", SCORE),
    ("fairdraw share", SHARE),
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
    ("fairdraw ledger", super::ledger_rows::LEDGER),
    ("fairdraw ledger show", super::ledger_rows::SHEETS),
    ("fairdraw trail", super::trail_rows::TRAIL),
    ("fairdraw check", CHECK),
    ("fairdraw check --pack", super::pack::rows::CHECK_PACK),
    ("fairdraw export", super::pack::rows::EXPORTED),
];

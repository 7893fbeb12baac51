//! The columns of `fairdraw topics`.

use super::rows::{column, count, number, spare};
use super::{Cell, Column};
use crate::analysis::Assessed;
use crate::analysis::topics::{Ask, RuleCost, Topic, Topics};

const OF_TECHNICIAN: Column = column("technician_id", "technician", "whose topic it is");
const OF_CREW: Column = column(
    "crew",
    "crew",
    "whose topic it is; `(blank)` for technicians without a crew",
);

const fn topics_of(unit: Column) -> [Column; 13] {
    [
        unit,
        count(
            "rank",
            "rank",
            "1 for the topic that would regain most draws",
        ),
        column("rule", "topic", "the rule's id"),
        spare(
            count(
                "judged",
                "judged",
                "draws less the unproven ones, all rules",
            ),
            4,
        ),
        spare(
            count(
                "compared",
                "",
                "judged draws at points where others drew too; the rest is compared with points of the same kind and machine class, else with the programme",
            ),
            7,
        ),
        spare(
            count("applies", "applies", "judged draws the rule applies to"),
            6,
        ),
        spare(
            count("broken", "broken", "of these, draws on which it is broken"),
            5,
        ),
        number(
            "cost",
            "costs",
            "draws the rule costs: its part of the unrepresentative draws",
        ),
        number(
            "expected",
            "at peers",
            "draws it would have cost others at the same points; blank without peers",
        ),
        number(
            "over_peers",
            "over peers",
            "cost less expected: draws regained by doing as the peers do; blank without peers",
        ),
        spare(
            number("over_peers_low", "from", "lower end of its 95 % interval"),
            2,
        ),
        spare(
            number("over_peers_high", "to", "upper end of its 95 % interval"),
            2,
        ),
        column(
            "says",
            "says",
            "`more than peers` (the interval lies above 0), `may be chance`, `few draws` (fewer than 20 judged), `no peers`",
        ),
    ]
}

/// `fairdraw topics --by technician`: one row a topic.
pub const TOPICS_OF_TECHNICIANS: &[Column] = &topics_of(OF_TECHNICIAN);

/// `fairdraw topics --by crew`: one row a topic.
pub const TOPICS_OF_CREWS: &[Column] = &topics_of(OF_CREW);

/// A row of [`TOPICS_OF_TECHNICIANS`] or [`TOPICS_OF_CREWS`]; `rank` counts from 1.
#[must_use]
pub fn topic<'a>(of: &'a Topics, rank: usize, topic: &Topic) -> Vec<Cell<'a>> {
    let quantity = |value: Option<f64>| value.map_or(Cell::Blank, Cell::Quantity);
    let over = topic.over_peers;
    vec![
        Cell::text(&of.key),
        Cell::Count(rank as u64),
        Cell::text(topic.id()),
        Cell::Count(of.judged),
        Cell::Count(of.at_shared_points),
        Cell::Count(topic.applies),
        Cell::Count(topic.broken),
        Cell::Quantity(topic.cost),
        quantity(topic.expected),
        quantity(over.map(|over| over.value)),
        quantity(over.map(|over| over.low)),
        quantity(over.map(|over| over.high)),
        Cell::text(topic.says.as_str()),
    ]
}

/// `fairdraw topics --by rule`: one row a rule of class sample.
pub const RULE_COSTS: &[Column] = &[
    column("rule", "rule", "the rule's id"),
    spare(
        column(
            "owner",
            "answers to",
            "who can put it right: `technician`, `plant`, `planner`, `dispatch` or `desk`",
        ),
        1,
    ),
    spare(count("draws", "applies", "draws the rule applies to"), 5),
    count("broken", "broken", "draws on which it is broken"),
    spare(
        count(
            "unrecorded",
            "unrecorded",
            "draws on which it is unrecorded",
        ),
        4,
    ),
    spare(
        count(
            "unrepresentative",
            "unrepresentative",
            "unrepresentative draws on which it is broken",
        ),
        3,
    ),
    spare(
        count(
            "alone",
            "alone",
            "unrepresentative draws that would not be so had this rule alone been met",
        ),
        2,
    ),
    number(
        "cost",
        "costs",
        "its part of the unrepresentative draws; the parts of all rules add up to their number",
    ),
];

/// A row of [`RULE_COSTS`].
#[must_use]
pub fn rule_cost(rule: &RuleCost) -> Vec<Cell<'static>> {
    vec![
        Cell::text(rule.id()),
        Cell::text(rule.owner().as_str()),
        Cell::Count(rule.counts.draws),
        Cell::Count(rule.counts.broken),
        Cell::Count(rule.counts.unrecorded),
        Cell::Count(rule.counts.unrepresentative),
        Cell::Count(rule.counts.regained),
        Cell::Quantity(rule.cost),
    ]
}

/// `fairdraw topics --by owner`: one row a rule and place.
pub const ASKS: &[Column] = &[
    column(
        "owner",
        "ask",
        "whom to ask: `plant`, `planner`, `dispatch` or `desk`",
    ),
    column("rule", "rule", "the rule's id"),
    column("site", "site", "the site; blank if the sheet has none"),
    column(
        "point_id",
        "point",
        "the point, for the plant; blank for the others, who are asked site by site",
    ),
    spare(
        count("draws", "applies", "draws there the rule applies to"),
        1,
    ),
    count("broken", "broken", "of these, draws on which it is broken"),
    count(
        "unrecorded",
        "unrecorded",
        "of these, draws on which it is unrecorded",
    ),
    number(
        "cost",
        "costs",
        "draws it costs there; 0 for rules that have no part in the verdict",
    ),
];

/// A row of [`ASKS`].
#[must_use]
pub fn ask<'a>(assessed: &'a Assessed, ask: &'a Ask) -> Vec<Cell<'a>> {
    let point = ask.point.map(|place| assessed.points[place].id.as_str());
    vec![
        Cell::text(ask.owner.as_str()),
        Cell::text(ask.id()),
        Cell::text(ask.site.as_deref().unwrap_or_default()),
        Cell::text(point.unwrap_or_default()),
        Cell::Count(ask.draws),
        Cell::Count(ask.broken),
        Cell::Count(ask.unrecorded),
        Cell::Quantity(ask.cost),
    ]
}

/// `fairdraw topics --plans`: one row a plan that was written.
pub const PLANS: &[Column] = &[
    column("technician_id", "technician", "whose plan it is"),
    count("topics", "topics", "how many topics stand on it"),
    column("file", "file", "the file it was written to"),
];

/// A row of [`PLANS`].
#[must_use]
pub fn plan_written<'a>(technician_id: &'a str, topics: usize, file: String) -> Vec<Cell<'a>> {
    vec![
        Cell::text(technician_id),
        Cell::Count(topics as u64),
        Cell::text(file),
    ]
}

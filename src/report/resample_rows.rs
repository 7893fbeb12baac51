//! The columns of `fairdraw resample` and `fairdraw set-aside --list`.

use super::rows::{column, count, ids, items, number, spare, table_only, time, verdict, yes_no};
use super::{Cell, Column, Place};
use crate::analysis::resample::due::times;
use crate::analysis::resample::{Because, GroupCount, Resample};
use crate::analysis::{Assessed, PointFacts};
use crate::model::time::{Tz, local_text};
use crate::model::{Answer, Class, RuleSet, Unit};
use crate::rules::{InForce, cards};

const fn items_in_json(name: &'static str, meaning: &'static str) -> Column {
    Column {
        place: Place::JsonOnly,
        ..items(name, "", meaning)
    }
}

/// `fairdraw resample`: one row a compartment.
pub const RESAMPLES: &[Column] = &[
    column(
        "compartment_id",
        "compartment",
        "what to sample again; of tanks and grease one row a point",
    ),
    spare(column("machine", "machine", "its machine"), 5),
    spare(column("site", "site", "its site"), 4),
    column("area", "", "its area"),
    column(
        "because",
        "why",
        "why the latest sample can't be trusted: `unrepresentative`, `set aside`, `unproven` or, with --strict, `doubtful`",
    ),
    spare(
        column(
            "draw_id",
            "latest draw",
            "the identity of the draw that speaks for the latest visit",
        ),
        3,
    ),
    time("drawn_at", "", "when it was drawn, in UTC"),
    spare(table_only("drawn on"), 6),
    verdict("verdict", "", "its verdict"),
    count(
        "visit_draws",
        "",
        "how many draws the latest visit has: those within 24 h before the latest",
    ),
    column(
        "set_aside_by",
        "",
        "who set its result aside; blank if nobody did",
    ),
    column("set_aside_because", "", "why"),
    column(
        "trusted_draw_id",
        "",
        "the identity of the last draw that can be trusted; blank if there never was one",
    ),
    time("trusted_at", "", "when that was drawn, in UTC"),
    spare(table_only("last trusted"), 2),
    number(
        "days_since",
        "",
        "days of 24 hours since the last trusted draw, else since the first of all",
    ),
    spare(table_only("days"), 1),
    number(
        "hours_since",
        "",
        "the machine's running hours since then: counted up to the latest draw, after it reckoned by the pace of the year before; blank where the counter does not tell",
    ),
    number(
        "interval",
        "",
        "the agreed interval that is further gone; blank if none can be counted",
    ),
    column("interval_unit", "", "`d` for days or `h` for running hours"),
    number("ratio", "", "the time since as a multiple of that interval"),
    table_only("intervals"),
    column(
        "point_id",
        "draw at",
        "the point to draw at: the agreed one, else that of the latest draw",
    ),
    yes_no("agreed", "", "whether that is an agreed point"),
    column(
        "further_points",
        "",
        "further agreed points, joined with `; `",
    ),
    spare(
        column(
            "method",
            "method",
            "the agreed method, else that of the last trusted draw; blank if neither is known",
        ),
        7,
    ),
    column(
        "flush",
        "",
        "what to run off first, in words; blank where the rules ask for nothing",
    ),
    column(
        "window",
        "",
        "in what state the machine may be, in words; blank where the rules don't ask",
    ),
    number("dead_volume_ml", "", "the dead volume of the point in mL"),
    number(
        "settling_limit_min",
        "",
        "minutes after a stop until particles have settled, at normal temperature",
    ),
    number(
        "normal_temp_c",
        "",
        "oil temperature in normal service in °C",
    ),
    number("pressure_bar", "", "pressure at the point in bar"),
    table_only("broken last time"),
    ids(
        "broken",
        "",
        "ids of the rules broken on the latest draw, in the order of the rulebook",
    ),
    ids("unrecorded", "", "ids of the rules unrecorded on it"),
    column(
        "do_differently",
        "",
        "what to do differently this time: for each broken rule its id and what to do next time",
    ),
    items_in_json(
        "advice",
        "the same as objects `{rule, owner, next_time, caution}`, those of the verdict first, heaviest first",
    ),
];

/// A row of [`RESAMPLES`].
pub struct Row<'a> {
    /// The judged programme.
    pub assessed: &'a Assessed,
    /// What to sample again.
    pub found: &'a Resample,
    /// The identity of its latest draw.
    pub latest: &'a str,
    /// The identity of the last draw that can be trusted.
    pub trusted: Option<&'a str>,
    /// Who set the latest result aside, and why.
    pub set_aside: Option<(&'a str, &'a str)>,
    /// The facts of the point to draw at.
    pub facts: &'a PointFacts,
}

impl<'a> Row<'a> {
    /// Its cells.
    #[must_use]
    pub fn cells(&self) -> Vec<Cell<'a>> {
        let (assessed, found) = (self.assessed, self.found);
        let judged = &assessed.judged;
        let row = found.row as usize;
        let point = &assessed.points[found.point];
        let at = |row: u32| judged.drawn_at[row as usize];
        let quantity = |value: Option<f64>| value.map_or(Cell::Blank, Cell::Quantity);
        let optional = |text: Option<&'a str>| text.map_or(Cell::Blank, Cell::text);
        let words = |answer: Option<Answer>| {
            let words = answer.map(|answer| answer.wanted.to_string());
            (words.filter(|words| !words.is_empty())).map_or(Cell::Blank, Cell::text)
        };
        let ids = |rules: RuleSet| Cell::List(rules.iter().map(|rule| cards()[rule].id).collect());
        let counted = found.standing.counted();
        let further: Vec<&str> = (found.further_points.iter())
            .map(|&place| assessed.points[place].id.as_str())
            .collect();
        let mend = found.to_mend(assessed);
        let advice: Vec<String> = mend
            .iter()
            .map(|&rule| format!("{}: {}", cards()[rule].id, cards()[rule].next_time))
            .collect();
        vec![
            Cell::text(&point.compartment),
            optional(point.machine.as_deref()),
            optional(point.site.as_deref()),
            optional(point.area.as_deref()),
            Cell::text(found.because.as_str()),
            Cell::text(self.latest),
            Cell::Time(at(found.row)),
            Cell::text(day(at(found.row), assessed.zone)),
            Cell::Verdict(judged.verdict[row]),
            Cell::Count(found.visit_draws.into()),
            optional(self.set_aside.map(|(who, _)| who)),
            optional(self.set_aside.map(|(_, because)| because)),
            optional(self.trusted),
            (found.last_trusted).map_or(Cell::Blank, |row| Cell::Time(at(row))),
            Cell::text(
                found
                    .last_trusted
                    .map_or_else(|| "never".to_owned(), |row| day(at(row), assessed.zone)),
            ),
            Cell::Quantity(found.standing.since.days()),
            Cell::Rounded(found.standing.since.days().floor(), 0),
            quantity(found.standing.hours),
            quantity(counted.map(|(interval, ..)| interval)),
            counted.map_or(Cell::Blank, |(_, unit, _)| match unit {
                Unit::Hour => Cell::text("h"),
                _ => Cell::text("d"),
            }),
            quantity(counted.map(|(.., ratio)| ratio)),
            counted.map_or(Cell::Blank, |(.., ratio)| Cell::Exact(times(ratio))),
            Cell::text(&point.id),
            Cell::YesNo(found.is_agreed),
            if further.is_empty() {
                Cell::Blank
            } else {
                Cell::text(further.join("; "))
            },
            (found.method).map_or(Cell::Blank, |method| Cell::text(method.as_str())),
            words(self.facts.flush),
            words(self.facts.window),
            quantity(self.facts.dead_volume_ml),
            quantity(self.facts.settling_limit_min),
            quantity(point.normal_temp_c),
            quantity(point.line_pressure_bar),
            Cell::Exact(last_time(
                judged.broken[row],
                judged.unrecorded[row],
                found.because,
            )),
            ids(judged.broken[row]),
            ids(judged.unrecorded[row]),
            if advice.is_empty() {
                Cell::Blank
            } else {
                Cell::text(advice.join(" "))
            },
            Cell::Items(mend.iter().map(|&rule| advised(rule)).collect()),
        ]
    }
}

/// What was broken and, where that is why, what was not recorded of the rules of the verdict.
fn last_time(broken: RuleSet, unrecorded: RuleSet, because: Because) -> String {
    let ids = |rules: RuleSet| {
        let ids: Vec<&str> = rules.iter().map(|rule| cards()[rule].id).collect();
        ids.join(" ")
    };
    let open = unrecorded.and(InForce::of_class(Class::Sample));
    match (because, open.is_empty(), broken.is_empty()) {
        (Because::Unproven, false, true) => format!("not recorded: {}", ids(open)),
        (Because::Unproven, false, false) => {
            format!("{}; not recorded: {}", ids(broken), ids(open))
        }
        _ => ids(broken),
    }
}

fn advised(rule: usize) -> Cell<'static> {
    let card = cards()[rule];
    Cell::Fields(vec![
        ("rule", Cell::text(card.id)),
        ("owner", Cell::text(card.owner.as_str())),
        ("next_time", Cell::text(card.next_time)),
        (
            "caution",
            if card.caution.is_empty() {
                Cell::Blank
            } else {
                Cell::text(card.caution)
            },
        ),
    ])
}

/// The day of an instant in a zone, as `2026-03-04`.
fn day(seconds: i64, zone: Tz) -> String {
    let text = local_text(seconds, zone);
    text.split_once(' ')
        .map_or_else(|| text.clone(), |(day, _)| day.to_owned())
}

/// `fairdraw resample --by site`: one row a site.
pub const BY_SITE: &[Column] = &[
    column(
        "site",
        "site",
        "the site; `(blank)` for compartments without one",
    ),
    count(
        "resamples",
        "to sample again",
        "compartments whose latest sample can't be trusted",
    ),
    count(
        "never",
        "never trusted",
        "of these, those that never had a trustworthy sample",
    ),
    count(
        "over",
        "over the interval",
        "of these, those for which more than the agreed interval has gone by since",
    ),
];

/// A row of [`BY_SITE`].
#[must_use]
pub fn site(group: &GroupCount) -> Vec<Cell<'_>> {
    vec![
        Cell::text(group.key.as_deref().unwrap_or(crate::analysis::BLANK)),
        Cell::Count(group.resamples),
        Cell::Count(group.never),
        Cell::Count(group.over),
    ]
}

/// `fairdraw resample --sheets`: one row a sheet that was written.
pub const SHEETS: &[Column] = &[
    column(
        "site",
        "site",
        "the site; `(blank)` for compartments without one",
    ),
    count("compartments", "compartments", "how many stand on it"),
    column("file", "file", "the file it was written to"),
];

/// A row of [`SHEETS`].
#[must_use]
pub fn sheet(site: Option<&str>, compartments: usize, file: String) -> Vec<Cell<'_>> {
    vec![
        Cell::text(site.unwrap_or(crate::analysis::BLANK)),
        Cell::Count(compartments as u64),
        Cell::text(file),
    ]
}

/// `fairdraw set-aside --list`: one row a result that was set aside.
pub const SET_ASIDE: &[Column] = &[
    column("draw_id", "draw", "the identity of the draw"),
    spare(
        column("point_id", "point", "its point, as it stood when set aside"),
        4,
    ),
    column(
        "drawn_at",
        "",
        "when it was drawn, in UTC, as it stood then",
    ),
    spare(
        column("verdict", "verdict", "its verdict, as it stood then"),
        3,
    ),
    time("at", "", "when it was set aside, in UTC"),
    spare(table_only("set aside"), 2),
    column("who", "by", "who set it aside"),
    column("because", "because", "why"),
    time(
        "taken_back_at",
        "",
        "when that was taken back; blank while it stands",
    ),
    column("taken_back_by", "taken back by", "who took it back"),
    spare(column("taken_back_because", "because", "why"), 1),
    count("link", "", "the number of its link in the trail"),
];

/// Who decided, when in seconds since 1970 UTC, why, and the number of the link.
pub type Decision<'a> = (&'a str, i64, &'a str, i64);

/// A row of [`SET_ASIDE`]; `draw` is its identity, point, time and verdict.
#[must_use]
pub fn set_aside<'a>(
    draw: [&'a str; 4],
    decided: Decision<'a>,
    taken_back: Option<Decision<'a>>,
    zone: Tz,
) -> Vec<Cell<'a>> {
    let (who, at, because, link) = decided;
    let text = |text: Option<&'a str>| text.map_or(Cell::Blank, Cell::text);
    vec![
        Cell::text(draw[0]),
        Cell::text(draw[1]),
        Cell::text(draw[2]),
        Cell::text(draw[3]),
        Cell::Time(at),
        Cell::text(local_text(at, zone)),
        Cell::text(who),
        Cell::text(because),
        taken_back.map_or(Cell::Blank, |(_, at, ..)| Cell::Time(at)),
        text(taken_back.map(|(who, ..)| who)),
        text(taken_back.map(|(_, _, because, _)| because)),
        Cell::Count(link.cast_unsigned()),
    ]
}

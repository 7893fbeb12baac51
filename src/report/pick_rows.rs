//! The columns of `fairdraw pick`.

use super::rows::{column, count, number, object, part as share, spare, table_only, time, yes_no};
use super::{Cell, Column, Place};
use crate::analysis::picks::{Bounds, Counts, Outcome, Pick};
use crate::model::DrawRecord;
use crate::model::decisions::DrawSeen;
use crate::model::decisions::pick::{Plan, Stratum};
use crate::model::draw_cells::cells;
use crate::model::time::{Tz, local_text};

/// `fairdraw pick list`: one row a pick.
pub const PICKS: &[Column] = &[
    count("pick", "pick", "the number of the pick, counting from 1"),
    time("drawn_at", "", "when it was drawn, in UTC"),
    spare(table_only("drawn"), 3),
    spare(column("who", "by", "who drew it"), 2),
    column("plan", "plan", "how its size was settled, in words"),
    spare(
        column(
            "filter",
            "of",
            "the filter that names the population; blank for every draw",
        ),
        1,
    ),
    spare(
        column(
            "by",
            "parted by",
            "what the population is parted by: `technician`, `crew`, `site` or `point`; blank for nothing",
        ),
        4,
    ),
    count("at_least", "", "how many were wanted of each part at least"),
    column("seed", "", "the seed by which draws are ranked"),
    count("population", "population", "draws of the population"),
    column(
        "population_sha256",
        "",
        "SHA-256 over the identities of the population, sorted by their bytes, each with a line feed after it",
    ),
    column(
        "rulebook",
        "",
        "fingerprint of the rulebook the draws were judged by",
    ),
    count("picked", "picked", "draws picked"),
    count(
        "agree",
        "agree",
        "draws whose record agrees with what was found",
    ),
    count("disagree", "disagree", "draws whose record does not"),
    count(
        "unverified",
        "unverified",
        "draws that could not be verified",
    ),
    count("open", "open", "draws without a result yet"),
];

/// A row of [`PICKS`].
#[must_use]
pub fn pick<'a>(pick: &'a Pick, counts: &Counts, zone: Tz) -> Vec<Cell<'a>> {
    let drawn = &pick.drawn;
    let mut cells = vec![
        Cell::Count(drawn.pick.into()),
        Cell::Time(pick.told.at),
        Cell::text(local_text(pick.told.at, zone)),
        Cell::text(&pick.told.who),
        Cell::text(drawn.plan.to_string()),
        Cell::text(&drawn.filter),
        Cell::text(&drawn.by),
        Cell::Count(drawn.at_least),
        Cell::text(&drawn.seed),
        Cell::Count(drawn.population),
        Cell::text(&drawn.population_sha256),
        Cell::text(&drawn.rulebook),
    ];
    cells.extend(all_counts(counts));
    cells
}

fn all_counts<'a>(counts: &Counts) -> [Cell<'a>; 5] {
    [
        Cell::Count(counts.picked),
        Cell::Count(counts.agree),
        Cell::Count(counts.disagree),
        Cell::Count(counts.unverified),
        Cell::Count(counts.open()),
    ]
}

/// `outcome` of `fairdraw pick show --format json`.
pub const OUTCOME: &[Column] = &[
    json_only(share(
        "confidence",
        "",
        "the confidence of the bounds, a part of one",
    )),
    json_only(yes_no(
        "in_proportion",
        "",
        "whether the parts were picked in proportion; where `--at-least` bent that, the bounds are `null`",
    )),
    json_only(count("checked", "", "draws that agree or disagree")),
    json_only(count("errors", "", "draws that disagree")),
    json_only(share(
        "rate",
        "",
        "errors / checked; `null` if nothing is checked",
    )),
    json_only(share(
        "rate_upper",
        "",
        "one-sided upper bound on the error rate of a process that goes on (Clopper-Pearson)",
    )),
    json_only(count(
        "errors_most",
        "",
        "one-sided upper bound on the errors in the population (hypergeometric)",
    )),
    json_only(count(
        "errors_low",
        "",
        "lower end of the two-sided interval of the errors in the population",
    )),
    json_only(count("errors_high", "", "its upper end")),
    json_only(object(
        "if_unverified_are_errors",
        "",
        "an object of `checked`, `errors`, `rate`, `rate_upper`, `errors_most`, `errors_low`, `errors_high` with what could not be verified counted as error",
    )),
    json_only(share(
        "rate_weighted",
        "",
        "the error rate with each part weighted by its size; `null` if a part has nothing checked",
    )),
    json_only(object(
        "verdicts",
        "",
        "the verifier's word against the record's verdict: an object of `both_unrepresentative`, `record_alone` (the record says unrepresentative, the verifier does not), `verifier_alone`, `neither`, `unproven` (left out: the record proves nothing)",
    )),
    json_only(share(
        "agreement",
        "",
        "observed agreement of both, a part of one",
    )),
    json_only(number(
        "kappa",
        "",
        "Cohen's kappa; `null` if there is nothing to tell or both used one word",
    )),
    json_only(number("kappa_low", "", "lower end of its 95 % interval")),
    json_only(number("kappa_high", "", "upper end of its 95 % interval")),
    json_only(share(
        "agreement_unrepresentative",
        "",
        "agreement on unrepresentative samples",
    )),
    json_only(share("agreement_else", "", "agreement on the others")),
];

const fn json_only(column: Column) -> Column {
    Column {
        place: Place::JsonOnly,
        ..column
    }
}

/// The z of a two-sided 95 % interval.
const Z_95: f64 = 1.959_963_984_540_054;

/// The fields of [`OUTCOME`].
#[must_use]
pub fn outcome<'a>(outcome: &Outcome) -> Vec<Cell<'a>> {
    let [[both, record_alone], [verifier_alone, neither]] = outcome.verdicts;
    let kappa = outcome.kappa.and_then(|kappa| kappa.beyond);
    let ends = kappa.map(|beyond| beyond.interval(Z_95));
    let number = |value: Option<f64>| value.map_or(Cell::Blank, Cell::Quantity);
    let mut cells = vec![
        Cell::Quantity(outcome.confidence),
        Cell::YesNo(outcome.in_proportion),
    ];
    cells.extend(bounds(outcome.left_out).into_iter().map(|(_, cell)| cell));
    cells.extend([
        match outcome.as_errors {
            Some(_) => Cell::Fields(bounds(outcome.as_errors)),
            None => Cell::Blank,
        },
        Cell::part(outcome.weighted),
        Cell::Fields(vec![
            ("both_unrepresentative", Cell::Count(both)),
            ("record_alone", Cell::Count(record_alone)),
            ("verifier_alone", Cell::Count(verifier_alone)),
            ("neither", Cell::Count(neither)),
            ("unproven", Cell::Count(outcome.unproven)),
        ]),
        Cell::part(outcome.kappa.map(|kappa| kappa.observed)),
        number(kappa.map(|beyond| beyond.kappa)),
        number(ends.map(|ends| ends.0)),
        number(ends.map(|ends| ends.1)),
        Cell::part(outcome.agreement_on[0]),
        Cell::part(outcome.agreement_on[1]),
    ]);
    cells
}

fn bounds<'a>(bounds: Option<Bounds>) -> Vec<(&'static str, Cell<'a>)> {
    let count = |count: Option<u64>| count.map_or(Cell::Blank, Cell::Count);
    let between = bounds.and_then(|bounds| bounds.between);
    vec![
        ("checked", count(bounds.map(|bounds| bounds.checked))),
        ("errors", count(bounds.map(|bounds| bounds.errors))),
        ("rate", Cell::part(bounds.and_then(|bounds| bounds.rate))),
        (
            "rate_upper",
            Cell::part(bounds.and_then(|bounds| bounds.upper)),
        ),
        ("errors_most", count(bounds.and_then(|bounds| bounds.most))),
        ("errors_low", count(between.map(|between| between.0))),
        ("errors_high", count(between.map(|between| between.1))),
    ]
}

/// `parts` of `fairdraw pick show`.
pub const PARTS: &[Column] = &[
    column(
        "part",
        "part",
        "the value of the key the population is parted by; `all` without one",
    ),
    column("population", "population", "draws of the part"),
    column("picked", "picked", "draws picked of it"),
    column("agree", "agree", "as in `fairdraw pick list`"),
    column("disagree", "disagree", ""),
    column("unverified", "unverified", ""),
    column("open", "open", ""),
];

/// A row of [`PARTS`].
#[must_use]
pub fn part<'a>(stratum: &'a Stratum, counts: &Counts) -> Vec<Cell<'a>> {
    let mut cells = vec![Cell::text(&stratum.name), Cell::Count(stratum.draws)];
    cells.extend(all_counts(counts));
    cells
}

/// A column of the record, as docs/sheets.md has it.
const fn claim(name: &'static str) -> Column {
    column(
        name,
        "",
        "what the record claims; docs/sheets.md says what it means",
    )
}

/// `draws` of `fairdraw pick show`: one row a draw; as CSV the sheet for the verifier.
pub const DRAWS: &[Column] = &[
    column(
        "draw_id",
        "draw",
        "the draw's identity: its draw_id or, where the sheet has none, `bottle_id@point_id@drawn_at`",
    ),
    spare(column("part", "part", "the part it was picked from"), 1),
    column("rank", "", "SHA-256 of seed, colon and identity"),
    claim("bottle_id"),
    spare(claim_shown("point_id", "point"), 2),
    spare(claim_shown("technician_id", "technician"), 3),
    claim("drawn_at"),
    spare(table_only("drawn at"), 4),
    claim("recorded_at"),
    claim("method"),
    claim("machine_state"),
    claim("stopped_min"),
    claim("oil_temp_c"),
    claim("machine_hours"),
    claim("oil_hours"),
    claim("topped_up_l"),
    claim("fluid"),
    claim("point_cleaned"),
    claim("tube_new"),
    claim("bottle_ok"),
    claim("capped_at_once"),
    claim("flushed_ml"),
    claim("tube_mark_cm"),
    claim("fill_pct"),
    claim("looks"),
    claim("fill_no"),
    claim("pair_of"),
    claim("set_id"),
    claim("purge_stage"),
    claim("registered_at"),
    claim("dispatched_at"),
    claim("received_at"),
    claim("safety_confirmed"),
    claim("remarks"),
    column(
        "record_verdict",
        "verdict",
        "the verdict of the record when it was picked",
    ),
    column("record_broken", "", "ids of the rules broken on it then"),
    column(
        "result",
        "result",
        "what was found: `agree`, `disagree`, `unverified`; blank for none yet",
    ),
    column(
        "verdict",
        "verifier",
        "whether the verifier holds the sample for `representative` or `unrepresentative`; may be blank",
    ),
    column("note", "note", "the verifier's note"),
    Column {
        place: Place::JsonOnly,
        ..column(
            "now",
            "",
            "what became of the draw since it was picked: `as it stood`, `record changed, judged alike`, `record changed, judged otherwise`, `judged otherwise` or `not there any more`",
        )
    },
    spare(table_only("now"), 5),
];

const fn claim_shown(name: &'static str, title: &'static str) -> Column {
    Column {
        title,
        ..claim(name)
    }
}

/// A picked draw with all there is to tell of it.
pub struct PickedDraw<'a> {
    /// As it stood when it was picked.
    pub seen: &'a DrawSeen,
    /// What its record said then.
    pub record: &'a DrawRecord,
    /// The part it was picked from.
    pub part: &'a str,
    /// Its rank, in hexadecimal.
    pub rank: String,
    /// Result, verifier's word and note; blank for none.
    pub found: [&'a str; 3],
    /// What became of it since.
    pub now: &'static str,
}

/// A row of [`DRAWS`].
#[must_use]
pub fn draw<'a>(draw: PickedDraw<'a>, zone: Tz) -> Vec<Cell<'a>> {
    let mut row = vec![
        Cell::text(&draw.seen.draw),
        Cell::text(draw.part),
        Cell::text(draw.rank),
    ];
    for (name, value) in cells(draw.record).into_iter().skip(1) {
        row.push(Cell::text(value));
        if name == "drawn_at" {
            row.push(Cell::text(local_text(draw.seen.drawn_at, zone)));
        }
    }
    row.extend([
        Cell::text(&draw.seen.verdict),
        super::score_rows::known_ids(&draw.seen.broken),
    ]);
    row.extend(draw.found.map(Cell::text));
    row.extend([
        Cell::text(draw.now),
        Cell::text(if draw.now == "as it stood" {
            ""
        } else {
            draw.now
        }),
    ]);
    row
}

/// What the size of a pick achieves, in words.
#[must_use]
pub fn achieved(plan: &Plan, marked: Option<u64>, chance: Option<f64>, size: u64) -> String {
    let chance = chance.map_or_else(String::new, super::table::percent);
    match (plan, marked) {
        (Plan::Discovery { share, .. }, Some(marked)) => format!(
            "Were {marked} draws bad ({} of them), one or more would be among {size} with a chance of {chance}.",
            percent_text(share)
        ),
        (
            Plan::Estimation {
                within, expected, ..
            },
            _,
        ) => format!(
            "Were {} of the draws bad, the share among {size} would lie within {} of that with a chance of {chance}.",
            percent_text(expected),
            percent_text(within)
        ),
        _ => format!("{size} draws, as asked."),
    }
}

fn percent_text(part: &str) -> String {
    part.parse()
        .map_or_else(|_| part.to_owned(), super::table::percent)
}

//! Every draw judged: the columns of `fairdraw score` and how a row is made.

use super::rows::{column, ids, number, object, spare, table_only, time, verdict};
use super::{Cell, Column, Format, Place};
use crate::analysis::{Assessed, Named, class_score, row_score};
use crate::model::time::local_text;
use crate::model::{Class, Phrase, RuleSet, draw};
use crate::rules::{cards, place_of};
use crate::scoring::Explained;

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

//! Columns of the tables of what people decided that only a pack has.

use crate::analysis::picks::{Outcome, Pick};
use crate::model::decisions::DrawSeen;
use crate::model::decisions::pick::Verified;
use crate::model::time::Tz;
use crate::report::rows::{column, count, time};
use crate::report::{Cell, Column, Holds, Place, finding_rows, pick_rows};

/// A column before those of another table.
const fn before<const MORE: usize>(first: Column, rest: &[Column]) -> [Column; MORE] {
    let mut columns = [first; MORE];
    let mut place = 1;
    while place < MORE {
        columns[place] = rest[place - 1];
        // What a spreadsheet can show it shows, also where the command tells it in JSON alone.
        if matches!(columns[place].place, Place::JsonOnly)
            && !matches!(columns[place].holds, Holds::Object | Holds::Items)
        {
            columns[place].place = Place::Everywhere;
        }
        place += 1;
    }
    columns
}

/// `findings_evidence`: one row a finding and draw.
pub const EVIDENCE: &[Column] = &before::<{ finding_rows::EVIDENCE.len() + 1 }>(
    column(
        "finding",
        "finding",
        "the finding that the draw speaks for, as `F-1`",
    ),
    finding_rows::EVIDENCE,
);

/// A row of [`EVIDENCE`].
#[must_use]
pub fn evidence<'a>(
    finding: u32,
    seen: &'a DrawSeen,
    now: &'static str,
    zone: Tz,
) -> Vec<Cell<'a>> {
    let mut cells = vec![Cell::text(format!("F-{finding}"))];
    cells.extend(finding_rows::evidence(seen, now, zone));
    cells
}

/// `picks_outcome`: one row a pick.
pub const OUTCOMES: &[Column] = &before::<{ pick_rows::OUTCOME.len() + 1 }>(
    count("pick", "pick", "the number of the pick"),
    pick_rows::OUTCOME,
);

/// A row of [`OUTCOMES`].
#[must_use]
pub fn outcome<'a>(pick: &Pick, outcome: &Outcome) -> Vec<Cell<'a>> {
    let mut cells = vec![Cell::Count(pick.drawn.pick.into())];
    cells.extend(pick_rows::outcome(outcome));
    cells
}

/// `picks_draws`: one row a pick and draw.
pub const PICKED: &[Column] = &[
    count("pick", "pick", "the number of the pick"),
    column("draw_id", "draw", "the draw's identity"),
    column("part", "part", "the part it was picked from"),
    column(
        "rank",
        "",
        "SHA-256 of seed, colon and identity; blank in an anonymous pack, as the seed is",
    ),
    time("drawn_at", "", "when it was drawn"),
    column("point_id", "point", "the point it was drawn at"),
    column("technician_id", "technician", "who drew it"),
    column(
        "record_verdict",
        "verdict",
        "the verdict of the record when it was picked",
    ),
    column(
        "record_broken",
        "",
        "ids of the rules broken on it then, joined with `;`",
    ),
    column(
        "result",
        "result",
        "what the verification found: `agree`, `disagree`, `unverified`; blank for none yet",
    ),
    column(
        "verifier",
        "verifier",
        "whether the verifier holds the sample for `representative` or `unrepresentative`; may be blank",
    ),
    column("note", "note", "the verifier's note"),
];

/// A row of [`PICKED`].
#[must_use]
pub fn picked<'a>(
    pick: &Pick,
    seen: &'a DrawSeen,
    (part, rank): (&'a str, String),
    found: Option<&'a Verified>,
) -> Vec<Cell<'a>> {
    let words = |text: Option<&'a str>| text.map_or(Cell::Blank, Cell::text);
    let verifier = found.and_then(|found| found.representative);
    vec![
        Cell::Count(pick.drawn.pick.into()),
        Cell::text(&seen.draw),
        Cell::text(part),
        Cell::text(rank),
        Cell::Time(seen.drawn_at),
        Cell::text(&seen.point),
        Cell::text(&seen.technician),
        Cell::text(&seen.verdict),
        Cell::text(seen.broken.join(";")),
        words(found.map(|found| found.result.as_str())),
        words(verifier.map(|is| {
            if is {
                "representative"
            } else {
                "unrepresentative"
            }
        })),
        words(found.map(|found| found.note.as_str())),
    ]
}

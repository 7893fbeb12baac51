//! The columns of `fairdraw doubts`.

use std::collections::{BTreeMap, BTreeSet};

use super::rows::{column, spare, table_only};
use super::{Cell, Column, Place};
use crate::analysis::doubts::{About, Doubt, Doubts, Evidence, Reach};
use crate::analysis::{Assessed, BLANK};
use crate::model::time::utc_text;

/// The identities of draws by their rows.
pub type Identities = BTreeMap<u32, String>;

const fn json_only(name: &'static str, meaning: &'static str) -> Column {
    Column {
        place: Place::JsonOnly,
        ..column(name, "", meaning)
    }
}

/// `fairdraw doubts`: one row a doubt, the least likely by accident first.
pub const DOUBTS: &[Column] = &[
    column(
        "signal",
        "",
        "id of the signal; docs/doubts.md describes each",
    ),
    column("about", "", "`technician`, `site` or `draws` (two of them)"),
    column(
        "name",
        "who or what",
        "the technician's id, or the site; `(blank)` for a blank",
    ),
    spare(
        column("title", "worth asking about", "the signal in words"),
        2,
    ),
    column(
        "column",
        "",
        "the column it is about, where the signal looks at several",
    ),
    column("events", "", "how many were counted"),
    column("of", "", "out of how many"),
    column(
        "expected",
        "",
        "how many would be usual at the rates of all others",
    ),
    column(
        "chance",
        "",
        "the chance of so many by accident, in this comparison alone",
    ),
    column(
        "adjusted",
        "",
        "the same, adjusted (Holm) for all comparisons of all signals; at most 0.01",
    ),
    table_only("by accident"),
    spare(
        column(
            "draws",
            "draws",
            "selected draws that are part of the evidence",
        ),
        3,
    ),
    column("says", "what was seen", "what was counted, in words"),
    json_only(
        "explanations",
        "what else explains it, honest explanations all",
    ),
    json_only("next", "what to do next"),
    json_only(
        "examples",
        "the first of these draws, at most 12: `draw_id`, `point_id`, `technician_id`, `drawn_at` and `tells`, what is to be seen on it",
    ),
];

/// A row of [`DOUBTS`]; `identities` holds those of the draws it names.
#[must_use]
pub fn doubt<'a>(assessed: &'a Assessed, doubt: &Doubt, identities: &Identities) -> Vec<Cell<'a>> {
    let texts = |texts: &'static [&'static str]| {
        Cell::Items(texts.iter().map(|text| Cell::text(*text)).collect())
    };
    let examples = doubt
        .examples
        .iter()
        .map(|(seen, tells)| example(assessed, *seen, tells, identities));
    vec![
        Cell::text(doubt.signal.id),
        Cell::text(doubt.about.kind()),
        Cell::text(doubt.about.name(assessed)),
        Cell::text(doubt.signal.title),
        doubt.column.map_or(Cell::Blank, Cell::text),
        Cell::Count(doubt.events),
        Cell::Count(doubt.of),
        Cell::Quantity(doubt.expected),
        Cell::Quantity(doubt.chance),
        Cell::Quantity(doubt.adjusted),
        Cell::text(odds(doubt.adjusted)),
        Cell::Count(doubt.evidence.len() as u64),
        Cell::text(doubt.says()),
        texts(doubt.signal.explanations),
        texts(doubt.signal.next),
        Cell::Items(examples.collect()),
    ]
}

/// A chance in words: `1 in 4,000`.
#[must_use]
pub fn odds(chance: f64) -> String {
    if chance < 1e-6 {
        return "below 1 in a million".to_owned();
    }
    let one_in = (1.0 / chance).round();
    // Three digits are more than the assumptions bear.
    let step = 10_f64.powi((one_in.log10().floor() as i32 - 1).max(0));
    let digits = ((one_in / step).round() * step).to_string();
    let mut text = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if place > 0 && (digits.len() - place).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    format!("1 in {text}")
}

fn example<'a>(
    assessed: &'a Assessed,
    seen: Evidence,
    tells: &str,
    identities: &Identities,
) -> Cell<'a> {
    let judged = &assessed.judged;
    let row = seen.row as usize;
    let identity = identities.get(&seen.row).cloned().unwrap_or_default();
    Cell::Fields(vec![
        ("draw_id", Cell::text(identity)),
        (
            "point_id",
            Cell::text(&assessed.points[judged.point[row] as usize].id),
        ),
        (
            "technician_id",
            Cell::text(&assessed.technicians[judged.technician[row] as usize].id),
        ),
        ("drawn_at", Cell::Exact(utc_text(judged.drawn_at[row]))),
        ("tells", Cell::text(tells.to_owned())),
    ])
}

/// The rows whose identities the report of these doubts names, ascending.
#[must_use]
pub fn named_rows(doubts: &Doubts) -> Vec<u32> {
    let mut rows = BTreeSet::new();
    for doubt in &doubts.list {
        rows.extend(doubt.examples.iter().map(|(seen, _)| seen.row));
    }
    rows.into_iter().collect()
}

/// `fairdraw doubts --by signal`: one row a signal.
pub const BY_SIGNAL: &[Column] = &[
    column("signal", "signal", "id of the signal"),
    spare(
        column("title", "worth asking about", "the signal in words"),
        3,
    ),
    column(
        "comparisons",
        "comparisons",
        "technicians (columns apart), sites or labels that were compared, over the whole programme",
    ),
    spare(
        column(
            "silent",
            "too little data",
            "those about which nothing can be said: too few draws, or too few others",
        ),
        2,
    ),
    column(
        "doubts",
        "doubts",
        "doubts with a selected draw among their evidence",
    ),
    spare(
        column(
            "draws",
            "draws",
            "selected draws that are part of their evidence",
        ),
        1,
    ),
];

/// The rows of [`BY_SIGNAL`].
#[must_use]
pub fn by_signal(doubts: &Doubts) -> Vec<Vec<Cell<'static>>> {
    let row = |reach: &Reach| {
        let of = |doubt: &&Doubt| doubt.signal.id == reach.signal.id;
        let counts = counts(doubts.list.iter().filter(of), |_| true);
        vec![
            Cell::text(reach.signal.id),
            Cell::text(reach.signal.title),
            Cell::Count(reach.comparisons),
            Cell::Count(reach.silent),
            Cell::Count(counts.doubts),
            Cell::Count(counts.draws),
        ]
    };
    doubts.reach.iter().map(row).collect()
}

macro_rules! grouped {
    ($name:literal, $title:literal, $meaning:literal) => {
        &[
            column($name, $title, $meaning),
            column(
                "doubts",
                "doubts",
                "doubts with a selected draw of the group among their evidence",
            ),
            column(
                "draws",
                "draws",
                "selected draws that are part of their evidence",
            ),
            column("signals", "signals", "ids of their signals"),
            column(
                "adjusted",
                "",
                "the smallest chance by accident among them, adjusted for all comparisons",
            ),
            table_only("by accident"),
        ]
    };
}

/// `fairdraw doubts --by technician`: one row a technician about whom there is a doubt.
pub const BY_TECHNICIAN: &[Column] = grouped!(
    "technician_id",
    "technician",
    "the technician the doubts are about; those about a whole site are not counted here"
);
/// `fairdraw doubts --by site`: one row a site with a doubt.
pub const BY_SITE: &[Column] = grouped!("site", "site", "the site; `(blank)` for a blank");

/// What is counted of a group.
struct Counts {
    doubts: u64,
    draws: u64,
    signals: BTreeSet<&'static str>,
    adjusted: f64,
}

fn counts<'d>(doubts: impl Iterator<Item = &'d Doubt>, is_inside: impl Fn(u32) -> bool) -> Counts {
    let mut rows = BTreeSet::new();
    let mut counts = Counts {
        doubts: 0,
        draws: 0,
        signals: BTreeSet::new(),
        adjusted: 1.0,
    };
    for doubt in doubts {
        let inside: Vec<u32> = doubt
            .evidence
            .iter()
            .map(|seen| seen.row)
            .filter(|row| is_inside(*row))
            .collect();
        if !inside.is_empty() {
            counts.doubts += 1;
            counts.signals.insert(doubt.signal.id);
            counts.adjusted = counts.adjusted.min(doubt.adjusted);
            rows.extend(inside);
        }
    }
    counts.draws = rows.len() as u64;
    counts
}

/// The rows of [`BY_TECHNICIAN`] or, by site, of [`BY_SITE`]: the least likely first, then by
/// name.
#[must_use]
pub fn by_group<'a>(assessed: &'a Assessed, doubts: &Doubts, by_site: bool) -> Vec<Vec<Cell<'a>>> {
    let judged = &assessed.judged;
    let group = |row: u32| -> &'a str {
        if by_site {
            let point = &assessed.points[judged.point[row as usize] as usize];
            point.site.as_deref().unwrap_or(BLANK)
        } else {
            &assessed.technicians[judged.technician[row as usize] as usize].id
        }
    };
    // What is worth asking of a site is not to be asked of each who draws there.
    let is_listed = |doubt: &&Doubt| by_site || matches!(doubt.about, About::Technician(_));
    let listed = || doubts.list.iter().filter(is_listed);
    let mut groups: BTreeSet<&'a str> = BTreeSet::new();
    for doubt in listed() {
        groups.extend(doubt.evidence.iter().map(|seen| group(seen.row)));
    }
    let mut found: Vec<(&str, Counts)> = groups
        .into_iter()
        .map(|name| (name, counts(listed(), |row| group(row) == name)))
        .collect();
    found.sort_by(|one, other| one.1.adjusted.total_cmp(&other.1.adjusted));
    found
        .into_iter()
        .map(|(name, counts)| {
            vec![
                Cell::text(name),
                Cell::Count(counts.doubts),
                Cell::Count(counts.draws),
                Cell::List(counts.signals.into_iter().collect()),
                Cell::Quantity(counts.adjusted),
                Cell::text(odds(counts.adjusted)),
            ]
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chances_are_told_in_two_digits() {
        for (chance, text) in [
            (0.01, "1 in 100"),
            (0.009_3, "1 in 110"),
            (0.000_25, "1 in 4,000"),
            (1.234e-6, "1 in 810,000"),
            (1e-9, "below 1 in a million"),
            (0.0, "below 1 in a million"),
            (1.0, "1 in 1"),
        ] {
            assert_eq!(odds(chance), text);
        }
    }
}

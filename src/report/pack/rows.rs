//! Columns of the tables that only a pack has.

use crate::model::time::Tz;
use crate::model::trail::Link;
use crate::report::rows::{column, count, ids, object, time, yes_no};
use crate::report::{Cell, Column};
use crate::rules::{Rulebook, cards};

/// `rules_in_force`: one row a rule and set of rules.
pub const RULES_IN_FORCE: &[Column] = &[
    count(
        "set",
        "set",
        "the set of rules, from 1: 1 holds where no override does, others where one holds",
    ),
    column("rule", "rule", "the rule's id"),
    column("class", "class", "`sample`, `record` or `conduct`"),
    yes_no("on", "on", "whether it is applied"),
    count("weight", "weight", "its weight"),
    yes_no(
        "decisive",
        "decisive",
        "whether a breach alone makes the draw unrepresentative",
    ),
    column("owner", "answers to", "who can put it right"),
    ids(
        "kinds",
        "kinds of point",
        "the kinds of point it applies to",
    ),
    column(
        "settings",
        "settings",
        "its parameters with their values and units, joined with `; `",
    ),
    column("asks", "what it asks", "what it asks, in one sentence"),
    count(
        "cut_unrepresentative",
        "unrepresentative below",
        "percent of the weight below which a draw is unrepresentative, in this set",
    ),
    count(
        "cut_doubtful",
        "doubtful below",
        "percent of the weight below which a draw is doubtful, in this set",
    ),
];

/// The rows of [`RULES_IN_FORCE`].
#[must_use]
pub fn rules_in_force(book: &Rulebook) -> Vec<Vec<Cell<'static>>> {
    let sets = (1..).zip(book.all_in_force());
    sets.flat_map(|(number, set)| {
        cards().iter().enumerate().map(move |(place, card)| {
            let settings = set.settings(place).into_iter().map(|setting| {
                let text = format!("{} {} {}", setting.name, setting.value, setting.unit);
                text.trim_end().to_owned()
            });
            vec![
                Cell::Count(number),
                Cell::text(card.id),
                Cell::text(card.class.as_str()),
                Cell::YesNo(set.is_on(place)),
                Cell::Count(set.weights[place].into()),
                Cell::YesNo(set.decisive.has(place)),
                Cell::text(card.owner.as_str()),
                Cell::List(card.kinds.iter().map(|kind| kind.as_str()).collect()),
                Cell::text(settings.collect::<Vec<_>>().join("; ")),
                Cell::text(card.asks),
                Cell::Count(set.cuts.unrepresentative.into()),
                Cell::Count(set.cuts.doubtful.into()),
            ]
        })
    })
    .collect()
}

/// `trail.jsonl`: one line a link.
pub const TRAIL_LINE: &[Column] = &[
    count("number", "", "the number of the link, from 1"),
    time("at", "", "when it was decided"),
    column("kind", "", "the kind of decision"),
    column(
        "canonical",
        "",
        "the canonical form: JSON after RFC 8785 of `at`, `kind`, `number`, `what`, `who`; `null` in an anonymous pack, since it names people",
    ),
    column("previous", "", "the hash of the link before"),
    column(
        "hash",
        "",
        "SHA-256 over `previous`, a line feed and `canonical`, in hexadecimal",
    ),
];

/// A line of [`TRAIL_LINE`].
#[must_use]
pub fn link_line(link: &Link, is_anonymous: bool) -> Vec<Cell<'_>> {
    vec![
        Cell::Count(link.number.unsigned_abs()),
        Cell::Time(link.at),
        Cell::text(&link.kind),
        if is_anonymous {
            Cell::Blank
        } else {
            Cell::text(link.canonical())
        },
        Cell::text(&link.previous),
        Cell::text(&link.hash),
    ]
}

/// `pack.json`: what the pack is.
pub const PACK: &[Column] = &[
    count("fairdraw_pack", "", "the version of this layout of a pack"),
    column("program", "", "the program that wrote it, with its version"),
    time("made_at", "", "when it was made"),
    column(
        "made_by",
        "",
        "who had it made; in an anonymous pack a code",
    ),
    column(
        "programme",
        "",
        "the name of the programme file; `null` in an anonymous pack",
    ),
    column("zone", "", "the zone in which months and days are counted"),
    column(
        "where",
        "",
        "the filter that narrows all of it; empty for all draws",
    ),
    yes_no(
        "anonymous",
        "",
        "whether people and crews are replaced by codes",
    ),
    count("draws", "", "draws in the pack"),
    count("draws_in_all", "", "draws in the programme"),
    object(
        "rulebook",
        "",
        "`name`, `revision`, `fingerprint` of the rulebook in force",
    ),
    object(
        "trail",
        "",
        "`links`: how many there are, `head`: the hash of the last one (64 zeros if there is none)",
    ),
    object("tables", "", "every table by its name: `title`, `rows`"),
];

/// What [`PACK`] says.
pub struct About<'a> {
    /// The program with its version.
    pub program: &'a str,
    /// When, in seconds since 1970 UTC.
    pub made_at: i64,
    /// Who had it made; empty if not told.
    pub made_by: &'a str,
    /// The name of the programme file; empty if not told.
    pub programme: &'a str,
    /// The zone.
    pub zone: Tz,
    /// The filter.
    pub filter: &'a str,
    /// Whether people are replaced by codes.
    pub is_anonymous: bool,
    /// Draws in the pack.
    pub draws: u64,
    /// Draws in the programme.
    pub draws_in_all: u64,
    /// The rulebook.
    pub rulebook: &'a Rulebook,
    /// Links of the trail.
    pub links: u64,
    /// The hash of the last one.
    pub head: &'a str,
    /// Every table: name, title, rows.
    pub tables: &'a [(&'static str, &'static str, u64)],
}

/// The row of [`PACK`].
#[must_use]
pub fn about<'a>(about: &About<'a>) -> Vec<Cell<'a>> {
    let told = |text: &'a str| match text {
        "" => Cell::Blank,
        text => Cell::text(text),
    };
    let tables = about.tables.iter().map(|(name, title, rows)| {
        let fields = vec![("title", Cell::text(*title)), ("rows", Cell::Count(*rows))];
        (*name, Cell::Fields(fields))
    });
    vec![
        Cell::Count(super::LAYOUT),
        Cell::text(about.program),
        Cell::Time(about.made_at),
        told(about.made_by),
        told(about.programme),
        Cell::text(about.zone.name()),
        Cell::text(about.filter),
        Cell::YesNo(about.is_anonymous),
        Cell::Count(about.draws),
        Cell::Count(about.draws_in_all),
        Cell::Fields(vec![
            ("name", Cell::text(&about.rulebook.name)),
            ("revision", Cell::text(&about.rulebook.revision)),
            ("fingerprint", Cell::text(about.rulebook.fingerprint())),
        ]),
        Cell::Fields(vec![
            ("links", Cell::Count(about.links)),
            ("head", Cell::text(about.head)),
        ]),
        Cell::Fields(tables.collect()),
    ]
}

/// `fairdraw export`: one row a file of the pack.
pub const EXPORTED: &[Column] = &[
    column("file", "file", "the file, within the pack"),
    count(
        "rows",
        "rows",
        "rows of the table in it; blank where it is no table",
    ),
    count("bytes", "bytes", "its size"),
    column("sha256", "", "its SHA-256 in hexadecimal"),
];

/// A row of [`EXPORTED`].
#[must_use]
pub fn exported<'a>(
    file: &'a str,
    rows: Option<u64>,
    bytes: u64,
    sha256: &'a str,
) -> Vec<Cell<'a>> {
    vec![
        Cell::text(file),
        rows.map_or(Cell::Blank, Cell::Count),
        Cell::Count(bytes),
        Cell::text(sha256),
    ]
}

/// `fairdraw check --pack`: one row a fault.
pub const CHECK_PACK: &[Column] = &[
    column(
        "file",
        "file",
        "the file, within the pack; blank where it is about all of it",
    ),
    column(
        "fault",
        "fault",
        "`missing`, `altered`, `extra`, or what is wrong with the trail's head",
    ),
];

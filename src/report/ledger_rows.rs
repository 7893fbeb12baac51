//! The columns of `fairdraw ledger`.

use super::rows::{column, count, spare, table_only, time};
use super::{Cell, Column};
use crate::model::time::{Tz, local_text};

/// `fairdraw ledger`: one row a batch.
pub const LEDGER: &[Column] = &[
    count("batch", "batch", "the number of the batch, counting from 1"),
    time("taken_in_at", "", "when, in UTC"),
    spare(table_only("at"), 4),
    spare(
        column("who", "who", "who took it in or back; blank if nobody said"),
        5,
    ),
    spare(table_only("what"), 1),
    column(
        "sheets",
        "",
        "the files as they were named, with `; ` between them",
    ),
    count(
        "takes_back",
        "",
        "the batch that this one takes back; blank if it takes sheets in",
    ),
    column("because", "", "why it takes that back"),
    count(
        "taken_back_by",
        "",
        "the batch that took this one back; blank if it stands",
    ),
    count("taken", "taken", "rows that were new"),
    spare(
        count(
            "unchanged",
            "unchanged",
            "rows that said what the programme held",
        ),
        8,
    ),
    spare(
        count("changed", "changed", "rows that superseded an older state"),
        3,
    ),
    count("refused", "refused", "rows refused whole"),
    spare(
        count(
            "values_refused",
            "values refused",
            "values left blank, on rows that were taken",
        ),
        9,
    ),
    spare(
        count(
            "mended",
            "mended",
            "refused rows that later batches took in mended",
        ),
        6,
    ),
    column(
        "mended_by",
        "",
        "those batches with how many rows each, as `4 (12 rows)`, with `; ` between them",
    ),
    spare(
        count(
            "open",
            "open",
            "refused rows neither mended nor taken back with their batch",
        ),
        2,
    ),
    column("zone", "", "the zone in which local times were read"),
    column(
        "rulebook",
        "",
        "fingerprint of the rulebook in force; blank from before the ledger",
    ),
    column("program", "", "version of fairdraw"),
    spare(
        count(
            "link",
            "link",
            "the link of the trail that answers for it; blank from before the ledger",
        ),
        7,
    ),
];

/// What a row of [`LEDGER`] tells.
#[derive(Clone, Debug)]
pub struct Batch<'a> {
    /// Its number.
    pub number: u64,
    /// When, in seconds since 1970 UTC.
    pub taken_at: i64,
    /// Who took it in or back.
    pub who: Option<&'a str>,
    /// The batch that it takes back.
    pub takes_back: Option<u64>,
    /// Why.
    pub because: Option<&'a str>,
    /// The batch that took it back.
    pub taken_back_in: Option<u64>,
    /// Its files.
    pub sheets: Vec<&'a str>,
    /// Rows taken, unchanged, changed, refused; values refused.
    pub counts: [u64; 5],
    /// Batches that mended refused rows, with how many.
    pub mended: Vec<(u64, u64)>,
    /// Refused rows that are open.
    pub open: u64,
    /// IANA name of the zone.
    pub zone: &'a str,
    /// Fingerprint of the rulebook in force.
    pub rulebook: Option<&'a str>,
    /// Version of the program.
    pub program: &'a str,
    /// Its link in the trail.
    pub link: Option<u64>,
}

/// A row of [`LEDGER`]; the table shows times in this zone.
#[must_use]
pub fn batch<'a>(batch: &Batch<'a>, zone: Tz) -> Vec<Cell<'a>> {
    let [taken, unchanged, changed, refused, values] = batch.counts.map(Cell::Count);
    let mended = batch.mended.iter();
    vec![
        Cell::Count(batch.number),
        Cell::Time(batch.taken_at),
        Cell::text(local_text(batch.taken_at, zone)),
        optional(batch.who),
        Cell::text(what(batch)),
        Cell::text(joined(batch.sheets.iter().map(|sheet| (*sheet).to_owned()))),
        number(batch.takes_back),
        optional(batch.because),
        number(batch.taken_back_in),
        taken,
        unchanged,
        changed,
        refused,
        values,
        Cell::Count(mended.clone().map(|(_, rows)| rows).sum()),
        Cell::text(joined(
            mended.map(|(by, rows)| format!("{by} ({rows} rows)")),
        )),
        Cell::Count(batch.open),
        Cell::text(batch.zone),
        optional(batch.rulebook),
        Cell::text(batch.program),
        number(batch.link),
    ]
}

/// What it took in or back, and what became of it, in a few words.
fn what(batch: &Batch<'_>) -> String {
    let what = match (batch.takes_back, batch.sheets.as_slice()) {
        (Some(taken_back), _) => format!("takes batch {taken_back} back"),
        (None, []) => "nothing".to_owned(),
        (None, [one]) => (*one).to_owned(),
        (None, [first, others @ ..]) => format!("{first} and {} more", others.len()),
    };
    match batch.taken_back_in {
        Some(by) => format!("{what} (taken back by batch {by})"),
        None => what,
    }
}

fn joined(parts: impl Iterator<Item = String>) -> String {
    parts.collect::<Vec<_>>().join("; ")
}

fn optional<'a>(text: Option<&'a str>) -> Cell<'a> {
    text.map_or(Cell::Blank, Cell::text)
}

fn number(number: Option<u64>) -> Cell<'static> {
    number.map_or(Cell::Blank, Cell::Count)
}

/// `fairdraw ledger show`: one row a sheet.
pub const SHEETS: &[Column] = &[
    count("batch", "", "the number of the batch"),
    count(
        "place",
        "",
        "place of the sheet in the batch, counting from 1",
    ),
    column("sheet", "sheet", "the file as it was named"),
    spare(column("kind", "kind", "what it held"), 2),
    spare(
        count(
            "bytes",
            "bytes",
            "size of the file; blank from before the ledger",
        ),
        6,
    ),
    column(
        "sha256",
        "",
        "SHA-256 of the file as it stood; blank from before the ledger",
    ),
    spare(table_only("SHA-256"), 5),
    spare(
        column(
            "how_read",
            "read as",
            "how the file was read; blank where it was plain CSV in UTF-8",
        ),
        7,
    ),
    column(
        "map",
        "",
        "fingerprint of the column map it was read through; blank if none",
    ),
    spare(table_only("map"), 8),
    count("taken", "taken", "rows that were new"),
    spare(
        count(
            "unchanged",
            "unchanged",
            "rows that said what the programme held",
        ),
        4,
    ),
    spare(
        count("changed", "changed", "rows that superseded an older state"),
        3,
    ),
    count("refused", "refused", "rows refused whole"),
    spare(
        count(
            "values_refused",
            "values refused",
            "values left blank, on rows that were taken",
        ),
        1,
    ),
    column("remarks", "", "remarks, with `; ` between them"),
];

/// How much of a long fingerprint a table shows.
const PRINT_SHOWN: usize = 12;

/// What a row of [`SHEETS`] tells.
#[derive(Clone, Debug)]
pub struct Sheet<'a> {
    /// The file as it was named.
    pub sheet: &'a str,
    /// What it held.
    pub kind: &'a str,
    /// Size in bytes.
    pub bytes: Option<u64>,
    /// SHA-256 in hexadecimal.
    pub sha256: Option<&'a str>,
    /// How it was read.
    pub how_read: Option<&'a str>,
    /// Fingerprint of the column map.
    pub map: Option<&'a str>,
    /// Rows taken, unchanged, changed, refused; values refused.
    pub counts: [u64; 5],
    /// Remarks.
    pub remarks: &'a [String],
}

/// A row of [`SHEETS`]: the sheet at this place (counting from 0) of a batch.
#[must_use]
pub fn sheet<'a>(batch: i64, place: usize, sheet: &Sheet<'a>) -> Vec<Cell<'a>> {
    let [taken, unchanged, changed, refused, values] = sheet.counts.map(Cell::Count);
    vec![
        Cell::Count(batch.cast_unsigned()),
        Cell::Count(place as u64 + 1),
        Cell::text(sheet.sheet),
        Cell::text(sheet.kind),
        number(sheet.bytes),
        optional(sheet.sha256),
        optional(sheet.sha256.map(beginning)),
        optional(sheet.how_read),
        optional(sheet.map),
        optional(sheet.map.map(beginning)),
        taken,
        unchanged,
        changed,
        refused,
        values,
        Cell::text(joined(sheet.remarks.iter().cloned())),
    ]
}

fn beginning(print: &str) -> &str {
    print.get(..PRINT_SHOWN).unwrap_or(print)
}

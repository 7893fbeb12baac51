//! Batches: when, by whom, under which rulebook, how many rows of which sheet.

use rusqlite::{Connection, OptionalExtension};

/// One batch: sheets taken in, or an earlier batch taken back.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Import {
    /// Its number, counting from 1.
    pub number: i64,
    /// When, in seconds since 1970 UTC.
    pub taken_at: i64,
    /// Version of the program that took it in.
    pub program: String,
    /// The IANA name of the zone in which local times were read.
    pub zone: String,
    /// Who took it in; `None` where nobody said.
    pub who: Option<String>,
    /// Fingerprint of the rulebook in force; `None` from before the ledger.
    pub rulebook: Option<String>,
    /// The batch that this one takes back; `None` where it takes sheets in.
    pub takes_back: Option<i64>,
    /// Why it takes that back.
    pub because: Option<String>,
    /// Its link in the trail; `None` from before the ledger.
    pub link: Option<i64>,
    /// The batch that took this one back; `None` where it stands.
    pub taken_back_in: Option<i64>,
}

impl Import {
    /// Whether it took sheets in and was not taken back.
    #[must_use]
    pub fn stands(&self) -> bool {
        self.takes_back.is_none() && self.taken_back_in.is_none()
    }
}

/// What was done with one sheet of an import.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ImportedSheet {
    /// The file as it was named.
    pub sheet: String,
    /// What it held.
    pub kind: String,
    /// Rows new to the programme.
    pub taken: u64,
    /// Rows equal to what the programme held.
    pub unchanged: u64,
    /// Rows that superseded an older state.
    pub changed: u64,
    /// Rows refused whole.
    pub refused_rows: u64,
    /// Values refused alone.
    pub refused_values: u64,
    /// Remarks.
    pub remarks: Vec<String>,
    /// Size of the file in bytes; `None` from before the ledger.
    pub bytes: Option<u64>,
    /// SHA-256 of the file as it stood, in hexadecimal; `None` from before the ledger.
    pub sha256: Option<String>,
    /// How the file was read: encoding, delimiter and the like.
    pub how_read: Option<String>,
    /// Fingerprint of the column map it was read through.
    pub map: Option<String>,
    /// Place of the entry of that map, counting from 0.
    pub map_entry: Option<u64>,
    /// The header as it stood, where rows were refused.
    pub header: Option<Vec<String>>,
}

/// Begins a batch with the next number and gives that; `number`, `link` and `taken_back_in`
/// are not looked at.
///
/// # Errors
/// What SQLite says.
pub fn begin(connection: &Connection, batch: &Import) -> rusqlite::Result<i64> {
    connection.execute(
        "INSERT INTO imports (taken_at, program, zone, who, rulebook, takes_back, because) \
         VALUES (?, ?, ?, ?, ?, ?, ?)",
        (
            batch.taken_at,
            &batch.program,
            &batch.zone,
            &batch.who,
            &batch.rulebook,
            batch.takes_back,
            &batch.because,
        ),
    )?;
    Ok(connection.last_insert_rowid())
}

/// Says by which link the trail speaks of this batch.
///
/// # Errors
/// What SQLite says.
pub fn set_link(connection: &Connection, import: i64, link: i64) -> rusqlite::Result<()> {
    connection
        .execute(
            "UPDATE imports SET link = ?2 WHERE import = ?1",
            (import, link),
        )
        .map(|_| ())
}

/// All batches, the latest first.
///
/// # Errors
/// What SQLite says.
pub fn all(connection: &Connection) -> rusqlite::Result<Vec<Import>> {
    connection
        .prepare_cached(
            "SELECT import, taken_at, program, zone, who, rulebook, takes_back, because, link, \
             (SELECT min(later.import) FROM imports AS later \
              WHERE later.takes_back = imports.import) \
             FROM imports ORDER BY import DESC",
        )?
        .query_map([], |row| {
            Ok(Import {
                number: row.get(0)?,
                taken_at: row.get(1)?,
                program: row.get(2)?,
                zone: row.get(3)?,
                who: row.get(4)?,
                rulebook: row.get(5)?,
                takes_back: row.get(6)?,
                because: row.get(7)?,
                link: row.get(8)?,
                taken_back_in: row.get(9)?,
            })
        })?
        .collect()
}

/// The zone of the first import that stands; `None` before it.
///
/// # Errors
/// What SQLite says.
pub fn first_zone(connection: &Connection) -> rusqlite::Result<Option<String>> {
    connection
        .query_row(
            "SELECT zone FROM imports WHERE takes_back IS NULL AND import NOT IN \
             (SELECT takes_back FROM imports WHERE takes_back IS NOT NULL) \
             ORDER BY import LIMIT 1",
            [],
            |row| row.get(0),
        )
        .optional()
}

/// Says what was done with the sheet at this place of an import.
///
/// # Errors
/// What SQLite says.
pub fn add_sheet(
    connection: &Connection,
    import: i64,
    place: usize,
    sheet: &ImportedSheet,
) -> rusqlite::Result<()> {
    let texts = |texts: &[String]| serde_json::Value::from(texts).to_string();
    connection
        .execute(
            "INSERT INTO import_sheets (import, place, sheet, kind, taken, unchanged, changed, \
             refused_rows, refused_values, remarks, bytes, sha256, how_read, map, map_entry, header) \
             VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            (
                import,
                super::count(place as u64),
                &sheet.sheet,
                &sheet.kind,
                super::count(sheet.taken),
                super::count(sheet.unchanged),
                super::count(sheet.changed),
                super::count(sheet.refused_rows),
                super::count(sheet.refused_values),
                texts(&sheet.remarks),
                sheet.bytes.map(super::count),
                &sheet.sha256,
                &sheet.how_read,
                &sheet.map,
                sheet.map_entry.map(super::count),
                sheet.header.as_deref().map(texts),
            ),
        )
        .map(|_| ())
}

/// The sheets of an import, in the order they were taken in.
///
/// # Errors
/// What SQLite says.
pub fn sheets(connection: &Connection, import: i64) -> rusqlite::Result<Vec<ImportedSheet>> {
    let count = |row: &rusqlite::Row<'_>, column| row.get::<_, i64>(column).map(i64::cast_unsigned);
    connection
        .prepare_cached(
            "SELECT sheet, kind, taken, unchanged, changed, refused_rows, refused_values, remarks, \
             bytes, sha256, how_read, map, map_entry, header \
             FROM import_sheets WHERE import = ? ORDER BY place",
        )?
        .query_map([import], |row| {
            let remarks: String = row.get(7)?;
            let header: Option<String> = row.get(13)?;
            Ok(ImportedSheet {
                sheet: row.get(0)?,
                kind: row.get(1)?,
                taken: count(row, 2)?,
                unchanged: count(row, 3)?,
                changed: count(row, 4)?,
                refused_rows: count(row, 5)?,
                refused_values: count(row, 6)?,
                remarks: serde_json::from_str(&remarks).unwrap_or_default(),
                bytes: row.get::<_, Option<i64>>(8)?.map(i64::cast_unsigned),
                sha256: row.get(9)?,
                how_read: row.get(10)?,
                map: row.get(11)?,
                map_entry: row.get::<_, Option<i64>>(12)?.map(i64::cast_unsigned),
                header: header.and_then(|header| serde_json::from_str(&header).ok()),
            })
        })?
        .collect()
}

/// The last batch before this one that stands and took in a file of this SHA-256 through this
/// map.
///
/// # Errors
/// What SQLite says.
pub fn of_file(
    connection: &Connection,
    before: i64,
    sha256: &str,
    map: Option<&str>,
) -> rusqlite::Result<Option<i64>> {
    connection.query_row(
        "SELECT max(import) FROM import_sheets WHERE import < ? AND sha256 = ? AND map IS ? \
         AND import NOT IN (SELECT takes_back FROM imports WHERE takes_back IS NOT NULL)",
        (before, sha256, map),
        |row| row.get(0),
    )
}

/// Keeps the text of a column map, once a fingerprint.
///
/// # Errors
/// What SQLite says.
pub fn keep_map(connection: &Connection, fingerprint: &str, text: &str) -> rusqlite::Result<()> {
    connection
        .execute(
            "INSERT OR IGNORE INTO column_maps VALUES (?, ?)",
            (fingerprint, text),
        )
        .map(|_| ())
}

/// The text of the column map of this fingerprint.
///
/// # Errors
/// What SQLite says.
pub fn map_text(connection: &Connection, fingerprint: &str) -> rusqlite::Result<Option<String>> {
    connection
        .query_row(
            "SELECT text FROM column_maps WHERE fingerprint = ?",
            [fingerprint],
            |row| row.get(0),
        )
        .optional()
}

//! What imports refused: values and rows with their reasons, rows as they stood, and which
//! of those were mended.

use rusqlite::{Connection, Statement};

/// A row or value that was refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// The file as it was named.
    pub sheet: String,
    /// Line on which the row begins.
    pub line: u64,
    /// The column; empty where the row as a whole is at fault.
    pub column: String,
    /// The value, shortened.
    pub value: String,
    /// Why.
    pub reason: String,
    /// Whether the whole row was refused.
    pub whole_row: bool,
}

/// A row refused whole, as it stood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RefusedRow {
    /// The batch that refused it.
    pub import: i64,
    /// Place of its sheet in the batch, counting from 0.
    pub place: usize,
    /// Line on which it begins.
    pub line: u64,
    /// Its cells; `None` where it was too long to be kept.
    pub cells: Option<Vec<String>>,
    /// The batch that took it in mended, the last one that stands.
    pub mended_in: Option<i64>,
}

/// Where a refused row came from: batch, place of the sheet in it, line.
pub type Origin = (i64, usize, u64);

/// Writes refusals of one import.
pub struct Refusals<'c> {
    insert: Statement<'c>,
    insert_row: Statement<'c>,
    mended: Statement<'c>,
    import: i64,
}

impl<'c> Refusals<'c> {
    /// Prepares to write the refusals of this import.
    ///
    /// # Errors
    /// What SQLite says.
    pub fn new(connection: &'c Connection, import: i64) -> rusqlite::Result<Self> {
        Ok(Refusals {
            insert: connection.prepare("INSERT INTO refusals VALUES (?, ?, ?, ?, ?, ?, ?)")?,
            insert_row: connection
                .prepare("INSERT OR IGNORE INTO refused_rows VALUES (?, ?, ?, ?)")?,
            mended: connection.prepare(
                "INSERT OR IGNORE INTO mended SELECT same.import, same.place, same.line, ?4 \
                 FROM refused_rows AS same JOIN import_sheets AS sheet USING (import, place) \
                 JOIN import_sheets AS this ON sheet.sha256 IS this.sha256 \
                 AND sheet.map IS this.map AND sheet.kind = this.kind \
                 WHERE this.import = ?1 AND this.place = ?2 AND same.line = ?3 \
                 AND same.import < ?4",
            )?,
            import,
        })
    }

    /// Adds what was refused of the sheet at this place.
    ///
    /// # Errors
    /// What SQLite says.
    pub fn add(
        &mut self,
        place: usize,
        line: u64,
        (column, value, reason): (&str, &str, &str),
        whole_row: bool,
    ) -> rusqlite::Result<()> {
        let (place, line) = (super::count(place as u64), super::count(line));
        self.insert
            .execute((self.import, place, line, column, value, reason, whole_row))
            .map(|_| ())
    }

    /// Keeps a row refused whole as it stood; `None` for one too long to be kept.
    ///
    /// # Errors
    /// What SQLite says.
    pub fn add_row(
        &mut self,
        place: usize,
        line: u64,
        cells: Option<&[String]>,
    ) -> rusqlite::Result<()> {
        let (place, line) = (super::count(place as u64), super::count(line));
        let cells = cells.map(|cells| serde_json::Value::from(cells).to_string());
        self.insert_row
            .execute((self.import, place, line, cells))
            .map(|_| ())
    }

    /// Says that this import took in a row that an earlier one had refused, and with it the same
    /// row of the same file wherever that was taken in; whether there is such a row.
    ///
    /// # Errors
    /// What SQLite says.
    pub fn add_mended(&mut self, (import, place, line): Origin) -> rusqlite::Result<bool> {
        let (place, line) = (super::count(place as u64), super::count(line));
        self.mended
            .execute((import, place, line, self.import))
            .map(|added| added > 0)
    }
}

/// Hands over what an import refused, one by one in order, for as long as `on` says so.
///
/// # Errors
/// What SQLite says.
pub fn each_refusal(
    connection: &Connection,
    import: i64,
    on: &mut dyn FnMut(Refused) -> bool,
) -> rusqlite::Result<()> {
    let mut statement = connection.prepare_cached(
        "SELECT sheet, line, \"column\", value, reason, whole_row \
         FROM refusals JOIN import_sheets USING (import, place) \
         WHERE import = ? ORDER BY refusals.rowid",
    )?;
    let mut rows = statement.query([import])?;
    while let Some(row) = rows.next()? {
        let refused = Refused {
            sheet: row.get(0)?,
            line: row.get::<_, i64>(1)?.cast_unsigned(),
            column: row.get(2)?,
            value: row.get(3)?,
            reason: row.get(4)?,
            whole_row: row.get(5)?,
        };
        if !on(refused) {
            break;
        }
    }
    Ok(())
}

/// What an import refused, in order, at most so many.
///
/// # Errors
/// What SQLite says.
pub fn refusals(
    connection: &Connection,
    import: i64,
    at_most: u32,
) -> rusqlite::Result<Vec<Refused>> {
    let mut found = Vec::new();
    let at_most = at_most as usize;
    if at_most > 0 {
        each_refusal(connection, import, &mut |refused| {
            found.push(refused);
            found.len() < at_most
        })?;
    }
    Ok(found)
}

/// Why the rows of one sheet were refused: line and reason with its column, in order.
///
/// # Errors
/// What SQLite says.
pub fn reasons(
    connection: &Connection,
    import: i64,
    place: usize,
) -> rusqlite::Result<Vec<(u64, String)>> {
    connection
        .prepare_cached(
            "SELECT line, \"column\", reason FROM refusals \
             WHERE import = ? AND place = ? AND whole_row ORDER BY line, rowid",
        )?
        .query_map((import, super::count(place as u64)), |row| {
            let (column, reason): (String, String) = (row.get(1)?, row.get(2)?);
            let told = if column.is_empty() {
                reason
            } else {
                format!("{column}: {reason}")
            };
            Ok((row.get::<_, i64>(0)?.cast_unsigned(), told))
        })?
        .collect()
}

/// Hands over the rows that an import refused whole, in order of sheet and line.
///
/// # Errors
/// What SQLite says, or what `on` returns.
pub fn each_row(
    connection: &Connection,
    import: i64,
    on: &mut dyn FnMut(RefusedRow),
) -> rusqlite::Result<()> {
    let mut statement = connection.prepare_cached(
        "SELECT place, line, cells, (SELECT max(mended_in) FROM mended \
            WHERE mended.import = refused_rows.import AND mended.place = refused_rows.place \
            AND mended.line = refused_rows.line AND mended_in NOT IN \
            (SELECT takes_back FROM imports WHERE takes_back IS NOT NULL)) \
         FROM refused_rows WHERE import = ? ORDER BY place, line",
    )?;
    let mut rows = statement.query([import])?;
    while let Some(row) = rows.next()? {
        let cells: Option<String> = row.get(2)?;
        on(RefusedRow {
            import,
            place: usize::try_from(row.get::<_, i64>(0)?).unwrap_or(usize::MAX),
            line: row.get::<_, i64>(1)?.cast_unsigned(),
            cells: cells.and_then(|cells| serde_json::from_str(&cells).ok()),
            mended_in: row.get(3)?,
        });
    }
    Ok(())
}

/// How many rows that this import refused whole were mended: place of the sheet, the batch
/// that took them in, how many; batches that were taken back are left out.
///
/// # Errors
/// What SQLite says.
pub fn mended(connection: &Connection, import: i64) -> rusqlite::Result<Vec<(usize, i64, u64)>> {
    connection
        .prepare_cached(
            "SELECT place, last, count(*) FROM (SELECT place, max(mended_in) AS last FROM mended \
                WHERE import = ? AND mended_in NOT IN \
                (SELECT takes_back FROM imports WHERE takes_back IS NOT NULL) \
                GROUP BY place, line) GROUP BY place, last ORDER BY place, last",
        )?
        .query_map([import], |row| {
            let place = usize::try_from(row.get::<_, i64>(0)?).unwrap_or(usize::MAX);
            Ok((place, row.get(1)?, row.get::<_, i64>(2)?.cast_unsigned()))
        })?
        .collect()
}

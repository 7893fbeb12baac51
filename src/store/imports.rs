//! Imports: when, by what program, in what zone, how many rows of which sheet, and what
//! was refused.

use rusqlite::{Connection, OptionalExtension, Statement};

/// One import.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Import {
    /// Its number, counting from 1.
    pub number: i64,
    /// When, in seconds since 1970 UTC.
    pub taken_at: i64,
    /// Version of the program that took it in.
    pub program: String,
    /// The IANA name of the zone in which local times were read.
    pub zone: String,
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
}

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

/// Begins an import and gives its number.
///
/// # Errors
/// What SQLite says.
pub fn begin(
    connection: &Connection,
    taken_at: i64,
    program: &str,
    zone: &str,
) -> rusqlite::Result<i64> {
    connection.execute(
        "INSERT INTO imports (taken_at, program, zone) VALUES (?, ?, ?)",
        (taken_at, program, zone),
    )?;
    Ok(connection.last_insert_rowid())
}

/// All imports, the latest first.
///
/// # Errors
/// What SQLite says.
pub fn all(connection: &Connection) -> rusqlite::Result<Vec<Import>> {
    connection
        .prepare_cached("SELECT import, taken_at, program, zone FROM imports ORDER BY import DESC")?
        .query_map([], |row| {
            Ok(Import {
                number: row.get(0)?,
                taken_at: row.get(1)?,
                program: row.get(2)?,
                zone: row.get(3)?,
            })
        })?
        .collect()
}

/// The zone of the first import; `None` before it.
///
/// # Errors
/// What SQLite says.
pub fn first_zone(connection: &Connection) -> rusqlite::Result<Option<String>> {
    connection
        .query_row(
            "SELECT zone FROM imports ORDER BY import LIMIT 1",
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
    let remarks = serde_json::Value::from(sheet.remarks.clone()).to_string();
    connection
        .execute(
            "INSERT INTO import_sheets VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
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
                remarks,
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
            "SELECT sheet, kind, taken, unchanged, changed, refused_rows, refused_values, remarks \
             FROM import_sheets WHERE import = ? ORDER BY place",
        )?
        .query_map([import], |row| {
            let remarks: String = row.get(7)?;
            Ok(ImportedSheet {
                sheet: row.get(0)?,
                kind: row.get(1)?,
                taken: count(row, 2)?,
                unchanged: count(row, 3)?,
                changed: count(row, 4)?,
                refused_rows: count(row, 5)?,
                refused_values: count(row, 6)?,
                remarks: serde_json::from_str(&remarks).unwrap_or_default(),
            })
        })?
        .collect()
}

/// Writes refusals of one import.
pub struct Refusals<'c> {
    insert: Statement<'c>,
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

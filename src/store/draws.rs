//! Rows of draws: written once, read one at a time or all in order.

use rusqlite::{Connection, Row, Statement};

use super::kept::unreadable;
use super::points::word;
use crate::model::{Draw, DrawRecord, Looks, MachineState, Method, Moment, Number, PurgeStage};

/// The columns that judging looks at, in the order in which they are written.
const FACTS: &str = "record, point, technician, drawn_at, recorded_at, registered_at, \
    dispatched_at, received_at, stopped_min, oil_temp_c, machine_hours, oil_hours, flushed_ml, \
    tube_mark_cm, fill_pct, method, machine_state, point_cleaned, tube_new, bottle_ok, \
    capped_at_once, safety_confirmed, looks, second_fill, purge_stage, fluid, draw_id, \
    bottle_id, pair_of, set_id";

/// The columns that judging looks at, in the order in which they are read, with the places
/// of point and technician in their lists (counting from 1) for their numbers.
fn facts(connection: &Connection) -> rusqlite::Result<String> {
    if is_listed_by_number(connection)? {
        return Ok(FACTS.to_owned());
    }
    let place = |table: &str, column: &str| {
        format!("(SELECT listed FROM {table} WHERE number = draws.{column})")
    };
    let places = format!(
        "record, {}, {},",
        place("points", "point"),
        place("technicians", "technician")
    );
    Ok(FACTS.replacen("record, point, technician,", &places, 1))
}

/// Whether every point and technician stands in its list at the place of its number, as it
/// does until a batch that brought some is taken back.
fn is_listed_by_number(connection: &Connection) -> rusqlite::Result<bool> {
    connection.query_row(
        "SELECT NOT EXISTS (SELECT 1 FROM points WHERE listed IS NOT number) \
         AND NOT EXISTS (SELECT 1 FROM technicians WHERE listed IS NOT number)",
        [],
        |row| row.get(0),
    )
}

/// The rest of a row.
const REST: &str = "topped_up_l, remarks, kept_aside";

/// The texts of a row that judging compares, as they stand in the file; empty for blank.
#[derive(Clone, Copy, Debug)]
pub struct Compared<'a> {
    /// Unique name of the draw.
    pub draw_id: &'a str,
    /// Code on the bottle.
    pub bottle_id: &'a str,
    /// On a second fill: the bottle of its first fill.
    pub pair_of: &'a str,
    /// Joins the draws of one tank set.
    pub set_id: &'a str,
}

/// Writes draws of one import through prepared statements.
pub struct Writer<'c> {
    insert: Statement<'c>,
    supersede: Statement<'c>,
    import: i64,
    /// The numbers of points and technicians by their places, where these differ.
    numbers: Option<[Vec<u32>; 2]>,
}

impl<'c> Writer<'c> {
    /// Prepares to write the draws of this import.
    ///
    /// # Errors
    /// What SQLite says.
    pub fn new(connection: &'c Connection, import: i64) -> rusqlite::Result<Self> {
        let marks = vec!["?"; 35].join(", ");
        let sql = format!(
            "INSERT INTO draws ({FACTS}, {REST}, imported_in, supersedes) VALUES ({marks})"
        );
        let numbers = if is_listed_by_number(connection)? {
            None
        } else {
            Some([
                super::points::TABLE.numbers(connection)?,
                super::people::TECHNICIANS.numbers(connection)?,
            ])
        };
        Ok(Writer {
            numbers,
            insert: connection.prepare(&sql)?,
            supersede: connection
                .prepare("UPDATE draws SET superseded_in = ?2 WHERE record = ?1")?,
            import,
        })
    }

    /// Adds a row with the record number in its facts, in place of an older one if given.
    ///
    /// # Errors
    /// What SQLite says.
    pub fn add(&mut self, draw: &DrawRecord, supersedes: Option<u32>) -> rusqlite::Result<()> {
        if let Some(older) = supersedes {
            self.supersede.execute((older, self.import))?;
        }
        let facts = &draw.facts;
        let number = |list: usize, place: u32| match &self.numbers {
            None => Ok(place + 1),
            Some(numbers) => (numbers[list].get(place as usize).copied())
                .ok_or(rusqlite::Error::IntegralValueOutOfRange(list, place.into())),
        };
        let (point, technician) = (number(0, facts.point)?, number(1, facts.technician)?);
        let insert = &mut self.insert;
        let mut place = 0;
        macro_rules! bind {
            ($($value:expr),+ $(,)?) => {$(
                place += 1;
                insert.raw_bind_parameter(place, $value)?;
            )+};
        }
        bind!(
            facts.record,
            point,
            technician,
            facts.drawn_at,
            facts.recorded_at.get(),
            facts.registered_at.get(),
            facts.dispatched_at.get(),
            facts.received_at.get(),
            facts.stopped_min.get(),
            facts.oil_temp_c.get(),
            facts.machine_hours.get(),
            facts.oil_hours.get(),
            facts.flushed_ml.get(),
            facts.tube_mark_cm.get(),
            facts.fill_pct.get(),
            facts.method.map(Method::as_str),
            facts.machine_state.map(MachineState::as_str),
            facts.point_cleaned,
            facts.tube_new,
            facts.bottle_ok,
            facts.capped_at_once,
            facts.safety_confirmed,
        );
        if facts.looks.is_blank() {
            bind!(None::<&str>);
        } else if facts.looks.iter().count() == 1 {
            bind!(facts.looks.iter().next().map(crate::model::Look::as_str));
        } else {
            bind!(facts.looks.to_string());
        }
        bind!(
            facts.second_fill,
            facts.purge_stage.map(PurgeStage::as_str),
            filled(&draw.fluid),
            filled(&draw.draw_id),
            filled(&draw.bottle_id),
            filled(&draw.pair_of),
            filled(&draw.set_id),
            draw.topped_up_l.get(),
            filled(&draw.remarks),
            filled(&draw.kept_aside),
            self.import,
            supersedes,
        );
        insert.raw_execute().map(|_| ())
    }
}

fn filled(text: &str) -> Option<&str> {
    (!text.is_empty()).then_some(text)
}

/// The greatest record number in use; 0 if there is none.
///
/// # Errors
/// What SQLite says.
pub fn last_record(connection: &Connection) -> rusqlite::Result<u32> {
    connection.query_row("SELECT coalesce(max(record), 0) FROM draws", [], |row| {
        row.get(0)
    })
}

/// Hands over every live draw, in order of its record number, until `each` says no.
///
/// # Errors
/// What SQLite says.
pub fn each_live(
    connection: &Connection,
    each: &mut dyn FnMut(Draw, Compared<'_>) -> bool,
) -> rusqlite::Result<()> {
    let facts = facts(connection)?;
    let sql = format!("SELECT {facts} FROM draws WHERE superseded_in IS NULL ORDER BY record");
    let mut statement = connection.prepare(&sql)?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let (draw, compared) = read_facts(row)?;
        if !each(draw, compared) {
            break;
        }
    }
    Ok(())
}

/// Hands over every live draw with the grade on its label (empty for blank), in order of its
/// record number, until `each` says no.
///
/// # Errors
/// What SQLite says.
pub fn each_live_labelled(
    connection: &Connection,
    each: &mut dyn FnMut(Draw, &str) -> bool,
) -> rusqlite::Result<()> {
    let sql = format!("SELECT {FACTS} FROM draws WHERE superseded_in IS NULL ORDER BY record");
    let mut statement = connection.prepare(&sql)?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        if !each(read_facts(row)?.0, text(row, 25)?) {
            break;
        }
    }
    Ok(())
}

/// Hands over every live draw in full, in order of its record number.
///
/// # Errors
/// What SQLite says.
pub fn each_live_record(
    connection: &Connection,
    each: &mut dyn FnMut(DrawRecord),
) -> rusqlite::Result<()> {
    let facts = facts(connection)?;
    let sql =
        format!("SELECT {facts}, {REST} FROM draws WHERE superseded_in IS NULL ORDER BY record");
    let mut statement = connection.prepare(&sql)?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        each(read_record(row)?);
    }
    Ok(())
}

/// Hands over what was kept aside with every live draw, in no certain order; blanks are left
/// out.
///
/// # Errors
/// What SQLite says.
pub fn each_kept_aside(
    connection: &Connection,
    each: &mut dyn FnMut(&str),
) -> rusqlite::Result<()> {
    let mut statement = connection.prepare(
        "SELECT kept_aside FROM draws WHERE superseded_in IS NULL AND kept_aside IS NOT NULL",
    )?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        each(text(row, 0)?);
    }
    Ok(())
}

/// How a row came to be stored and whether it still counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct State {
    /// The import that brought it.
    pub imported_in: i64,
    /// The import that put another in its place, if one did.
    pub superseded_in: Option<i64>,
    /// The row in whose place it stands, if there is one.
    pub supersedes: Option<u32>,
}

/// The record numbers of the live draws that stand as this import brought them, in order.
///
/// # Errors
/// What SQLite says.
pub fn live_of_import(connection: &Connection, import: i64) -> rusqlite::Result<Vec<u32>> {
    let sql = "SELECT record FROM draws WHERE imported_in = ?1 AND superseded_in IS NULL \
               ORDER BY record";
    let mut statement = connection.prepare(sql)?;
    let rows = statement.query_map([import], |row| row.get(0))?;
    rows.collect()
}

/// Hands over the record number of every row and how it stands, in order of the numbers.
///
/// # Errors
/// What SQLite says.
pub fn each_standing(
    connection: &Connection,
    each: &mut dyn FnMut(u32, State),
) -> rusqlite::Result<()> {
    let sql = "SELECT record, imported_in, superseded_in, supersedes FROM draws ORDER BY record";
    let mut statement = connection.prepare(sql)?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let state = State {
            imported_in: row.get(1)?,
            superseded_in: row.get(2)?,
            supersedes: row.get(3)?,
        };
        each(row.get(0)?, state);
    }
    Ok(())
}

/// Hands over every row in full, superseded ones too, in order of its record number. Point and
/// technician stand by their numbers less one, not by their places: a row that was taken back
/// may name one that has no place any more.
///
/// # Errors
/// What SQLite says.
pub fn each_state(
    connection: &Connection,
    each: &mut dyn FnMut(State, DrawRecord),
) -> rusqlite::Result<()> {
    let sql = format!(
        "SELECT {FACTS}, {REST}, imported_in, superseded_in, supersedes FROM draws ORDER BY record"
    );
    let mut statement = connection.prepare(&sql)?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let state = State {
            imported_in: row.get(33)?,
            superseded_in: row.get(34)?,
            supersedes: row.get(35)?,
        };
        each(state, read_record(row)?);
    }
    Ok(())
}

/// Reads single rows by their record numbers.
pub struct Reader<'c> {
    facts: Statement<'c>,
    full: Statement<'c>,
}

impl<'c> Reader<'c> {
    /// Prepares to read.
    ///
    /// # Errors
    /// What SQLite says.
    pub fn new(connection: &'c Connection) -> rusqlite::Result<Self> {
        Self::of(connection, &facts(connection)?)
    }

    /// Prepares to read rows that may not count any more: for the places of point and
    /// technician stand their numbers, less one.
    ///
    /// # Errors
    /// What SQLite says.
    pub fn by_number(connection: &'c Connection) -> rusqlite::Result<Self> {
        Self::of(connection, FACTS)
    }

    fn of(connection: &'c Connection, facts: &str) -> rusqlite::Result<Self> {
        Ok(Reader {
            facts: connection.prepare(&format!("SELECT {facts} FROM draws WHERE record = ?"))?,
            full: connection.prepare(&format!(
                "SELECT {facts}, {REST} FROM draws WHERE record = ?"
            ))?,
        })
    }

    /// Hands over what judging looks at of one row.
    ///
    /// # Errors
    /// What SQLite says; no such row.
    pub fn facts<T>(
        &mut self,
        record: u32,
        each: impl FnOnce(Draw, Compared<'_>) -> T,
    ) -> rusqlite::Result<T> {
        self.facts.query_row([record], |row| {
            let (draw, compared) = read_facts(row)?;
            Ok(each(draw, compared))
        })
    }

    /// One row in full. Names of point and technician are left empty; their places stand in
    /// the facts.
    ///
    /// # Errors
    /// What SQLite says; no such row.
    pub fn record(&mut self, record: u32) -> rusqlite::Result<DrawRecord> {
        self.full.query_row([record], read_record)
    }
}

/// Reads the texts that name draws, many at a time.
pub struct NameReader<'c> {
    one: Statement<'c>,
    between: Statement<'c>,
}

/// Up to so many rows are passed over for each that is wanted: reading a row by its number
/// costs several times as much as coming upon it.
const PASSED_OVER: u64 = 4;

impl<'c> NameReader<'c> {
    /// Prepares to read.
    ///
    /// # Errors
    /// What SQLite says.
    pub fn new(connection: &'c Connection) -> rusqlite::Result<Self> {
        let select = "SELECT record, draw_id, bottle_id FROM draws WHERE record";
        Ok(NameReader {
            one: connection.prepare(&format!("{select} = ?"))?,
            between: connection.prepare(&format!("{select} BETWEEN ? AND ? ORDER BY record"))?,
        })
    }

    /// Hands over `draw_id` and `bottle_id` (empty for blank) of these rows, whose numbers
    /// must ascend, each with its place among them.
    ///
    /// # Errors
    /// What SQLite says; no such row.
    pub fn read(
        &mut self,
        records: &[u32],
        each: &mut dyn FnMut(usize, &str, &str),
    ) -> rusqlite::Result<()> {
        let (Some(first), Some(last)) = (records.first(), records.last()) else {
            return Ok(());
        };
        if u64::from(last - first) > PASSED_OVER * records.len() as u64 {
            for (place, record) in records.iter().enumerate() {
                self.one.query_row([record], |row| {
                    each(place, text(row, 1)?, text(row, 2)?);
                    Ok(())
                })?;
            }
            return Ok(());
        }
        let mut rows = self.between.query([first, last])?;
        let mut place = 0;
        while let Some(row) = rows.next()? {
            if row.get::<_, u32>(0)? == records[place] {
                each(place, text(row, 1)?, text(row, 2)?);
                place += 1;
            }
        }
        if place < records.len() {
            return Err(rusqlite::Error::QueryReturnedNoRows);
        }
        Ok(())
    }
}

/// Live rows that bear this bottle. Reads the whole table: for a file without columns only.
///
/// # Errors
/// What SQLite says.
pub fn live_count(connection: &Connection) -> rusqlite::Result<u64> {
    connection.query_row(
        "SELECT count(*) FROM draws WHERE superseded_in IS NULL",
        [],
        |row| row.get::<_, i64>(0).map(i64::cast_unsigned),
    )
}

fn read_record(row: &Row<'_>) -> rusqlite::Result<DrawRecord> {
    let (facts, compared) = read_facts(row)?;
    Ok(DrawRecord {
        facts,
        draw_id: compared.draw_id.to_owned(),
        bottle_id: compared.bottle_id.to_owned(),
        point_id: String::new(),
        technician_id: String::new(),
        fluid: text(row, 25)?.to_owned(),
        pair_of: compared.pair_of.to_owned(),
        set_id: compared.set_id.to_owned(),
        topped_up_l: number(row, 30)?,
        remarks: text(row, 31)?.to_owned(),
        kept_aside: text(row, 32)?.to_owned(),
    })
}

fn read_facts<'r>(row: &'r Row<'_>) -> rusqlite::Result<(Draw, Compared<'r>)> {
    let place = |column| {
        let number: u32 = row.get(column)?;
        number
            .checked_sub(1)
            .ok_or(rusqlite::Error::IntegralValueOutOfRange(column, 0))
    };
    let moment = |column| row.get::<_, Option<i64>>(column).map(Moment::from);
    let draw = Draw {
        record: row.get(0)?,
        recorded_at: moment(4)?,
        registered_at: moment(5)?,
        dispatched_at: moment(6)?,
        received_at: moment(7)?,
        stopped_min: number(row, 8)?,
        oil_temp_c: number(row, 9)?,
        machine_hours: number(row, 10)?,
        oil_hours: number(row, 11)?,
        flushed_ml: number(row, 12)?,
        tube_mark_cm: number(row, 13)?,
        fill_pct: number(row, 14)?,
        method: word(row, 15, Method::parse)?,
        machine_state: word(row, 16, MachineState::parse)?,
        point_cleaned: row.get(17)?,
        tube_new: row.get(18)?,
        bottle_ok: row.get(19)?,
        capped_at_once: row.get(20)?,
        safety_confirmed: row.get(21)?,
        looks: looks(row, 22)?,
        second_fill: row.get(23)?,
        purge_stage: word(row, 24, PurgeStage::parse)?,
        fluid_written: !text(row, 25)?.is_empty(),
        ..Draw::bare(place(1)?, place(2)?, row.get(3)?)
    };
    let compared = Compared {
        draw_id: text(row, 26)?,
        bottle_id: text(row, 27)?,
        pair_of: text(row, 28)?,
        set_id: text(row, 29)?,
    };
    Ok((draw, compared))
}

fn number(row: &Row<'_>, column: usize) -> rusqlite::Result<Number> {
    row.get::<_, Option<f64>>(column).map(Number::from)
}

fn text<'r>(row: &'r Row<'_>, column: usize) -> rusqlite::Result<&'r str> {
    Ok(row.get_ref(column)?.as_str_or_null()?.unwrap_or(""))
}

fn looks(row: &Row<'_>, column: usize) -> rusqlite::Result<Looks> {
    let text = text(row, column)?;
    if text.is_empty() {
        return Ok(Looks::NONE);
    }
    text.split(';').try_fold(Looks::NONE, |looks, part| {
        crate::model::Look::parse(part)
            .map(|look| looks.with(look))
            .ok_or_else(|| unreadable(column, text))
    })
}

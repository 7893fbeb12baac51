//! Rows of `draws.csv`.

use rustc_hash::FxHashMap;

use super::Error;
use super::columns::{SheetKind, draw};
use super::refusal::Refusal;
use super::row::{Notes, Row};
use super::sheet::Sheet;
use super::table::Next;
use crate::model::time::Tz;
use crate::model::{Draw, DrawRecord, MachineState, Method, Number, PurgeStage};

/// Names that a draw may refer to, with their places.
#[derive(Clone, Copy, Debug)]
pub struct Known<'a> {
    /// Points by name.
    pub points: &'a FxHashMap<String, u32>,
    /// Technicians by name.
    pub technicians: &'a FxHashMap<String, u32>,
}

/// A sheet of draws being read.
pub struct Draws {
    sheet: Box<Sheet>,
    zone: Tz,
    /// What came up so far.
    pub notes: Notes,
}

impl Draws {
    /// Reads draws from this sheet, local times in this zone.
    #[must_use]
    pub fn new(sheet: Box<Sheet>, zone: Tz) -> Self {
        Draws {
            sheet,
            zone,
            notes: Notes::default(),
        }
    }

    /// How many bytes of the sheet were read.
    #[must_use]
    pub fn bytes_read(&self) -> u64 {
        self.sheet.bytes_read()
    }

    /// What is to be told once all rows were read.
    #[must_use]
    pub fn remarks(&self) -> Vec<String> {
        let mut remarks = self.notes.remarks();
        remarks.extend(self.sheet.told_at_end());
        remarks
    }

    /// The sheet they are read from.
    pub fn sheet(&mut self) -> &mut Sheet {
        &mut self.sheet
    }

    /// Reads the next good row into `record`, keeping the memory of its texts, and gives
    /// the line it begins on; `None` at the end. What is refused on the way is added to
    /// `refusals`.
    ///
    /// # Errors
    /// The file can't be read any further.
    pub fn next(
        &mut self,
        known: Known<'_>,
        record: &mut DrawRecord,
        refusals: &mut Vec<Refusal>,
    ) -> Result<Option<u64>, Error> {
        loop {
            match self.sheet.next_row()? {
                Next::End => return Ok(None),
                Next::Refused(refusal) => refusals.push(refusal),
                Next::Row => {
                    let row = self.sheet.row();
                    let line = row.line;
                    let mut row =
                        Row::new(row, SheetKind::Draws, self.zone, &mut self.notes, refusals);
                    if read(&mut row, known, record) {
                        return Ok(Some(line));
                    }
                    self.sheet.keep_row();
                }
            }
        }
    }
}

/// A record to read rows into.
#[must_use]
pub fn blank_record() -> DrawRecord {
    DrawRecord {
        facts: Draw::bare(0, 0, 0),
        draw_id: String::new(),
        bottle_id: String::new(),
        point_id: String::new(),
        technician_id: String::new(),
        fluid: String::new(),
        pair_of: String::new(),
        set_id: String::new(),
        topped_up_l: Number::BLANK,
        remarks: String::new(),
        kept_aside: String::new(),
    }
}

/// Whether the row can be taken; all its faults are told otherwise.
fn read(row: &mut Row<'_>, known: Known<'_>, record: &mut DrawRecord) -> bool {
    row.text_into(draw::POINT_ID, &mut record.point_id);
    row.text_into(draw::TECHNICIAN_ID, &mut record.technician_id);
    let drawn_at = row.time(draw::DRAWN_AT);
    let point = known.points.get(record.point_id.as_str());
    if point.is_none() && !record.point_id.is_empty() {
        let reason = "no such point is known";
        row.refuse(draw::POINT_ID, &record.point_id, reason);
    }
    let technician = known.technicians.get(record.technician_id.as_str());
    if technician.is_none() && !record.technician_id.is_empty() {
        let reason = "no such technician is known";
        row.refuse(draw::TECHNICIAN_ID, &record.technician_id, reason);
    }
    row.text_into(draw::DRAW_ID, &mut record.draw_id);
    row.text_into(draw::BOTTLE_ID, &mut record.bottle_id);
    row.text_into(draw::FLUID, &mut record.fluid);
    row.text_into(draw::PAIR_OF, &mut record.pair_of);
    row.text_into(draw::SET_ID, &mut record.set_id);
    row.text_into(draw::REMARKS, &mut record.remarks);
    record.topped_up_l = row.number(draw::TOPPED_UP).into();
    record.facts = Draw {
        recorded_at: row.time(draw::RECORDED_AT).into(),
        registered_at: row.time(draw::REGISTERED_AT).into(),
        dispatched_at: row.time(draw::DISPATCHED_AT).into(),
        received_at: row.time(draw::RECEIVED_AT).into(),
        stopped_min: row.number(draw::STOPPED).into(),
        oil_temp_c: row.number(draw::OIL_TEMP).into(),
        machine_hours: row.number(draw::MACHINE_HOURS).into(),
        oil_hours: row.number(draw::OIL_HOURS).into(),
        flushed_ml: row.number(draw::FLUSHED).into(),
        tube_mark_cm: row.number(draw::TUBE_MARK).into(),
        fill_pct: row.number(draw::FILL).into(),
        method: row.word(draw::METHOD, Method::parse),
        machine_state: row.word(draw::MACHINE_STATE, MachineState::parse),
        point_cleaned: row.yes_no(draw::POINT_CLEANED),
        tube_new: row.yes_no(draw::TUBE_NEW),
        bottle_ok: row.yes_no(draw::BOTTLE_OK),
        capped_at_once: row.yes_no(draw::CAPPED),
        safety_confirmed: row.yes_no(draw::SAFETY_CONFIRMED),
        looks: row.looks(draw::LOOKS),
        second_fill: row.number(draw::FILL_NO).is_some_and(|number| number > 1.5),
        purge_stage: row.word(draw::PURGE_STAGE, PurgeStage::parse),
        fluid_written: !record.fluid.is_empty(),
        // Of a row that is refused below, these places are never looked at.
        ..Draw::bare(
            point.copied().unwrap_or_default(),
            technician.copied().unwrap_or_default(),
            drawn_at.unwrap_or_default(),
        )
    };
    row.kept_aside(&mut record.kept_aside);
    row.is_sound()
}

//! Rows of `points.csv`.

use super::Error;
use super::columns::{SheetKind, point};
use super::refusal::Refusal;
use super::row::{Kept, Notes, Row};
use super::sheet::Sheet;
use super::table::Next;
use crate::model::time::Tz;
use crate::model::{Kind, MachineClass, Method, Place, Point};

/// Reads the next good point and the line it begins on; `None` at the end.
///
/// # Errors
/// The file can't be read any further.
pub fn next(
    sheet: &mut Sheet,
    refusals: &mut Vec<Refusal>,
) -> Result<Option<(u64, Kept<Point>)>, Error> {
    let mut notes = Notes::default();
    loop {
        match sheet.next_row()? {
            Next::End => return Ok(None),
            Next::Refused(refusal) => refusals.push(refusal),
            Next::Row => {
                let row = sheet.row();
                let line = row.line;
                let mut row = Row::new(row, SheetKind::Points, Tz::UTC, &mut notes, refusals);
                if let Some(point) = read(&mut row) {
                    return Ok(Some((line, point)));
                }
                sheet.keep_row();
            }
        }
    }
}

/// `None` where the row is refused; all its faults are told.
fn read(row: &mut Row<'_>) -> Option<Kept<Point>> {
    let id = row.text(point::POINT_ID);
    let compartment = row.text(point::COMPARTMENT_ID);
    let kind = row.word(point::KIND, Kind::parse);
    let point = Point {
        // A blank one of these refuses the row below.
        id: id.unwrap_or_default(),
        compartment: compartment.unwrap_or_default(),
        kind: kind.unwrap_or(Kind::Circulating),
        machine: row.text(point::MACHINE),
        site: row.text(point::SITE),
        area: row.text(point::AREA),
        machine_class: row.word(point::MACHINE_CLASS, MachineClass::parse),
        place: row.word(point::PLACE, Place::parse),
        at_bend: row.yes_no(point::AT_BEND),
        agreed: row.yes_no(point::AGREED),
        method: row.word(point::METHOD, Method::parse),
        fluid: row.text(point::FLUID),
        iso_vg: row.number(point::ISO_VG),
        viscosity_40_cst: row.number(point::VISCOSITY_40),
        viscosity_100_cst: row.number(point::VISCOSITY_100),
        normal_temp_c: row.number(point::NORMAL_TEMP),
        line_flow_l_min: row.number(point::LINE_FLOW),
        line_bore_mm: row.number(point::LINE_BORE),
        line_pressure_bar: row.number(point::LINE_PRESSURE),
        tube_bore_mm: row.number(point::TUBE_BORE),
        tube_length_cm: row.number(point::TUBE_LENGTH),
        dead_extra_ml: row.number(point::DEAD_EXTRA),
        tube_mark_cm: row.number(point::TUBE_MARK),
        oil_depth_cm: row.number(point::OIL_DEPTH),
        bottle_ml: row.number(point::BOTTLE),
        interval_h: row.number(point::INTERVAL_H),
        interval_days: row.number(point::INTERVAL_DAYS),
    };
    let mut kept_aside = String::new();
    row.kept_aside(&mut kept_aside);
    row.is_sound().then_some(Kept {
        row: point,
        kept_aside,
    })
}

//! A draw: one bottle filled once.

use super::compact::{Moment, Number};
use super::texts::TextId;
use super::words::{Looks, MachineState, Method, PurgeStage};

/// What judging looks at, small enough that a million of them fit in memory.
///
/// Texts that are only compared stand as numbers; `point` and `technician` are places
/// in the lists of the [`History`](super::History) the draw belongs to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Draw {
    /// The row it is stored in; 0 if it is not stored.
    pub record: u32,
    /// Place of its point in the history's list.
    pub point: u32,
    /// Place of its technician in the history's list.
    pub technician: u32,
    /// When it was drawn, in seconds since 1970 UTC.
    pub drawn_at: i64,
    /// When the record was typed.
    pub recorded_at: Moment,
    /// When it was registered with the laboratory.
    pub registered_at: Moment,
    /// When it was sent.
    pub dispatched_at: Moment,
    /// When it arrived.
    pub received_at: Moment,
    /// Minutes between stop and draw, 0 or more.
    pub stopped_min: Number,
    /// Oil temperature at the draw in °C, −60 to 250.
    pub oil_temp_c: Number,
    /// Machine counter in hours, 0 or more.
    pub machine_hours: Number,
    /// Hours on this oil charge, 0 or more.
    pub oil_hours: Number,
    /// Volume run off before the bottle was filled in mL, 0 or more.
    pub flushed_ml: Number,
    /// Insertion of the tube in cm, above 0.
    pub tube_mark_cm: Number,
    /// Filled share of the bottle in %, 0 to 100.
    pub fill_pct: Number,
    /// Code on the bottle.
    pub bottle: Option<TextId>,
    /// On a second fill: the bottle of its first fill.
    pub pair_of: Option<TextId>,
    /// Joins the draws of one tank set.
    pub set_id: Option<TextId>,
    /// How it was taken.
    pub method: Option<Method>,
    /// The state of the machine.
    pub machine_state: Option<MachineState>,
    /// The outside of the point was cleaned.
    pub point_cleaned: Option<bool>,
    /// The tube was new.
    pub tube_new: Option<bool>,
    /// The bottle was clean and fit for its purpose.
    pub bottle_ok: Option<bool>,
    /// The bottle was capped at once.
    pub capped_at_once: Option<bool>,
    /// The safety measures were confirmed.
    pub safety_confirmed: Option<bool>,
    /// What was seen in the bottle.
    pub looks: Looks,
    /// A second fill (`fill_no` 2); otherwise a first fill.
    pub second_fill: bool,
    /// Which part of the purged grease was kept.
    pub purge_stage: Option<PurgeStage>,
    /// A grade was written on the label.
    pub fluid_written: bool,
}

impl Draw {
    /// A draw of which only the required columns are filled in.
    #[must_use]
    pub const fn bare(point: u32, technician: u32, drawn_at: i64) -> Self {
        Draw {
            record: 0,
            point,
            technician,
            drawn_at,
            recorded_at: Moment::BLANK,
            registered_at: Moment::BLANK,
            dispatched_at: Moment::BLANK,
            received_at: Moment::BLANK,
            stopped_min: Number::BLANK,
            oil_temp_c: Number::BLANK,
            machine_hours: Number::BLANK,
            oil_hours: Number::BLANK,
            flushed_ml: Number::BLANK,
            tube_mark_cm: Number::BLANK,
            fill_pct: Number::BLANK,
            bottle: None,
            pair_of: None,
            set_id: None,
            method: None,
            machine_state: None,
            point_cleaned: None,
            tube_new: None,
            bottle_ok: None,
            capped_at_once: None,
            safety_confirmed: None,
            looks: Looks::NONE,
            second_fill: false,
            purge_stage: None,
            fluid_written: false,
        }
    }
}

/// One row of `draws.csv` in full, as it is stored and shown. A blank text is empty.
#[derive(Clone, Debug, PartialEq)]
pub struct DrawRecord {
    /// What judging looks at. Its `bottle`, `pair_of` and `set_id` are not used here;
    /// the texts below hold.
    pub facts: Draw,
    /// Unique name of the draw; may be blank.
    pub draw_id: String,
    /// Code on the bottle.
    pub bottle_id: String,
    /// Name of the point.
    pub point_id: String,
    /// Name of the technician.
    pub technician_id: String,
    /// Grade written on the label.
    pub fluid: String,
    /// On a second fill: the bottle of its first fill.
    pub pair_of: String,
    /// Joins the draws of one tank set.
    pub set_id: String,
    /// Oil added since the last draw in L, 0 or more.
    pub topped_up_l: Number,
    /// Free text.
    pub remarks: String,
    /// Columns that the contract does not know, as a JSON object; empty if there are none.
    pub kept_aside: String,
}

impl DrawRecord {
    /// The identity of the draw: its `draw_id`, or `bottle_id@point_id@drawn_at`.
    #[must_use]
    pub fn identity(&self) -> String {
        identity(
            &self.draw_id,
            &self.bottle_id,
            &self.point_id,
            self.facts.drawn_at,
        )
    }
}

/// The identity of a draw: its `draw_id`; if that is blank, `bottle_id@point_id@drawn_at`
/// with the time in UTC.
#[must_use]
pub fn identity(draw_id: &str, bottle_id: &str, point_id: &str, drawn_at: i64) -> String {
    if draw_id.is_empty() {
        format!("{bottle_id}@{point_id}@{}", super::time::utc_text(drawn_at))
    } else {
        draw_id.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_blank_draw_id_is_replaced_by_bottle_point_and_time() {
        assert_eq!(identity("D-7", "B-1", "P-1", 0), "D-7");
        assert_eq!(
            identity("", "B-1", "P-1", 1_772_613_000),
            "B-1@P-1@2026-03-04T08:30:00Z"
        );
        assert_eq!(identity("", "", "P-1", 0), "@P-1@1970-01-01T00:00:00Z");
    }

    #[test]
    fn a_draw_stays_small() {
        assert!(size_of::<Draw>() <= 144, "{}", size_of::<Draw>());
    }
}

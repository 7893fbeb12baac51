//! A draw as its sheet writes it: every column by name, in the order of the sheet.

use super::{DrawRecord, Moment, Number, time::utc_text};

/// How many columns a sheet of draws has.
pub const COLUMNS: usize = 31;

/// The cells of a draw: the names of the columns of `draws.csv`, and the values as a sheet
/// would hold them, times in UTC, blanks empty.
#[must_use]
pub fn cells(draw: &DrawRecord) -> [(&'static str, String); COLUMNS] {
    let facts = &draw.facts;
    let moment = |at: Moment| at.get().map_or_else(String::new, utc_text);
    let number = |value: Number| {
        value
            .get()
            .map_or_else(String::new, |value| value.to_string())
    };
    let word = |word: Option<&'static str>| word.unwrap_or_default().to_owned();
    let yes_no = |answer: Option<bool>| word(answer.map(|yes| if yes { "yes" } else { "no" }));
    let looks = if facts.looks.is_blank() {
        String::new()
    } else {
        facts.looks.to_string()
    };
    [
        ("draw_id", draw.draw_id.clone()),
        ("bottle_id", draw.bottle_id.clone()),
        ("point_id", draw.point_id.clone()),
        ("technician_id", draw.technician_id.clone()),
        ("drawn_at", utc_text(facts.drawn_at)),
        ("recorded_at", moment(facts.recorded_at)),
        ("method", word(facts.method.map(|word| word.as_str()))),
        (
            "machine_state",
            word(facts.machine_state.map(|word| word.as_str())),
        ),
        ("stopped_min", number(facts.stopped_min)),
        ("oil_temp_c", number(facts.oil_temp_c)),
        ("machine_hours", number(facts.machine_hours)),
        ("oil_hours", number(facts.oil_hours)),
        ("topped_up_l", number(draw.topped_up_l)),
        ("fluid", draw.fluid.clone()),
        ("point_cleaned", yes_no(facts.point_cleaned)),
        ("tube_new", yes_no(facts.tube_new)),
        ("bottle_ok", yes_no(facts.bottle_ok)),
        ("capped_at_once", yes_no(facts.capped_at_once)),
        ("flushed_ml", number(facts.flushed_ml)),
        ("tube_mark_cm", number(facts.tube_mark_cm)),
        ("fill_pct", number(facts.fill_pct)),
        ("looks", looks),
        (
            "fill_no",
            if facts.second_fill { "2" } else { "1" }.to_owned(),
        ),
        ("pair_of", draw.pair_of.clone()),
        ("set_id", draw.set_id.clone()),
        (
            "purge_stage",
            word(facts.purge_stage.map(|word| word.as_str())),
        ),
        ("registered_at", moment(facts.registered_at)),
        ("dispatched_at", moment(facts.dispatched_at)),
        ("received_at", moment(facts.received_at)),
        ("safety_confirmed", yes_no(facts.safety_confirmed)),
        ("remarks", draw.remarks.clone()),
    ]
}

//! Hashes by which draws are recognised without reading their rows.
//!
//! XXH3 is stable across machines and versions (its specification fixes the result).
//! Whatever goes into a hash is part of the file's format: a change here asks for a new
//! [`FORMAT`](crate::store::columns::FORMAT).

use twox_hash::{XxHash3_64, XxHash3_128};

use crate::model::{DrawRecord, Moment, Number};

/// The hash of an identity.
pub fn identity(identity: &str) -> u128 {
    XxHash3_128::oneshot(identity.as_bytes())
}

/// The hash of a bottle's code; 0 for a blank one.
pub fn bottle(bottle_id: &str) -> u64 {
    match bottle_id {
        "" => 0,
        text => XxHash3_64::oneshot(text.as_bytes()).max(1),
    }
}

/// The hash over bytes.
pub fn bytes(bytes: &[u8]) -> u64 {
    XxHash3_64::oneshot(bytes)
}

/// The hash over everything a row says. `buffer` only lends its memory.
pub fn content(draw: &DrawRecord, buffer: &mut Vec<u8>) -> u64 {
    buffer.clear();
    for text in [
        &draw.draw_id,
        &draw.bottle_id,
        &draw.point_id,
        &draw.technician_id,
        &draw.fluid,
        &draw.pair_of,
        &draw.set_id,
        &draw.remarks,
        &draw.kept_aside,
    ] {
        buffer.extend_from_slice(&(text.len() as u64).to_le_bytes());
        buffer.extend_from_slice(text.as_bytes());
    }
    let facts = &draw.facts;
    buffer.extend_from_slice(&facts.drawn_at.to_le_bytes());
    let moment = |time: Moment| time.get().unwrap_or(i64::MIN).to_le_bytes();
    for time in [
        facts.recorded_at,
        facts.registered_at,
        facts.dispatched_at,
        facts.received_at,
    ] {
        buffer.extend_from_slice(&moment(time));
    }
    let bits = |number: Number| number.get().map_or(u64::MAX, f64::to_bits).to_le_bytes();
    for number in [
        facts.stopped_min,
        facts.oil_temp_c,
        facts.machine_hours,
        facts.oil_hours,
        facts.flushed_ml,
        facts.tube_mark_cm,
        facts.fill_pct,
        draw.topped_up_l,
    ] {
        buffer.extend_from_slice(&bits(number));
    }
    let yes_no = |answer: Option<bool>| answer.map_or(2, u8::from);
    buffer.extend_from_slice(&[
        facts.method.map_or(255, |word| word.index()),
        facts.machine_state.map_or(255, |word| word.index()),
        facts.purge_stage.map_or(255, |word| word.index()),
        facts.looks.bits(),
        u8::from(facts.second_fill),
        yes_no(facts.point_cleaned),
        yes_no(facts.tube_new),
        yes_no(facts.bottle_ok),
        yes_no(facts.capped_at_once),
        yes_no(facts.safety_confirmed),
    ]);
    bytes(buffer)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hashes_are_those_of_the_published_algorithm() {
        // XXH3_64bits and XXH3_128bits of no bytes with seed 0, as the xxHash reference library
        // gives them; values from memory.
        assert_eq!(bytes(b""), 0x2d06_8005_38d3_94c2);
        assert_eq!(identity(""), 0x99aa_06d3_0147_98d8_6001_c324_468d_497f);
        assert_eq!(bottle(""), 0);
        assert_ne!(bottle("B-1"), bottle("B-2"));
    }

    #[test]
    fn what_moves_from_one_column_to_the_next_changes_the_content() {
        let mut one = crate::intake::draws::blank_record();
        let mut other = one.clone();
        one.bottle_id = "AB".to_owned();
        other.draw_id = "A".to_owned();
        other.bottle_id = "B".to_owned();
        let buffer = &mut Vec::new();
        assert_ne!(content(&one, buffer), content(&other, buffer));
    }
}

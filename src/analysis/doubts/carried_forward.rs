//! Values carried forward from the draw before.

use super::against_peers::Counting;
use super::card::Card;
use super::seen::{
    FILL_PCT, FLUSHED_ML, Ground, MACHINE_HOURS, Measure, NONE, OIL_HOURS, OIL_TEMP_C, STOPPED_MIN,
};
use super::{About, Evidence, Looked, Signal};
use crate::model::phrase::exact;

/// What is measured anew at every draw; counters that stand still together count as one. The
/// insertion mark of the tube is agreed and stays.
const MEASURES: [&[Measure]; 5] = [
    &[MACHINE_HOURS, OIL_HOURS],
    &[OIL_TEMP_C],
    &[FLUSHED_ML],
    &[STOPPED_MIN],
    &[FILL_PCT],
];
/// So many equal values are a repetition.
const EQUAL: usize = 3;
/// Draws of one visit are alike for good reason: the next visit is at least so much later.
const NEXT_VISIT_S: i64 = 12 * 3600;

pub const CARD: Card = Card {
    id: "carried-forward",
    title: "Values carried forward from the draw before",
    looks_at: "Draws of which at least three of counters (machine_hours and oil_hours together), \
               oil_temp_c, flushed_ml, stopped_min and fill_pct are written to the last digit as on \
               the previous draw of the compartment, at least 12 hours earlier. Only draws on which \
               three or more of these are written both times are counted.",
    counts: "draws repeat three or more values of the draw before",
    chance: "A technician against all others, place by place (compartments). Assumes that \
             technicians differ in how often values repeat by the spread seen among them, and at \
             least by half of what is usual.",
    explanations: &[
        "the machine stood still between the draws, so counters and temperature did not change",
        "a form was filled in beforehand from the last one, and only some values were corrected",
        "an export filled blanks down from the row above",
    ],
    next: &[
        "look at the two draws side by side",
        "compare the counter with the machine's own log",
        "ask how the form is filled in, and whether the counter could be read",
    ],
    source: "That counters advance with running hours is common practice, no source; three equal \
             values are a proposal of ours.",
};

pub struct CarriedForward;

impl Signal for CarriedForward {
    fn card(&self) -> &'static Card {
        &CARD
    }

    fn look(&self, ground: &Ground<'_>) -> Looked {
        let mut counting = Counting::default();
        for row in 0..ground.rows() {
            let other = ground.previous[row as usize];
            if other == NONE {
                continue;
            }
            let (draw, before) = (ground.draw(row), ground.draw(other));
            if draw.second_fill || draw.drawn_at - before.drawn_at < NEXT_VISIT_S {
                continue;
            }
            let (mut written, mut equal) = (0, 0);
            for together in MEASURES {
                let mut both = together
                    .iter()
                    .filter_map(|measure| (measure.of)(draw).get().zip((measure.of)(before).get()))
                    .peekable();
                if both.peek().is_some() {
                    written += 1;
                    equal += usize::from(both.all(|(now, then)| now == then));
                }
            }
            if written >= EQUAL {
                let seen = Evidence {
                    row,
                    other: Some(other),
                };
                counting.trial(
                    draw.technician,
                    ground.compartment_of(row),
                    (equal >= EQUAL).then_some(seen),
                );
            }
        }
        let mut looked = Looked::default();
        looked.add(counting.compared(About::Technician, None));
        looked
    }

    fn tells(&self, ground: &Ground<'_>, _: Option<&'static str>, seen: Evidence) -> String {
        let (draw, before) = (
            ground.draw(seen.row),
            ground.draw(seen.other.unwrap_or(seen.row)),
        );
        let equal: Vec<String> = MEASURES
            .iter()
            .copied()
            .flatten()
            .filter_map(|measure| {
                let value = (measure.of)(draw).get()?;
                (Some(value) == (measure.of)(before).get())
                    .then(|| format!("{} {}", measure.name, exact(value)))
            })
            .collect();
        format!("as on the draw before: {}", equal.join(", "))
    }
}

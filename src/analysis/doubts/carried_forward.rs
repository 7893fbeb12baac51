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

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::analysis::doubts::testing::{DAY, HOUR, Made, of};
    use crate::model::Number;

    /// Six people at a point each, 20 draws ten days apart with values that move; the first
    /// repeats so many of them `repeats` times.
    fn made(repeats: i64, equal: usize, apart: i64) -> Made {
        let mut made = Made::new(6, 6);
        for who in 0..6 {
            for number in 0..20 {
                let draw = made.draw(who, who, number * apart);
                let mut moved = number;
                let mut values = [moved; 4];
                if who == 0 && number % 2 == 1 && number < 2 * repeats {
                    moved -= 1;
                    values[..equal].fill(moved);
                }
                let [hours, temp, flushed, fill] = values.map(|value| value as f64);
                draw.machine_hours = Number::new(1000.0 + 31.0 * hours);
                draw.oil_temp_c = Number::new(40.0 + temp);
                draw.flushed_ml = Number::new(100.0 + 7.0 * flushed);
                draw.fill_pct = Number::new(50.0 + fill);
            }
        }
        made
    }

    #[test]
    fn three_values_repeated_are_counted_and_two_are_not() {
        let looked = made(9, 3, 10 * DAY).look(&CarriedForward);
        let first = of(&looked, 0).unwrap();
        assert_eq!((first.events, first.of), (9, 19));
        assert!(first.chance < 1e-6, "{}", first.chance);
        assert_eq!(first.evidence.len(), 9);
        assert_eq!(of(&looked, 1).unwrap().events, 0);
        let two = made(9, 2, 10 * DAY).look(&CarriedForward);
        assert_eq!(of(&two, 0).unwrap().events, 0);
        assert_eq!(of(&two, 0).unwrap().chance, 1.0);
    }

    #[test]
    fn draws_of_one_visit_and_blank_values_say_nothing() {
        let one_visit = made(9, 4, 12 * HOUR - 1).look(&CarriedForward);
        assert!(one_visit.comparisons.is_empty());
        let mut blank = made(9, 4, 12 * HOUR);
        assert_eq!(of(&blank.look(&CarriedForward), 0).unwrap().of, 19);
        for (draw, _) in &mut blank.draws {
            draw.oil_temp_c = Number::BLANK;
            draw.fill_pct = Number::BLANK;
        }
        assert!(blank.look(&CarriedForward).comparisons.is_empty());
    }

    #[test]
    fn counters_that_stand_still_together_count_once() {
        let mut made = made(9, 2, 10 * DAY);
        for (draw, _) in &mut made.draws {
            draw.oil_hours = draw.machine_hours;
        }
        assert_eq!(of(&made.look(&CarriedForward), 0).unwrap().events, 0);
    }

    #[test]
    fn too_few_others_or_draws_are_silent() {
        let mut few = made(9, 4, 10 * DAY);
        few.draws.retain(|(draw, _)| draw.technician < 4);
        let looked = few.look(&CarriedForward);
        assert_eq!((looked.comparisons.len(), looked.silent), (0, 4));
        let mut short = made(9, 4, 10 * DAY);
        short.draws.retain(|(draw, _)| {
            draw.technician > 0
                || draw.drawn_at < crate::analysis::doubts::testing::BEGIN + 80 * DAY
        });
        let looked = short.look(&CarriedForward);
        assert_eq!((looked.comparisons.len(), looked.silent), (5, 1));
    }
}

//! Counters that jump.

use super::against_peers::Counting;
use super::card::Card;
use super::seen::Ground;
use super::{About, Evidence, Looked, Signal};
use crate::model::phrase::exact;

/// Counters may run this much faster than the clock: two clocks, and hours that are rounded.
const FASTER: f64 = 1.02;
/// How far off in hours a value may be before it is a jump: a day.
const OFF_H: f64 = 24.0;

pub const CARD: Card = Card {
    id: "counter-jumps",
    title: "Counters that jump",
    looks_at: "Draws whose machine_hours do not fit between those of the draws before and after \
               on the compartment, while these two fit each other: more than 24 hours below the \
               one before, or more than 24 hours ahead of what the clock allows or of the one \
               after. A counter that was changed fits what follows, and is not counted.",
    counts: "readings between two that fit each other do not fit them",
    chance: "A technician against all others, site by site. Assumes that slips of the pen are as \
             frequent as the spread among technicians shows, and that rates differ at least by \
             half of what is usual.",
    explanations: &[
        "a digit was left out or two were swapped in typing",
        "another counter was read, such as that of starts or of a neighbouring machine",
        "the counter is hard to read",
    ],
    next: &[
        "compare with the machine's own log for that day",
        "ask which counter was read, and offer a photo of the right one",
    ],
    source: "A counter gains no more than 24 hours a day: common practice, no source. 2 % and 24 \
             hours of leeway are proposals of ours.",
};

pub struct CounterJumps;

/// A reading of a counter.
#[derive(Clone, Copy)]
struct Reading {
    row: u32,
    at: i64,
    hours: f64,
}

/// Whether the second reading can follow the first.
fn fits(first: Reading, second: Reading) -> bool {
    let elapsed_h = (second.at - first.at) as f64 / 3600.0;
    let gain = second.hours - first.hours;
    gain >= -OFF_H && gain <= elapsed_h * FASTER + OFF_H
}

impl Signal for CounterJumps {
    fn card(&self) -> &'static Card {
        &CARD
    }

    fn look(&self, ground: &Ground<'_>) -> Looked {
        let mut last: Vec<[Option<Reading>; 2]> = vec![[None; 2]; ground.compartments];
        let mut counting = Counting::default();
        for row in 0..ground.rows() {
            let draw = ground.draw(row);
            let Some(hours) = draw.machine_hours.get() else {
                continue;
            };
            let reading = Reading {
                row,
                at: draw.drawn_at,
                hours,
            };
            let window = &mut last[ground.compartment_of(row) as usize];
            if let [Some(before), Some(middle)] = *window
                && fits(before, reading)
            {
                let jumps = !fits(before, middle) || !fits(middle, reading);
                let seen = Evidence {
                    row: middle.row,
                    other: Some(before.row),
                };
                counting.trial(
                    ground.draw(middle.row).technician,
                    ground.site_of(middle.row),
                    jumps.then_some(seen),
                );
            }
            *window = [window[1], Some(reading)];
        }
        let mut looked = Looked::default();
        looked.add(counting.compared(About::Technician, None));
        looked
    }

    fn tells(&self, ground: &Ground<'_>, _: Option<&'static str>, seen: Evidence) -> String {
        let draw = ground.draw(seen.row);
        let before = ground.draw(seen.other.unwrap_or(seen.row));
        let hours = |of: &crate::model::Draw| of.machine_hours.get().map_or(String::new(), exact);
        let elapsed_h = (draw.drawn_at - before.drawn_at) as f64 / 3600.0;
        format!(
            "machine_hours {} after {}, {elapsed_h:.0} hours later",
            hours(draw),
            hours(before)
        )
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::analysis::doubts::testing::{DAY, Made, of};
    use crate::model::Number;

    /// Eight people take turns at eight points, a draw a day at each; the first person's readings
    /// are off by so much.
    fn made(off: f64) -> Made {
        let mut made = Made::new(8, 8);
        for number in 0..60_i64 {
            for point in 0..8 {
                let who = ((number + i64::from(point)) % 8) as u32;
                let draw = made.draw(who, point, number * DAY);
                let read = 5000.0 + 20.0 * number as f64 + if who == 0 { off } else { 0.0 };
                draw.machine_hours = Number::new(read);
            }
        }
        made
    }

    #[test]
    fn readings_that_do_not_fit_their_neighbours_are_the_readers_own() {
        for off in [-500.0, 500.0] {
            let looked = made(off).look(&CounterJumps);
            let first = of(&looked, 0).unwrap();
            assert_eq!(first.events, first.of);
            assert!(first.chance < 1e-9);
            // Those who read before and after are not drawn in.
            assert!((2..7).all(|who| of(&looked, who).unwrap().events == 0));
        }
    }

    #[test]
    fn a_day_either_way_is_no_jump() {
        // 20 hours a day are run: a reading 24 hours too low is 4 below the one before.
        for off in [-24.0, 24.0, 0.0] {
            let looked = made(off).look(&CounterJumps);
            assert_eq!(of(&looked, 0).unwrap().events, 0, "{off}");
        }
        // 24 hours and 2 % of leeway on a day that ran 20: up to 28.48 either way.
        assert_eq!(of(&made(28.0).look(&CounterJumps), 0).unwrap().events, 0);
        assert!(of(&made(29.0).look(&CounterJumps), 0).unwrap().events > 0);
        assert_eq!(of(&made(-28.0).look(&CounterJumps), 0).unwrap().events, 0);
        assert!(of(&made(-29.0).look(&CounterJumps), 0).unwrap().events > 0);
    }

    #[test]
    fn a_counter_that_was_changed_is_no_jump_and_blanks_are_passed_over() {
        let mut made = made(0.0);
        for (place, (draw, _)) in made.draws.iter_mut().enumerate() {
            if place >= 240 {
                let hours = draw.machine_hours.get().unwrap();
                draw.machine_hours = Number::new(hours - 5600.0);
            }
            if place % 7 == 0 {
                draw.machine_hours = Number::BLANK;
            }
        }
        let looked = made.look(&CounterJumps);
        assert!(looked.comparisons.iter().all(|it| it.events == 0));
    }
}

//! A counter that stands still while the machine runs.

use super::against_peers::Counting;
use super::card::Card;
use super::seen::{Ground, NONE};
use super::{About, Evidence, Looked, Signal};
use crate::model::MachineState;
use crate::model::phrase::exact;

/// A running machine advances its counter within so much time.
const LATER_S: i64 = 24 * 3600;

pub const CARD: Card = Card {
    id: "counter-still",
    title: "A counter that stands still while the machine runs",
    looks_at: "Draws from a running machine whose machine_hours are the same as on the previous \
               draw of the compartment, at least 24 hours earlier.",
    counts: "draws from a running machine repeat its counter",
    chance: "A technician against all others, compartment by compartment, so that a broken \
             counter read by several people is nobody's doubt. Assumes that technicians differ by \
             the spread seen among them, and at least by half of what is usual.",
    explanations: &[
        "the counter is broken, and nobody else draws there",
        "the machine had only just been started",
        "the counter could not be reached or read, and the last value was taken",
    ],
    next: &[
        "look at the counter on the machine",
        "compare with what others wrote for the same machine",
        "ask where the value was read",
    ],
    source: "Common practice, no source.",
};

pub struct CounterStill;

impl Signal for CounterStill {
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
            let runs = draw.machine_state == Some(MachineState::Running);
            let hours = draw.machine_hours.get().zip(before.machine_hours.get());
            if let Some((now, then)) = hours
                && runs
                && !draw.second_fill
                && draw.drawn_at - before.drawn_at >= LATER_S
            {
                let seen = Evidence {
                    row,
                    other: Some(other),
                };
                let place = ground.compartment_of(row);
                counting.trial(draw.technician, place, (now == then).then_some(seen));
            }
        }
        let mut looked = Looked::default();
        looked.add(counting.compared(About::Technician, None));
        looked
    }

    fn tells(&self, ground: &Ground<'_>, _: Option<&'static str>, seen: Evidence) -> String {
        let draw = ground.draw(seen.row);
        let before = ground.draw(seen.other.unwrap_or(seen.row));
        let hours = draw.machine_hours.get().map_or(String::new(), exact);
        let days = (draw.drawn_at - before.drawn_at) as f64 / 86_400.0;
        format!("running, machine_hours {hours} as {days:.0} days before")
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::analysis::doubts::testing::{DAY, HOUR, Made, of};
    use crate::model::Number;

    fn made(apart: i64, state: Option<MachineState>) -> Made {
        let mut made = Made::new(6, 6);
        for who in 0..6 {
            for number in 0..20 {
                let draw = made.draw(who, who, number * apart);
                let moved = if who == 0 { 0 } else { number };
                draw.machine_hours = Number::new(1000.0 + 20.0 * moved as f64);
                draw.machine_state = state;
            }
        }
        made
    }

    #[test]
    fn a_still_counter_of_a_running_machine_is_counted() {
        let running = Some(MachineState::Running);
        let looked = made(24 * HOUR, running).look(&CounterStill);
        let first = of(&looked, 0).unwrap();
        assert_eq!((first.events, first.of), (19, 19));
        assert!(first.chance < 1e-9, "{}", first.chance);
        assert_eq!(of(&looked, 1).unwrap().events, 0);
        for (apart, state) in [
            (24 * HOUR - 1, running),
            (10 * DAY, Some(MachineState::Stopped)),
            (10 * DAY, None),
        ] {
            assert!(
                made(apart, state)
                    .look(&CounterStill)
                    .comparisons
                    .is_empty()
            );
        }
    }

    #[test]
    fn a_broken_counter_that_several_read_is_nobodys() {
        let mut made = made(DAY, Some(MachineState::Running));
        // All six take turns at the first point, whose counter is broken.
        let broken: Vec<i64> = (20..80).collect();
        for number in broken {
            let draw = made.draw((number % 6) as u32, 0, number * DAY);
            draw.machine_hours = Number::new(1000.0);
            draw.machine_state = Some(MachineState::Running);
        }
        made.draws.retain(|(draw, _)| {
            draw.technician != 0
                || draw.point != 0
                || draw.drawn_at >= crate::analysis::doubts::testing::BEGIN + 20 * DAY
        });
        let looked = made.look(&CounterStill);
        let first = of(&looked, 0).unwrap();
        assert!(first.events >= 9);
        assert!(first.chance > 0.05, "{}", first.chance);
    }
}

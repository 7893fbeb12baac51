//! The same technician at two machines within impossible time.

use super::against_peers::Counting;
use super::card::Card;
use super::seen::Ground;
use super::{About, Evidence, Looked, Signal};

/// Nobody draws at two machines of a site within this time.
const TWO_MACHINES_S: i64 = 120;
/// Nobody draws at two sites within this time.
const TWO_SITES_S: i64 = 900;
/// Steps in minutes to which people round times, the coarsest first.
const STEPS_MIN: [i64; 5] = [60, 30, 15, 10, 5];
/// So many in a hundred times on a step are a habit of rounding.
const ROUNDED_PCT: usize = 80;
/// Draws further apart are of different rounds.
const ROUND_S: i64 = 12 * 3600;

pub const CARD: Card = Card {
    id: "impossible-time",
    title: "At two machines within impossible time",
    looks_at: "Draws of one technician that follow one another within 12 hours at different \
               machines: less than 2 minutes apart at one site, or less than 15 minutes apart at \
               two. Points of one machine or one compartment may be drawn at once. Times that a \
               technician nearly always rounds (to 5 minutes, a quarter, an hour) are taken to be \
               as far apart as rounding allows.",
    counts: "draws follow one at another machine sooner than anyone can be there",
    chance: "A technician against all others, site by site: where a whole site writes one time for \
             a round, it is nobody's doubt. Assumes that technicians differ by the spread seen \
             among them, and at least by half of what is usual.",
    explanations: &[
        "one time was written for the whole round",
        "two people work under one name",
        "the clock of a device was wrong, or a zone was mistaken",
        "machines stand side by side and have taps on one panel",
    ],
    next: &[
        "ask whether times are written at each machine or once a round",
        "compare with the work orders or the gate log of that day",
    ],
    source: "No distances are known; 2 and 15 minutes are proposals of ours, short of any walk, \
             wipe and flush.",
};

pub struct ImpossibleTime;

impl Signal for ImpossibleTime {
    fn card(&self) -> &'static Card {
        &CARD
    }

    fn look(&self, ground: &Ground<'_>) -> Looked {
        let mut counting = Counting::default();
        for (technician, rows) in ground.each_technician() {
            let rounded_s = rounded_s(ground, rows);
            for pair in rows.windows(2) {
                let (before, row) = (pair[0], pair[1]);
                let apart = ground.draw(row).drawn_at - ground.draw(before).drawn_at;
                let same = ground.machine_of(row) == ground.machine_of(before)
                    || ground.compartment_of(row) == ground.compartment_of(before);
                if apart > ROUND_S || same {
                    continue;
                }
                let site = ground.site_of(row);
                let least = if site == ground.site_of(before) {
                    TWO_MACHINES_S
                } else {
                    TWO_SITES_S
                };
                let seen = Evidence {
                    row,
                    other: Some(before),
                };
                counting.trial(
                    technician,
                    site,
                    (apart + rounded_s < least).then_some(seen),
                );
            }
        }
        let mut looked = Looked::default();
        looked.add(counting.compared(About::Technician, None));
        looked
    }

    fn tells(&self, ground: &Ground<'_>, _: Option<&'static str>, seen: Evidence) -> String {
        let before = seen.other.unwrap_or(seen.row);
        let apart = ground.draw(seen.row).drawn_at - ground.draw(before).drawn_at;
        let point = |row: u32| {
            let point = ground.draw(row).point as usize;
            ground.assessed.points[point].id.as_str()
        };
        let when = match apart {
            0 => "at the same time".to_owned(),
            seconds if seconds < 60 => format!("{seconds} s later"),
            seconds => format!("{} min later", seconds / 60),
        };
        let sites = if ground.site_of(seen.row) == ground.site_of(before) {
            ""
        } else {
            ", another site"
        };
        format!(
            "at {}, before that at {}{sites}: {when}",
            point(seen.row),
            point(before)
        )
    }
}

/// How much further apart than written two times may be, in seconds: short of one step of the
/// technician's rounding. Minutes are those of the zone's clock; all zones of today are off by
/// whole quarters.
fn rounded_s(ground: &Ground<'_>, rows: &[u32]) -> i64 {
    let on = |step: i64| {
        let minute = |row: &&u32| ground.draw(**row).drawn_at.div_euclid(60) % step == 0;
        100 * rows.iter().filter(minute).count() >= ROUNDED_PCT * rows.len()
    };
    let step = STEPS_MIN.into_iter().find(|step| on(*step));
    step.map_or(0, |step| step * 60 - 1)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::analysis::doubts::testing::{BEGIN, DAY, Made, of};

    /// Six people, each 20 pairs of draws at two machines, 31 minutes apart; the first so many
    /// seconds.
    fn made(apart: i64, sites: bool) -> Made {
        let mut made = Made::new(12, 6);
        if sites {
            for point in made.points.iter_mut().skip(6) {
                point.site = Some("S-1".to_owned());
            }
        }
        for who in 0..6 {
            for number in 0..20 {
                let at = number * DAY + 61 * number;
                made.draw(who, who, at);
                made.draw(who, who + 6, at + if who == 0 { apart } else { 31 * 60 });
            }
        }
        made
    }

    #[test]
    fn two_machines_take_two_minutes_and_two_sites_a_quarter() {
        for (apart, sites, events) in [
            (0, false, 20),
            (119, false, 20),
            (120, false, 0),
            (899, true, 20),
            (900, true, 0),
        ] {
            let looked = made(apart, sites).look(&ImpossibleTime);
            let first = of(&looked, 0).unwrap();
            assert_eq!((first.events, first.of), (events, 20), "{apart}");
            assert_eq!(first.chance < 1e-6, events > 0);
            assert_eq!(of(&looked, 1).unwrap().events, 0);
        }
    }

    #[test]
    fn one_machine_or_compartment_may_be_drawn_at_once() {
        let mut one_machine = made(0, false);
        one_machine.points[6].machine = one_machine.points[0].machine.clone();
        assert!(of(&one_machine.look(&ImpossibleTime), 0).is_none());
        let mut one_compartment = made(0, false);
        one_compartment.points[6].compartment = one_compartment.points[0].compartment.clone();
        assert!(of(&one_compartment.look(&ImpossibleTime), 0).is_none());
        let mut blank = made(0, false);
        for point in &mut blank.points {
            point.machine = None;
        }
        assert_eq!(of(&blank.look(&ImpossibleTime), 0).unwrap().events, 20);
    }

    #[test]
    fn who_writes_whole_hours_is_not_taken_at_the_minute() {
        let mut made = made(0, false);
        for (draw, _) in &mut made.draws {
            if draw.technician == 0 {
                draw.drawn_at -= (draw.drawn_at - BEGIN) % 3600;
            }
        }
        assert_eq!(of(&made.look(&ImpossibleTime), 0).unwrap().events, 0);
    }
}

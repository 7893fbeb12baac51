//! All draws of a day at a site on one minute.

use super::against_peers::Counting;
use super::card::Card;
use super::seen::Ground;
use super::sent_when_drawn::about_site;
use super::{Evidence, Looked, Signal};
use crate::model::time::{local_text, offset_s};

const MINUTE_S: i64 = 60;
const DAY_S: i64 = 86_400;
/// A day of fewer machines says nothing: three may fall into an hour to which people round.
const MACHINES: usize = 5;

pub const CARD: Card = Card {
    id: "one-minute",
    title: "A site's whole day on one minute",
    looks_at: "Days on which at least five machines of a site were drawn by at least two people, and \
               every draw of the day stands on one and the same minute.",
    counts: "days have every draw of the site on one minute",
    chance: "A site against all others. Assumes that sites differ by the spread seen among them, and \
             at least by half of what is usual. At least four other sites are needed.",
    explanations: &[
        "only a date is known, and the clock time was filled in by an export",
        "one time is written for the whole round",
        "the time of dispatch or of typing stands for the time of draw",
    ],
    next: &[
        "ask where the time of a draw comes from",
        "do not read ages and intervals of these draws to the hour",
    ],
    source: "Common practice, no source.",
};

pub struct OneMinute;

impl Signal for OneMinute {
    fn card(&self) -> &'static Card {
        &CARD
    }

    fn look(&self, ground: &Ground<'_>) -> Looked {
        // One offset a day would do, but asking the zone for each of a million draws takes long;
        // rows stand in the order of time, so it is asked once an hour.
        let zone = ground.assessed.zone;
        let (mut hour, mut offset) = (i64::MIN, 0);
        let mut days: Vec<(u32, i64, u32)> = (0..ground.rows())
            .map(|row| {
                let at = ground.draw(row).drawn_at;
                if at.div_euclid(3600) != hour {
                    hour = at.div_euclid(3600);
                    offset = i64::from(offset_s(at, zone));
                }
                (ground.site_of(row), (at + offset).div_euclid(DAY_S), row)
            })
            .collect();
        days.sort_unstable();
        let mut counting = Counting::default();
        let mut machines = Vec::new();
        for day in days.chunk_by(|one, next| (one.0, one.1) == (next.0, next.1)) {
            machines.clear();
            machines.extend(day.iter().map(|(_, _, row)| ground.machine_of(*row)));
            machines.sort_unstable();
            machines.dedup();
            let technician = |row: u32| ground.draw(row).technician;
            let first = technician(day[0].2);
            let by_one = day.iter().all(|(_, _, row)| technician(*row) == first);
            if machines.len() < MACHINES || by_one {
                continue;
            }
            let minute = |row: u32| ground.draw(row).drawn_at.div_euclid(MINUTE_S);
            let is_one = day
                .iter()
                .all(|(_, _, row)| minute(*row) == minute(day[0].2));
            let seen = day.iter().filter(|_| is_one).map(|(_, _, row)| Evidence {
                row: *row,
                other: None,
            });
            counting.trial(day[0].0, 0, seen);
        }
        let mut looked = Looked::default();
        looked.add(counting.compared(|site| about_site(ground, site), None));
        looked
    }

    fn tells(&self, ground: &Ground<'_>, _: Option<&'static str>, seen: Evidence) -> String {
        let draw = ground.draw(seen.row);
        let point = &ground.assessed.points[draw.point as usize].id;
        let at = local_text(draw.drawn_at, ground.assessed.zone);
        format!("{point} drawn {at}, as every other of the day")
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::analysis::doubts::testing::{DAY, Made};

    /// Six sites of five machines; 30 days on which so many are drawn by so many people, at the
    /// first site `apart` seconds apart, at the others 20 minutes.
    fn made(apart: i64, machines: u32, people: u32) -> Made {
        let mut made = Made::new(30, 12);
        for (number, point) in made.points.iter_mut().enumerate() {
            point.site = Some(format!("S-{}", number / 5));
        }
        for site in 0..6 {
            for day in 0..30 {
                for machine in 0..machines {
                    let apart = if site == 0 { apart } else { 1200 };
                    let who = 2 * site + machine % people;
                    made.draw(
                        who,
                        5 * site + machine,
                        day * DAY + i64::from(machine) * apart,
                    );
                }
            }
        }
        made
    }

    #[test]
    fn a_day_on_one_minute_is_counted() {
        for (apart, events) in [(0, 30), (14, 30), (15, 0)] {
            let looked = made(apart, 5, 2).look(&OneMinute);
            let first = &looked.comparisons[0];
            assert_eq!((first.events, first.of), (events, 30), "{apart}");
            assert_eq!(first.chance < 1e-9, events > 0);
            assert!(looked.comparisons[1..].iter().all(|it| it.events == 0));
        }
    }

    #[test]
    fn few_machines_or_one_person_say_nothing() {
        assert!(made(0, 4, 2).look(&OneMinute).comparisons.is_empty());
        assert!(made(0, 5, 1).look(&OneMinute).comparisons.is_empty());
    }
}

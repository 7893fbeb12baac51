//! All draws of a day at a site on one minute.

use super::against_peers::Counting;
use super::card::Card;
use super::seen::Ground;
use super::sent_when_drawn::about_site;
use super::{Evidence, Looked, Signal};
use crate::model::time::{local_text, offset_s};

const MINUTE_S: i64 = 60;
const DAY_S: i64 = 86_400;
/// A day of fewer machines says nothing.
const MACHINES: usize = 3;

pub const CARD: Card = Card {
    id: "one-minute",
    title: "A site's whole day on one minute",
    looks_at: "Days on which at least three machines of a site were drawn, and every draw of the day \
               stands on one and the same minute.",
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
            if machines.len() < MACHINES {
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

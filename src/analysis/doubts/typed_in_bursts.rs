//! Records of weeks typed in one go.

use super::against_peers::Counting;
use super::card::Card;
use super::seen::Ground;
use super::{About, Evidence, Looked, Signal};
use crate::model::time::local_text;

/// A pause in typing longer than this ends a sitting.
const PAUSE_S: i64 = 30 * 60;
/// A sitting of fewer draws is no burst.
const DRAWS: usize = 5;
/// Draws of a burst lie at least so far apart.
const SPAN_S: i64 = 7 * 86_400;

pub const CARD: Card = Card {
    id: "typed-in-bursts",
    title: "Weeks of draws typed in one go",
    looks_at: "Sittings in which at least 5 records of one technician were typed without a pause \
               of more than 30 minutes (by recorded_at) while the draws lie 7 days or more apart. \
               Typing at the end of a shift or of a round is no burst.",
    counts: "sittings at the desk cover draws of a week or more",
    chance: "Sittings, not draws, are counted, so that one backlog is one event; a technician \
             against all others, site by site. Assumes that technicians differ by the spread seen \
             among them, and at least by half of what is usual.",
    explanations: &[
        "paper sheets are collected and typed by the week or month",
        "a device was offline and sent everything later",
        "records were moved from another system, which set recorded_at anew",
        "a backlog after leave or illness",
    ],
    next: &[
        "ask how and when records come from the machine to the desk",
        "look at paper sheets of those days, if there are any",
        "compare the times of draws with when bottles arrived at the laboratory",
    ],
    source: "Written down at the draw: ISO/IEC 17025:2017, 7.5.1 (as cited in public summaries; \
             the standard itself was not consulted). The limits are proposals of ours.",
};

pub struct TypedInBursts;

impl Signal for TypedInBursts {
    fn card(&self) -> &'static Card {
        &CARD
    }

    fn look(&self, ground: &Ground<'_>) -> Looked {
        let mut counting = Counting::default();
        let mut typed: Vec<(i64, u32)> = Vec::new();
        for (technician, rows) in ground.each_technician() {
            typed.clear();
            typed.extend(rows.iter().filter_map(|row| {
                let draw = ground.draw(*row);
                let at = draw.recorded_at.get()?;
                // A record typed before its draw is a slip of a clock.
                (at >= draw.drawn_at).then_some((at, *row))
            }));
            typed.sort_unstable();
            for sitting in typed.chunk_by(|one, next| next.0 - one.0 <= PAUSE_S) {
                let drawn = || sitting.iter().map(|(_, row)| ground.draw(*row).drawn_at);
                let span = drawn().max().unwrap_or(0) - drawn().min().unwrap_or(0);
                let is_burst = sitting.len() >= DRAWS && span >= SPAN_S;
                let seen = sitting
                    .iter()
                    .filter(|_| is_burst)
                    .map(|(_, row)| Evidence {
                        row: *row,
                        other: None,
                    });
                counting.trial(technician, ground.site_of(sitting[0].1), seen);
            }
        }
        let mut looked = Looked::default();
        looked.add(counting.compared(About::Technician, None));
        looked
    }

    fn tells(&self, ground: &Ground<'_>, _: Option<&'static str>, seen: Evidence) -> String {
        let draw = ground.draw(seen.row);
        let typed = draw.recorded_at.get().unwrap_or(draw.drawn_at);
        let days = (typed - draw.drawn_at) as f64 / 86_400.0;
        let at = local_text(typed, ground.assessed.zone);
        format!("typed {at}, {days:.0} days after the draw")
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::analysis::doubts::testing::{BEGIN, DAY, Made, of};
    use crate::model::Moment;

    /// Six people with 60 draws each, one every `every` seconds, typed a minute later; the
    /// first types each five in one go.
    fn made(every: i64) -> Made {
        let mut made = Made::new(6, 6);
        for who in 0..6 {
            for number in 0..60 {
                let draw = made.draw(who, who, number * every);
                let typed = if who == 0 {
                    (number / 5 * 5 + 4) * every + 900 + 60 * (number % 5)
                } else {
                    number * every + 60
                };
                draw.recorded_at = Moment::new(BEGIN + typed);
            }
        }
        made
    }

    #[test]
    fn five_draws_over_a_week_in_one_sitting_are_a_burst() {
        let week = 7 * DAY / 4;
        let looked = made(week).look(&TypedInBursts);
        let first = of(&looked, 0).unwrap();
        assert_eq!((first.events, first.of, first.evidence.len()), (12, 12, 60));
        assert!(first.chance < 1e-6);
        assert_eq!(of(&looked, 1).unwrap().of, 60);
        assert_eq!(
            of(&made(week - 1).look(&TypedInBursts), 0).unwrap().events,
            0
        );
    }

    #[test]
    fn four_draws_a_pause_or_a_blank_are_none() {
        let mut four = made(10 * DAY);
        for (place, (draw, _)) in four.draws.iter_mut().enumerate() {
            if place % 5 == 0 {
                draw.recorded_at = Moment::BLANK;
            }
        }
        assert_eq!(of(&four.look(&TypedInBursts), 0).unwrap().events, 0);
        let mut paused = made(10 * DAY);
        for (place, (draw, _)) in paused.draws.iter_mut().enumerate() {
            let typed = draw.recorded_at.get().unwrap();
            draw.recorded_at = Moment::new(typed + (place as i64 % 5) * 1800);
        }
        assert_eq!(of(&paused.look(&TypedInBursts), 0).unwrap().events, 0);
    }
}

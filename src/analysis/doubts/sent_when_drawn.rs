//! Consignments sent when, or before, their bottles were drawn.

use super::against_peers::Counting;
use super::card::Card;
use super::seen::Ground;
use super::{About, Evidence, Looked, Signal};
use crate::model::time::local_text;

/// Times are typed to the minute.
const MINUTE_S: i64 = 60;

pub const CARD: Card = Card {
    id: "sent-when-drawn",
    title: "Sent the minute it was drawn, or before",
    looks_at: "Consignments (bottles of one site dispatched at the same minute) of which more than \
               half are said to be drawn at that very minute or later.",
    counts: "consignments were sent when their bottles were drawn, or before",
    chance: "A site against all others; consignments, not bottles, are counted, since one slip of a \
             date spoils a whole consignment. Assumes that sites differ by the spread seen among \
             them, and at least by half of what is usual. At least four other sites are needed.",
    explanations: &[
        "both times are set by one press of a button when the record is closed",
        "the time of draw is not written down and is filled in at dispatch",
        "the dispatch note is dated by hand, a day too early",
        "two systems keep different zones",
    ],
    next: &[
        "ask at which step each time comes into being",
        "compare with the carrier's note and with arrival at the laboratory",
    ],
    source: "Common practice, no source.",
};

pub struct SentWhenDrawn;

impl Signal for SentWhenDrawn {
    fn card(&self) -> &'static Card {
        &CARD
    }

    fn look(&self, ground: &Ground<'_>) -> Looked {
        let mut sent: Vec<(u32, i64, u32)> = (0..ground.rows())
            .filter_map(|row| {
                let minute = ground.draw(row).dispatched_at.get()?.div_euclid(MINUTE_S);
                Some((ground.site_of(row), minute, row))
            })
            .collect();
        sent.sort_unstable();
        let mut counting = Counting::default();
        for consignment in sent.chunk_by(|one, next| (one.0, one.1) == (next.0, next.1)) {
            let (site, minute, _) = consignment[0];
            let late = |row: u32| ground.draw(row).drawn_at.div_euclid(MINUTE_S) >= minute;
            let rows = || {
                consignment
                    .iter()
                    .map(|(_, _, row)| *row)
                    .filter(|row| late(*row))
            };
            let is_odd = 2 * rows().count() > consignment.len();
            let seen = rows()
                .filter(|_| is_odd)
                .map(|row| Evidence { row, other: None });
            counting.trial(site, 0, seen);
        }
        let mut looked = Looked::default();
        looked.add(counting.compared(|site| about_site(ground, site), None));
        looked
    }

    fn tells(&self, ground: &Ground<'_>, _: Option<&'static str>, seen: Evidence) -> String {
        let draw = ground.draw(seen.row);
        let zone = ground.assessed.zone;
        let sent = draw.dispatched_at.get();
        let sent = sent.map_or(String::new(), |at| local_text(at, zone));
        format!("drawn {}, sent {sent}", local_text(draw.drawn_at, zone))
    }
}

/// A site by one of its points, since sites have no list of their own.
pub(super) fn about_site(ground: &Ground<'_>, site: u32) -> About {
    let point = ground.site.iter().position(|of_point| *of_point == site);
    let point = u32::try_from(point.unwrap_or_default());
    About::SiteOf(point.expect("points are counted in 32 bits"))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::analysis::doubts::testing::{DAY, Made};
    use crate::model::Moment;

    /// Six sites of a point and a person each, 30 days of one draw; sent `after` seconds from
    /// the first site, an hour after the draw from the others.
    fn made(after: i64, sites: u32) -> Made {
        let mut made = Made::new(6, 6);
        for (number, point) in made.points.iter_mut().enumerate() {
            point.site = (number > 0).then(|| format!("S-{number}"));
        }
        for site in 0..sites {
            for day in 0..30 {
                let draw = made.draw(site, site, day * DAY);
                let after = if site == 0 { after } else { 3600 };
                draw.dispatched_at = Moment::new(draw.drawn_at + after);
            }
        }
        made
    }

    #[test]
    fn the_minute_of_the_draw_or_before_is_counted() {
        for (after, events) in [(0, 30), (59, 30), (60, 0), (-DAY, 30)] {
            let looked = made(after, 6).look(&SentWhenDrawn);
            let first = &looked.comparisons[0];
            assert_eq!(first.about, About::SiteOf(0));
            assert_eq!((first.events, first.of), (events, 30), "{after}");
            assert_eq!(first.chance < 1e-9, events > 0);
        }
        let looked = made(0, 4).look(&SentWhenDrawn);
        assert_eq!((looked.comparisons.len(), looked.silent), (0, 4));
    }

    #[test]
    fn one_bottle_of_a_consignment_is_not_the_consignment() {
        let mut made = made(3600, 6);
        for day in 0..30 {
            // A second bottle goes with the first, drawn when both were sent.
            let draw = made.draw(0, 0, day * DAY + 3600);
            draw.dispatched_at = Moment::new(draw.drawn_at);
        }
        let first = &made.look(&SentWhenDrawn).comparisons[0];
        assert_eq!((first.events, first.of), (0, 30));
    }
}

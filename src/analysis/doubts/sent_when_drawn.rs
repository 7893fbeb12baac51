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

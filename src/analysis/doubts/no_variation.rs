//! Values without natural variation.

use super::against_peers::Counting;
use super::card::Card;
use super::seen::{FILL_PCT, FLUSHED_ML, Ground, Measure, OIL_TEMP_C};
use super::{About, Evidence, Looked, Signal};
use crate::model::phrase::exact;

/// What differs from point to point and from time to time.
const MEASURES: [Measure; 3] = [FLUSHED_ML, FILL_PCT, OIL_TEMP_C];

pub const CARD: Card = Card {
    id: "no-variation",
    title: "Values without natural variation",
    looks_at: "Of flushed_ml, fill_pct and oil_temp_c, each by itself: how often a technician \
               writes the very value that he or she wrote last, at another point. Always 500 mL or \
               always 80 % repeats nearly every time; honest rounding repeats now and then.",
    counts: "values are the one the technician wrote before, at another point",
    chance: "A technician against all others, kind by kind of point. Assumes that technicians \
             round in ways of their own by the spread seen among them, and at least by half of \
             what is usual; where half a crew fills by the same jug, nobody stands out.",
    explanations: &[
        "bottles have a mark at that level, or a sight glass is marked in large steps",
        "the same jug or pump stroke is used for every flush",
        "the form offers the value beforehand",
        "a thermometer is stuck or broken",
    ],
    next: &[
        "ask how the value is measured, and with what",
        "look over a draw or two together",
        "compare fill with what the laboratory received",
    ],
    source: "Common practice, no source.",
};

pub struct NoVariation;

impl Signal for NoVariation {
    fn card(&self) -> &'static Card {
        &CARD
    }

    fn look(&self, ground: &Ground<'_>) -> Looked {
        let mut looked = Looked::default();
        for measure in MEASURES {
            let mut counting = Counting::default();
            for (technician, rows) in ground.each_technician() {
                let written = rows
                    .iter()
                    .filter_map(|row| Some((*row, (measure.of)(ground.draw(*row)).get()?)));
                let mut last: Option<(u32, f64)> = None;
                for (row, value) in written {
                    let draw = ground.draw(row);
                    if let Some((before, repeated)) = last
                        && ground.draw(before).point != draw.point
                    {
                        let kind = ground.assessed.points[draw.point as usize].kind;
                        let seen = Evidence {
                            row,
                            other: Some(before),
                        };
                        counting.trial(
                            technician,
                            u32::from(kind.index()),
                            (value == repeated).then_some(seen),
                        );
                    }
                    last = Some((row, value));
                }
            }
            looked.add(counting.compared(About::Technician, Some(measure.name)));
        }
        looked
    }

    fn tells(&self, ground: &Ground<'_>, column: Option<&'static str>, seen: Evidence) -> String {
        let measure = MEASURES.iter().find(|it| Some(it.name) == column);
        let value = measure.and_then(|it| (it.of)(ground.draw(seen.row)).get());
        let point = |row: u32| {
            let point = ground.draw(row).point as usize;
            ground.assessed.points[point].id.as_str()
        };
        format!(
            "{} {} at {} as at {} before",
            column.unwrap_or_default(),
            value.map_or(String::new(), exact),
            point(seen.row),
            point(seen.other.unwrap_or(seen.row))
        )
    }
}

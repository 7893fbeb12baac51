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
    chance: "A technician against all others, site by site and kind by kind of point, with their \
             values rounded as coarsely as the technician rounds (at most to an eighth of the usual \
             value). Assumes that people vary in ways of their own by the spread seen among them, \
             and at least by half of what is usual; where half a crew fills by the same jug, nobody \
             stands out.",
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
            let people: Vec<Own> = ground
                .each_technician()
                .map(|(_, rows)| Own::of(ground, rows, measure))
                .collect();
            for step in STEPS {
                if people.iter().any(|own| own.step == step) {
                    // Each technician is compared once, with others rounded as he or she rounds.
                    let own = |place: u32| people[place as usize].step == step;
                    let (mut comparisons, mut silent) = alike(ground, &people, step, measure.name);
                    comparisons.retain(|it| matches!(it.about, About::Technician(it) if own(it)));
                    silent.retain(|place| own(*place));
                    looked.add((comparisons, silent));
                }
            }
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

/// Rounding, as a part of the technician's middle value. Coarser rounding counts as the last.
const STEPS: [f64; 5] = [0.0, 0.02, 0.05, 0.08, 0.125];
/// Steps that people round to, the coarsest first.
const ROUND: [f64; 8] = [100.0, 50.0, 25.0, 20.0, 10.0, 5.0, 2.0, 1.0];
/// So many in a hundred values on a step are a habit of rounding.
const ROUNDED_PCT: usize = 80;

/// Fewer values beside the usual one do not show how someone rounds.
const BESIDE: usize = 8;

/// What one technician wrote in a column, in the order of time.
struct Own {
    values: Vec<(u32, f64)>,
    middle: f64,
    /// One of [`STEPS`].
    step: f64,
}

impl Own {
    fn of(ground: &Ground<'_>, rows: &[u32], measure: Measure) -> Self {
        let value = |row: &u32| Some((*row, (measure.of)(ground.draw(*row)).get()?));
        let values: Vec<(u32, f64)> = rows.iter().filter_map(value).collect();
        let mut sorted: Vec<f64> = values.iter().map(|(_, value)| value.abs()).collect();
        sorted.sort_unstable_by(f64::total_cmp);
        let middle = sorted.get(sorted.len() / 2).copied().unwrap_or(0.0);
        // How someone rounds shows in the values beside the usual one.
        let usual = sorted
            .chunk_by(|one, next| one == next)
            .max_by_key(|same| same.len())
            .map(|same| same[0]);
        sorted.retain(|value| Some(*value) != usual);
        let most = STEPS[STEPS.len() - 1];
        let on = |step: f64| {
            let whole = sorted.iter().filter(|value| *value % step == 0.0).count();
            100 * whole >= ROUNDED_PCT * sorted.len()
        };
        let round = ROUND
            .into_iter()
            .filter(|_| sorted.len() >= BESIDE)
            .find(|step| *step <= most * middle && on(*step));
        let part = round.map_or(0.0, |round| round / middle);
        let step = STEPS.into_iter().find(|step| *step >= part).unwrap_or(most);
        Own {
            values,
            middle,
            step,
        }
    }
}

/// Everyone's repetitions, with values rounded to this part of the middle value.
fn alike(
    ground: &Ground<'_>,
    people: &[Own],
    step: f64,
    column: &'static str,
) -> (Vec<super::Comparison>, Vec<u32>) {
    let mut counting = Counting::default();
    for (technician, own) in (0..).zip(people) {
        // Who rounds so coarsely anyway is left alone.
        let width = if own.step >= step {
            0.0
        } else {
            step * own.middle
        };
        let rounded = |value: f64| {
            if width > 0.0 {
                (value / width).round()
            } else {
                value
            }
        };
        for pair in own.values.windows(2) {
            let ((before, first), (row, second)) = (pair[0], pair[1]);
            let point = ground.draw(row).point;
            if ground.draw(before).point == point {
                continue;
            }
            let kind = ground.assessed.points[point as usize].kind;
            let place = ground.site_of(row) * 4 + u32::from(kind.index());
            let seen = Evidence {
                row,
                other: Some(before),
            };
            let repeats = rounded(first) == rounded(second);
            counting.trial(technician, place, repeats.then_some(seen));
        }
    }
    counting.compared(About::Technician, Some(column))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::analysis::doubts::testing::{DAY, Made, of};
    use crate::model::Number;

    /// Six people, each 40 draws at two points in turn; fills of the others go round through
    /// seven values, those of the first as told.
    fn made(first: impl Fn(i64) -> Number) -> Made {
        let mut made = Made::new(12, 6);
        for who in 0..6 {
            for number in 0..40_i64 {
                let point = who + 6 * (number % 2) as u32;
                let draw = made.draw(who, point, number * DAY);
                draw.fill_pct = if who == 0 {
                    first(number)
                } else {
                    Number::new(60.0 + (number * (1 + i64::from(who)) % 7) as f64 * 3.0)
                };
            }
        }
        made
    }

    #[test]
    fn always_the_same_is_counted_and_change_is_not() {
        let looked = made(|_| Number::new(80.0)).look(&NoVariation);
        let first = of(&looked, 0).unwrap();
        assert_eq!(
            (first.events, first.of, first.column),
            (39, 39, Some("fill_pct"))
        );
        assert!(first.chance < 1e-6, "{}", first.chance);
        assert_eq!(of(&looked, 1).unwrap().events, 0);
        let varied = made(|number| Number::new(70.0 + (number % 4) as f64)).look(&NoVariation);
        assert_eq!(of(&varied, 0).unwrap().events, 0);
    }

    #[test]
    fn blanks_and_draws_at_one_point_say_nothing() {
        let blank = made(|_| Number::BLANK).look(&NoVariation);
        assert!(of(&blank, 0).is_none());
        // A blank between two values does not part them.
        let gaps = made(|number| Number::from((number % 4 < 2).then_some(80.0)));
        assert_eq!(of(&gaps.look(&NoVariation), 0).unwrap().events, 19);
        let mut one_point = made(|_| Number::new(80.0));
        for (draw, _) in &mut one_point.draws {
            draw.point = draw.technician;
        }
        assert!(one_point.look(&NoVariation).comparisons.is_empty());
    }

    #[test]
    fn rounding_is_seen_in_the_values_beside_the_usual_one() {
        let made = made(|number| Number::new([70.0, 80.0, 60.0, 80.0][(number % 4) as usize]));
        let (assessed, written) = made.assessed();
        let ground = Ground::of(&assessed, &written);
        let (_, rows) = ground.each_technician().next().unwrap();
        // Tens on a middle value of 80: an eighth.
        assert_eq!(Own::of(&ground, rows, FILL_PCT).step, 0.125);
    }
}

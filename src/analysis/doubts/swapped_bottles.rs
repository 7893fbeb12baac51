//! Bottles that were likely swapped.

use rustc_hash::FxHashMap;

use super::card::Card;
use super::seen::Ground;
use super::{About, Comparison, Evidence, Looked, Signal};
use crate::stats::poisson;

/// Bottles of one technician drawn within this time may be swapped.
const NEAR_S: i64 = 24 * 3600;
/// So many labels of the whole stand behind what is usual at one point.
const WEIGHT_OF_ALL: f64 = 20.0;

pub const CARD: Card = Card {
    id: "swapped-bottles",
    title: "Bottles that were likely swapped",
    looks_at: "Pairs of draws by one technician within 24 hours whose labels cross: each names the \
               grade of the other's point, and not that of its own.",
    counts: "wrong labels come in pairs that cross",
    chance: "For each wrong label of a technician, the chance that among the technician's draws \
             within 24 hours one at a point of the grade it names carries just the grade that \
             is missing: as often as other labels of that point do, or as wrong labels of all \
             others and that grade come up anywhere. Pairs are compared with the sum of these \
             chances by the Poisson law. Assumes that wrong labels come singly.",
    explanations: &[
        "the two labels were swapped, not the bottles",
        "points were renamed or refilled with another grade, and points.csv is older",
        "the two points themselves are swapped in the list",
    ],
    next: &[
        "hold the two results back until it is clear",
        "compare viscosity and additives in the laboratory's results with both grades",
        "ask whether the bottles were labelled at the machine",
    ],
    source: "Labelled at once, before the next draw: common practice, no source.",
};

pub struct SwappedBottles;

/// A label that can be compared.
#[derive(Clone, Copy)]
struct Label {
    row: u32,
    point: u32,
    at: i64,
    written: u32,
    of_point: u32,
}

impl Label {
    fn is_wrong(self) -> bool {
        self.written != self.of_point
    }
}

impl Signal for SwappedBottles {
    fn card(&self) -> &'static Card {
        &CARD
    }

    fn look(&self, ground: &Ground<'_>) -> Looked {
        let labels = labels(ground);
        let counts = Counts::of(&labels);
        let mut looked = Looked::default();
        for (technician, own) in (0..).zip(&labels) {
            let wrong: Vec<usize> = (0..own.len())
                .filter(|place| own[*place].is_wrong() && near(own, *place).len() > 1)
                .collect();
            if wrong.is_empty() {
                looked.silent += u64::from(!own.is_empty());
                continue;
            }
            let rate = counts.rate_of_others(own);
            let mut expected = 0.0;
            let mut evidence = Vec::new();
            for &place in &wrong {
                let label = own[place];
                let fits = near(own, place)
                    .iter()
                    .filter(|other| other.of_point == label.written);
                let mut none = 0.0;
                let mut found: Option<Label> = None;
                for other in fits {
                    none += libm::log1p(-counts.crossing(label, *other, rate));
                    let apart = |of: &Label| (of.at.abs_diff(label.at), of.row);
                    if other.written == label.of_point
                        && found.is_none_or(|known| apart(other) < apart(&known))
                    {
                        found = Some(*other);
                    }
                }
                expected += -libm::expm1(none);
                evidence.extend(found.map(|other| Evidence {
                    row: label.row,
                    other: Some(other.row),
                }));
            }
            // Each pair is found from both of its draws.
            let pairs = evidence.len() as u64 / 2;
            looked.comparisons.push(Comparison {
                about: About::Technician(technician),
                column: None,
                events: pairs,
                of: wrong.len() as u64,
                expected,
                chance: poisson::at_least(pairs, expected),
                evidence,
            });
        }
        looked
    }

    fn tells(&self, ground: &Ground<'_>, _: Option<&'static str>, seen: Evidence) -> String {
        let written = ground.written.fluid[seen.row as usize] as usize;
        let point = &ground.assessed.points[ground.draw(seen.row).point as usize];
        format!(
            "labelled {} at {}, which holds {}",
            ground.written.fluids[written],
            point.id,
            point.fluid.as_deref().unwrap_or_default()
        )
    }
}

/// How often labels say what.
struct Counts {
    all: f64,
    wrong: f64,
    of_grade: FxHashMap<u32, f64>,
    at_point: FxHashMap<u32, f64>,
    at_point_of_grade: FxHashMap<(u32, u32), f64>,
}

impl Counts {
    fn of(labels: &[Vec<Label>]) -> Self {
        let mut counts = Counts {
            all: 0.0,
            wrong: 0.0,
            of_grade: FxHashMap::default(),
            at_point: FxHashMap::default(),
            at_point_of_grade: FxHashMap::default(),
        };
        for label in labels.iter().flatten() {
            counts.all += 1.0;
            counts.wrong += f64::from(u8::from(label.is_wrong()));
            *counts.of_grade.entry(label.written).or_default() += 1.0;
            *counts.at_point.entry(label.point).or_default() += 1.0;
            let at = (label.point, label.written);
            *counts.at_point_of_grade.entry(at).or_default() += 1.0;
        }
        counts
    }

    /// The share of wrong labels of all others.
    fn rate_of_others(&self, own: &[Label]) -> f64 {
        let wrong = own.iter().filter(|label| label.is_wrong()).count() as f64;
        (self.wrong - wrong + 0.5) / (self.all - own.len() as f64 + 1.0)
    }

    /// The chance that the other's label names the grade of this one's point by accident: as
    /// often as its own point's other labels do, and where these are few, as wrong labels and
    /// that grade come up anywhere.
    fn crossing(&self, label: Label, other: Label, rate: f64) -> f64 {
        let of = |counts: &FxHashMap<u32, f64>, key: u32| counts.get(&key).copied().unwrap_or(0.0);
        let share = of(&self.of_grade, label.of_point).max(1.0) / self.all;
        let at = (other.point, label.of_point);
        let same = self.at_point_of_grade.get(&at).copied().unwrap_or(0.0)
            - f64::from(u8::from(other.written == label.of_point));
        let others = of(&self.at_point, other.point) - 1.0;
        ((same + WEIGHT_OF_ALL * rate * share) / (others + WEIGHT_OF_ALL)).min(0.999)
    }
}

/// The labels of each technician in the order of time, where label and point name a grade.
fn labels(ground: &Ground<'_>) -> Vec<Vec<Label>> {
    let mut numbers: FxHashMap<String, u32> = FxHashMap::default();
    let mut number = |text: &str| {
        let next = u32::try_from(numbers.len() + 1).expect("fewer grades than u32 can count");
        // The same grade in another case or with other blanks is the same grade.
        let plain: Vec<String> = text.split_whitespace().map(str::to_lowercase).collect();
        *numbers.entry(plain.join(" ")).or_insert(next)
    };
    let written: Vec<u32> = ground.written.fluids.iter().map(|it| number(it)).collect();
    let points = ground.assessed.points.iter();
    let of_points: Vec<Option<u32>> = points
        .map(|it| it.fluid.as_deref().map(&mut number))
        .collect();
    ground
        .each_technician()
        .map(|(_, rows)| {
            let label = |row: &u32| {
                let draw = ground.draw(*row);
                let on_label = ground.written.fluid[*row as usize];
                Some(Label {
                    row: *row,
                    point: draw.point,
                    at: draw.drawn_at,
                    written: (on_label != 0).then(|| written[on_label as usize])?,
                    of_point: of_points[draw.point as usize]?,
                })
            };
            rows.iter().filter_map(label).collect()
        })
        .collect()
}

/// The labels within reach of the one at this place, itself included.
fn near(labels: &[Label], place: usize) -> &[Label] {
    let at = labels[place].at;
    let first = labels[..place].partition_point(|other| at - other.at > NEAR_S);
    let last = place + labels[place..].partition_point(|other| other.at - at <= NEAR_S);
    &labels[first..last]
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::analysis::doubts::testing::{DAY, Made, of};

    /// Six people, each 60 draws at two points of different grades in turn, one an hour after
    /// the other, all labelled rightly but those of the first person's first `pairs`.
    fn made(pairs: i64, apart: i64) -> Made {
        let mut made = Made::new(12, 6);
        for point in made.points.iter_mut().skip(6) {
            point.fluid = Some("Sefkal EP 2".to_owned());
        }
        for who in 0..6 {
            for number in 0..30 {
                for point in [who, who + 6] {
                    made.draw(who, point, number * 10 * DAY + i64::from(point / 6) * apart);
                    let crosses = who == 0 && number < pairs;
                    let of_point = made.points[point as usize].fluid.clone().unwrap();
                    let other = made.points[((point + 6) % 12) as usize]
                        .fluid
                        .clone()
                        .unwrap();
                    // Case and blanks make no other grade.
                    let label = if crosses {
                        other
                    } else {
                        of_point.to_uppercase()
                    };
                    made.draws.last_mut().unwrap().1 = label;
                }
            }
        }
        made
    }

    #[test]
    fn labels_that_cross_are_a_pair() {
        let looked = made(1, 3600).look(&SwappedBottles);
        let first = of(&looked, 0).unwrap();
        assert_eq!((first.events, first.of, first.evidence.len()), (1, 2, 2));
        assert!(first.chance < 0.01, "{}", first.chance);
        assert_eq!(first.evidence[0].other, Some(first.evidence[1].row));
        // Nobody else has a wrong label.
        assert_eq!((looked.comparisons.len(), looked.silent), (1, 5));
        let more = made(3, 3600).look(&SwappedBottles);
        assert_eq!(of(&more, 0).unwrap().events, 3);
    }

    #[test]
    fn a_day_apart_or_one_wrong_label_is_no_pair() {
        assert_eq!(
            of(&made(1, DAY).look(&SwappedBottles), 0).unwrap().events,
            1
        );
        assert!(of(&made(1, DAY + 1).look(&SwappedBottles), 0).is_none());
        let mut single = made(0, 3600);
        single.draws[0].1 = "Sefkal EP 2".to_owned();
        let looked = single.look(&SwappedBottles);
        assert_eq!(
            (
                of(&looked, 0).unwrap().events,
                of(&looked, 0).unwrap().chance
            ),
            (0, 1.0)
        );
    }

    #[test]
    fn blank_labels_and_points_without_a_grade_say_nothing() {
        let mut blank = made(5, 3600);
        for (_, label) in &mut blank.draws {
            label.clear();
        }
        assert!(blank.look(&SwappedBottles).comparisons.is_empty());
        let mut without = made(5, 3600);
        for point in &mut without.points {
            point.fluid = None;
        }
        assert!(without.look(&SwappedBottles).comparisons.is_empty());
    }

    #[test]
    fn a_point_that_was_renamed_is_no_swap() {
        let mut made = made(0, 3600);
        for (draw, label) in &mut made.draws {
            // Both points of the first person hold the other's grade now, whoever writes.
            if draw.point % 6 == 0 {
                let other = (draw.point + 6) % 12;
                *label = made.points[other as usize].fluid.clone().unwrap();
            }
        }
        let looked = made.look(&SwappedBottles);
        assert!(of(&looked, 0).unwrap().chance > 0.1);
    }
}

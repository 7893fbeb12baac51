//! Bottles that were likely swapped.

use rustc_hash::FxHashMap;

use super::card::Card;
use super::seen::Ground;
use super::{About, Comparison, Evidence, Looked, Signal};

/// Bottles of one technician drawn within this time may be swapped.
const NEAR_S: i64 = 24 * 3600;
/// So many labels of the whole stand behind what is usual at one point.
const WEIGHT_OF_ALL: f64 = 20.0;

pub const CARD: Card = Card {
    id: "swapped-bottles",
    title: "Two bottles that were likely swapped",
    looks_at: "Pairs of draws by one technician within 24 hours whose labels cross: each names the \
               grade of the other's point, and not that of its own.",
    counts: "draws nearby carry the grade of this point, and this one theirs",
    chance: "Given that the first label does not name its point's grade: the chance that among the \
             technician's draws within 24 hours one at a point of that very grade carries a wrong \
             label too, and that the wrong label names just this grade, as often as other labels of \
             that point did, or wrong labels and that grade come up anywhere. Assumes that wrong \
             labels come singly.",
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
        for labels in &labels {
            for (place, label) in labels.iter().enumerate() {
                if !label.is_wrong() {
                    continue;
                }
                let near = near(labels, place);
                if near.is_empty() {
                    looked.silent += 1;
                    continue;
                }
                let fits = |other: &&Label| other.of_point == label.written;
                let crossed = |other: &&Label| fits(other) && other.written == label.of_point;
                let expected = || {
                    near.iter()
                        .filter(fits)
                        .map(|it| counts.crossing(*label, *it))
                };
                let none: f64 = expected().map(|chance| libm::log1p(-chance)).sum();
                let chance = -libm::expm1(none);
                let expected = expected().sum();
                let found = near
                    .iter()
                    .filter(crossed)
                    .min_by_key(|other| (other.at.abs_diff(label.at), other.row));
                match found {
                    // Each pair once, from its first draw.
                    Some(other) if other.row < label.row => {}
                    Some(other) => looked.comparisons.push(Comparison {
                        about: About::Draws(label.row, other.row),
                        column: None,
                        events: 1,
                        of: near.len() as u64 - 1,
                        expected,
                        chance,
                        evidence: vec![
                            Evidence {
                                row: label.row,
                                other: Some(other.row),
                            },
                            Evidence {
                                row: other.row,
                                other: Some(label.row),
                            },
                        ],
                    }),
                    None => looked.comparisons.push(Comparison {
                        about: About::Draws(label.row, label.row),
                        column: None,
                        events: 0,
                        of: near.len() as u64 - 1,
                        expected,
                        chance: 1.0,
                        evidence: Vec::new(),
                    }),
                }
            }
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

    /// The chance that the other's label names the grade of this one's point by accident: as
    /// often as its own point's other labels do, and where these are few, as wrong labels and
    /// that grade come up anywhere.
    fn crossing(&self, label: Label, other: Label) -> f64 {
        let of = |counts: &FxHashMap<u32, f64>, key: u32| counts.get(&key).copied().unwrap_or(0.0);
        // The pair itself says nothing about how frequent wrong labels are.
        let rate = ((self.wrong - 2.0).max(0.0) + 0.5) / ((self.all - 2.0).max(0.0) + 1.0);
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

/// The labels within reach of the one at this place, itself included; empty if there is no other.
fn near(labels: &[Label], place: usize) -> &[Label] {
    let at = labels[place].at;
    let first = labels[..place].partition_point(|other| at - other.at > NEAR_S);
    let last = place + labels[place..].partition_point(|other| other.at - at <= NEAR_S);
    if last - first > 1 {
        &labels[first..last]
    } else {
        &[]
    }
}

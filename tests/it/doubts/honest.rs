//! Honest programmes raise hardly a doubt.

use std::collections::BTreeMap;

use fairdraw::analysis::doubts::{About, doubts};
use fairdraw::analysis::{Doubts, Selection};
use fairdraw::demo::Size as DemoSize;
use fairdraw::model::{Draw, Moment, Number, Progress};
use proptest::prelude::*;

use super::made::{Made, Size, honest};
use crate::demo::written;

pub fn all_doubts(made: &Made) -> Doubts {
    let (assessed, written) = made.assessed();
    let rows: Selection = (0..assessed.judged.len() as u32).collect();
    doubts(&assessed, &written, &rows, &Progress::default()).unwrap()
}

/// What came out of many programmes.
#[derive(Debug, Default)]
struct Alarms {
    programmes: u64,
    technicians: u64,
    comparisons: u64,
    with_any: u64,
    technicians_named: u64,
    by_signal: BTreeMap<&'static str, u64>,
}

impl Alarms {
    fn add(&mut self, technicians: usize, found: &Doubts) {
        self.programmes += 1;
        self.technicians += technicians as u64;
        self.comparisons += found.comparisons();
        self.with_any += u64::from(!found.list.is_empty());
        let mut named: Vec<u32> = Vec::new();
        for doubt in &found.list {
            *self.by_signal.entry(doubt.signal.id).or_default() += 1;
            if let About::Technician(place) = doubt.about {
                named.push(place);
            }
        }
        named.sort_unstable();
        named.dedup();
        self.technicians_named += named.len() as u64;
    }

    fn share_named(&self) -> f64 {
        self.technicians_named as f64 / self.technicians as f64
    }
}

const SMALL: Size = Size {
    sites: 2,
    crew: 4,
    points: 15,
    days: 365,
};
const MIDDLE: Size = Size {
    sites: 5,
    crew: 6,
    points: 30,
    days: 540,
};
const LARGE: Size = Size {
    sites: 12,
    crew: 10,
    points: 60,
    days: 540,
};

fn measure(size: Size, seeds: std::ops::Range<u64>) -> Alarms {
    let mut alarms = Alarms::default();
    for seed in seeds {
        let made = honest(size, seed);
        let found = all_doubts(&made);
        if std::env::var_os("FAIRDRAW_TELL").is_some() {
            for doubt in &found.list {
                println!(
                    "seed {seed} {:?} {} p {:.2e}",
                    doubt.about,
                    doubt.says(),
                    doubt.chance
                );
            }
        }
        alarms.add(made.technicians, &found);
    }
    alarms
}

#[test]
fn honest_people_with_habits_are_hardly_ever_named() {
    let alarms = measure(MIDDLE, 0..12);
    assert_eq!(alarms.technicians, 360);
    assert!(alarms.comparisons > 2_000, "{alarms:?}");
    assert!(alarms.share_named() <= 0.01, "{alarms:?}");
}

/// The measurement of docs/doubts.md: `cargo test --test it honest_programmes -- --ignored
/// --nocapture`.
#[test]
#[ignore = "takes minutes; its figures stand in docs/doubts.md"]
fn honest_programmes_of_three_sizes() {
    for (name, size, seeds) in [
        ("small", SMALL, 1_000..1_300),
        ("middle", MIDDLE, 2_000..2_200),
        ("large", LARGE, 3_000..3_020),
    ] {
        let alarms = measure(size, seeds);
        println!("{name}: {alarms:?}");
        assert!(alarms.share_named() <= 0.01, "{name}: {alarms:?}");
    }
}

/// The person whose sheets are typed by the month, the one story of the demo that is told here.
const TYPED_BY_THE_MONTH: About = About::Technician(28);

fn doubts_of_demo(seed: Option<u64>) -> (usize, Doubts) {
    let default = DemoSize::default();
    let (assessed, written) = written(&DemoSize {
        seed: seed.unwrap_or(default.seed),
        ..default
    });
    let rows: Selection = (0..assessed.judged.len() as u32).collect();
    let found = doubts(&assessed, &written, &rows, &Progress::default()).unwrap();
    (assessed.technicians.len(), found)
}

#[test]
fn the_demo_raises_the_one_doubt_that_its_page_tells_of() {
    let (_, found) = doubts_of_demo(None);
    let [doubt] = &found.list[..] else {
        panic!("{:?}", found.list);
    };
    assert_eq!(
        (doubt.signal.id, doubt.about),
        ("typed-in-bursts", TYPED_BY_THE_MONTH)
    );
    assert!(
        doubt.events >= 10 && doubt.adjusted < 1e-6,
        "{}",
        doubt.says()
    );
}

#[test]
fn a_selection_chooses_what_is_shown_and_never_what_is_usual() {
    let (assessed, written) = written(&DemoSize::default());
    let all: Selection = (0..assessed.judged.len() as u32).collect();
    let by = |rows: &Selection| doubts(&assessed, &written, rows, &Progress::default()).unwrap();
    let whole = by(&all);
    let doubt = &whole.list[0];
    let half: Selection = doubt.evidence.iter().skip(9).map(|seen| seen.row).collect();
    let shown = by(&half);
    assert_eq!(shown.reach, whole.reach);
    assert_eq!(shown.list[0].evidence, doubt.evidence[9..]);
    assert_eq!(shown.list[0].adjusted, doubt.adjusted);
    assert!(by(&Selection::new()).list.is_empty());
    let stopped = Progress::default();
    stopped.stop();
    assert_eq!(doubts(&assessed, &written, &all, &stopped), None);
}

#[test]
fn the_order_of_rows_changes_nothing() {
    let made = honest(SMALL, 5);
    let mut turned = made.clone();
    turned.draws.rotate_left(made.draws.len() / 3);
    turned.draws.reverse();
    assert_eq!(all_doubts(&made), all_doubts(&turned));
}

/// The demo tells stories, but only one of them is of records that are hard to believe.
#[test]
#[ignore = "takes minutes; its figures stand in docs/doubts.md"]
fn honest_programmes_of_the_demo() {
    let mut alarms = Alarms::default();
    for seed in 1..=100 {
        let (technicians, mut found) = doubts_of_demo(Some(seed));
        found.list.retain(|doubt| {
            (doubt.signal.id, doubt.about) != ("typed-in-bursts", TYPED_BY_THE_MONTH)
        });
        alarms.add(technicians, &found);
    }
    println!("demo: {alarms:?}");
    assert!(alarms.share_named() <= 0.01, "{alarms:?}");
}

/// A technician, a point, a time, then for each measured column blank or one of few values.
type Row = (u32, u32, i64, [u8; 8]);

fn strange(rows: &[Row]) -> Made {
    let mut made = honest(
        Size {
            sites: 3,
            crew: 3,
            points: 2,
            days: 0,
        },
        1,
    );
    for (who, point, at, cells) in rows {
        let number = |cell: u8| Number::from((cell > 0).then(|| f64::from(cell) * 5.0));
        let moment = |cell: u8| Moment::from((cell > 0).then(|| at + i64::from(cell) * 600 - 3000));
        let mut draw = Draw::bare(*point, *who, *at);
        draw.machine_hours = number(cells[0]);
        draw.oil_hours = number(cells[1]);
        draw.oil_temp_c = number(cells[2]);
        draw.flushed_ml = number(cells[3]);
        draw.fill_pct = number(cells[4]);
        draw.recorded_at = moment(cells[5]);
        draw.dispatched_at = moment(cells[6]);
        draw.second_fill = cells[7] == 0;
        let fluid = ["", "Halmyr 46", "Halmyr 68"][usize::from(cells[7] % 3)];
        made.draws.push((draw, fluid.to_owned()));
    }
    made
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn whatever_is_written_chances_are_chances(
        rows in prop::collection::vec(
            (0u32..9, 0u32..6, prop_oneof![0i64..20_000, any::<i32>().prop_map(i64::from)],
             any::<[u8; 8]>().prop_map(|cells| cells.map(|cell| cell % 7))),
            0..300,
        ),
    ) {
        let made = strange(&rows);
        let found = all_doubts(&made);
        for doubt in &found.list {
            prop_assert!((0.0..=0.01).contains(&doubt.adjusted));
            prop_assert!(doubt.chance <= doubt.adjusted);
            prop_assert!(doubt.events <= doubt.of || doubt.signal.id == "swapped-bottles");
            prop_assert!(!doubt.evidence.is_empty());
        }
        let mut turned = made.clone();
        turned.draws.reverse();
        // Rows that agree in all that orders them may be exchanged.
        prop_assert_eq!(found.comparisons(), all_doubts(&turned).comparisons());
    }
}

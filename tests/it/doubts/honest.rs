//! Honest programmes raise hardly a doubt.

use std::collections::BTreeMap;

use fairdraw::analysis::doubts::{About, doubts};
use fairdraw::analysis::{Doubts, Selection};
use fairdraw::demo::Size as DemoSize;
use fairdraw::model::Progress;

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

/// The demo programme tells stories, but none of them is that records are made up.
#[test]
#[ignore = "takes minutes; its figures stand in docs/doubts.md"]
fn honest_programmes_of_the_demo() {
    let mut alarms = Alarms::default();
    for seed in 1..=100 {
        let size = DemoSize {
            seed,
            ..DemoSize::default()
        };
        let (assessed, written) = written(&size);
        let rows: Selection = (0..assessed.judged.len() as u32).collect();
        let found = doubts(&assessed, &written, &rows, &Progress::default()).unwrap();
        alarms.add(assessed.technicians.len(), &found);
    }
    println!("demo: {alarms:?}");
    assert!(alarms.share_named() <= 0.01, "{alarms:?}");
}

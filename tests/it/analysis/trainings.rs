//! Before and after trainings.

use fairdraw::analysis::training::{BesidePeers, Effect, Record, Trained, trainings};
use fairdraw::analysis::{Assessed, Filter};
use fairdraw::model::{RuleSet, Training};

use super::{Row, programme, rules, six_draws, utc};

/// Draws of a technician at an instant: so many with the flush broken, so many met.
fn draws(technician: u32, at: &str, broken: usize, met: usize) -> Vec<Row> {
    let row = |is_broken: bool| Row {
        technician,
        drawn_at: utc(at),
        broken: if is_broken {
            rules(&["flush-met"])
        } else {
            RuleSet::NONE
        },
        met: if is_broken {
            RuleSet::NONE
        } else {
            rules(&["flush-met"])
        },
        unrecorded: RuleSet::NONE,
        ..six_draws().swap_remove(0)
    };
    let mut rows = vec![row(true); broken];
    rows.extend(vec![row(false); met]);
    rows
}

fn training(technician: &str, topic: &str, held_on: &str) -> Training {
    Training {
        technician_id: technician.to_owned(),
        topic: topic.to_owned(),
        held_on: held_on.parse().unwrap(),
    }
}

const BEFORE: &str = "2026-03-01T12:00:00Z";
const AFTER: &str = "2026-03-20T12:00:00Z";

/// 07 was trained on 10 March; these are broken and met before and after, then of peer 08.
fn held([own_before, own_after, before, after]: [(usize, usize); 4]) -> Assessed {
    let rows = [
        draws(0, BEFORE, own_before.0, own_before.1),
        draws(0, AFTER, own_after.0, own_after.1),
        draws(1, BEFORE, before.0, before.1),
        draws(1, AFTER, after.0, after.1),
    ];
    let mut assessed = programme(rows.concat());
    assessed.trainings = vec![training("07", "flush-met", "2026-03-10")];
    assessed
}

fn looked_at(assessed: &Assessed, days: u32) -> Vec<Trained> {
    let all = Filter::default().select(assessed);
    trainings(assessed, &all, &all, days)
}

fn effect(counts: [(usize, usize); 4]) -> Effect {
    looked_at(&held(counts), 30)[0].effect
}

#[test]
fn the_change_and_what_goes_beyond_the_peers_have_their_intervals() {
    let assessed = held([(15, 5), (2, 18), (10, 10), (10, 10)]);
    let found = &looked_at(&assessed, 30)[0];
    let near = |found: f64, wanted: f64| assert!((found - wanted).abs() < 1e-12, "{found}");
    // 2 of 20 less 15 of 20, and 10 of 20 less 10 of 20: Newcombe's method 10, and
    // square-and-add of both, worked out apart from this program (Python, from the formulas).
    let change = found.own.change().unwrap();
    near(change.difference, -0.65);
    near(change.low, -0.805_837_845_437_071_4);
    near(change.high, -0.352_940_072_737_735_1);
    let beyond = found.beyond_peers.unwrap();
    near(beyond.difference, -0.65);
    near(beyond.low, -0.973_802_429_108_983_5);
    near(beyond.high, -0.239_138_491_202_361_7);
    assert_eq!(found.peer_count, 1);
    assert_eq!(found.effect, Effect::Fewer(BesidePeers::MoreSo));
    assert_eq!(
        found.effect.to_string(),
        "fewer broken than before, and more so than at peers"
    );
}

#[test]
fn the_words_claim_no_more_than_the_numbers() {
    use BesidePeers::*;
    for (counts, wanted) in [
        ([(15, 5), (2, 17), (10, 10), (10, 10)], Effect::TooFew),
        ([(15, 5), (14, 6), (10, 10), (10, 10)], Effect::NoChange),
        ([(15, 5), (2, 18), (15, 5), (2, 18)], Effect::Fewer(Alike)),
        ([(15, 5), (2, 18), (9, 0), (9, 0)], Effect::Fewer(TooFew)),
        ([(15, 5), (2, 18), (0, 0), (0, 0)], Effect::Fewer(TooFew)),
        ([(2, 18), (15, 5), (10, 10), (10, 10)], Effect::More(MoreSo)),
        ([(2, 18), (15, 5), (2, 18), (15, 5)], Effect::More(Alike)),
        (
            [(300, 700), (200, 800), (900, 100), (100, 900)],
            Effect::Fewer(LessSo),
        ),
        (
            [(200, 800), (300, 700), (100, 900), (900, 100)],
            Effect::More(LessSo),
        ),
    ] {
        assert_eq!(effect(counts), wanted, "{counts:?}");
    }
}

#[test]
fn the_day_itself_is_in_neither_window_and_days_are_those_of_the_zone() {
    // Paris is an hour ahead: the day of 10 March begins at 23:00Z on the 9th.
    let rows = [
        draws(0, "2026-02-27T22:59:59Z", 1, 0),
        draws(0, "2026-02-27T23:00:00Z", 2, 0),
        draws(0, "2026-03-09T22:59:59Z", 4, 0),
        draws(0, "2026-03-09T23:00:00Z", 8, 0),
        draws(0, "2026-03-10T22:59:59Z", 16, 0),
        draws(0, "2026-03-10T23:00:00Z", 32, 0),
        draws(0, "2026-03-20T22:59:59Z", 64, 0),
        draws(0, "2026-03-20T23:00:00Z", 128, 0),
    ];
    let mut assessed = programme(rows.concat());
    assessed.trainings = vec![training("07", "flush-met", "2026-03-10")];
    let found = &looked_at(&assessed, 10)[0];
    assert_eq!(found.own.before.broken, 2 + 4);
    assert_eq!(found.own.after.broken, 32 + 64);
    assert!(found.is_over);
    assert!(!looked_at(&assessed, 11)[0].is_over);
}

#[test]
fn who_had_the_same_training_is_no_peer_and_others_are_said() {
    let mut assessed = held([(15, 5), (2, 18), (10, 10), (10, 10)]);
    assessed.trainings.extend([
        training("08", "flush-met", "2026-04-01"),
        training("07", "fill-level", "2026-02-20"),
        training("07", "fill-level", "2025-06-01"),
    ]);
    let found = looked_at(&assessed, 30);
    let order: Vec<_> = found
        .iter()
        .map(|it| (it.training, it.peer_count, it.also.clone()))
        .collect();
    // by day; 2025-06-01 is far from all draws, and fill-level applies to none of them
    assert_eq!(
        order,
        [
            (3, 0, vec![]),
            (2, 0, vec![0]),
            (0, 0, vec![2]),
            (1, 0, vec![]),
        ]
    );
    assert_eq!(found[2].peers.before, Record::default());
    assert_eq!(found[2].beyond_peers, None);
    assert_eq!(found[0].effect, Effect::TooFew);
}

#[test]
fn blanks_are_counted_apart() {
    let mut assessed = held([(15, 5), (2, 18), (10, 10), (10, 10)]);
    let flush = rules(&["flush-met"]);
    let row = assessed
        .judged
        .broken
        .iter()
        .position(|set| *set == flush)
        .unwrap();
    assessed.judged.broken[row] = RuleSet::NONE;
    assessed.judged.unrecorded[row] = flush;
    let before = looked_at(&assessed, 30)[0].own.before;
    let (recorded, broken, unrecorded) = (19, 14, 1);
    assert_eq!(
        before,
        Record {
            recorded,
            broken,
            unrecorded
        }
    );
}

#[test]
fn a_filter_chooses_whose_trainings() {
    let mut assessed = held([(15, 5), (2, 18), (10, 10), (10, 10)]);
    assessed
        .trainings
        .push(training("08", "fill-level", "2026-03-10"));
    let all = Filter::default().select(&assessed);
    let own = Filter::parse("technician:07").unwrap().select(&assessed);
    let found = trainings(&assessed, &own, &all, 30);
    assert_eq!(found.len(), 1);
    assert_eq!(found[0], looked_at(&assessed, 30)[0]);
}

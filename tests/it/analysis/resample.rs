//! What to sample again, over histories made by hand.
//!
//! Points 0 (G-1) and 2 (G-2) are one compartment, a sump; 1 (T-1) is a tank point. Days are
//! counted from `NOW` back.

use std::collections::BTreeSet;

use fairdraw::analysis::resample::{
    Asked, Because, Resample, Resamples, VISIT_HOURS, by_site, find, rank,
};
use fairdraw::analysis::{Assessed, Filter};
use fairdraw::model::{Method, RuleSet, Verdict};
use proptest::prelude::*;

use super::{Row, any_rows, programme, rules, six_draws, utc};

use Verdict::{Doubtful, Representative, Unproven, Unrepresentative};

const HOUR: i64 = 3600;
const DAY: i64 = 24 * HOUR;

fn now() -> i64 {
    utc("2026-06-01T12:00:00Z")
}

/// A draw at this point so many hours ago.
fn ago(hours: i64, point: u32, verdict: Verdict) -> Row {
    Row {
        point,
        drawn_at: now() - hours * HOUR,
        verdict,
        broken: RuleSet::NONE,
        ..six_draws().swap_remove(0)
    }
}

fn asked() -> Asked {
    Asked {
        now: now(),
        ..Asked::default()
    }
}

fn found(assessed: &Assessed, asked: &Asked) -> Vec<Resample> {
    let mut found = find(assessed, asked).list;
    rank(assessed, asked.now, &mut found, &|_| None);
    found
}

/// Points, latest draw, why and last trusted of all found.
fn told(rows: Vec<Row>, asked: &Asked) -> Vec<(usize, u32, Because, Option<u32>)> {
    let assessed = programme(rows);
    let told = found(&assessed, asked);
    told.iter()
        .map(|it| (it.point, it.row, it.because, it.last_trusted))
        .collect()
}

#[test]
fn representative_and_doubtful_are_trusted_unproven_and_unrepresentative_are_not() {
    let of = |verdict, strict| {
        let rows = vec![ago(90, 0, Representative), ago(48, 0, verdict)];
        told(rows, &Asked { strict, ..asked() })
    };
    let found = |because| vec![(0, 1, because, Some(0))];
    assert_eq!(of(Representative, false), []);
    assert_eq!(of(Doubtful, false), []);
    assert_eq!(of(Unproven, false), found(Because::Unproven));
    assert_eq!(
        of(Unrepresentative, false),
        found(Because::Unrepresentative)
    );
    assert_eq!(of(Representative, true), []);
    assert_eq!(of(Doubtful, true), found(Because::Doubtful));
}

#[test]
fn a_sump_is_one_compartment_and_every_tank_point_one_of_its_own() {
    // The sump's latest is a good one at its other point.
    let sump = vec![ago(90, 0, Unrepresentative), ago(48, 2, Representative)];
    assert_eq!(told(sump, &asked()), []);
    let mut tank = programme(vec![
        ago(90, 0, Unrepresentative),
        ago(48, 1, Representative),
    ]);
    tank.points[0].kind = fairdraw::model::Kind::Tank;
    tank.points[0].compartment = "tank 1".to_owned();
    let found = found(&tank, &asked());
    assert_eq!(found.len(), 1);
    assert_eq!((found[0].point, found[0].last_trusted), (0, None));
}

#[test]
fn a_visit_is_trusted_if_one_of_its_bottles_is() {
    // A second fill, or a bottle filled again the same day, makes up for the first.
    let again = vec![ago(49, 0, Unrepresentative), ago(48, 0, Representative)];
    assert_eq!(told(again, &asked()), []);
    // And a bad second bottle does not hide the good first one.
    let before = vec![ago(49, 0, Representative), ago(48, 0, Unproven)];
    assert_eq!(told(before, &asked()), []);
    // The visit ends 24 hours before its latest draw: at it, trusted; a second more, not.
    let at = |seconds: i64| {
        let mut first = ago(48, 0, Representative);
        first.drawn_at -= VISIT_HOURS * HOUR + seconds;
        told(vec![first, ago(48, 0, Unrepresentative)], &asked())
    };
    assert_eq!(at(0), []);
    assert_eq!(at(1), [(0, 1, Because::Unrepresentative, Some(0))]);
}

#[test]
fn of_a_visit_the_best_draw_speaks_of_equals_the_latest() {
    let rows = vec![
        ago(52, 0, Unproven),
        ago(51, 0, Unproven),
        ago(50, 0, Unrepresentative),
    ];
    let assessed = programme(rows);
    let found = found(&assessed, &asked());
    assert_eq!((found[0].row, found[0].visit_draws), (1, 3));
    assert_eq!(found[0].because, Because::Unproven);
}

#[test]
fn a_result_set_aside_is_not_trusted_and_speaks_last() {
    let set_aside = |rows: &[u32]| Asked {
        set_aside: BTreeSet::from_iter(rows.iter().copied()),
        ..asked()
    };
    let rows = || vec![ago(900, 0, Representative), ago(48, 0, Representative)];
    assert_eq!(told(rows(), &asked()), []);
    let aside = told(rows(), &set_aside(&[1]));
    assert_eq!(aside, [(0, 1, Because::SetAside, Some(0))]);
    let both = told(rows(), &set_aside(&[0, 1]));
    assert_eq!(both, [(0, 1, Because::SetAside, None)]);
    // An older one set aside changes nothing while the latest stands.
    assert_eq!(told(rows(), &set_aside(&[0])), []);
    let visit = vec![ago(49, 0, Unrepresentative), ago(48, 0, Representative)];
    let spoken = told(visit, &set_aside(&[1]));
    assert_eq!(spoken, [(0, 0, Because::Unrepresentative, None)]);
}

#[test]
fn draws_dated_later_are_left_out_up_to_the_second() {
    let rows = vec![ago(48, 0, Unrepresentative), ago(0, 0, Representative)];
    assert_eq!(told(rows.clone(), &asked()), []);
    let assessed = programme(rows);
    let before = Asked {
        now: now() - 1,
        ..asked()
    };
    let all = find(&assessed, &before);
    assert_eq!((all.later, all.series, all.list.len()), (1, 1, 1));
    let none = find(
        &assessed,
        &Asked {
            now: now() - 30 * DAY,
            ..asked()
        },
    );
    assert_eq!(
        none,
        Resamples {
            later: 2,
            ..Resamples::default()
        }
    );
}

#[test]
fn time_is_counted_from_the_last_trusted_draw_against_the_interval() {
    let mut assessed = programme(vec![
        ago(60 * 24, 0, Representative),
        ago(24, 0, Unrepresentative),
    ]);
    assessed.points[0].interval_days = Some(30.0);
    let standing = found(&assessed, &asked())[0].standing;
    assert_eq!((standing.since.days(), standing.ratio()), (60.0, Some(2.0)));
    assert_eq!(
        standing.words(),
        "60 days, 2.0 times the agreed interval of 30 d"
    );
    // One second short of two intervals does not read as two.
    let short = Asked {
        now: now() - 1,
        ..asked()
    };
    let standing = found(&assessed, &short)[0].standing;
    assert_eq!(
        standing.words(),
        "59 days, 1.9 times the agreed interval of 30 d"
    );
    assessed.points[0].interval_days = None;
    let standing = found(&assessed, &asked())[0].standing;
    assert_eq!(standing.words(), "60 days; no interval to count against");
}

#[test]
fn running_hours_count_where_they_are_further_gone() {
    let mut assessed = programme(vec![
        ago(60 * 24, 0, Representative),
        ago(10 * 24, 0, Unrepresentative),
    ]);
    assessed.points[0].interval_days = Some(30.0);
    assessed.points[0].interval_h = Some(250.0);
    let mut list = find(&assessed, &asked()).list;
    // 500 h in 50 days, and at that pace 100 h more until now.
    rank(&assessed, now(), &mut list, &|row| {
        Some([1000.0, 1500.0][row as usize])
    });
    assert_eq!(list[0].standing.hours, Some(600.0));
    assert_eq!(list[0].standing.ratio(), Some(2.4));
    rank(&assessed, now(), &mut list, &|row| {
        Some([1000.0, 1001.0][row as usize])
    });
    assert_eq!(list[0].standing.ratio(), Some(2.0), "by days");
}

#[test]
fn the_agreed_point_and_method_are_to_be_used() {
    let rows = || {
        vec![
            Row {
                method: Some(Method::Drain),
                ..ago(900, 0, Representative)
            },
            ago(48, 0, Unrepresentative),
        ]
    };
    let at = |agreed: &[usize]| {
        let mut assessed = programme(rows());
        for place in agreed {
            assessed.points[*place].agreed = Some(true);
            assessed.points[*place].method = Some(Method::SumpValve);
        }
        found(&assessed, &asked()).swap_remove(0)
    };
    let none = at(&[]);
    assert_eq!((none.point, none.is_agreed), (0, false));
    assert_eq!(none.method, Some(Method::Drain), "as when it was trusted");
    let other = at(&[2]);
    assert_eq!((other.point, other.is_agreed), (2, true));
    assert_eq!(other.method, Some(Method::SumpValve));
    let both = at(&[0, 2]);
    assert_eq!((both.point, both.further_points), (0, vec![2]));
}

#[test]
fn what_to_mend_goes_by_the_verdict_first_and_by_weight() {
    let mut latest = ago(48, 0, Unrepresentative);
    latest.broken = rules(&[
        "safety-confirmed",
        "label-complete",
        "capped-at-once",
        "same-point",
        "flush-met",
    ]);
    latest.unrecorded = rules(&["looked-at", "running-or-hot"]);
    let assessed = programme(vec![latest]);
    let found = found(&assessed, &asked());
    let ids = |rules: Vec<usize>| -> Vec<&str> {
        let cards = fairdraw::rules::cards();
        rules.into_iter().map(|rule| cards[rule].id).collect()
    };
    assert_eq!(
        ids(found[0].to_mend(&assessed)),
        [
            "flush-met",
            "same-point",
            "capped-at-once",
            "safety-confirmed",
            "label-complete"
        ]
    );
    assert_eq!(
        ids(found[0].to_record(&assessed)),
        ["running-or-hot", "looked-at"]
    );
}

/// Compartments that differ in one thing only, in the order they should come out.
#[test]
fn ties_are_broken_as_stated() {
    let mut assessed = programme(Vec::new());
    let plain = assessed.points[0].clone();
    let mut rows: Vec<Row> = Vec::new();
    assessed.points.clear();
    let mut compartment = |id: &str, interval: Option<f64>, draws: &[(i64, Verdict)]| {
        let mut point = plain.clone();
        point.id = id.to_owned();
        point.compartment = id.to_owned();
        point.interval_days = interval;
        let number = u32::try_from(assessed.points.len()).unwrap();
        rows.extend(draws.iter().map(|&(days, it)| ago(days * 24, number, it)));
        assessed.points.push(point);
    };
    let bad = (2, Unrepresentative);
    compartment("8 no interval", None, &[(900, Representative), bad]);
    compartment("7 b", Some(30.0), &[(30, Representative), bad]);
    compartment("7 a", Some(30.0), &[(30, Representative), bad]);
    compartment(
        "6 as far gone, longer",
        Some(60.0),
        &[(60, Representative), bad],
    );
    compartment(
        "9 no interval, shorter",
        None,
        &[(300, Representative), bad],
    );
    compartment(
        "7 unproven",
        Some(60.0),
        &[(60, Representative), (2, Unproven)],
    );
    compartment("3 further gone", Some(30.0), &[(300, Representative), bad]);
    compartment(
        "1 never, longer",
        Some(30.0),
        &[(90, Unproven), (2, Unproven)],
    );
    compartment(
        "2 never, no interval",
        None,
        &[(900, Unproven), (2, Unproven)],
    );
    rows.sort_by_key(|row| row.drawn_at);
    let points = assessed.points.clone();
    let mut assessed = programme(rows);
    assessed.in_force = vec![0; points.len()];
    assessed.points = points;
    let found = found(&assessed, &asked());
    let order: Vec<&str> = found
        .iter()
        .map(|it| assessed.points[it.point].id.as_str())
        .collect();
    assert_eq!(
        order,
        [
            "1 never, longer",
            "2 never, no interval",
            "3 further gone",
            "6 as far gone, longer",
            "7 a",
            "7 b",
            "7 unproven",
            "8 no interval",
            "9 no interval, shorter",
        ]
    );
    let groups = by_site(&assessed, &found);
    assert_eq!(groups.len(), 1);
    // Three are beyond their interval: one never trusted, one further gone; 30 of 30 is not.
    assert_eq!(
        (groups[0].resamples, groups[0].never, groups[0].over),
        (9, 2, 2)
    );
}

#[test]
fn a_filter_chooses_by_the_latest_draw_and_does_not_change_which_it_is() {
    let rows = vec![
        Row {
            technician: 1,
            ..ago(48, 0, Unrepresentative)
        },
        ago(24 * 10, 0, Unrepresentative),
    ];
    let assessed = programme(rows);
    for (filter, left) in [
        ("technician:08", 1),
        ("technician:07", 0),
        ("to:2026-05-25", 0),
        ("verdict:unrepresentative", 1),
    ] {
        let mut found = find(&assessed, &asked());
        let filter = Filter::parse(filter).unwrap();
        found.narrow(&filter.select(&assessed));
        assert_eq!(found.list.len(), left, "{filter}");
    }
}

/// The rule once more, draw by draw and without any cleverness.
fn by_search(assessed: &Assessed, asked: &Asked) -> BTreeSet<(Vec<u32>, Option<u32>)> {
    let judged = &assessed.judged;
    let rows = || 0..u32::try_from(judged.len()).unwrap();
    let series = |row: u32| {
        let point = &assessed.points[judged.point[row as usize] as usize];
        match point.kind {
            fairdraw::model::Kind::Tank | fairdraw::model::Kind::Grease => {
                format!("point {}", point.id)
            }
            _ => format!("compartment {}", point.compartment),
        }
    };
    let at = |row: u32| judged.drawn_at[row as usize];
    let trusted = |row: u32| {
        let verdict = judged.verdict[row as usize];
        !asked.set_aside.contains(&row)
            && (verdict == Representative || (verdict == Doubtful && !asked.strict))
    };
    let mut found = BTreeSet::new();
    for name in rows().map(series).collect::<BTreeSet<_>>() {
        let own: Vec<u32> = rows()
            .filter(|&row| series(row) == name && at(row) <= asked.now)
            .collect();
        let Some(latest) = own.iter().map(|&row| at(row)).max() else {
            continue;
        };
        let visit: Vec<u32> = own
            .iter()
            .copied()
            .filter(|&row| latest - at(row) <= VISIT_HOURS * HOUR)
            .collect();
        if !visit.iter().any(|&row| trusted(row)) {
            let last = own.iter().copied().filter(|&row| trusted(row)).max();
            found.insert((visit, last));
        }
    }
    found
}

proptest! {
    #[test]
    fn one_pass_finds_what_searching_finds(
        rows in any_rows(),
        now in 1_690_000_000i64..1_790_000_000,
        strict in any::<bool>(),
        aside in prop::collection::btree_set(0u32..60, 0..10),
        squeeze in prop::sample::select(vec![1i64, 1000, 100_000]),
    ) {
        // Squeezed in time, visits of several draws are common.
        let start = 1_700_000_000;
        let rows = rows.into_iter().map(|row| Row {
            drawn_at: start + (row.drawn_at - start) / squeeze,
            ..row
        });
        let assessed = programme(rows.collect());
        let asked = Asked { now, strict, set_aside: aside };
        let list = find(&assessed, &asked).list;
        let wanted = by_search(&assessed, &asked);
        prop_assert_eq!(list.len(), wanted.len());
        for found in &list {
            let met = wanted.iter().find(|(visit, _)| visit.contains(&found.row));
            prop_assert!(met.is_some());
            let (visit, last) = met.unwrap();
            prop_assert_eq!(visit.len(), found.visit_draws as usize);
            prop_assert_eq!(*last, found.last_trusted);
        }
    }

    #[test]
    fn the_order_is_the_same_whatever_the_list_began_as(rows in any_rows(), seed in any::<u64>()) {
        let assessed = programme(rows);
        let ordered = found(&assessed, &Asked { now: 1_790_000_000, ..Asked::default() });
        let mut shuffled = ordered.clone();
        let count = shuffled.len().max(1);
        shuffled.rotate_left(usize::try_from(seed % 7).unwrap() % count);
        shuffled.reverse();
        rank(&assessed, 1_790_000_000, &mut shuffled, &|_| None);
        prop_assert_eq!(ordered, shuffled);
    }
}

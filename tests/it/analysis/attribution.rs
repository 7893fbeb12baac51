//! People and points told apart over judged draws in memory.

use std::sync::Arc;

use fairdraw::analysis::attribution::{Caution, Funnel, Kept, NoAnswer, Side, Unit};
use fairdraw::analysis::{Adjust, Assessed, Attribution, Selection, WorkedOut, attribute};
use fairdraw::model::{Judged, Kind, Method, Point, RuleSet, Technician, Verdict, time};
use fairdraw::rules::Rulebook;
use proptest::prelude::*;

use super::utc;

/// One judged draw.
#[derive(Clone, Copy, Debug)]
struct Drawn {
    technician: u32,
    point: u32,
    /// Days since the beginning of 2026.
    day: i64,
    method: Option<Method>,
    verdict: Verdict,
}

/// A programme of these draws; point `i` stands in area `i % areas` of one site, technician
/// `i` is of crew `i % 2`, but the first of none.
fn programme(technicians: u32, points: u32, areas: u32, draws: &[Drawn]) -> Assessed {
    let mut judged = Judged::default();
    let mut draws = draws.to_vec();
    draws.sort_by_key(|draw| draw.day);
    for (record, draw) in (1..).zip(draws) {
        judged.record.push(record);
        judged.point.push(draw.point);
        judged.technician.push(draw.technician);
        judged
            .drawn_at
            .push(utc("2026-01-01T12:00:00Z") + draw.day * 86_400);
        judged.method.push(draw.method.map_or(255, Method::index));
        judged.verdict.push(draw.verdict);
        judged.applicable.push(RuleSet::NONE);
        judged.broken.push(RuleSet::NONE);
        judged.unrecorded.push(RuleSet::NONE);
    }
    let rulebook = Rulebook::standard();
    let point = |i: u32| {
        let mut point = Point::bare(&format!("P{i}"), &format!("C{i}"), Kind::Sump);
        point.site = Some("North".to_owned());
        point.area = Some(format!("Area {}", i % areas));
        point
    };
    let technician = |i: u32| Technician {
        id: format!("T{i}"),
        name: None,
        crew: (i > 0).then(|| format!("Crew {}", i % 2)),
        active_from: None,
    };
    Assessed {
        points: (0..points).map(point).collect(),
        technicians: (0..technicians).map(technician).collect(),
        trainings: Vec::new(),
        in_force: vec![0; points as usize],
        judged,
        rulebook,
        zone: time::zone("UTC").unwrap(),
        worked_out: WorkedOut::default(),
    }
}

fn all(assessed: &Assessed) -> Selection {
    (0..assessed.judged.len() as u32).collect()
}

fn fitted(assessed: &Assessed, adjust: &[Adjust]) -> Result<Attribution, NoAnswer> {
    attribute(assessed, &all(assessed), adjust, &mut || true)
}

/// SplitMix64 (G. L. Steele and others, 2014).
struct Numbers(u64);

impl Numbers {
    fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn below(&mut self, n: u32) -> u32 {
        (self.even() * f64::from(n)) as u32
    }

    fn normal(&mut self) -> f64 {
        fairdraw::stats::normal::quantile(self.even().max(1e-12))
    }
}

/// A history in which people mostly serve the points of their own area, and areas differ
/// more than people: the programme and the true effects of the technicians.
fn confounded(seed: u64) -> (Assessed, Vec<f64>) {
    const AREAS: u32 = 6;
    let (technicians, points) = (24, 120);
    let mut numbers = Numbers(seed);
    let truth: Vec<f64> = (0..technicians).map(|_| 0.5 * numbers.normal()).collect();
    let areas: Vec<f64> = (0..AREAS).map(|_| 0.9 * numbers.normal()).collect();
    let hard: Vec<f64> = (0..points)
        .map(|i| areas[(i % AREAS) as usize] + 0.5 * numbers.normal())
        .collect();
    let draws: Vec<Drawn> = (0..12_000)
        .map(|i| {
            let technician = numbers.below(technicians);
            let stays = numbers.even() > 0.15;
            let area = if stays {
                technician % AREAS
            } else {
                numbers.below(AREAS)
            };
            let point = area + AREAS * numbers.below(points / AREAS);
            let odds = (-1.5 + truth[technician as usize] + hard[point as usize]).exp();
            let verdict = if numbers.even() < odds / (1.0 + odds) {
                Verdict::Unrepresentative
            } else {
                Verdict::Representative
            };
            Drawn {
                technician,
                point,
                day: i % 300,
                method: None,
                verdict,
            }
        })
        .collect();
    (programme(technicians, points, AREAS, &draws), truth)
}

/// How many pairs stand in the wrong order, as a part of all.
fn misordered(values: &[f64], truth: &[f64]) -> f64 {
    let pairs = (0..truth.len()).flat_map(|i| (0..i).map(move |k| (i, k)));
    let wrong = |&(i, k): &(usize, usize)| (values[i] < values[k]) != (truth[i] < truth[k]);
    let all = truth.len() * (truth.len() - 1) / 2;
    pairs.filter(wrong).count() as f64 / all as f64
}

#[test]
fn effects_order_people_nearer_the_truth_than_raw_shares() {
    let mut held = 0;
    for seed in [1, 2, 3, 4] {
        let (assessed, truth) = confounded(seed);
        let adjusted = fitted(&assessed, &[Adjust::Area]).unwrap();
        let units = &adjusted.technicians.units;
        let shares: Vec<f64> = units.iter().map(|unit| unit.share()).collect();
        let effects: Vec<f64> = units.iter().map(|unit| unit.effect).collect();
        let excess: Vec<f64> = units
            .iter()
            .map(|unit| unit.unrepresentative as f64 / unit.expected)
            .collect();
        let by_share = misordered(&shares, &truth);
        for by_model in [misordered(&effects, &truth), misordered(&excess, &truth)] {
            assert!(
                by_model < 0.6 * by_share,
                "seed {seed}: {by_model} {by_share}"
            );
        }
        let average = truth.iter().sum::<f64>() / truth.len() as f64;
        let covers = |(unit, truth): &(&Unit, &f64)| {
            let odds = (*truth - average).exp();
            unit.low < odds && odds < unit.high
        };
        held += units.iter().zip(&truth).filter(covers).count();
    }
    // 24 people, four histories, intervals at 95 %.
    assert!(held >= 86, "{held} of 96");
}

#[test]
fn the_areas_are_asked_about_until_they_are_adjusted_for() {
    let (assessed, _) = confounded(1);
    let asked = Caution::NotAdjusted {
        adjust: Adjust::Area,
        count: 6,
    };
    assert!(fitted(&assessed, &[]).unwrap().cautions.contains(&asked));
    let adjusted = fitted(&assessed, &[Adjust::Area]).unwrap();
    assert!(!adjusted.cautions.contains(&asked));
    assert_eq!(adjusted.adjusted.len(), 5);
    // The variances with the area known are those the points of one area have.
    assert!((adjusted.points.sigma - 0.5).abs() < 0.12);
    assert!(fitted(&assessed, &[]).unwrap().points.sigma > 0.65);
}

/// Verdicts from events of trials, unproven ones besides.
fn cell(technician: u32, point: u32, day: i64, events: usize, trials: usize) -> Vec<Drawn> {
    let drawn = |i: usize| Drawn {
        technician,
        point,
        day,
        method: Some(Method::LineValve),
        verdict: if i < events {
            Verdict::Unrepresentative
        } else {
            Verdict::Doubtful
        },
    };
    (0..trials).map(drawn).collect()
}

/// Three technicians at three points, each at each.
fn square() -> Vec<Drawn> {
    let events = [[2, 5, 9], [4, 8, 12], [1, 2, 5]];
    let mut draws = Vec::new();
    for (technician, row) in (0..).zip(events) {
        for (point, events) in (0..).zip(row) {
            draws.extend(cell(technician, point, 10, events, 20));
        }
    }
    draws
}

#[test]
fn unproven_draws_take_no_part() {
    let mut draws = square();
    let without = fitted(&programme(3, 3, 1, &draws), &[]).unwrap();
    draws.extend((0..7).map(|i| Drawn {
        technician: 2,
        point: 0,
        day: i,
        method: None,
        verdict: Verdict::Unproven,
    }));
    let with = fitted(&programme(3, 3, 1, &draws), &[]).unwrap();
    assert_eq!((with.unproven, without.unproven), (7, 0));
    assert_eq!((with.draws, with.unrepresentative), (180, 48));
    assert_eq!(with.technicians, without.technicians);
}

#[test]
fn technicians_and_points_without_judged_draws_take_no_part() {
    let found = fitted(&programme(9, 9, 1, &square()), &[]).unwrap();
    assert_eq!(
        (found.technicians.units.len(), found.points.units.len()),
        (3, 3)
    );
    assert!(found.technicians.unit(8).is_none());
    assert_eq!(found.technicians.unit(1).unwrap().draws, 60);
    assert_eq!(found.technicians.unit(1).unwrap().unrepresentative, 24);
}

/// Dropping draws whose level has no event loses nothing: their likelihood is 1 in the limit.
#[test]
fn a_level_without_any_event_is_reported_and_left_out() {
    let mut draws = square();
    for draw in cell(1, 1, 40, 0, 12) {
        draws.push(Drawn {
            method: Some(Method::Thief),
            ..draw
        });
    }
    let assessed = programme(3, 3, 1, &draws);
    let found = fitted(&assessed, &[Adjust::Method]).unwrap();
    let [left_out] = &found.left_out[..] else {
        panic!("{:?}", found.left_out)
    };
    assert_eq!(
        (
            left_out.adjust,
            &*left_out.level,
            left_out.draws,
            left_out.unrepresentative
        ),
        (Adjust::Method, "thief", 12, 0)
    );
    // Clopper-Pearson at 0 of 12: 1 - 0.025^(1/12).
    assert_eq!(left_out.low, 0.0);
    assert!((left_out.high - (1.0 - 0.025_f64.powf(1.0 / 12.0))).abs() < 1e-12);
    assert_eq!(found.references, [(Adjust::Method, None)]);
    assert_eq!(found.draws, 180);
    let without = fitted(&programme(3, 3, 1, &square()), &[]).unwrap();
    assert_eq!(found.technicians, without.technicians);
}

#[test]
fn months_are_those_of_the_zone_and_stand_in_time() {
    let mut draws = square();
    draws.extend(cell(0, 0, 31, 3, 9));
    draws.extend(cell(2, 1, 330, 2, 9));
    let found = fitted(&programme(3, 3, 1, &draws), &[Adjust::Month]).unwrap();
    assert_eq!(
        found.references,
        [(Adjust::Month, Some("2026-01".to_owned()))]
    );
    let levels: Vec<(&str, u64)> = found
        .adjusted
        .iter()
        .map(|level| (&*level.level, level.draws))
        .collect();
    assert_eq!(levels, [("2026-02", 9), ("2026-11", 9)]);
}

/// A crew with a habit moves the average; adjusted for, people stand against their crew.
#[test]
fn people_are_compared_within_their_crew_if_asked() {
    let mut draws = Vec::new();
    for technician in 1..=6 {
        // Crew 1 (odd ones) has 12 of 20 everywhere, crew 0 has 3; technician 2 has 8.
        let events = match technician {
            2 => 8,
            odd if odd % 2 == 1 => 12,
            _ => 3,
        };
        for point in 0..4 {
            draws.extend(cell(technician, point, 1, events, 20));
        }
    }
    let assessed = programme(7, 4, 1, &draws);
    let second = |adjust: &[Adjust]| {
        let found = fitted(&assessed, adjust).unwrap();
        (*found.technicians.unit(2).unwrap(), found)
    };
    let (among_all, _) = second(&[]);
    assert!(among_all.low < 1.0 && among_all.high > 1.0, "{among_all:?}");
    let (in_crew, found) = second(&[Adjust::Crew]);
    assert!(in_crew.low > 1.0, "{in_crew:?}");
    assert_eq!(
        found.references,
        [(Adjust::Crew, Some("Crew 0".to_owned()))]
    );
    let [crew] = &found.adjusted[..] else {
        panic!("{:?}", found.adjusted)
    };
    assert_eq!(
        (&*crew.level, crew.draws, crew.unrepresentative),
        ("Crew 1", 240, 144)
    );
    assert!(crew.odds_ratio().1 > 2.0, "{crew:?}");
}

/// Thief draws are those of one crew but for three, which all turned out alike: the three
/// and then the method give way, and the answer is that of the crew alone without them.
#[test]
fn what_follows_or_parts_draws_gives_way_and_is_told() {
    let by = |method: Option<Method>, draws: Vec<Drawn>| {
        let with = move |draw: Drawn| Drawn { method, ..draw };
        draws.into_iter().map(with)
    };
    let mut draws = Vec::new();
    for point in 0..4 {
        draws.extend(by(
            Some(Method::Thief),
            cell(0, point, 1, 4 + point as usize, 20),
        ));
        for technician in 1..5 {
            let events = 3 + 2 * technician as usize + point as usize;
            draws.extend(cell(technician, point, 2, events, 20));
            draws.extend(by(None, cell(technician, point, 3, 2, 4)));
        }
    }
    let without = programme(5, 4, 1, &draws);
    draws.extend(by(None, cell(0, 1, 4, 0, 3)));
    let assessed = programme(5, 4, 1, &draws);
    let found = fitted(&assessed, &[Adjust::Crew, Adjust::Method]).unwrap();
    let [left_out] = &found.left_out[..] else {
        panic!("{:?}", found.left_out)
    };
    assert_eq!(
        (
            left_out.adjust,
            &*left_out.level,
            left_out.draws,
            left_out.unrepresentative
        ),
        (Adjust::Crew, "(blank), method (blank)", 3, 0)
    );
    assert_eq!(found.follows, [(Adjust::Method, "thief".to_owned())]);
    let again = fitted(&without, &[Adjust::Crew, Adjust::Method]).unwrap();
    assert!(again.left_out.is_empty());
    assert_eq!(again.follows, found.follows);
    assert!((again.deviance - found.deviance).abs() < 1e-9);
}

#[test]
fn parts_that_never_meet_are_named() {
    let mut draws = square();
    for draw in square() {
        if draw.technician < 2 && draw.point < 2 {
            draws.push(Drawn {
                technician: draw.technician + 3,
                point: draw.point + 3,
                ..draw
            });
        }
    }
    let found = fitted(&programme(5, 5, 1, &draws), &[]).unwrap();
    let islands: Vec<_> = found
        .islands
        .iter()
        .map(|island| (&island.technicians[..], &island.points[..], island.draws))
        .collect();
    assert_eq!(
        islands,
        [
            (&[0, 1, 2][..], &[0, 1, 2][..], 180),
            (&[3, 4][..], &[3, 4][..], 80)
        ]
    );
    assert_eq!(found.technicians.unit(4).unwrap().island, 1);
    assert!(found.cautions.contains(&Caution::Islands {
        count: 2,
        technicians: 2,
        points: 2
    }));
}

#[test]
fn questions_without_an_answer_say_so() {
    let no_draws = programme(2, 2, 1, &[]);
    assert_eq!(fitted(&no_draws, &[]), Err(NoAnswer::NoDraws));
    let good = programme(
        2,
        1,
        1,
        &[cell(0, 0, 1, 0, 5), cell(1, 0, 1, 0, 4)].concat(),
    );
    assert_eq!(
        fitted(&good, &[]),
        Err(NoAnswer::AllRepresentative { draws: 9 })
    );
    let bad = programme(
        2,
        1,
        1,
        &[cell(0, 0, 1, 5, 5), cell(1, 0, 1, 4, 4)].concat(),
    );
    assert_eq!(
        fitted(&bad, &[]),
        Err(NoAnswer::AllUnrepresentative { draws: 9 })
    );
    let one = programme(
        1,
        2,
        1,
        &[cell(0, 0, 1, 2, 5), cell(0, 1, 1, 1, 4)].concat(),
    );
    let id = "T0".to_owned();
    assert_eq!(
        fitted(&one, &[]),
        Err(NoAnswer::OneTechnician { id, draws: 9 })
    );
    let apart = programme(
        2,
        2,
        1,
        &[cell(0, 0, 1, 2, 5), cell(1, 1, 1, 1, 4)].concat(),
    );
    assert_eq!(fitted(&apart, &[]), Err(NoAnswer::Inseparable));
    let parted = programme(
        2,
        1,
        1,
        &[cell(0, 0, 1, 5, 5), cell(1, 0, 40, 0, 4)].concat(),
    );
    assert_eq!(
        fitted(&parted, &[Adjust::Month]),
        Err(NoAnswer::NothingLeft {
            adjust: Adjust::Month
        })
    );
    // With one site, site and area say the same but for what areas add.
    let draws: Vec<Drawn> = square();
    let mut assessed = programme(3, 3, 2, &draws);
    for point in &mut assessed.points {
        point.site.clone_from(&point.area);
        point.area = None;
    }
    let both = fitted(&assessed, &[Adjust::Site, Adjust::Area]).unwrap();
    let site_alone = fitted(&assessed, &[Adjust::Site]).unwrap();
    assert!(!both.follows.is_empty());
    assert!(
        both.follows
            .iter()
            .all(|(adjust, _)| *adjust == Adjust::Area)
    );
    assert!((both.deviance - site_alone.deviance).abs() < 1e-9);
}

#[test]
fn a_stop_is_heeded_and_not_kept() {
    let assessed = programme(3, 3, 1, &square());
    let (kept, selection) = (Kept::default(), Arc::new(all(&assessed)));
    let mut asked = 0;
    let stopped = kept.attribute(&assessed, &selection, &[], &mut || {
        asked += 1;
        asked < 4
    });
    assert_eq!(*stopped, Err(NoAnswer::Stopped));
    assert_eq!(asked, 4);
    assert!(kept.known(&selection, &[]).is_none());
    let first = kept.attribute(&assessed, &selection, &[], &mut || true);
    assert!(first.is_ok());
    let same = Arc::new(all(&assessed));
    let mut never = || panic!("the answer is known");
    assert!(Arc::ptr_eq(
        &first,
        &kept.attribute(&assessed, &same, &[], &mut never)
    ));
    assert!(kept.known(&same, &[Adjust::Method]).is_none());
    let adjust = [Adjust::Crew, Adjust::Area];
    kept.attribute(&assessed, &same, &adjust, &mut || true);
    assert!(kept.known(&same, &[Adjust::Area, Adjust::Crew]).is_some());
    for rows in 1..10 {
        kept.attribute(&assessed, &Arc::new((0..rows).collect()), &[], &mut || true);
    }
    assert!(kept.known(&same, &[]).is_none(), "only so many are kept");
}

#[test]
fn readings_say_how_far_a_difference_carries() {
    let mut draws = square();
    draws.extend(cell(3, 0, 5, 2, 3));
    draws.extend(cell(4, 3, 5, 9, 30));
    draws.extend(cell(0, 0, 5, 0, 40));
    let assessed = programme(5, 4, 1, &draws);
    let found = fitted(&assessed, &[]).unwrap();
    let reading = |place| {
        let unit = found.technicians.unit(place).unwrap();
        found.reading_of(&assessed, Side::Technicians, unit)
    };
    assert!(reading(3).starts_with("T3: 2 of 3 judged draws unrepresentative"));
    assert!(reading(3).ends_with("; too few draws to say more."));
    assert!(reading(4).contains("nobody else draws at these points"));
    for place in 0..5 {
        for word in ["bad", "worst", "careless", "blame", "fault"] {
            assert!(!reading(place).contains(word));
        }
    }
    for side in Side::BOTH {
        for unit in &found.part(side).units {
            let limits = unit.limits_around_expected().unwrap();
            let expected = unit.expected / unit.draws as f64;
            assert!(limits.low_95 < expected && expected < limits.high_95);
        }
    }
}

#[test]
fn a_funnel_counts_judged_draws_around_the_common_share() {
    let mut draws = square();
    draws.push(Drawn {
        verdict: Verdict::Unproven,
        ..draws[0]
    });
    let assessed = programme(4, 3, 1, &draws);
    let funnel = Funnel::of(&assessed, &all(&assessed), Side::Technicians).unwrap();
    assert!((funnel.centre - 48.0 / 180.0).abs() < 1e-15);
    let counts: Vec<_> = funnel
        .dots
        .iter()
        .map(|dot| (dot.place, dot.unrepresentative, dot.draws))
        .collect();
    assert_eq!(counts, [(0, 16, 60), (1, 24, 60), (2, 8, 60)]);
    // z² of 24, 16 and 8 of 60 around 4/15: 0 and 64/(60·4/15·11/15) twice.
    let expected = 2.0 * 64.0 / (60.0 * 4.0 / 15.0 * 11.0 / 15.0) / 3.0;
    assert!((funnel.phi.unwrap() - expected).abs() < 1e-12);
    assert_eq!(funnel.dots[0].limits, funnel.limits_at(60));
    let none = Selection::new();
    assert_eq!(Funnel::of(&assessed, &none, Side::Points), None);
}

prop_compose! {
    fn any_draw()(
        technician in 0u32..4,
        point in 0u32..5,
        day in 0i64..120,
        method in prop::option::of(prop::sample::select(Method::ALL)),
        verdict in prop::sample::select(&Verdict::ALL[..]),
    ) -> Drawn {
        Drawn { technician, point, day, method, verdict }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn whatever_is_answered_adds_up(
        draws in prop::collection::vec(any_draw(), 0..120),
        adjust in prop::sample::subsequence(&Adjust::ALL[..], 0..=3),
    ) {
        let assessed = programme(4, 5, 2, &draws);
        let mut reversed = all(&assessed);
        reversed.reverse();
        let backwards: Vec<Adjust> = adjust.iter().rev().copied().collect();
        let found = fitted(&assessed, &adjust);
        prop_assert_eq!(&found, &attribute(&assessed, &reversed, &backwards, &mut || true));
        let judged = draws.iter().filter(|draw| draw.verdict != Verdict::Unproven).count() as u64;
        match found {
            Err(reason) => prop_assert!(!reason.to_string().is_empty()),
            Ok(found) => {
                let left_out: u64 = found.left_out.iter().map(|level| level.draws).sum();
                prop_assert_eq!(found.draws + left_out, judged);
                prop_assert_eq!(found.unproven, draws.len() as u64 - judged);
                for side in Side::BOTH {
                    let units = &found.part(side).units;
                    prop_assert_eq!(units.iter().map(|u| u.draws).sum::<u64>(), found.draws);
                    let seen: u64 = units.iter().map(|unit| unit.unrepresentative).sum();
                    prop_assert_eq!(seen, found.unrepresentative);
                    for unit in units {
                        prop_assert!(unit.low <= unit.odds_ratio && unit.odds_ratio <= unit.high);
                        prop_assert!(unit.expected > 0.0 && unit.expected < unit.draws as f64);
                        prop_assert!(unit.shared <= unit.draws && unit.p <= unit.q);
                    }
                }
                let reference: u64 = found.references.iter().map(|_| found.draws).sum();
                let levels: u64 = found.adjusted.iter().map(|level| level.draws).sum();
                prop_assert!(levels < reference.max(1));
                prop_assert!((0.0..=1.0).contains(&found.neither()));
                prop_assert!(!found.reading().contains("NaN"));
            }
        }
    }
}

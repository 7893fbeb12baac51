//! What rules cost, topics against peers, lists of owners.

use fairdraw::analysis::shared_out::{PARTS, share_out};
use fairdraw::analysis::topics::{
    Ask, Says, Topic, Topics, Unit, asks, asks_by_cost, peers_of, plan, rule_costs, topics,
};
use fairdraw::analysis::{Assessed, Filter, Selection, tally};
use fairdraw::model::{MachineClass, Owner, RuleSet, Verdict};
use fairdraw::rules::{Rulebook, cards, place_of};
use fairdraw::stats::difference;
use fairdraw::stats::wilson::Z_95;
use proptest::prelude::*;

use super::{Row, any_rows, as_judged, programme, rules, six_draws};
use crate::support::root;

/// A draw by a technician at a point, with these rules broken and many others met.
fn draw(technician: u32, point: u32, broken: &[&str]) -> Row {
    let broken = rules(broken);
    let met = rules(&[
        "running-or-hot",
        "flush-met",
        "same-point",
        "same-method",
        "bottle-fit",
    ]);
    as_judged(Row {
        technician,
        point,
        broken,
        met: met.without(broken),
        unrecorded: RuleSet::NONE,
        ..six_draws().swap_remove(0)
    })
}

fn draws(technician: u32, point: u32, broken: &[&str], count: usize) -> Vec<Row> {
    vec![draw(technician, point, broken); count]
}

fn all(assessed: &Assessed) -> Selection {
    Filter::default().select(assessed)
}

fn of_technicians(assessed: &Assessed) -> Vec<Topics> {
    topics(assessed, &all(assessed), &all(assessed), Unit::Technician)
}

fn topic_of<'a>(found: &'a [Topics], key: &str, rule: &str) -> Option<&'a Topic> {
    let of = found.iter().find(|of| of.key == key).unwrap();
    of.topics.iter().find(|topic| topic.id() == rule)
}

#[test]
fn a_topic_is_what_is_lost_over_peers_at_the_same_point() {
    // Technician 07: 4 draws at G-1, 3 of them without the flush; 08: 4 draws, 1 of them.
    let rows = [
        draws(0, 0, &["flush-met"], 3),
        draws(0, 0, &[], 1),
        draws(1, 0, &["flush-met"], 1),
        draws(1, 0, &[], 3),
    ];
    let assessed = programme(rows.concat());
    let found = of_technicians(&assessed);
    let keys: Vec<&str> = found.iter().map(|of| of.key.as_str()).collect();
    assert_eq!(keys, ["07", "08"], "09 drew nothing");
    let topic = topic_of(&found, "07", "flush-met").unwrap();
    assert_eq!((topic.applies, topic.broken), (4, 3));
    assert_eq!((topic.cost, topic.expected), (3.0, Some(1.0)));
    // 3 of 4 against 1 of 4: with whole draws at one point the interval is Newcombe's.
    let newcombe = difference::interval((3, 4), (1, 4), Z_95).unwrap();
    let over = topic.over_peers.unwrap();
    for (found, share) in [
        (over.value, newcombe.difference),
        (over.low, newcombe.low),
        (over.high, newcombe.high),
    ] {
        assert!((found - 4.0 * share).abs() < 1e-12, "{found} {share}");
    }
    assert_eq!(topic.says, Says::Few);
    assert_eq!(found[0].at_shared_points, 4);
    // 08 loses 1 where peers lose 3: nothing to regain, so nothing to rank.
    assert_eq!(found[1].topics, []);
    assert_eq!(found[1].costs[place_of("flush-met").unwrap()], 1.0);
}

#[test]
fn with_enough_draws_the_words_follow_the_interval() {
    let rows = |own: usize, peers: usize| {
        programme(
            [
                draws(0, 0, &["flush-met"], own),
                draws(0, 0, &[], 40 - own),
                draws(1, 0, &["flush-met"], peers),
                draws(1, 0, &[], 40 - peers),
            ]
            .concat(),
        )
    };
    let says = |assessed: &Assessed| {
        let found = of_technicians(assessed);
        topic_of(&found, "07", "flush-met").map(|topic| topic.says)
    };
    assert_eq!(says(&rows(30, 10)), Some(Says::MoreThanPeers));
    assert_eq!(says(&rows(12, 10)), Some(Says::MayBeChance));
    assert_eq!(says(&rows(10, 10)), None);
}

#[test]
fn where_nobody_else_drew_a_like_point_stands_in_then_the_programme() {
    // 07 alone at G-1 (sump, gearbox). 08 at G-2 loses 1 of 2, at T-1 all 2.
    let rows = [
        draws(0, 0, &["bottle-fit"], 1),
        draws(1, 2, &["bottle-fit"], 1),
        draws(1, 2, &[], 1),
        draws(1, 1, &["bottle-fit"], 2),
    ];
    let mut assessed = programme(rows.concat());
    let expected = |assessed: &Assessed| {
        let found = of_technicians(assessed);
        assert_eq!(found[0].at_shared_points, 0);
        topic_of(&found, "07", "bottle-fit").map(|topic| topic.expected.unwrap())
    };
    assert_eq!(expected(&assessed), Some(3.0 / 4.0), "all of the programme");
    assessed.points[2].machine_class = Some(MachineClass::Gearbox);
    assert_eq!(
        expected(&assessed),
        Some(1.0 / 2.0),
        "the other sump of a gearbox"
    );
}

#[test]
fn without_anybody_else_the_cost_alone_ranks() {
    let rows = [
        draws(0, 0, &["bottle-fit"], 2),
        draws(0, 0, &["flush-met"], 3),
    ];
    let assessed = programme(rows.concat());
    let found = of_technicians(&assessed);
    let ranked: Vec<_> = found[0]
        .topics
        .iter()
        .map(|topic| (topic.id(), topic.cost, topic.over_peers, topic.says))
        .collect();
    assert_eq!(
        ranked,
        [
            ("flush-met", 3.0, None, Says::NoPeers),
            ("bottle-fit", 2.0, None, Says::NoPeers)
        ]
    );
}

#[test]
fn unproven_draws_have_no_part_in_the_comparison() {
    let mut rows = [
        draws(0, 0, &["flush-met"], 1),
        draws(1, 0, &["flush-met"], 1),
        draws(1, 0, &[], 1),
    ]
    .concat();
    let mut unproven = draw(1, 0, &[]);
    unproven.unrecorded = rules(&["flush-met"]);
    unproven.met = unproven.met.without(unproven.unrecorded);
    rows.extend(vec![as_judged(unproven); 5]);
    let assessed = programme(rows);
    assert_eq!(tally(&assessed, &all(&assessed)).unproven, 5);
    let found = of_technicians(&assessed);
    let topic = topic_of(&found, "07", "flush-met").unwrap();
    assert_eq!(topic.expected, Some(0.5));
    assert_eq!(found[1].judged, 2);
}

#[test]
fn a_filter_on_people_does_not_take_their_peers_away() {
    let rows = [
        draws(0, 0, &["flush-met"], 3),
        draws(1, 0, &["flush-met"], 1),
        draws(1, 0, &[], 3),
    ];
    let assessed = programme(rows.concat());
    let filter = Filter::parse("technician:07 crew:Early kind:sump").unwrap();
    assert_eq!(peers_of(&filter).to_string(), "kind:sump");
    let peers = peers_of(&filter).select(&assessed);
    let found = topics(
        &assessed,
        &filter.select(&assessed),
        &peers,
        Unit::Technician,
    );
    assert_eq!(found.len(), 1);
    assert_eq!(found[0], of_technicians(&assessed)[0]);
}

#[test]
fn crews_are_compared_with_other_crews() {
    let rows = [
        draws(0, 0, &["flush-met"], 2),
        draws(1, 0, &[], 2),
        draws(2, 0, &["flush-met"], 1),
    ];
    let assessed = programme(rows.concat());
    let found = topics(&assessed, &all(&assessed), &all(&assessed), Unit::Crew);
    let keys: Vec<&str> = found.iter().map(|of| of.key.as_str()).collect();
    assert_eq!(keys, ["(blank)", "Early", "Late"]);
    let early = topic_of(&found, "Early", "flush-met").unwrap();
    assert_eq!((early.cost, early.expected), (2.0, Some(2.0 / 3.0)));
    assert_eq!(found[1].technician, None);
}

#[test]
fn rules_of_others_are_asked_of_them_and_never_a_topic() {
    // W 12 + 8 + 12 = 32: point-suited, age-at-dispatch broken, 12 of 32 is below 60 %;
    // without age-at-dispatch 20 of 32 = 62.5 %, without point-suited 24: each regains it.
    let mut bad = draw(0, 0, &["point-suited", "age-at-dispatch"]);
    bad.met = rules(&["same-point"]);
    let mut registered = draw(0, 1, &[]);
    registered.unrecorded = rules(&["registered"]);
    let assessed = programme(vec![as_judged(bad), draw(1, 0, &[]), as_judged(registered)]);
    let found = of_technicians(&assessed);
    assert_eq!(found[0].topics, []);
    assert_eq!(found[0].costs[place_of("point-suited").unwrap()], 0.5);
    let lists: Vec<_> = asks(&assessed, &all(&assessed))
        .into_iter()
        .map(|ask| {
            (
                ask.owner,
                ask.id(),
                ask.site,
                ask.point,
                ask.cost,
                ask.unrecorded,
            )
        })
        .collect();
    let north = Some("North".to_owned());
    let upper = Some("North pit, upper".to_owned());
    assert_eq!(
        lists,
        [
            (Owner::Plant, "point-suited", north.clone(), Some(0), 0.5, 0),
            (Owner::Dispatch, "age-at-dispatch", north, None, 0.5, 0),
            (Owner::Desk, "registered", upper, None, 0.0, 1),
        ]
    );
}

#[test]
fn what_costs_most_is_asked_first_of_whomever() {
    // Dispatch breaks what costs nothing thrice, the plant what costs half a draw once.
    let mut late = draw(0, 0, &["age-at-dispatch"]);
    late.verdict = Verdict::Doubtful;
    let mut bad = draw(0, 1, &["point-suited", "age-at-dispatch"]);
    bad.met = rules(&["same-point"]);
    let assessed = programme(vec![late.clone(), late.clone(), late, as_judged(bad)]);
    let all = all(&assessed);
    let order = |lines: Vec<Ask>| -> Vec<(Owner, f64, u64)> {
        let line = |ask: Ask| (ask.owner, ask.cost, ask.broken);
        lines.into_iter().map(line).collect()
    };
    let by_owner = order(asks(&assessed, &all));
    let by_cost = order(asks_by_cost(&assessed, &all));
    assert_eq!(by_cost.len(), by_owner.len());
    assert!(by_owner.iter().all(|line| by_cost.contains(line)));
    let costs: Vec<f64> = by_cost.iter().map(|(_, cost, _)| *cost).collect();
    assert!(costs.is_sorted_by(|a, b| a >= b), "{costs:?}");
    assert_eq!(by_cost[0], (Owner::Plant, 0.5, 1));
    assert_eq!(by_cost.last(), Some(&(Owner::Dispatch, 0.0, 3)));
}

#[test]
fn a_plan_shows_the_draws_that_cost_most_and_of_equals_the_latest() {
    let mut rows = draws(0, 0, &["flush-met", "bottle-fit"], 2);
    rows.extend(draws(0, 0, &["flush-met"], 4));
    rows.extend(draws(1, 0, &[], 6));
    for (second, row) in (0..).zip(&mut rows) {
        row.drawn_at += second;
    }
    let assessed = programme(rows);
    let found = of_technicians(&assessed);
    let plan = plan(&assessed, &all(&assessed), &found[0]);
    let shown: Vec<_> = plan
        .topics
        .iter()
        .map(|topic| (topic.topic.id(), topic.examples.clone(), topic.further))
        .collect();
    assert_eq!(
        shown,
        [
            ("flush-met", vec![5, 4, 3], 3),
            ("bottle-fit", vec![1, 0], 0)
        ]
    );
    assert_eq!((plan.tally.draws, plan.further), (6, 0));
}

/// The worked example of docs/topics.md, recomputed: the table of orders and the parts.
#[test]
fn the_example_of_the_page_is_what_the_program_computes() {
    let page = std::fs::read_to_string(root().join("docs/topics.md")).unwrap();
    let broken = ["same-point", "same-method", "capped-at-once"];
    let met = ["point-cleaned", "looked-at"];
    let book = Rulebook::standard();
    let in_force = &book.all_in_force()[0];
    let applicable = rules(&broken).or(rules(&met));
    let shares = share_out(in_force, applicable, rules(&broken));
    for (rule, parts) in shares {
        let sixths = parts * 6 / PARTS;
        assert_eq!(parts * 6 % PARTS, 0);
        let line = format!("| `{}` | {sixths} of 6 |", cards()[rule].id);
        assert!(page.contains(&line), "{line}");
    }
    // each order with the rule that turns the verdict in it
    for order in [
        [0, 1, 2],
        [0, 2, 1],
        [1, 0, 2],
        [1, 2, 0],
        [2, 0, 1],
        [2, 1, 0],
    ] {
        let mut left = rules(&broken);
        let turns = order.into_iter().find(|&rule| {
            left = left.without(rules(&[broken[rule]]));
            fairdraw::scoring::verdict(in_force, applicable, left, RuleSet::NONE)
                != Verdict::Unrepresentative
        });
        let names = order.map(|rule| broken[rule]).join(", ");
        let line = format!("| {names} | `{}` |", broken[turns.unwrap()]);
        assert!(page.contains(&line), "{line}");
    }
    let weight = |ids: &[&str]| -> u32 {
        ids.iter()
            .map(|id| in_force.weights[place_of(id).unwrap()])
            .sum()
    };
    let sums = format!(
        "W = {}, B = {}",
        weight(&broken) + weight(&met),
        weight(&broken)
    );
    assert!(page.contains(&sums), "{sums}");
}

proptest! {
    #[test]
    fn costs_add_up_to_the_number_of_unrepresentative_draws(rows in any_rows()) {
        let assessed = programme(rows.into_iter().map(as_judged).collect());
        let selection = all(&assessed);
        let bad = tally(&assessed, &selection).unrepresentative;
        let sums = assessed.shared_out().by_rule(&selection);
        prop_assert_eq!(sums.iter().sum::<i64>(), i64::try_from(bad).unwrap() * PARTS);

        let listed = rule_costs(&assessed, &selection);
        let sum: f64 = listed.iter().map(|rule| rule.cost).sum();
        prop_assert!((sum - bad as f64).abs() < 1e-9);
        for rule in &listed {
            // what a rule regains alone is at least shared with the others behind the draw
            prop_assert!(rule.cost <= rule.counts.unrepresentative as f64 + 1e-9);
            prop_assert!(rule.counts.regained == 0 || rule.cost > 0.0);
        }
        for unit in [Unit::Technician, Unit::Crew] {
            let found = topics(&assessed, &selection, &selection, unit);
            let of_people: f64 = found.iter().flat_map(|of| of.costs).sum();
            prop_assert!((of_people - bad as f64).abs() < 1e-9);
            for of in &found {
                let regained: Vec<f64> = of.topics.iter().map(Topic::regained).collect();
                prop_assert!(regained.is_sorted_by(|one, next| one >= next));
                for topic in &of.topics {
                    prop_assert!(topic.regained() > 0.0);
                    prop_assert_eq!(cards()[topic.rule].owner, Owner::Technician);
                    if let Some(over) = topic.over_peers {
                        prop_assert!(over.low <= over.value && over.value <= over.high);
                    }
                }
            }
        }
    }

    #[test]
    fn the_order_of_draws_at_one_instant_changes_nothing(rows in any_rows(), from in 0usize..60) {
        let mut rows: Vec<Row> = rows.into_iter().map(as_judged).collect();
        rows.iter_mut().for_each(|row| row.drawn_at = 1_700_000_000);
        let one = of_technicians(&programme(rows.clone()));
        let turn = from % rows.len().max(1);
        rows.rotate_left(turn);
        prop_assert_eq!(one, of_technicians(&programme(rows)));
    }
}

/// More draws than one thread goes through in one piece: what costs, breaks and is expected
/// grows with the number of draws, and nothing else changes.
#[test]
fn many_times_the_same_draws_cost_many_times_as_much() {
    const TIMES: usize = 9_000;
    let sorts: [&[&str]; 4] = [
        &[],
        &["flush-met"],
        &["bottle-fit"],
        &["flush-met", "same-point"],
    ];
    let rows: Vec<Row> = (0..23)
        .map(|number| {
            let broken = sorts[(number * 7 + number / 5) % sorts.len()];
            draw(number as u32 % 3, number as u32 / 3 % 2, broken)
        })
        .collect();
    let once = of_technicians(&programme(rows.clone()));
    let many = of_technicians(&programme(vec![rows; TIMES].concat()));
    let times = TIMES as u64;
    assert_eq!(once.len(), 3);
    for (one, many) in once.iter().zip(&many) {
        assert_eq!(many.key, one.key);
        assert_eq!(many.judged, times * one.judged);
        assert_eq!(many.unrepresentative, times * one.unrepresentative);
        assert_eq!(many.at_shared_points, times * one.at_shared_points);
        let far = |many: f64, one: f64| (many / times as f64 - one).abs() > 1e-9;
        assert!(
            !many
                .costs
                .iter()
                .zip(one.costs)
                .any(|(many, one)| far(*many, one))
        );
        let (Some(of_many), Some(of_one)) = (many.expected, one.expected) else {
            panic!("{} has peers", one.key);
        };
        assert!(
            !of_many
                .iter()
                .zip(of_one)
                .any(|(many, one)| far(*many, one))
        );
        assert_eq!(many.topics.len(), one.topics.len());
        for topic in &one.topics {
            let same = many
                .topics
                .iter()
                .find(|many| many.rule == topic.rule)
                .unwrap();
            assert_eq!(same.applies, times * topic.applies);
            assert_eq!(same.broken, times * topic.broken);
        }
    }
    assert!(once.iter().any(|of| !of.topics.is_empty()));
}

/// Numbers in 0..1 from a seed: SplitMix64 (G. L. Steele, D. Lea, C. H. Flood, OOPSLA 2014).
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// Who differs in nothing from the peers, on points that do differ, with parts of draws as
/// well as whole ones: the interval lies above 0 no more often
/// than in one of forty (in fact in 2 of these 500, since it is rather too wide).
#[test]
fn the_interval_keeps_its_promise_where_nothing_differs() {
    let mut chance = Chance(20_261_031);
    let rounds = 500;
    let mut missed = 0;
    // without and with each breach
    let kinds = [
        &[][..],
        &["flush-met"],
        &["bottle-fit"],
        &["flush-met", "bottle-fit"],
    ]
    .map(|broken| draw(0, 0, broken));
    for _ in 0..rounds {
        let mut rows = Vec::new();
        // own and others' draws at each point, and how often the flush is missed there
        for (point, own, others, p) in [(0, 30, 25, 0.5), (1, 20, 60, 0.2), (2, 15, 8, 0.1)] {
            for number in 0..own + others {
                let (flush, bottle) = (chance.next() < p, chance.next() < 0.15);
                rows.push(Row {
                    technician: u32::from(number >= own),
                    point,
                    ..kinds[usize::from(flush) + 2 * usize::from(bottle)].clone()
                });
            }
        }
        let found = of_technicians(&programme(rows));
        let topic = topic_of(&found, "07", "flush-met");
        missed += u32::from(topic.is_some_and(|topic| topic.says == Says::MoreThanPeers));
    }
    let part = f64::from(missed) / f64::from(rounds);
    assert!((0.002..0.025).contains(&part), "{missed} of {rounds}");
}

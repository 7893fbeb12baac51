//! What the topics and trainings say of the stories.

use fairdraw::analysis::topics::{Says, Topics, Unit, asks, rule_costs, topics};
use fairdraw::analysis::training::{BesidePeers, Effect, WINDOW_DAYS, trainings};
use fairdraw::analysis::{Filter, Selection, tally};
use fairdraw::model::Owner;
use fairdraw::rules::cards;

use super::stories::DEMO;

fn all() -> Selection {
    Filter::default().select(&DEMO)
}

fn of(unit: Unit, key: &str) -> Topics {
    let found = topics(&DEMO, &all(), &all(), unit);
    found.into_iter().find(|of| of.key == key).unwrap()
}

#[test]
fn the_real_need_tops_the_topics_of_its_technician_and_of_all() {
    let found = topics(&DEMO, &all(), &all(), Unit::Technician);
    let largest = found
        .iter()
        .filter_map(|of| Some((of.topics.first()?.regained(), of.key.as_str())))
        .max_by(|one, other| one.0.total_cmp(&other.0));
    assert_eq!(largest.unwrap().1, "T015");
    let top = of(Unit::Technician, "T015").topics[0];
    assert_eq!((top.id(), top.says), ("flush-met", Says::MoreThanPeers));
    assert!(top.regained() > 40.0, "{top:?}");
}

#[test]
fn who_is_sent_to_hard_points_has_no_topic_beyond_chance() {
    let sent = of(Unit::Technician, "T009");
    let share = sent.unrepresentative as f64 / sent.judged as f64;
    assert!(share > 0.55, "{share}");
    for topic in &sent.topics {
        assert_ne!(topic.says, Says::MoreThanPeers, "{topic:?}");
    }
}

#[test]
fn the_crew_that_stops_too_early_has_that_topic() {
    let top = of(Unit::Crew, "Furnace crew").topics[0];
    assert_eq!(
        (top.id(), top.says),
        ("running-or-hot", Says::MoreThanPeers)
    );
}

#[test]
fn the_training_that_helped_says_so_and_the_one_that_did_not_does_not() {
    let found = trainings(&DEMO, &all(), &all(), WINDOW_DAYS);
    assert_eq!(found.len(), DEMO.trainings.len());
    let effect = |technician: &str, rule: &str| {
        let trained = found.iter().find(|it| {
            DEMO.technicians[it.technician].id == technician && cards()[it.rule].id == rule
        });
        trained.unwrap().effect
    };
    assert_eq!(
        effect("T026", "flush-met"),
        Effect::Fewer(BesidePeers::MoreSo)
    );
    assert_eq!(effect("T027", "fill-level"), Effect::NoChange);
}

#[test]
fn the_point_on_a_straight_run_is_on_the_list_of_the_plant() {
    let asked = asks(&DEMO, &all());
    let found = asked.iter().find(|ask| {
        ask.id() == "point-suited"
            && ask
                .point
                .is_some_and(|place| DEMO.points[place].id == "QUE-01A")
    });
    let found = found.unwrap();
    assert_eq!((found.owner, found.broken), (Owner::Plant, found.draws));
    let registered: Vec<_> = asked
        .iter()
        .filter(|ask| ask.id() == "registered")
        .collect();
    assert_eq!(registered[0].site.as_deref(), Some("Quellmar Quay"));
}

#[test]
fn the_costs_of_the_rules_add_up() {
    let sum: f64 = rule_costs(&DEMO, &all()).iter().map(|rule| rule.cost).sum();
    let bad = tally(&DEMO, &all()).unrepresentative;
    assert!((sum - bad as f64).abs() < 1e-6, "{sum} {bad}");
}

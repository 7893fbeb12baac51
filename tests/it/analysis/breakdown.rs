//! Shares by a key.

use fairdraw::analysis::{Filter, Group, Key, Tally, by, tally};
use proptest::prelude::*;

use super::{any_rows, programme, six_draws};

/// A group as `key n x d r m`.
fn written(groups: &[Group]) -> Vec<String> {
    let line = |group: &Group| {
        let Tally {
            draws,
            unrepresentative,
            doubtful,
            representative,
            unproven,
        } = group.tally;
        format!(
            "{}: {draws} = {unrepresentative} + {doubtful} + {representative} + {unproven}",
            group.key
        )
    };
    groups.iter().map(line).collect()
}

#[test]
fn every_key_groups_the_draws() {
    // draws = unrepresentative + doubtful + representative + unproven
    let cases: [(Key, &[&str]); 12] = [
        (
            Key::Site,
            &[
                "(blank): 2 = 0 + 1 + 1 + 0",
                "North: 2 = 1 + 0 + 0 + 1",
                "North pit, upper: 2 = 1 + 0 + 1 + 0",
            ],
        ),
        (
            Key::Area,
            &["(blank): 2 = 1 + 0 + 1 + 0", "Crusher: 4 = 1 + 1 + 1 + 1"],
        ),
        (
            Key::Crew,
            &[
                "(blank): 2 = 0 + 1 + 1 + 0",
                "Early: 2 = 2 + 0 + 0 + 0",
                "Late: 2 = 0 + 0 + 1 + 1",
            ],
        ),
        (
            Key::Technician,
            &[
                "07: 2 = 2 + 0 + 0 + 0",
                "08: 2 = 0 + 0 + 1 + 1",
                "09: 2 = 0 + 1 + 1 + 0",
            ],
        ),
        (
            Key::Point,
            &[
                "G-1: 2 = 1 + 0 + 0 + 1",
                "G-2: 2 = 0 + 1 + 1 + 0",
                "T-1: 2 = 1 + 0 + 1 + 0",
            ],
        ),
        (
            Key::Compartment,
            &["gearbox 1: 4 = 1 + 1 + 1 + 1", "tank 1: 2 = 1 + 0 + 1 + 0"],
        ),
        (
            Key::Method,
            &[
                "(blank): 1 = 1 + 0 + 0 + 0",
                "thief: 1 = 0 + 0 + 1 + 0",
                "tube-pump: 4 = 1 + 1 + 1 + 1",
            ],
        ),
        (
            Key::MachineClass,
            &[
                "(blank): 2 = 0 + 1 + 1 + 0",
                "gearbox: 2 = 1 + 0 + 0 + 1",
                "tank: 2 = 1 + 0 + 1 + 0",
            ],
        ),
        (
            Key::Kind,
            &["sump: 4 = 1 + 1 + 1 + 1", "tank: 2 = 1 + 0 + 1 + 0"],
        ),
        (
            Key::Place,
            &[
                "(blank): 2 = 0 + 1 + 1 + 0",
                "sump-middle: 2 = 1 + 0 + 0 + 1",
                "tank-upper: 2 = 1 + 0 + 1 + 0",
            ],
        ),
        // Paris time; March has no draws
        (
            Key::Month,
            &[
                "2026-01: 1 = 1 + 0 + 0 + 0",
                "2026-02: 3 = 1 + 0 + 1 + 1",
                "2026-04: 2 = 0 + 1 + 1 + 0",
            ],
        ),
        // the contract's order; applies to = broken + 0 + met + unrecorded
        (
            Key::Rule,
            &[
                "flush-met: 2 = 1 + 0 + 0 + 1",
                "same-point: 6 = 0 + 0 + 6 + 0",
                "bottle-fit: 6 = 0 + 0 + 6 + 0",
                "fill-level: 2 = 2 + 0 + 0 + 0",
                "level-set: 1 = 1 + 0 + 0 + 0",
            ],
        ),
    ];
    let assessed = programme(six_draws());
    let all = Filter::default().select(&assessed);
    for (key, groups) in cases {
        assert_eq!(written(&by(&assessed, &all, key)), groups, "{key:?}");
    }
}

#[test]
fn only_selected_draws_are_counted() {
    let assessed = programme(six_draws());
    let selection = vec![1, 2];
    let groups = by(&assessed, &selection, Key::Crew);
    assert_eq!(written(&groups), ["Late: 2 = 0 + 0 + 1 + 1"]);
    assert_eq!(tally(&assessed, &selection), groups[0].tally);
    assert_eq!(by(&assessed, &Vec::new(), Key::Month), []);
    assert_eq!(by(&assessed, &Vec::new(), Key::Rule), []);
}

#[test]
fn a_selection_in_any_order_is_counted_alike() {
    let assessed = programme(six_draws());
    for key in Key::ALL {
        let picked = by(&assessed, &vec![4, 0, 3, 1], key);
        assert_eq!(picked, by(&assessed, &vec![0, 1, 3, 4], key));
    }
}

#[test]
fn keys_read_back_in_any_case() {
    for key in Key::ALL {
        assert_eq!(Key::parse(&key.as_str().to_uppercase()), Some(key));
    }
    assert_eq!(Key::parse("colour"), None);
}

proptest! {
    #[test]
    fn groups_add_up_to_the_whole(
        rows in any_rows(), key in prop::sample::select(&Key::ALL[..11]),
    ) {
        let assessed = programme(rows);
        let all = Filter::default().select(&assessed);
        let groups = by(&assessed, &all, key);
        let sum = groups.iter().fold(Tally::default(), |sum, group| sum.plus(group.tally));
        prop_assert_eq!(sum, tally(&assessed, &all));
        prop_assert!(groups.is_sorted_by(|one, other| one.key < other.key));
    }

    #[test]
    fn the_outcomes_of_a_rule_add_up_to_the_draws_it_applies_to(rows in any_rows()) {
        let assessed = programme(rows);
        let all = Filter::default().select(&assessed);
        for group in by(&assessed, &all, Key::Rule) {
            let tally = group.tally;
            prop_assert_eq!(
                tally.draws,
                tally.unrepresentative + tally.unproven + tally.representative
            );
            prop_assert_eq!(tally.doubtful, 0);
        }
    }

    #[test]
    fn a_share_lies_within_its_interval_and_its_bounds(rows in any_rows()) {
        let assessed = programme(rows);
        let share = tally(&assessed, &Filter::default().select(&assessed)).share();
        if let (Some(middle), Some(low), Some(high)) = (share.share, share.low, share.high) {
            prop_assert!(0.0 <= low && low <= middle && middle <= high && high <= 1.0);
            prop_assert!(share.least <= share.share && share.share <= share.most);
        }
    }
}

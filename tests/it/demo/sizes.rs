//! Other sizes than the default: the same mix, nothing impossible.

use std::collections::{HashMap, HashSet};

use fairdraw::demo::Size;
use fairdraw::model::{Kind, MachineState};
use proptest::prelude::*;

use super::{counted, judged, records};

fn size(draws: u64, points: usize, technicians: usize) -> Size {
    Size {
        draws,
        points,
        technicians,
        ..Size::default()
    }
}

#[test]
fn the_default_has_the_size_and_mix_it_promises() {
    let assessed = judged(&Size::default());
    let all = counted(&assessed, "");
    assert!((4850..=5150).contains(&all.draws), "{}", all.draws);
    let of = |count: u64| count as f64 / all.draws as f64;
    let share = all.share().share.unwrap();
    assert!((0.37..=0.44).contains(&share), "share {share}");
    assert!((0.07..=0.15).contains(&of(all.unproven)), "{all:?}");
    assert!((0.08..=0.25).contains(&of(all.doubtful)), "{all:?}");
    assert!((0.30..=0.50).contains(&of(all.representative)), "{all:?}");
    for kind in Kind::ALL {
        assert!(assessed.points.iter().any(|point| point.kind == *kind));
        assert!(counted(&assessed, &format!("kind:{kind}")).draws > 100);
    }
}

#[test]
fn a_larger_programme_keeps_the_mix_and_leaves_nobody_out() {
    let small = counted(&judged(&Size::default()), "");
    for wanted in [
        size(20_000, 880, 120),
        size(30_000, 440, 60),
        size(24_000, 1000, 83),
    ] {
        let assessed = judged(&wanted);
        let all = counted(&assessed, "");
        let off = all.draws as f64 / wanted.draws as f64 - 1.0;
        assert!(off.abs() < 0.05, "{wanted:?}: {} draws", all.draws);
        assert_eq!(assessed.points.len(), wanted.points);
        assert_eq!(assessed.technicians.len(), wanted.technicians);
        let shares = [all, small].map(|tally| tally.share().share.unwrap());
        assert!(
            (shares[0] - shares[1]).abs() < 0.04,
            "{wanted:?}: {shares:?}"
        );
        let drew: HashSet<u32> = assessed.judged.technician.iter().copied().collect();
        assert_eq!(drew.len(), wanted.technicians, "{wanted:?}");
    }
}

#[test]
fn equal_seeds_give_equal_programmes_and_other_seeds_others() {
    let wanted = size(300, 60, 12);
    let (_, one) = records(&wanted);
    let (_, again) = records(&wanted);
    let (_, other) = records(&Size { seed: 7, ..wanted });
    assert_eq!(one, again);
    assert_ne!(one, other);
}

#[test]
fn nobody_is_in_two_places_and_counters_move_as_clocks_allow() {
    let (_, records) = records(&Size::default());
    let mut last_of_person: HashMap<u32, i64> = HashMap::new();
    let mut last_of_point: HashMap<u32, (i64, f64)> = HashMap::new();
    let (mut pairs, mut steps, mut back) = (0, 0, 0);
    for record in &records {
        let facts = &record.facts;
        if let Some(before) = last_of_person.insert(facts.technician, facts.drawn_at) {
            assert!(facts.drawn_at - before >= 240, "{record:?}");
            pairs += 1;
        }
        let Some(hours) = facts.machine_hours.get() else {
            continue;
        };
        if let Some((at, before)) = last_of_point.insert(facts.point, (facts.drawn_at, hours)) {
            let clock_hours = (facts.drawn_at - at) as f64 / 3600.0;
            steps += 1;
            // A digit left out now and then, and the step after it.
            let slip = hours < before || hours - before > clock_hours + 24.0;
            back += u32::from(slip);
        }
    }
    assert!(pairs > 4000 && steps > 3000);
    assert!(back > 0 && back < steps / 50, "{back} of {steps}");
}

#[test]
fn stopped_machines_have_cooled_and_running_ones_were_not_stopped() {
    let (invented, records) = records(&Size::default());
    for record in &records {
        let facts = &record.facts;
        if facts.machine_state == Some(MachineState::Running) {
            assert!(facts.stopped_min.is_blank());
        }
        let normal = invented.plant.points[facts.point as usize].normal_temp_c;
        if let (Some(minutes), Some(temp_c), Some(normal)) =
            (facts.stopped_min.get(), facts.oil_temp_c.get(), normal)
        {
            assert!(minutes < 240.0 || temp_c < normal - 15.0, "{record:?}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn any_size_gives_a_programme_that_holds_together(
        draws in 0u64..400,
        points in 0usize..70,
        technicians in 0usize..20,
        seed in any::<u64>(),
    ) {
        let wanted = Size { draws, points, technicians, seed };
        let (invented, records) = records(&wanted);
        prop_assert_eq!(invented.plant.points.len(), points.max(1));
        prop_assert_eq!(invented.people.technicians.len(), technicians.max(1));
        let ids: HashSet<&str> = records.iter().map(|record| record.draw_id.as_str()).collect();
        prop_assert_eq!(ids.len(), records.len());
        for record in &records {
            let point = &invented.plant.points[record.facts.point as usize];
            prop_assert_eq!(&point.id, &record.point_id);
            let technician = &invented.people.technicians[record.facts.technician as usize];
            prop_assert_eq!(&technician.id, &record.technician_id);
        }
    }
}

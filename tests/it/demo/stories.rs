//! Each story of `docs/demo.md`, proven on the judged draws.

use std::collections::HashMap;
use std::sync::LazyLock;

use fairdraw::analysis::attribution::Unit;
use fairdraw::analysis::{Adjust, Assessed, Filter, attribute};
use fairdraw::demo::{Size, plant};
use fairdraw::model::{Outcome, Verdict};
use fairdraw::rules::place_of;

use super::{counted, judged, selected, share};
use crate::support::root;

pub(super) static DEMO: LazyLock<Assessed> = LazyLock::new(|| judged(&Size::default()));

/// Share of the draws passing a filter on which a rule came out so, among those it applies to.
fn came_out(filter: &str, rule: &str, wanted: Outcome) -> f64 {
    let rule = place_of(rule).unwrap();
    let outcomes: Vec<Outcome> = selected(&DEMO, filter)
        .into_iter()
        .map(|row| DEMO.judged.outcome(row as usize, rule))
        .filter(|outcome| *outcome != Outcome::NotApplicable)
        .collect();
    let hits = outcomes
        .iter()
        .filter(|outcome| **outcome == wanted)
        .count();
    assert!(outcomes.len() >= 20, "{filter}: {} draws", outcomes.len());
    hits as f64 / outcomes.len() as f64
}

fn broken(filter: &str, rule: &str) -> f64 {
    came_out(filter, rule, Outcome::Broken)
}

/// Observed unrepresentative draws of a technician, and how many others would have had on the
/// same points: indirect standardisation, over points where others drew too.
fn observed_and_expected(technician: &str) -> (f64, f64) {
    // Per point: judged and unrepresentative draws of the technician, then of the others.
    let mut points: HashMap<u32, [f64; 4]> = HashMap::new();
    let judged = &DEMO.judged;
    for row in 0..judged.len() {
        if judged.verdict[row] == Verdict::Unproven {
            continue;
        }
        let theirs = DEMO.technicians[judged.technician[row] as usize].id == technician;
        let counts = points.entry(judged.point[row]).or_default();
        let from = if theirs { 0 } else { 2 };
        counts[from] += 1.0;
        counts[from + 1] += f64::from(judged.verdict[row] == Verdict::Unrepresentative);
    }
    points.values().filter(|counts| counts[2] >= 3.0).fold(
        (0.0, 0.0),
        |(observed, expected), [own, own_bad, others, others_bad]| {
            (observed + own_bad, expected + own * others_bad / others)
        },
    )
}

/// A technician as the model sees them over the draws that pass a filter.
fn attributed(filter: &str, adjust: &[Adjust], technician: &str) -> Unit {
    let selection = selected(&DEMO, filter);
    let found = attribute(&DEMO, &selection, adjust, &mut || true).unwrap();
    let of = |unit: &&Unit| DEMO.technicians[unit.place as usize].id == technician;
    *found.technicians.units.iter().find(of).unwrap()
}

#[test]
fn the_model_clears_the_one_and_finds_the_other() {
    let crew = &[Adjust::Crew][..];
    let looks_bad = attributed("", crew, "T009");
    assert!(looks_bad.share() > 0.55, "{looks_bad:?}");
    assert!(looks_bad.low < 1.0 && looks_bad.high > 1.0, "{looks_bad:?}");
    let needs_training = attributed("", crew, "T015");
    assert!(needs_training.low > 1.4, "{needs_training:?}");
    // Of thirty, T015 alone stands out.
    let found = attribute(&DEMO, &selected(&DEMO, ""), crew, &mut || true).unwrap();
    let outstanding = found.technicians.units.iter();
    let outstanding: Vec<&Unit> = outstanding.filter(|unit| unit.stands_out()).collect();
    assert_eq!(outstanding, [&needs_training]);
    // And every other crew stands well below the Furnace crew.
    for crew in &found.adjusted {
        assert!(crew.odds_ratio().2 < 0.5, "{crew:?}");
    }
    // Among those at the same site, without the crew.
    let at_site = attributed("site:\"Saltmere Pans\"", &[], "T015");
    assert!(at_site.low > 1.2 && at_site.stands_out(), "{at_site:?}");
    let at_site = attributed("site:\"Brannagh Ridge\"", &[], "T009");
    assert!(at_site.low < 1.0 && !at_site.stands_out(), "{at_site:?}");
}

#[test]
fn one_technician_looks_bad_only_because_of_hard_points() {
    let own = share(&DEMO, "technician:T009");
    assert!(own > 0.55, "{own}");
    assert!(own > 1.5 * share(&DEMO, "crew:\"Ridge crew\" -technician:T009"));
    let (observed, expected) = observed_and_expected("T009");
    let ratio = observed / expected;
    assert!((0.8..1.15).contains(&ratio), "{observed} of {expected}");
    // Off the hard points, T009 does better than the rest of the site.
    let hard = "point:BRA-01A,BRA-05A,BRA-08A,BRA-10A,BRA-13A,BRA-15A";
    let easy = |who: &str| share(&DEMO, &format!("site:\"Brannagh Ridge\" -{hard} {who}"));
    assert!(easy("technician:T009") < easy("-technician:T009"));
    assert!(share(&DEMO, &format!("{hard} -technician:T009")) > 0.7);
}

#[test]
fn one_technician_looks_average_and_needs_training() {
    let own = share(&DEMO, "technician:T015");
    assert!((own - share(&DEMO, "")).abs() < 0.06, "{own}");
    let (observed, expected) = observed_and_expected("T015");
    assert!(observed > 1.5 * expected, "{observed} of {expected}");
    let peers = "site:\"Saltmere Pans\" -technician:T015";
    assert!(broken("technician:T015", "flush-met") > 1.7 * broken(peers, "flush-met"));
}

#[test]
fn one_point_sits_on_a_laminar_straight_run() {
    let point = DEMO
        .points
        .iter()
        .find(|point| point.id == "QUE-01A")
        .unwrap();
    let reynolds = plant::reynolds(point).unwrap();
    assert!((1200.0..2300.0).contains(&reynolds), "{reynolds}");
    assert_eq!(point.at_bend, Some(false));
    assert_eq!(broken("point:QUE-01A", "point-suited"), 1.0);
    assert_eq!(broken("point:SAL-01A", "point-suited"), 0.0);
}

#[test]
fn one_crew_stops_the_machine_too_early() {
    let crew = broken("crew:\"Furnace crew\"", "running-or-hot");
    let others = broken("-crew:\"Furnace crew\"", "running-or-hot");
    assert!(crew > 0.5 && others < 0.2, "{crew} {others}");
}

#[test]
fn bottles_waited_in_one_month() {
    let month = broken("from:2026-02 to:2026-02", "age-at-dispatch");
    let before = broken("to:2026-01", "age-at-dispatch");
    let after = broken("from:2026-03", "age-at-dispatch");
    assert!(
        month > 0.65 && before < 0.2 && after < 0.2,
        "{before} {month} {after}"
    );
}

#[test]
fn one_training_helped_and_one_did_not() {
    let held: Vec<String> = DEMO
        .trainings
        .iter()
        .map(|t| format!("{} {} {}", t.technician_id, t.topic, t.held_on))
        .collect();
    assert!(held.contains(&"T026 flush-met 2025-11-17".to_owned()));
    assert!(held.contains(&"T027 fill-level 2025-11-24".to_owned()));
    let before = broken("technician:T026 to:2025-11-17", "flush-met");
    let after = broken("technician:T026 from:2025-11-18", "flush-met");
    assert!(before > 0.6 && after < 0.25, "{before} {after}");
    let before = broken("technician:T027 to:2025-11-24", "fill-level");
    let after = broken("technician:T027 from:2025-11-25", "fill-level");
    assert!(before > 0.75 && after > 0.75, "{before} {after}");
}

#[test]
fn one_site_leaves_out_the_lower_level_of_its_tanks() {
    let site = broken("site:\"Côte Verrane\"", "level-set");
    let others = broken("-site:\"Côte Verrane\"", "level-set");
    assert!(site > 0.7 && others < 0.2, "{site} {others}");
    let lower = counted(&DEMO, "site:\"Côte Verrane\" place:tank-lower").draws;
    let upper = counted(&DEMO, "site:\"Côte Verrane\" place:tank-upper").draws;
    assert!(lower * 5 < upper, "{lower} of {upper}");
}

#[test]
fn one_desk_does_not_register() {
    let unrecorded = |filter| came_out(filter, "registered", Outcome::Unrecorded);
    assert!(unrecorded("site:\"Quellmar Quay\"") > 0.9);
    assert!(unrecorded("-site:\"Quellmar Quay\"") < 0.1);
}

#[test]
fn small_mistakes_occur_but_stay_rare() {
    for rule in ["bottle-unique", "times-in-order", "hours-forward"] {
        let rate = broken("", rule);
        assert!((0.001..0.03).contains(&rate), "{rule}: {rate}");
    }
    let late = broken("", "interval-kept");
    assert!((0.05..0.2).contains(&late), "{late}");
    let missing = broken("", "second-fill");
    assert!((0.15..0.6).contains(&missing), "{missing}");
    assert!(broken("", "same-point") > 0.01);
    assert!(broken("", "grease-midway") > 0.05);
}

/// What the page tells one to type can be typed, and finds something.
#[test]
fn the_filters_on_the_page_of_the_demo_select_draws() {
    let page = std::fs::read_to_string(root().join("docs/demo.md")).unwrap();
    let filters: Vec<&str> = page
        .split("--where '")
        .skip(1)
        .map(|rest| rest.split('\'').next().unwrap())
        .collect();
    assert!(filters.len() >= 7);
    for text in filters {
        let filter = Filter::parse(text).unwrap();
        assert!(filter.unknown_values(&DEMO).is_empty(), "{text}");
        assert!(filter.select(&DEMO).len() >= 20, "{text}");
    }
}

/// Names on the page are those of the sheets.
#[test]
fn the_page_of_the_demo_names_sites_crews_and_people_as_the_sheets_do() {
    let page = std::fs::read_to_string(root().join("docs/demo.md")).unwrap();
    for site in DEMO.points.iter().filter_map(|point| point.site.as_deref()) {
        assert!(page.contains(site), "{site}");
    }
    for technician in &DEMO.technicians {
        assert!(page.contains(technician.crew.as_deref().unwrap()));
        if matches!(technician.id.as_str(), "T009" | "T015" | "T026" | "T027") {
            let named = format!(
                "**{}, {}**",
                technician.id,
                technician.name.as_deref().unwrap()
            );
            assert!(page.contains(&named), "{named}");
        }
    }
}

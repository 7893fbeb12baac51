//! The small programme's verdicts, scores and shares, worked out by hand from the scoring
//! contract.
//!
//! | draw | why | W | B | U | verdict |
//! |---|---|---|---|---|---|
//! | D-1 | all met | 124 | 0 | 0 | representative |
//! | D-2 | 40 mL of 62.8 flushed: decisive | 124 | 16 | 0 | unrepresentative |
//! | D-3 | flush blank: decisive | 124 | 0 | 16 | unproven |
//! | D-4 | not cleaned 8, not capped 6, too full 8 | 142 | 22 | 0 | doubtful: 120/142 < 85 % |
//! | D-5 | grease by needle, all met | 76 | 0 | 0 | representative |
//! | =B6 | next to nothing recorded | 124 | 0 | 100 | unproven |
//!
//! W of a circulating point: 20+16+12+10+12+8+12+6+8+8+8+4. A sump by tube pump adds
//! tube-depth 8 and fresh-tube 10. Grease: 10+12+8+12+6+8+20. On `=B6` same-point 12 and
//! point-suited 12 are met (they speak about the point); its method is blank, so neither
//! tube rule applies.

use serde_json::Value;

use super::runner::Room;

/// Bounds of a Wilson interval at 95 % for 1 of 4, from R 4.2.2 (`prop.test(1, 4, correct =
/// FALSE)$conf.int`, value from memory, checked with the formula by hand).
const WILSON_1_OF_4: (f64, f64) = (0.045_587, 0.699_358);

#[test]
fn every_draw_gets_the_verdict_worked_out_by_hand() {
    let room = Room::with_programme();
    let scored = room.run(&["score", "--format", "json"]).json();
    let expected = [
        ("D-1", "representative", 100.0, 100.0, 100.0, 100.0),
        ("D-4", "doubtful", 84.51, 84.51, 84.51, 100.0),
        ("D-5", "representative", 100.0, 100.0, 100.0, 100.0),
        ("D-2", "unrepresentative", 87.10, 87.10, 87.10, 100.0),
        (
            "=B6@P-2@2026-02-10T09:00:00Z",
            "unproven",
            100.0,
            19.35,
            100.0,
            19.35,
        ),
        ("D-3", "unproven", 100.0, 87.10, 100.0, 87.10),
    ];
    let scored = scored.as_array().unwrap();
    assert_eq!(scored.len(), expected.len());
    for (draw, (id, verdict, score, low, high, evidence)) in scored.iter().zip(expected) {
        assert_eq!(draw["draw_id"], id);
        assert_eq!(draw["verdict"], verdict, "{id}");
        let scores = ["score", "score_low", "score_high", "evidence"].map(|name| &draw[name]);
        assert_eq!(
            scores,
            [score, low, high, evidence].map(Value::from).each_ref(),
            "{id}"
        );
    }
    assert_eq!(
        scored[1]["broken"],
        serde_json::json!(["point-cleaned", "capped-at-once", "fill-level"])
    );
    assert_eq!(scored[2]["conduct_score"], Value::Null);
    let flush = &scored[3]["rules"]["flush-met"];
    assert_eq!(flush["outcome"], "broken");
    assert_eq!(flush["weight"], 16);
    assert!(
        flush["seen"].as_str().unwrap().starts_with("40 mL"),
        "{flush}"
    );
    assert!(
        flush["wanted"].as_str().unwrap().contains("62.8"),
        "{flush}"
    );
    assert_eq!(scored[0]["rules"].as_object().unwrap().len(), 25);
    assert_eq!(scored[0]["rules"]["level-set"]["outcome"], "not applicable");
    assert_eq!(scored[0]["rules"]["level-set"]["seen"], Value::Null);
}

#[test]
fn the_share_is_that_of_the_judged_draws() {
    let room = Room::with_programme();
    let shares = room.run(&["share", "--format", "json"]).json();
    let all = &shares[0];
    let counts = [
        "draws",
        "judged",
        "unrepresentative",
        "doubtful",
        "representative",
        "unproven",
    ];
    assert_eq!(
        counts.map(|name| all[name].as_u64().unwrap()),
        [6, 4, 1, 1, 2, 2]
    );
    assert_eq!(all["key"], "all");
    let close = |name: &str, wanted: f64| {
        let seen = all[name].as_f64().unwrap();
        assert!((seen - wanted).abs() < 1e-6, "{name}: {seen}");
    };
    close("share", 0.25);
    close("share_low", WILSON_1_OF_4.0);
    close("share_high", WILSON_1_OF_4.1);
    close("least", 1.0 / 6.0);
    close("most", 3.0 / 6.0);
}

#[test]
fn score_is_the_same_in_every_format() {
    let room = Room::with_programme();
    room.journey(
        "score",
        &[
            &["score"],
            &["score", "--format", "csv"],
            &["score", "--format", "json", "--where", "point:P-3"],
            &["score", "--where", "verdict:doubtful", "--format", "csv"],
        ],
    );
}

#[test]
fn the_columns_of_score_are_those_of_the_contract() {
    let room = Room::with_programme();
    let csv = room.run(&["score", "--format", "csv"]).stdout;
    assert_eq!(
        csv.lines().next(),
        Some(
            "draw_id,bottle_id,point_id,technician_id,drawn_at,verdict,score,score_low,score_high,\
             evidence,record_score,conduct_score,broken,unrecorded"
        )
    );
    assert!(
        csv.contains("'=B6"),
        "a formula reaches a spreadsheet: {csv}"
    );
}

#[test]
fn shares_can_be_taken_by_every_key() {
    let room = Room::with_programme();
    let keys = [
        "site",
        "area",
        "crew",
        "technician",
        "point",
        "compartment",
        "method",
        "machine-class",
        "kind",
        "place",
        "month",
        "rule",
    ];
    let mut commands: Vec<Vec<&str>> = vec![
        vec!["share"],
        vec!["share", "--format", "csv"],
        vec!["share", "--by", "point", "--sort", "share"],
        vec![
            "share", "--by", "month", "--sort", "draws", "--format", "csv",
        ],
    ];
    commands.extend(keys.map(|key| vec!["share", "--by", key]));
    let commands: Vec<&[&str]> = commands.iter().map(Vec::as_slice).collect();
    room.journey("share", &commands);
}

#[test]
fn groups_of_a_key_hold_every_draw_once() {
    let room = Room::with_programme();
    for key in [
        "site",
        "area",
        "crew",
        "technician",
        "point",
        "compartment",
        "method",
        "machine-class",
        "kind",
        "place",
        "month",
    ] {
        let groups = room.run(&["share", "--by", key, "--format", "json"]).json();
        let draws = groups.as_array().unwrap().iter();
        let sum: u64 = draws.map(|group| group["draws"].as_u64().unwrap()).sum();
        assert_eq!(sum, 6, "{key}");
    }
}

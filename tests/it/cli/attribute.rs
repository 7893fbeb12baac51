//! People and points told apart, through the program: published data written as sheets of
//! draws, against the fits of lme4 and glmmTMB in `mixed_logit.json` (its sources and
//! tolerances in `tests/fixtures/reference/README.md`).
//!
//! Level of the first factor is a technician, of the second a point; an event is a draw
//! with too small a flush, which makes it unrepresentative. Any fixed effect of a case is
//! the month the draw falls into.

use std::collections::HashMap;
use std::fmt::Write as _;

use chrono::{DateTime, Duration, Utc};
use serde_json::Value;

use super::runner::Room;
use crate::reference::files::{Table, cases, near, near_relative, number, table};

/// Draws that share technician, point and month (1 to 12 of 2026).
struct Row<'a> {
    technician: &'a str,
    point: &'a str,
    month: u32,
    events: u64,
    trials: u64,
}

/// A programme of these draws, taken in by the program.
fn programme(rows: &[Row<'_>]) -> Room {
    let room = Room::with_sheets();
    std::fs::create_dir(room.path("made")).unwrap();
    let mut points = String::from(
        "point_id,compartment_id,machine_class,kind,place,at_bend,agreed,method,fluid,iso_vg,\
         normal_temp_c,line_flow_l_min,line_bore_mm,tube_bore_mm,tube_length_cm,bottle_ml\n",
    );
    let mut technicians = String::from("technician_id\n");
    let mut draws = String::from(
        "draw_id,bottle_id,point_id,technician_id,drawn_at,recorded_at,method,machine_state,\
         oil_temp_c,oil_hours,fluid,point_cleaned,bottle_ok,capped_at_once,flushed_ml,fill_pct,\
         looks,fill_no,registered_at,dispatched_at,received_at,safety_confirmed\n",
    );
    let mut known: (Vec<&str>, Vec<&str>) = (Vec::new(), Vec::new());
    let mut number = 0;
    for row in rows {
        if !known.0.contains(&row.technician) {
            known.0.push(row.technician);
            writeln!(technicians, "{}", row.technician).unwrap();
        }
        if !known.1.contains(&row.point) {
            known.1.push(row.point);
            writeln!(
                points,
                "{0},C {0},hydraulic,circulating,return-line,yes,yes,line-valve,HV 46,46,55,120,\
                 38,4,100,100",
                row.point
            )
            .unwrap();
        }
        for trial in 0..row.trials {
            number += 1;
            let month = format!("2026-{:02}-05T08:00:00Z", row.month);
            let month: DateTime<Utc> = month.parse().unwrap();
            let drawn = month + Duration::minutes(number % 30_000);
            let at = |hours| (drawn + Duration::hours(hours)).format("%Y-%m-%dT%H:%M:%SZ");
            // 62.8 mL are wanted: five times the dead volume of 4 mm by 100 cm.
            let flushed = if trial < row.events { 5 } else { 70 };
            writeln!(
                draws,
                "D{number},B{number},{},{},{},{},line-valve,running,54,300,HV 46,yes,yes,yes,\
                 {flushed},70,clear,1,{},{},{},yes",
                row.point,
                row.technician,
                at(0),
                at(2),
                at(2),
                at(24),
                at(72)
            )
            .unwrap();
        }
    }
    room.write("made/points.csv", &points);
    room.write("made/technicians.csv", &technicians);
    room.write("made/draws.csv", &draws);
    let run = room.run(&["import", "made"]);
    assert_eq!(run.status, 0, "{}", run.told());
    room
}

fn case(id: &str) -> Value {
    let mut all = cases("mixed_logit.json", None).into_iter();
    all.find(|case| case["id"] == id).unwrap()["expected"].clone()
}

/// The name a level has in the case, by the id it got in the sheets.
type Names = HashMap<String, String>;

/// Compares what the program says with a case. `factors` are the names of technicians and
/// points in the case; a case with one factor has all draws at one point.
fn check(room: &Room, adjust: &[&str], expected: &Value, factors: &[&str], names: &Names) -> Value {
    let found = room.run(&[&["attribute", "--format", "json"], adjust].concat());
    assert_eq!(found.status, 0, "{}", found.stderr);
    let found = found.json();
    let model = &found["model"];
    assert_eq!(model["converged"], true);
    near(
        number(&model["intercept"]),
        &expected["beta"]["(Intercept)"],
        1e-6,
        "intercept",
    );
    near_relative(
        number(&model["intercept_se"]),
        &expected["se_beta_hessian"]["(Intercept)"],
        1e-4,
        "intercept_se",
    );
    for (factor, (list, noun)) in factors
        .iter()
        .zip([("technicians", "technician"), ("points", "point")])
    {
        let of_model = |name: &str| number(&model[format!("{name}_{noun}")]);
        near(of_model("sd"), &expected["sigma"][factor], 1e-6, factor);
        near(
            of_model("median_odds_ratio"),
            &expected["median_odds_ratio"][factor],
            1e-5,
            factor,
        );
        near(
            of_model("variance"),
            &expected["latent_variance_share"][factor],
            1e-6,
            factor,
        );
        let modes = expected["conditional_modes"][factor].as_object().unwrap();
        let levels = found[list].as_array().unwrap();
        assert_eq!(modes.len(), levels.len());
        for level in levels {
            let id = level["id"].as_str().unwrap();
            let mode = &modes[names.get(id).map_or(id, String::as_str)];
            near(number(&level["effect"]), &mode[0], 1e-6, id);
            near(number(&level["effect_se"]), &mode[1], 1e-6, id);
            let at = |z: f64| (number(&mode[0]) + z * 1.959_963_985 * number(&mode[1])).exp();
            for (name, z) in [("low", -1.0), ("odds_ratio", 0.0), ("high", 1.0)] {
                near_relative(number(&level[name]), &Value::from(at(z)), 1e-5, name);
            }
        }
    }
    found
}

/// ln of the number of ways, Σ over cells: what a deviance of grouped draws leaves out.
fn log_ways(cells: &[(u64, u64)]) -> f64 {
    let log_factorial = |n: u64| (1..=n).map(|i| (i as f64).ln()).sum::<f64>();
    let ways = |&(x, n): &(u64, u64)| log_factorial(n) - log_factorial(x) - log_factorial(n - x);
    cells.iter().map(ways).sum()
}

fn check_deviance(found: &Value, expected: &Value, cells: &[(u64, u64)]) {
    near(
        number(&found["model"]["deviance"]) - 2.0 * log_ways(cells),
        &expected["deviance_minus2loglik"],
        1e-6,
        "deviance",
    );
}

fn crossed(data: &Table) -> Vec<Row<'_>> {
    let (technicians, points) = (data.texts("technician"), data.texts("point"));
    let counts = data
        .pairs("bad", "n")
        .into_iter()
        .zip(technicians)
        .zip(points);
    counts
        .map(|(((events, trials), technician), point)| Row {
            technician,
            point,
            month: 1,
            events,
            trials,
        })
        .collect()
}

#[test]
fn two_crossed_factors_agree_with_lme4() {
    for id in ["toy_crossed", "flat_technicians"] {
        let data = table(&format!("{id}.csv")).unwrap();
        let room = programme(&crossed(&data));
        let expected = case(id);
        let found = check(
            &room,
            &[],
            &expected,
            &["technician", "point"],
            &Names::new(),
        );
        check_deviance(&found, &expected, &data.pairs("bad", "n"));
        for (noun, without) in [("technician", "point"), ("point", "technician")] {
            let reduced = &expected["deviance_reduced_models"][format!("without_{noun}")];
            let gained = number(reduced) - number(&expected["deviance_minus2loglik"]);
            let p = number(&found["model"][format!("p_{noun}")]);
            // Half the upper tail of chi-square(1) falls with what is gained: 2.706 is its
            // ten per cent point (common table).
            assert_eq!(
                p < 0.05,
                gained > 2.706,
                "{id} {noun} {without}: {p} {gained}"
            );
        }
    }
}

/// Cattle herds (G. E. Lesnoff and others 2004, in lme4 as cbpp): herds as technicians at
/// one point, periods as months.
#[test]
fn one_factor_with_fixed_effects_agrees_with_lme4() {
    let data = table("cbpp.csv").unwrap();
    let herds = data.texts("herd");
    let periods = data.counts("period");
    let counts = data.pairs("incidence", "size");
    let rows: Vec<Row<'_>> = (0..herds.len())
        .map(|i| Row {
            technician: herds[i],
            point: "P",
            month: periods[i] as u32,
            events: counts[i].0,
            trials: counts[i].1,
        })
        .collect();
    let room = programme(&rows);
    let none = Names::new();
    let expected = case("cbpp_intercept");
    let found = check(&room, &[], &expected, &["herd"], &none);
    check_deviance(&found, &expected, &counts);
    assert!(
        found["model"]["cautions"][0]
            .as_str()
            .unwrap()
            .contains("one point")
    );

    let expected = case("cbpp_period");
    let found = check(&room, &["--adjust", "month"], &expected, &["herd"], &none);
    check_deviance(&found, &expected, &counts);
    assert_eq!(found["model"]["reference"]["month"], "2026-01");
    let levels = found["model"]["adjusted"].as_array().unwrap();
    assert_eq!(levels.len(), 3);
    for level in levels {
        let period = level["level"].as_str().unwrap().replace("2026-0", "period");
        near(
            number(&level["effect"]),
            &expected["beta"][&period],
            1e-6,
            &period,
        );
        near_relative(
            number(&level["effect_se"]),
            &expected["se_beta_hessian"][&period],
            1e-4,
            &period,
        );
    }
}

/// Answers of 729 students to 13 items: students as technicians, items as points. Eight
/// students in ten have all draws of their own, so this is the largest of the cases.
#[test]
fn a_large_crossed_table_agrees_with_lme4() {
    let data = table("mathexam_wide.csv").unwrap();
    let items = &data.header[1..];
    let mut rows = Vec::new();
    for row in &data.rows {
        for (place, item) in items.iter().enumerate() {
            rows.push(Row {
                technician: &row[0],
                point: item,
                month: 1,
                events: row[place + 1].parse().unwrap(),
                trials: 1,
            });
        }
    }
    let room = programme(&rows);
    let expected = case("mathexam_crossed");
    let found = check(&room, &[], &expected, &["student", "item"], &Names::new());
    check_deviance(&found, &expected, &[]);
}

/// Salamanders (P. McCullagh, J. A. Nelder 1989): females as technicians, males as points,
/// the kind of cross as months. The data may be missing, see `reference/files.rs`.
#[test]
fn two_crossed_factors_with_fixed_effects_agree_with_lme4() {
    let Some(data) = table("salamander.csv") else {
        return;
    };
    let (females, males) = (data.texts("female"), data.texts("male"));
    let (crosses, mates) = (data.texts("cross"), data.counts("mate"));
    let kinds = ["RR", "RW", "WR", "WW"];
    let month = |cross: &str| 1 + kinds.iter().position(|kind| *kind == cross).unwrap() as u32;
    let rows: Vec<Row<'_>> = (0..females.len())
        .map(|i| Row {
            technician: females[i],
            point: males[i],
            month: month(crosses[i]),
            events: mates[i],
            trials: 1,
        })
        .collect();
    let room = programme(&rows);
    let factors = ["female", "male"];
    check(
        &room,
        &[],
        &case("salamander_intercept"),
        &factors,
        &Names::new(),
    );
    let expected = case("salamander_cross");
    let adjust = ["--adjust", "month"];
    let found = check(&room, &adjust, &expected, &factors, &Names::new());
    for level in found["model"]["adjusted"].as_array().unwrap() {
        let month: usize = level["level"].as_str().unwrap()[5..].parse().unwrap();
        let name = format!("cross{}", kinds[month - 1]);
        near(
            number(&level["effect"]),
            &expected["beta"][&name],
            1e-6,
            &name,
        );
    }
}

/// Two crews that never meet, and one month in which every draw was unrepresentative.
fn awkward() -> Room {
    let mut rows = Vec::new();
    for (technicians, points) in [(["A1", "A2"], ["PA", "PB"]), (["B1", "B2"], ["PC", "PD"])] {
        for (i, technician) in technicians.into_iter().enumerate() {
            for (k, point) in points.into_iter().enumerate() {
                rows.push(Row {
                    technician,
                    point,
                    month: 1,
                    events: 2 + 5 * i as u64 + 3 * k as u64,
                    trials: 18 + 4 * i as u64,
                });
            }
        }
    }
    rows.push(Row {
        technician: "A1",
        point: "PA",
        month: 2,
        events: 4,
        trials: 4,
    });
    programme(&rows)
}

#[test]
fn the_table_tells_the_model_in_words_and_marks_what_carries_little() {
    let room = awkward();
    room.journey(
        "attribute",
        &[
            &["attribute"],
            &["attribute", "--adjust", "month", "--sort", "id"],
            &["attribute", "--format", "csv", "--sort", "draws"],
            &["attribute", "--format", "json", "--adjust", "month"],
        ],
    );
}

#[test]
fn the_named_fields_are_there() {
    let found = awkward().run(&["attribute", "--format", "json"]).json();
    for name in [
        "draws",
        "technicians",
        "points",
        "intercept",
        "intercept_se",
        "sd_technician",
        "sd_point",
        "deviance",
        "median_odds_ratio_technician",
        "median_odds_ratio_point",
    ] {
        assert!(found["model"][name].is_number(), "{name}");
    }
    assert_eq!(found["model"]["converged"], true);
    for list in ["technicians", "points"] {
        for unit in found[list].as_array().unwrap() {
            assert!(unit["id"].is_string());
            for name in [
                "draws",
                "unrepresentative",
                "share",
                "expected",
                "effect",
                "effect_se",
                "odds_ratio",
                "low",
                "high",
                "p",
                "q",
            ] {
                assert!(unit[name].is_number(), "{list} {name}");
            }
        }
    }
    assert_eq!(found["model"]["parts"].as_array().unwrap().len(), 2);
}

#[test]
fn a_question_without_an_answer_gets_one_sentence_and_no_numbers() {
    let room = awkward();
    let arguments: [&[&str]; 6] = [
        &["attribute", "--where", "technician:A1 -point:PA,PB"],
        &["attribute", "--where", "verdict:representative"],
        &[
            "attribute",
            "--where",
            "verdict:unrepresentative",
            "--format",
            "csv",
        ],
        &["attribute", "--where", "technician:A2", "--format", "json"],
        &["attribute", "--where", "from:2026-02", "--adjust", "month"],
        &["attribute", "--adjust", "weather"],
    ];
    for arguments in arguments {
        let run = room.run(arguments);
        assert!(run.stdout.is_empty(), "{}", run.told());
    }
    room.journey("attribute-no-answer", &arguments);
}

//! Picks against the world outside: drawn again by standard tools and by a script that knows
//! the printed rule alone; sizes and bounds by SciPy and scikit-learn.

use std::fs;
use std::io::Write as _;
use std::process::{Command, Stdio};

use fairdraw::analysis::Filter;
use fairdraw::analysis::picks::{Parted, Pick, lowest, outcome, size};
use fairdraw::analysis::told::Told;
use fairdraw::demo;
use fairdraw::model::Progress;
use fairdraw::model::decisions::DrawSeen;
use fairdraw::model::decisions::pick::{Outcome, PickDrawn, Plan, Stratum, Verified};
use fairdraw::model::trail::Who;
use fairdraw::programme::{ImportRequest, PickRequest, Programme};
use serde_json::Value;
use sha2::{Digest, Sha256};

use crate::cli::runner::{Room, command};
use crate::support::fixture;

fn reference() -> Value {
    let text = fs::read_to_string(fixture("picks/reference.json")).unwrap();
    serde_json::from_str(&text).unwrap()
}

fn cases(name: &str) -> Vec<Value> {
    reference()[name].as_array().unwrap().clone()
}

fn whole(value: &Value) -> u64 {
    value.as_u64().unwrap()
}

fn near(found: f64, expected: &Value, what: &str) {
    let expected = expected.as_f64().unwrap();
    assert!(
        (found - expected).abs() < 1e-9,
        "{what}: {found}, not {expected}"
    );
}

#[test]
fn discovery_sizes_are_those_of_scipy() {
    for case in cases("discovery") {
        let plan = Plan::Discovery {
            share: case["share"].to_string(),
            confidence: case["confidence"].to_string(),
        };
        let found = size(&plan, whole(&case["population"])).unwrap();
        assert_eq!(found.size, whole(&case["size"]), "{case}");
        assert_eq!(found.marked, Some(whole(&case["bad"])), "{case}");
        near(found.chance.unwrap(), &case["chance"], &case.to_string());
    }
}

#[test]
fn estimation_sizes_are_those_of_scipy() {
    for case in cases("estimation") {
        let plan = Plan::Estimation {
            within: case["within"].to_string(),
            confidence: case["confidence"].to_string(),
            expected: case["expected"].to_string(),
        };
        let found = size(&plan, whole(&case["population"])).unwrap();
        assert_eq!(found.size, whole(&case["size"]), "{case}");
        near(found.chance.unwrap(), &case["chance"], &case.to_string());
    }
}

/// W. G. Cochran, Sampling Techniques, 3rd ed. 1977, section 4.4, the blood group of an
/// island's 3,200 inhabitants within 5 points: 400 by his z of 2, 356 with the correction
/// (from memory). Ours takes z = 1.96, and so fewer.
#[test]
fn an_island_of_3200() {
    let cochran = fairdraw::stats::estimation::cochran;
    let two = 2.0 * fairdraw::stats::normal::at_most(2.0) - 1.0;
    assert!((cochran(3_200, 0.5, 0.05, two) - 355.65).abs() < 0.05);
    assert!((cochran(u64::MAX, 0.5, 0.05, two) - 400.0).abs() < 1e-6);
}

/// A pick of so many draws with so many errors, none unverified.
fn verified(population: u64, checked: u64, errors: u64) -> Pick {
    let results = (0..checked).map(|place| {
        let result = if place < errors {
            Outcome::Disagree
        } else {
            Outcome::Agree
        };
        (format!("D-{place}"), "representative", result, None)
    });
    pick(population, results.collect())
}

type Result = (String, &'static str, Outcome, Option<bool>);

fn pick(population: u64, results: Vec<Result>) -> Pick {
    let told = Told {
        link: 1,
        at: 0,
        who: "Ada".to_owned(),
    };
    let picked = results.len() as u64;
    let stratum = Stratum {
        name: "all".to_owned(),
        draws: population,
        picked,
    };
    let seen = |(draw, verdict, ..): &Result| DrawSeen {
        draw: draw.clone(),
        record: 1,
        drawn_at: 0,
        point: String::new(),
        technician: String::new(),
        verdict: (*verdict).to_owned(),
        score: String::new(),
        broken: Vec::new(),
        unrecorded: Vec::new(),
        content_sha256: String::new(),
        seen: String::new(),
        wanted: String::new(),
    };
    let drawn = PickDrawn {
        pick: 1,
        plan: Plan::Fixed { draws: picked },
        seed: "s".to_owned(),
        filter: String::new(),
        by: String::new(),
        at_least: 0,
        population,
        population_sha256: String::new(),
        rulebook: String::new(),
        strata: vec![stratum],
        draws: results.iter().map(seen).collect(),
    };
    let results = results
        .into_iter()
        .map(|(draw, _, result, representative)| {
            let verified = Verified {
                draw,
                result,
                representative,
                note: String::new(),
            };
            Some((told.clone(), verified))
        });
    Pick {
        results: results.collect(),
        told,
        drawn,
        entered_again: 0,
    }
}

#[test]
fn bounds_are_those_of_scipy() {
    for case in cases("bounds") {
        let number = |name: &str| whole(&case[name]);
        let pick = verified(number("population"), number("checked"), number("errors"));
        let found = outcome(&pick, case["confidence"].as_f64().unwrap());
        let bounds = found.left_out.unwrap();
        assert_eq!(bounds.most, Some(number("most")), "{case}");
        assert_eq!(
            bounds.between,
            Some((number("low"), number("high"))),
            "{case}"
        );
        near(bounds.upper.unwrap(), &case["upper"], &case.to_string());
    }
}

#[test]
fn kappa_is_that_of_scikit_learn() {
    for case in cases("kappa") {
        let count = |row: usize, column: usize| whole(&case["table"][row][column]);
        let mut results = Vec::new();
        for (row, verdict) in ["unrepresentative", "doubtful"].into_iter().enumerate() {
            for (column, said) in [false, true].into_iter().enumerate() {
                for _ in 0..count(row, column) {
                    let draw = format!("D-{}", results.len());
                    results.push((draw, verdict, Outcome::Agree, Some(said)));
                }
            }
        }
        results.push(("U".to_owned(), "unproven", Outcome::Agree, Some(false)));
        let found = outcome(&pick(1_000, results), 0.95);
        assert_eq!(found.unproven, 1);
        near(
            found.kappa.unwrap().beyond.unwrap().kappa,
            &case["kappa"],
            &case.to_string(),
        );
    }
}

#[test]
fn what_could_not_be_verified_is_shown_both_ways() {
    let result = |place: usize| match place {
        0..=2 => Outcome::Disagree,
        3..=6 => Outcome::Unverified,
        _ => Outcome::Agree,
    };
    let results = (0..60).map(|place| (format!("D-{place}"), "doubtful", result(place), None));
    let found = outcome(&pick(500, results.collect()), 0.95);
    let counts = |bounds: Option<fairdraw::analysis::picks::Bounds>| {
        let bounds = bounds.unwrap();
        (bounds.errors, bounds.checked)
    };
    assert_eq!(counts(found.left_out), (3, 56));
    assert_eq!(counts(found.as_errors), (7, 60));
    assert!(found.left_out.unwrap().most < found.as_errors.unwrap().most);
}

/// Every draw has the same chance to be picked: over 600 seeds, counts of 60 draws scatter as
/// chance lets them. The bound is the 99.99 % quantile of chi-square with 59 degrees of freedom,
/// 108.1 (SciPy); the seeds are fixed.
#[test]
fn no_draw_is_favoured() {
    let names: Vec<String> = (0..60).map(|number| format!("D-{number}")).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let (seeds, each) = (600, 15);
    let mut counts = vec![0_u32; names.len()];
    for seed in 0..seeds {
        for place in lowest(&format!("seed {seed}"), &names, each) {
            counts[place] += 1;
        }
    }
    let share = each as f64 / names.len() as f64;
    let (mean, variance) = (
        f64::from(seeds) * share,
        f64::from(seeds) * share * (1.0 - share),
    );
    let spread: f64 = counts
        .iter()
        .map(|count| (f64::from(*count) - mean).powi(2) / variance)
        .sum::<f64>()
        * (names.len() - 1) as f64
        / names.len() as f64;
    assert!(spread < 108.1, "{spread}");
}

/// A folder with an invented programme in `programme.db`.
fn invented() -> (Room, Programme) {
    let room = Room::with_sheets();
    let sheets = room.path("invented");
    let size = demo::Size {
        draws: 150,
        points: 24,
        technicians: 6,
        ..demo::Size::default()
    };
    demo::write(&sheets, &size, &Progress::default()).unwrap();
    let mut programme = Programme::open_or_create(&room.path("programme.db")).unwrap();
    let request = ImportRequest {
        sheets: vec![sheets],
        ..ImportRequest::default()
    };
    programme.import(&request, &Progress::default()).unwrap();
    (room, programme)
}

fn drawn(programme: &mut Programme, by: Option<Parted>, filter: &str) -> Pick {
    let assessed = programme.assess(&Progress::default()).unwrap();
    let request = PickRequest {
        plan: Plan::Fixed { draws: 13 },
        seed: "it's a $(seed) `of` \"ours\"".to_owned(),
        filter: Filter::parse(filter).unwrap(),
        by,
        at_least: 1,
    };
    let who = Who::named("Ada").unwrap();
    programme
        .draw_pick(&who, &request, &assessed, &Progress::default())
        .unwrap()
}

fn names(pick: &Pick) -> Vec<String> {
    pick.drawn
        .draws
        .iter()
        .map(|seen| seen.draw.clone())
        .collect()
}

/// The lines that `pick show` prints, run in a shell with the tools of every Unix.
#[cfg(unix)]
#[test]
fn the_printed_line_of_standard_tools_draws_the_pick_again() {
    let (room, mut programme) = invented();
    let filter = "-verdict:doubtful";
    for by in [
        None,
        Some(Parted::Crew),
        Some(Parted::Site),
        Some(Parted::Technician),
    ] {
        let pick = drawn(&mut programme, by, filter);
        let shown = room.run(&["pick", "show", &pick.drawn.pick.to_string()]);
        let lines: Vec<&str> = shown
            .stdout
            .lines()
            .filter(|line| line.starts_with("  fairdraw score"))
            .collect();
        assert!(!lines.is_empty(), "{}", shown.told());
        let program = std::path::Path::new(env!("CARGO_BIN_EXE_fairdraw"));
        let path = format!(
            "{}:{}",
            program.parent().unwrap().display(),
            std::env::var("PATH").unwrap_or_default()
        );
        let output = Command::new("sh")
            .args(["-c", &lines.join("\n")])
            .env("PATH", path)
            .current_dir(room.path(""))
            .output()
            .unwrap();
        let text = String::from_utf8(output.stdout).unwrap();
        let again: Vec<&str> = text
            .lines()
            .filter_map(|line| line.split(' ').nth(1))
            .collect();
        let errors = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(again, names(&pick), "{by:?}: {errors}");
    }
}

/// A script of another language that knows the printed rule alone, where there is one to run
/// it; the rule worked out once more here, in any case.
#[test]
fn a_script_that_knows_the_rule_alone_draws_the_pick_again() {
    let (room, mut programme) = invented();
    let pick = drawn(&mut programme, None, "");
    let scores = room.run(&["score", "--format", "json"]);
    let count = pick.drawn.draws.len();

    let scored = scores.json();
    let mut ranked: Vec<(String, String)> = scored
        .as_array()
        .unwrap()
        .iter()
        .map(|draw| {
            let identity = draw["draw_id"].as_str().unwrap();
            let hash = Sha256::digest(format!("{}:{identity}", pick.drawn.seed));
            let digits = hash.iter().map(|byte| format!("{byte:02x}")).collect();
            (digits, identity.to_owned())
        })
        .collect();
    ranked.sort();
    let again: Vec<String> = ranked
        .into_iter()
        .map(|(_, name)| name)
        .take(count)
        .collect();
    assert_eq!(again, names(&pick));

    let script = fixture("picks/redraw.py");
    let python = Command::new("python3")
        .arg(script)
        .args([&pick.drawn.seed, &count.to_string()])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn();
    let Ok(mut python) = python else {
        println!("no python3 here; the script was not run");
        return;
    };
    let mut input = python.stdin.take().unwrap();
    input.write_all(scores.stdout.as_bytes()).unwrap();
    drop(input);
    let output = python.wait_with_output().unwrap();
    assert!(output.status.success());
    let text = String::from_utf8(output.stdout).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    let (population, draws) = lines.split_last().unwrap();
    let again: Vec<&str> = draws
        .iter()
        .filter_map(|line| line.split(' ').nth(1))
        .collect();
    assert_eq!(again, names(&pick));
    assert_eq!(*population, pick.drawn.population_sha256);
}

#[test]
fn a_pick_in_parts_takes_from_each_in_proportion() {
    let (_room, mut programme) = invented();
    let pick = drawn(&mut programme, Some(Parted::Technician), "");
    let strata = &pick.drawn.strata;
    assert_eq!(strata.iter().map(|part| part.picked).sum::<u64>(), 13);
    assert!(strata.iter().all(|part| part.picked >= 1));
    let mut draws = pick.drawn.draws.iter();
    for part in strata {
        for seen in draws.by_ref().take(part.picked as usize) {
            assert_eq!(seen.technician, part.name);
        }
    }
    assert!(draws.next().is_none());
}

#[test]
fn a_population_that_changed_is_told() {
    let (room, mut programme) = invented();
    let pick = drawn(&mut programme, None, "");
    let show = || room.run(&["pick", "show", "1"]).stdout;
    assert!(show().contains("They are still the same."));
    let sheet = room.path("draws.csv");
    let first = &pick.drawn.draws[0];
    fs::write(
        &sheet,
        format!(
            "draw_id,point_id,technician_id,drawn_at\nmore,{},{},2026-03-04T09:30Z\n",
            first.point, first.technician
        ),
    )
    .unwrap();
    assert_eq!(room.run(&["import", "draws.csv"]).status, 0);
    let more = pick.drawn.population + 1;
    assert!(show().contains(&format!("not the same any more: {more} draws now")));
}

/// What is entered is what a spreadsheet of another country saves: semicolons, a byte order
/// mark, line ends of two characters, apostrophes that a sheet of ours put in front.
#[test]
fn sheets_of_results_are_taken_as_spreadsheets_save_them() {
    let (room, mut programme) = invented();
    let pick = drawn(&mut programme, None, "");
    let name = |place: usize| pick.drawn.draws[place].draw.clone();
    fs::write(
        room.path("found.csv"),
        format!(
            "\u{feff}note;RESULT;draw_id\r\n\"two\r\nlines\";agree;{}\r\n;;{}\r\n;unverified;'{}\r\n",
            name(0),
            name(1),
            name(2)
        ),
    )
    .unwrap();
    let sheet = programme
        .read_verification(1, &room.path("found.csv"))
        .unwrap();
    assert_eq!(sheet.problems, []);
    assert_eq!(sheet.blank, 1);
    let draws: Vec<&str> = sheet
        .results
        .iter()
        .map(|found| found.draw.as_str())
        .collect();
    assert_eq!(draws, [name(0), name(2)]);
    assert_eq!(sheet.results[0].note, "two  lines");
    fs::write(
        room.path("found.csv"),
        format!("draw_id\tresult\r\n{}\tagree\r\nnone\tagree\r\n", name(0)),
    )
    .unwrap();
    let sheet = programme
        .read_verification(1, &room.path("found.csv"))
        .unwrap();
    let lines: Vec<u64> = sheet.problems.iter().map(|problem| problem.line).collect();
    assert_eq!(lines, [3]);
    fs::write(room.path("found.csv"), b"draw_id,result\nM\xfcller,agree\n").unwrap();
    let refused = programme
        .read_verification(1, &room.path("found.csv"))
        .unwrap_err();
    assert!(refused.to_string().contains("is not UTF-8"), "{refused}");
}

#[test]
fn the_sheet_for_the_verifier_has_every_column_of_a_draw() {
    let columns = fairdraw::report::pick_rows::DRAWS;
    let names: Vec<&str> = columns.iter().map(|column| column.name).collect();
    let sheet = fairdraw::intake::columns::draw::COLUMNS;
    assert!(sheet.iter().all(|column| names.contains(&column.name)));
}

/// The trail recomputed as docs/trail.md says, in another language and here.
#[test]
fn the_trail_can_be_recomputed_without_us() {
    let (room, mut programme) = invented();
    drawn(&mut programme, Some(Parted::Crew), "");
    drawn(&mut programme, None, "");
    // The bytes as they are: paths of sheets stand in the trail.
    let output = command(&room.path(""), &["trail", "--format", "json"])
        .output()
        .unwrap();
    let trail = String::from_utf8(output.stdout).unwrap();
    room.write("trail.json", &trail);
    let links: Value = serde_json::from_str(&trail).unwrap();
    let mut before = "0".repeat(64);
    for (place, link) in links.as_array().unwrap().iter().enumerate() {
        let text = format!("{before}\n{}", link["canonical"].as_str().unwrap());
        let hash = Sha256::digest(text);
        before = hash.iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(link["hash"], before);
        let canonical = link["canonical"].as_str().unwrap();
        let what: Value = serde_json::from_str(canonical).unwrap();
        assert_eq!(what["number"], place + 1);
        assert!(only_whole_numbers(&what), "{canonical}");
    }
    let page = fs::read_to_string(crate::support::root().join("docs/trail.md")).unwrap();
    let script: String = page
        .lines()
        .skip_while(|line| !line.starts_with("    import hashlib"))
        .take_while(|line| line.starts_with("    "))
        .map(|line| format!("{}\n", &line[4..]))
        .collect();
    let mut python = Command::new("python3");
    match python
        .args(["-c", &script])
        .current_dir(room.path(""))
        .output()
    {
        Ok(output) => assert!(
            output.status.success(),
            "{}",
            String::from_utf8_lossy(&output.stderr)
        ),
        Err(_) => println!("no python3 here; the script was not run"),
    }
}

/// Numbers that two languages could spell differently never get into a decision.
fn only_whole_numbers(value: &Value) -> bool {
    match value {
        Value::Number(number) => number.is_i64() || number.is_u64(),
        Value::Array(items) => items.iter().all(only_whole_numbers),
        Value::Object(members) => members.values().all(only_whole_numbers),
        _ => true,
    }
}

//! Every screen names the command line that tells the same. Here each is run by a shell, on the
//! same programme file, and its figures are compared with those on screen.
#![cfg(unix)]

use std::path::Path;
use std::process::{Command, Stdio};

use serde_json::Value;

use super::desk::Desk;

/// The rows that the screen copies: headings and cells.
struct Copied(Vec<Vec<String>>);

impl Copied {
    fn column(&self, name: &str) -> usize {
        let found = self.0[0].iter().position(|it| it == name);
        found.unwrap_or_else(|| panic!("no {name} in {:?}", self.0[0]))
    }

    fn rows(&self) -> &[Vec<String>] {
        self.0.get(1..).unwrap_or_default()
    }
}

/// A desk whose list is copied and whose command line is run.
fn told(keys: &str) -> (Desk, Copied, String, Value) {
    let mut desk = Desk::on_file(120, 40);
    for key in keys.split_whitespace() {
        desk.keys(key);
    }
    desk.keys("y l Enter");
    let list = desk.copied.pop().unwrap_or_default();
    let lines = list.lines();
    let copied = Copied(
        lines
            .map(|line| line.split('\t').map(str::to_owned).collect())
            .collect(),
    );
    desk.keys("y o Enter");
    let line = desk.copied.pop().unwrap();
    let value = run(desk.folder(), &line, true);
    (desk, copied, line, value)
}

/// Runs a line as a shell does; what it prints as JSON, if it can.
fn run(folder: &Path, line: &str, json: bool) -> Value {
    let program = Path::new(env!("CARGO_BIN_EXE_fairdraw"));
    let path = format!("{}:/usr/bin:/bin", program.parent().unwrap().display());
    let mut typed = line.to_owned();
    if json && !line.contains("--format") {
        typed.push_str(" --format json");
    }
    let output = Command::new("sh")
        .args(["-c", &typed])
        .current_dir(folder)
        .env_clear()
        .env("PATH", path)
        .env("LOGNAME", "desk")
        .stdin(Stdio::null())
        .output()
        .unwrap();
    assert!(
        output.status.success(),
        "{typed}: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    serde_json::from_slice(&output.stdout).unwrap_or(Value::Null)
}

fn percent(part: &Value) -> String {
    match part.as_f64() {
        Some(part) => format!("{:.1} %", part * 100.0),
        None => String::new(),
    }
}

fn rows(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

/// Compares columns of the copied list with fields of the rows told, by the name in `key`.
fn same(copied: &Copied, told: &[Value], key: (&str, &str), columns: &[(&str, &str)]) {
    assert!(!copied.rows().is_empty());
    for row in copied.rows() {
        let name = &row[copied.column(key.0)];
        let told = told
            .iter()
            .find(|told| told[key.1].as_str() == Some(name))
            .unwrap_or_else(|| panic!("{name} is not told"));
        for (column, field) in columns {
            let shown = &row[copied.column(column)];
            let told = &told[*field];
            let is_same = match told {
                Value::Number(number) if shown.ends_with('%') => {
                    *shown == percent(told) || number.to_string() == *shown
                }
                Value::Number(number) => {
                    let decimals = shown.split_once('.').map_or(0, |(_, rest)| rest.len());
                    format!("{:.decimals$}", number.as_f64().unwrap()) == *shown
                }
                Value::String(words) => words == shown,
                Value::Null => shown.is_empty(),
                other => panic!("{other}"),
            };
            assert!(is_same, "{name}: {column} {shown}, {field} {told}");
        }
    }
}

const COUNTS: &[(&str, &str)] = &[
    ("draws", "draws"),
    ("judged", "judged"),
    ("unrepresentative", "unrepresentative"),
    ("share", "share"),
    ("from", "share_low"),
    ("to", "share_high"),
    ("least", "least"),
    ("most", "most"),
];

#[test]
fn the_share_and_its_verdicts() {
    let (desk, copied, line, told) = told("");
    assert_eq!(line, "fairdraw -p invented.db share");
    let all = &rows(&told)[0];
    for row in copied.rows() {
        assert_eq!(row[1], all[row[0].as_str()].to_string(), "{row:?}");
    }
    let text = desk.text(120, 40);
    assert!(
        text.contains(&format!("of {} judged", all["judged"])),
        "{text}"
    );
    let ends = ["share_low", "share_high"].map(|end| all[end].as_f64().unwrap() * 100.0);
    let interval = format!("({:.1}–{:.1} % at 95 %)", ends[0], ends[1]);
    assert!(text.contains(&interval), "{text}");
    assert!(text.contains(&format!("{} draws", all["draws"])), "{text}");
}

#[test]
fn the_rules_that_break_most() {
    let (_, copied, line, told) = told("Tab");
    assert_eq!(line, "fairdraw -p invented.db share --by rule");
    let columns = [
        ("applies", "draws"),
        ("broken", "unrepresentative"),
        ("unrecorded", "unproven"),
    ];
    same(&copied, rows(&told), ("rule", "key"), &columns);
}

#[test]
fn periods_of_every_length() {
    for (keys, words) in [
        ("t t t t", "trend"),
        ("t", "trend --every quarter"),
        ("t t", "trend --every year"),
        ("t t t", "trend --every week"),
    ] {
        let (_, copied, line, told) = told(keys);
        assert_eq!(line, format!("fairdraw -p invented.db {words}"));
        assert_eq!(copied.rows().len(), rows(&told).len());
        let columns = [("draws", "draws"), ("judged", "judged"), ("share", "share")];
        same(&copied, rows(&told), ("period", "period"), &columns);
    }
}

#[test]
fn what_a_programme_waits_for() {
    for (at, downs) in ["", "j", "j j", "j j j", "j j j j"].into_iter().enumerate() {
        let (_, copied, line, told) = told(&format!("Tab Tab Tab {downs}"));
        let words = if at == 0 { "resample" } else { "score --where" };
        assert!(line.contains(words), "{line}");
        let count = &copied.rows()[at][1];
        assert_eq!(*count, rows(&told).len().to_string(), "{line}");
    }
}

#[test]
fn draws_in_view() {
    for keys in [
        "2",
        "2 : type:technician:T003 Enter",
        "2 : type:crew:(blank) Enter",
        "2 s s s",
    ] {
        let (_, copied, line, told) = told(keys);
        assert!(line.starts_with("fairdraw -p invented.db score"), "{line}");
        assert_eq!(copied.rows().len(), rows(&told).len(), "{line}");
        if copied.rows().is_empty() {
            continue;
        }
        let columns = [
            ("verdict", "verdict"),
            ("point", "point_id"),
            ("technician", "technician_id"),
            ("bottle", "bottle_id"),
            ("score", "score"),
        ];
        same(&copied, rows(&told), ("draw", "draw_id"), &columns);
    }
}

#[test]
fn an_opened_draw_with_every_rule() {
    let (_, copied, line, told) = told("2 j j Enter");
    assert!(
        line.contains("score --format json --where 'point:")
            || line.contains("--where point:")
            || line.contains("--where 'point"),
        "{line}"
    );
    let outcomes = |draw: &Value| {
        copied.rows().iter().all(|row| {
            let told = &draw["rules"][row[0].as_str()];
            told["outcome"].as_str() == Some(&row[1])
                && told["seen"].as_str().unwrap_or_default() == row[2].trim_start_matches('\'')
                && told["wanted"].as_str().unwrap_or_default() == row[3].trim_start_matches('\'')
        })
    };
    assert!(rows(&told).iter().any(outcomes), "{line}: {told}");
}

#[test]
fn people_by_shares_and_told_apart() {
    let (_, copied, line, value) = told("3 v");
    assert_eq!(line, "fairdraw -p invented.db share --by technician");
    assert_eq!(copied.rows().len(), rows(&value).len());
    same(&copied, rows(&value), ("technician", "key"), COUNTS);
    let (_, copied, line, value) = told("3 c");
    assert_eq!(line, "fairdraw -p invented.db share --by crew");
    same(&copied, rows(&value), ("crew", "key"), COUNTS);
    told_apart("3", "technicians", "technician", "attribute");
    let adjusted = "attribute --adjust crew";
    told_apart("3 a j j j j Enter", "technicians", "technician", adjusted);
}

#[test]
fn points_by_shares_and_told_apart() {
    let (_, copied, line, value) = told("4 v");
    assert_eq!(line, "fairdraw -p invented.db share --by point");
    same(&copied, rows(&value), ("point", "key"), COUNTS);
    told_apart("4", "points", "point", "attribute");
    let adjusted = "attribute --adjust class,month";
    told_apart(
        "4 a j j j Space j j j Space Enter",
        "points",
        "point",
        adjusted,
    );
}

fn told_apart(keys: &str, side: &str, column: &str, words: &str) {
    let (_, copied, line, value) = told(keys);
    if line.contains("share") {
        // The model says nothing of so few; then shares are told, as on screen.
        let run = run_fails(&line.replace(&format!("share --by {column}"), words));
        assert!(run, "{line}");
        return;
    }
    assert_eq!(line, format!("fairdraw -p invented.db {words}"));
    let columns = [
        ("expected", "expected"),
        ("odds", "odds_ratio"),
        ("unrepresentative", "unrepresentative"),
    ];
    let told: Vec<Value> = rows(&value[side]).to_vec();
    let mut known = Copied(copied.0.clone());
    let expected = known.column("expected");
    let heading = known.0.remove(0);
    known.0.retain(|row| !row[expected].is_empty());
    known.0.insert(0, heading);
    assert_eq!(known.rows().len(), told.len());
    same(&known, &told, (column, "id"), &columns);
}

fn run_fails(line: &str) -> bool {
    let desk = Desk::on_file(80, 24);
    let program = Path::new(env!("CARGO_BIN_EXE_fairdraw"));
    let path = format!("{}:/usr/bin:/bin", program.parent().unwrap().display());
    let status = Command::new("sh")
        .args(["-c", line])
        .current_dir(desk.folder())
        .env_clear()
        .env("PATH", path)
        .stdin(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .unwrap();
    !status.success()
}

#[test]
fn topics_of_people_and_crews() {
    for (keys, words) in [("5", "topics"), ("5 c", "topics --by crew")] {
        let (_, copied, line, told) = told(keys);
        assert_eq!(line, format!("fairdraw -p invented.db {words}"));
        let key = if keys == "5" { "technician_id" } else { "crew" };
        let mut cells = 0;
        for (column, unit) in copied.0[0].iter().enumerate().skip(2) {
            for row in copied.rows().iter().filter(|row| !row[column].is_empty()) {
                let told = rows(&told).iter().find(|told| {
                    told[key].as_str() == Some(unit) && told["rule"].as_str() == Some(&row[0])
                });
                assert!(
                    told.is_some(),
                    "{unit}, {}: {}",
                    row[0],
                    rows(&told_or_empty(told)).len()
                );
                cells += 1;
            }
        }
        let regained = rows(&told).len();
        assert_eq!(cells, regained, "{line}");
    }
}

fn told_or_empty(told: Option<&Value>) -> Value {
    told.cloned().unwrap_or(Value::Null)
}

#[test]
fn lists_have_as_many_rows_as_are_told() {
    for (keys, words) in [
        ("5 Tab", "topics --by owner"),
        ("5 Tab Tab", "trainings"),
        ("7", "ledger"),
        ("7 Tab", "coverage"),
        ("7 Tab Tab", "doubts"),
        ("8", "resample"),
        ("8 t", "resample --strict"),
        ("6", "finding list"),
        ("6 Tab", "pick list"),
    ] {
        let (_, copied, line, told) = told(keys);
        assert_eq!(line, format!("fairdraw -p invented.db {words}"));
        let shown = copied.0.len().saturating_sub(1);
        assert_eq!(shown, rows(&told).len(), "{line}");
    }
}

#[test]
fn what_is_filled_in() {
    let (_, copied, _, told) = told("7 Tab");
    for row in copied.rows() {
        // Some columns stand in two sheets.
        let told = rows(&told).iter().find(|told| {
            told["column"].as_str() == Some(&row[0]) && told["sheet"].as_str() == Some(&row[1])
        });
        let told = told.unwrap_or_else(|| panic!("{row:?} is not told"));
        for (column, field) in [("asked for", "asked"), ("filled", "filled")] {
            assert_eq!(
                row[copied.column(column)],
                told[field].to_string(),
                "{row:?}"
            );
        }
    }
}

#[test]
fn what_to_sample_again() {
    let (_, copied, line, told) = told("8 : type:technician:T003 Enter");
    assert_eq!(
        line,
        "fairdraw -p invented.db resample --where technician:T003"
    );
    assert_eq!(copied.rows().len(), rows(&told).len());
    let columns = [("machine", "machine"), ("site", "site"), ("why", "because")];
    same(
        &copied,
        rows(&told),
        ("compartment", "compartment_id"),
        &columns,
    );
}

const RAISE: &str =
    "3 F type:Flushes_short Enter Enter type:flush-met Enter type:Bo_Tarn Enter Enter";

#[test]
fn a_finding_with_its_evidence_and_a_pick_with_its_draws() {
    let (_, copied, line, value) = told(&format!("{RAISE} 6 Enter"));
    assert_eq!(line, "fairdraw -p invented.db finding show 1");
    assert!(!copied.rows().is_empty());
    assert_eq!(copied.rows().len(), rows(&value["evidence"]).len());
    let (_, copied, line, value) = told("6 Tab n C-s Enter");
    assert_eq!(line, "fairdraw -p invented.db pick show 1");
    assert!(!copied.rows().is_empty());
    same(
        &copied,
        rows(&value["draws"]),
        ("draw", "draw_id"),
        &[("point", "point_id"), ("technician", "technician_id")],
    );
    let (_, copied, line, value) = told("7 Enter");
    assert_eq!(line, "fairdraw -p invented.db ledger show 1");
    assert!(!rows(&value).is_empty() || value.is_object(), "{value}");
    drop(copied);
}

#[test]
fn the_filter_is_quoted_for_the_shell() {
    let mut desk = Desk::on_file(120, 40);
    desk.keys("2 : type:site:\"it's_$HOME_`x`\" Enter y o Enter");
    let line = desk.copied.pop().unwrap();
    assert_eq!(
        line,
        "fairdraw -p invented.db score --where 'site:\"it'\\''s $HOME `x`\"'"
    );
    assert!(rows(&run(desk.folder(), &line, true)).is_empty());
}

/// Taking a table in: the line is run as it stands.
#[test]
fn a_table_that_is_looked_at() {
    let mut desk = Desk::new(120, 40);
    for key in "7 i type:draws Enter".split(' ') {
        desk.keys(key);
    }
    desk.keys("y o Enter");
    let line = desk.copied.pop().unwrap();
    assert!(
        line.ends_with("import tests/fixtures/to-take-in/draws.csv --dry-run"),
        "{line}"
    );
}

#[test]
fn the_share_of_a_rule_is_that_of_the_command_line() {
    let mut desk = Desk::on_file(200, 60);
    let text = desk.text(200, 60);
    let told = run(
        desk.folder(),
        "fairdraw -p invented.db share --by rule",
        true,
    );
    let mut compared = 0;
    for row in rows(&told) {
        let (rule, share) = (row["key"].as_str(), row["share"].as_f64());
        let (Some(rule), Some(share)) = (rule, share) else {
            continue;
        };
        let shown = text
            .lines()
            .find(|line| line.contains(&format!("  {rule} ")));
        let Some(shown) = shown.and_then(|line| line.split_once(rule)) else {
            continue;
        };
        let part = shown.1.split_once(" %").map(|(before, _)| before);
        let part = part.and_then(|before| before.split_whitespace().next_back());
        assert_eq!(
            part,
            Some(format!("{:.0}", share * 100.0).as_str()),
            "{rule}"
        );
        compared += 1;
    }
    assert!(compared > 8, "{compared}");
    desk.keys("q");
}

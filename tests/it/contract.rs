//! The scoring contract, judged twice: the program against a second implementation.
//!
//! The sheets under `tests/fixtures/contract/*/` stand on the boundaries of every rule; the
//! expected tables beside them were written by `second_judge.py`, which was made from the
//! contract's text alone, in another language (see the README there). What differs is a
//! misreading on one side or the other, never a snapshot to accept.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;
use tempfile::TempDir;

use crate::support::fixture;

/// A row of a table, by column.
type Row = BTreeMap<String, String>;

/// Sheets taken into a programme of their own, which goes when the test ends.
struct Taken {
    folder: PathBuf,
    work: TempDir,
}

impl Taken {
    fn sheets(name: &str, zone: &str) -> Self {
        let taken = Taken {
            folder: fixture("contract").join(name),
            work: TempDir::new().unwrap(),
        };
        let sheets = taken.folder.to_str().unwrap();
        taken.run(&["import", sheets, "--zone", zone]);
        taken
    }

    /// Runs the program on the programme and returns what it printed.
    fn run(&self, arguments: &[&str]) -> String {
        let done = Command::new(env!("CARGO_BIN_EXE_fairdraw"))
            .arg("--programme")
            .arg(self.work.path().join("contract.db"))
            .args(arguments)
            .output()
            .unwrap();
        // 0 done, 1 done with refusals or findings.
        assert!(
            matches!(done.status.code(), Some(0 | 1)),
            "{arguments:?}: {}",
            String::from_utf8_lossy(&done.stderr)
        );
        String::from_utf8(done.stdout).unwrap()
    }

    fn json(&self, arguments: &[&str]) -> Vec<Value> {
        let mut all = arguments.to_vec();
        all.extend(["--format", "json"]);
        serde_json::from_str(&self.run(&all)).unwrap()
    }

    fn expected(&self, table: &str) -> Vec<Row> {
        rows(&self.folder.join(table))
    }
}

fn rows(path: &Path) -> Vec<Row> {
    csv::Reader::from_path(path)
        .unwrap()
        .deserialize()
        .map(Result::unwrap)
        .collect()
}

/// Every folder of sheets, and the zone its local times were written in.
const PROGRAMMES: [(&str, &str); 3] = [
    ("inland", "UTC"),
    ("coast", "Europe/Paris"),
    ("island", "Australia/Lord_Howe"),
];

#[test]
fn every_line_of_score_agrees_with_the_second_judge() {
    for (name, zone) in PROGRAMMES {
        let taken = Taken::sheets(name, zone);
        let printed = without_formula_guard(&taken.run(&["score", "--format", "csv"]));
        let expected = std::fs::read_to_string(taken.folder.join("score.csv")).unwrap();
        let (printed, expected): (Vec<&str>, Vec<&str>) =
            (printed.lines().collect(), expected.lines().collect());
        assert!(
            expected.len() > 100,
            "{name}: too few draws to say anything"
        );
        for (line, (seen, wanted)) in printed.iter().zip(&expected).enumerate() {
            assert_eq!(seen, wanted, "{name}: line {}", line + 1);
        }
        assert_eq!(printed.len(), expected.len(), "{name}: number of draws");
    }
}

/// An identity without a bottle begins with `@`, and the program keeps spreadsheets from
/// taking such a cell as a formula by an apostrophe that is no part of the identity.
fn without_formula_guard(table: &str) -> String {
    let lines: Vec<&str> = table
        .lines()
        .map(|line| line.strip_prefix("'@").map_or(line, |_| &line[1..]))
        .collect();
    lines.join("\n")
}

#[test]
fn every_outcome_agrees_with_the_second_judge() {
    for (name, zone) in PROGRAMMES {
        let taken = Taken::sheets(name, zone);
        let scored = taken.json(&["score"]);
        let expected = taken.expected("outcomes.csv");
        assert_eq!(scored.len(), expected.len(), "{name}: number of draws");
        for (draw, wanted) in scored.iter().zip(&expected) {
            let rules = draw["rules"].as_object().unwrap();
            assert_eq!(rules.len(), wanted.len() - 1, "{name}: number of rules");
            for (rule, answer) in rules {
                let outcome = answer["outcome"].as_str().unwrap();
                let wanted_outcome = match wanted[rule].as_str() {
                    "" => "not applicable",
                    other => other,
                };
                assert_eq!(
                    outcome, wanted_outcome,
                    "{name}: {rule} of {}",
                    wanted["identity"]
                );
            }
        }
    }
}

/// Where something was refused: sheet, line and column.
type Place = (String, u64, String);

fn place(row: &Row) -> Place {
    // The program names sheets as they were given, the second judge by file.
    let sheet = Path::new(&row["sheet"]).file_name().unwrap();
    let line = row["line"].parse().unwrap();
    (
        sheet.to_string_lossy().into_owned(),
        line,
        row["column"].clone(),
    )
}

#[test]
fn every_refusal_agrees_with_the_second_judge() {
    for (name, zone) in PROGRAMMES {
        let taken = Taken::sheets(name, zone);
        let sorted = |rows: &[Row]| {
            let mut places: Vec<Place> = rows.iter().map(place).collect();
            places.sort();
            places
        };
        let refused = sorted(&rows(&rejects_file(taken.work.path())));
        let expected = sorted(&taken.expected("refused.csv"));
        assert!(expected.len() > 50, "{name}: too few to say anything");
        let only = |these: &[Place], those: &[Place]| -> Vec<Place> {
            let missing = these.iter().filter(|place| !those.contains(place));
            missing.cloned().collect()
        };
        assert_eq!(
            only(&refused, &expected),
            [],
            "{name}: only refused by the program"
        );
        assert_eq!(
            only(&expected, &refused),
            [],
            "{name}: only refused by the second judge"
        );
        assert_eq!(refused, expected, "{name}: a place named twice");
    }
}

/// The rejects sheet that import leaves beside the programme.
fn rejects_file(work: &Path) -> PathBuf {
    std::fs::read_dir(work)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .find(|path| path.to_string_lossy().ends_with("rejects.csv"))
        .unwrap()
}

#[test]
fn every_share_agrees_with_the_second_judge() {
    for (name, zone) in PROGRAMMES {
        let taken = Taken::sheets(name, zone);
        let mut expected: BTreeMap<String, Vec<Row>> = BTreeMap::new();
        for row in taken.expected("share.csv") {
            expected.entry(row["by"].clone()).or_default().push(row);
        }
        assert_eq!(expected.len(), 13, "all draws together and twelve keys");
        for (by, groups) in expected {
            let printed = if by.is_empty() {
                taken.json(&["share"])
            } else {
                taken.json(&["share", "--by", &by])
            };
            assert_eq!(printed.len(), groups.len(), "{name}: groups by {by}");
            for wanted in &groups {
                let place = format!("{name}: {by} {}", wanted["key"]);
                let same_key =
                    |seen: &&Value| by.is_empty() || seen["key"] == wanted["key"].as_str();
                let seen = printed.iter().find(same_key).expect(&place);
                assert_share(seen, wanted, &place);
            }
        }
    }
}

fn assert_share(seen: &Value, wanted: &Row, place: &str) {
    for column in [
        "draws",
        "judged",
        "unrepresentative",
        "doubtful",
        "representative",
        "unproven",
    ] {
        // The contract does not say what doubtful and representative are of a rule.
        if !wanted[column].is_empty() {
            let count = seen[column].as_u64().map(|count| count.to_string());
            assert_eq!(count.as_ref(), Some(&wanted[column]), "{place}: {column}");
        }
    }
    for column in ["share", "share_low", "share_high", "least", "most"] {
        match (seen[column].as_f64(), wanted[column].parse::<f64>().ok()) {
            (None, None) => {}
            (Some(seen), Some(wanted)) if (seen - wanted).abs() <= 1e-9 => {}
            (seen, wanted) => panic!("{place}: {column} is {seen:?}, not {wanted:?}"),
        }
    }
}

//! Reading the reference files.

use std::path::{Path, PathBuf};

use serde_json::Value;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/reference")
}

/// A reference file.
pub fn json(name: &str) -> Value {
    let text = std::fs::read_to_string(folder().join(name)).unwrap();
    serde_json::from_str(&text).unwrap()
}

/// The cases of a reference file, of one kind if given.
pub fn cases(name: &str, kind: Option<&str>) -> Vec<Value> {
    let file = json(name);
    let cases = file["cases"].as_array().unwrap();
    let wanted = |case: &&Value| kind.is_none_or(|kind| case["kind"] == kind);
    let found: Vec<Value> = cases.iter().filter(wanted).cloned().collect();
    assert!(!found.is_empty(), "{name} has no case of {kind:?}");
    found
}

/// A data file by columns of text. Three files stay outside the project: copies of
/// public repositories whose terms don't let them be passed on here. They are read from
/// the folder in `FAIRDRAW_REFERENCE`, else `../shared/reference`; without them the
/// test says that it is skipped, unless `FAIRDRAW_REFERENCE_REQUIRED` is 1.
pub fn table(name: &str) -> Option<Table> {
    let inside = folder().join(name);
    let outside = std::env::var_os("FAIRDRAW_REFERENCE").map_or_else(
        || Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared/reference"),
        PathBuf::from,
    );
    let path = [inside, outside.join(name)]
        .into_iter()
        .find(|path| path.is_file());
    let Some(path) = path else {
        let required = std::env::var("FAIRDRAW_REFERENCE_REQUIRED").is_ok_and(|v| v == "1");
        assert!(
            !required,
            "{name} is required and not in {}",
            outside.display()
        );
        println!("skipped: {name} is not in {}", outside.display());
        return None;
    };
    let text = std::fs::read_to_string(path).unwrap();
    let split = |line: &str| line.split(',').map(str::to_owned).collect::<Vec<_>>();
    let mut lines = text.lines().map(split);
    let header = lines.next().unwrap();
    Some(Table {
        header,
        rows: lines.collect(),
    })
}

/// A data file in memory.
pub struct Table {
    pub header: Vec<String>,
    pub rows: Vec<Vec<String>>,
}

impl Table {
    pub fn texts(&self, column: &str) -> Vec<&str> {
        let at = self.header.iter().position(|name| name == column).unwrap();
        self.rows.iter().map(|row| row[at].as_str()).collect()
    }

    pub fn counts(&self, column: &str) -> Vec<u64> {
        let parse = |text: &str| text.parse().unwrap();
        self.texts(column).into_iter().map(parse).collect()
    }

    pub fn pairs(&self, events: &str, trials: &str) -> Vec<(u64, u64)> {
        self.counts(events)
            .into_iter()
            .zip(self.counts(trials))
            .collect()
    }
}

/// A number; the word "Infinity" stands for itself.
pub fn number(value: &Value) -> f64 {
    match value.as_str() {
        Some("Infinity") => f64::INFINITY,
        _ => value
            .as_f64()
            .unwrap_or_else(|| panic!("no number: {value}")),
    }
}

pub fn whole(value: &Value) -> u64 {
    value
        .as_u64()
        .unwrap_or_else(|| panic!("no whole number: {value}"))
}

pub fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().unwrap().iter().map(number).collect()
}

pub fn wholes(value: &Value) -> Vec<u64> {
    value.as_array().unwrap().iter().map(whole).collect()
}

#[track_caller]
pub fn near(found: f64, expected: &Value, tolerance: f64, what: &str) {
    let expected = number(expected);
    let off = (found - expected).abs();
    assert!(
        found == expected || off <= tolerance,
        "{what}: {found} should be {expected}, off by {off:e}"
    );
}

#[track_caller]
pub fn near_relative(found: f64, expected: &Value, tolerance: f64, what: &str) {
    near(found, expected, tolerance * number(expected).abs(), what);
}

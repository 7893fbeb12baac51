//! The key test of maps: sheets as five plants keep them become one and the same programme.

use std::path::PathBuf;

use fairdraw::model::Progress;
use fairdraw::programme::maps::ColumnMap;
use fairdraw::programme::{ImportReport, ImportRequest, Programme};

use crate::support::fixture;

pub(super) fn sheets(paths: &[&str]) -> Vec<PathBuf> {
    paths
        .iter()
        .map(|path| fixture("mapped").join(path))
        .collect()
}

/// Takes sheets in and gives what the programme then holds: every record in order, every
/// verdict.
fn taken(paths: &[&str], map: Option<ColumnMap>) -> (ImportReport, String) {
    let map = map.map(std::sync::Arc::new);
    let mut programme = Programme::in_memory().unwrap();
    let request = ImportRequest {
        sheets: sheets(paths),
        map,
        ..ImportRequest::default()
    };
    let progress = Progress::default();
    let report = programme.import(&request, &progress).unwrap();
    let assessed = programme.assess(&progress).unwrap();
    let mut held = String::new();
    for mut record in programme.records(&assessed.judged.record).unwrap() {
        record.kept_aside.clear();
        held.push_str(&format!("{record:?}\n"));
    }
    held.push_str(&format!(
        "{:?}\n{:?}\n{:?}\n",
        assessed.judged.verdict, assessed.judged.broken, assessed.judged.unrecorded
    ));
    (report, held)
}

const CANONICAL: [&str; 1] = ["canonical"];

/// Reads the sheets by the map that stands beside them.
#[track_caller]
fn assert_same(paths: &[&str], map: &str) {
    let bytes = std::fs::read(fixture("mapped").join(map)).unwrap();
    let map = ColumnMap::from_bytes(&bytes, map).unwrap_or_else(|problems| {
        panic!("{problems:#?}");
    });
    assert_same_by(paths, map);
}

/// The sheets read by this map are the same programme as the canonical ones.
#[track_caller]
pub(super) fn assert_same_by(paths: &[&str], map: ColumnMap) {
    let (_, canonical) = taken(&CANONICAL, None);
    let (report, mapped) = taken(paths, Some(map));
    assert_eq!(report.first_refusals, []);
    let differing = canonical
        .lines()
        .zip(mapped.lines())
        .find(|(one, other)| one != other);
    assert_eq!(differing, None);
    assert_eq!(canonical.len(), mapped.len());
    assert!(canonical.lines().count() > 200);
}

#[test]
fn a_german_export_is_the_same_programme() {
    assert_same(&["german"], "german/columns.yaml");
}

#[test]
fn an_american_log_is_the_same_programme() {
    let people = ["canonical/technicians.csv", "canonical/trainings.csv"];
    assert_same(&["american", people[0], people[1]], "american/columns.yaml");
}

#[test]
fn a_french_table_is_the_same_programme() {
    let lists = [
        "canonical/points.csv",
        "canonical/technicians.csv",
        "canonical/trainings.csv",
        "french/prelevements.tsv",
    ];
    assert_same(&lists, "french/columns.yaml");
}

#[test]
fn a_sheet_of_ticks_is_the_same_programme() {
    let lists = [
        "canonical/points.csv",
        "canonical/technicians.csv",
        "canonical/trainings.csv",
        "ticks/round sheet.csv",
    ];
    assert_same(&lists, "ticks/columns.yaml");
}

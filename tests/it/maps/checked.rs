//! Maps: what is understood, what is said about mistakes, what changes the fingerprint.

use std::path::Path;

use fairdraw::intake::{ColumnMap, SheetKind};
use proptest::prelude::*;

use crate::support::{assert_snapshot, root};

/// What is said about this text, one line a problem.
fn said(text: &str) -> String {
    match ColumnMap::from_yaml(text, "map.yaml") {
        Ok(_) => "understood".to_owned(),
        Err(problems) => {
            let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
            lines.join("\n")
        }
    }
}

fn with_columns(rest: &str) -> String {
    format!(
        "fairdraw_columns: 1\nname: Test\nrevision: A\nsheets:\n  - kind: draws\n    columns:\n{rest}"
    )
}

const WHOLE: &str = r#"
fairdraw_columns: 1
name: Harbour works
revision: "3"
sheets:
  - kind: draws
    files: ["Log*.csv", "*.xlsx"]
    sheet: Draws 2026
    header_row: 3
    only_named: true
    zone: Europe/Berlin
    zones: {column: Site, of: {Harbour: Europe/Berlin, Island: Atlantic/Canary}}
    decimal: comma
    thousands: point
    dates: [DD.MM.YYYY HH:mm, "%Y-%m-%d %H:%M", serial 1900]
    pivot: 70
    yes: [ja, x, "✓"]
    no: [nein]
    blank: ["n/a", "-"]
    skip:
      - {column: Datum, begins: [Summe]}
      - {column: {letter: B}, blank: true}
    columns:
      drawn_at: {from: [Datum, {name: Zeit, if_blank: "12:00"}], dates: [DD.MM.YY HH:mm]}
      point_id: Stelle
      technician_id: {from: {number: 4}, split: " / ", part: 2, words: {Ka: T-1}}
      oil_temp_c: {from: Temp, unit: °F, if_blank: "80"}
      flushed_ml: {from: Spülen, unit: fl oz (US), unit_in_cell: true, decimal: point, thousands: none}
      looks: {from: Aussehen, split: "/", words: {klar: clear, trüb: cloudy, "?": blank}, otherwise: refuse}
      fill_no: {always: "1"}
"#;

#[test]
fn a_map_that_uses_everything_is_understood() {
    let map = ColumnMap::from_yaml(WHOLE, "map.yaml").unwrap();
    assert_eq!(
        (map.name.as_str(), map.revision.as_str()),
        ("Harbour works", "3")
    );
    let sheet = &map.sheets[0];
    assert_eq!(sheet.kind, SheetKind::Draws);
    assert_eq!(sheet.columns.len(), 7);
    assert_eq!(map.fingerprint().len(), 64);
    let entries = |file| map.entries_for(Path::new(file), None).len();
    assert_eq!(entries("in/log 2026.csv"), 1);
    assert_eq!(entries("in/history.XLSX"), 1);
    assert_eq!(entries("in/other.csv"), 0);
}

#[test]
fn mistakes_are_told_all_at_once_with_their_places() {
    let text = r#"fairdraw_columns: 2
name: ""
sheets:
  - kind: drawings
  - kind: draws
    zone: Europe/Pari
    decimal: comma
    thousands: comma
    dates: [DD/MM/YYYY, MM/DD/YYYY, DD.MM.YY, dd.MM.YYYY]
    yes: [x]
    no: [X]
    skip:
      - {column: Datum}
      - {column: Datum, is: [Summe], blank: true}
    columns:
      dawn_at: Datum
      drawn_at: {from: Datum, dates: ask}
      point_id: {split: "/"}
      oil_temp_c: {from: Temp, unit: psi}
      flushed_ml: {from: Menge, unit: fl oz}
      topped_up_l: {from: Top, unit: galons}
      tube_mark_cm: {from: Mark, unit: ask}
      method: {from: Art, words: {Hahn: line-vale, Pumpe: ask}}
      fluid: {from: Öl, unit: mm}
      bottle_id: {from: B, split: "-"}
      set_id: {from: {letter: 7}, part: 2}
      tube_new: {from: {name: N, letter: C}, if_blank: maybe}
      remarks: {from: []}
      purge_stage: ask
      fluid: Again
"#;
    assert_snapshot("maps", "many_mistakes", &said(text));
}

#[test]
fn what_is_no_map_is_said_at_the_top() {
    assert_eq!(
        said(""),
        "map.yaml:1:1: the file is empty; a column map begins with fairdraw_columns: 1"
    );
    assert!(said("- 1").contains("a column map is a map of keys and values, not a list"));
    assert!(said("name: [").contains(": this is not YAML"));
}

#[test]
fn the_maps_of_the_page_are_maps() {
    let page = std::fs::read_to_string(root().join("docs/column-maps.md")).unwrap();
    let blocks: Vec<&str> = page.split("```yaml\n").skip(1).collect();
    let whole = blocks[0].split("```").next().unwrap();
    assert_eq!(said(whole), "understood");
    let zones = blocks[1].split("```").next().unwrap();
    assert_eq!(said(&format!("{whole}{zones}")), "understood");
    let asked = blocks[2].split("```").next().unwrap();
    let text = whole.replace("    dates: [DD.MM.YYYY HH:mm]", asked.trim_end());
    assert!(
        said(&text).contains("waits for your answer"),
        "{}",
        said(&text)
    );
}

#[test]
fn an_unanswered_question_is_refused_wherever_it_stands() {
    for line in [
        "drawn_at: {from: D, dates: ask}",
        "oil_temp_c: {from: T, unit: ask}",
        "tube_new: {from: T, words: {so-so: ask}}",
        "method: ask",
        "flushed_ml: {from: F, decimal: ask}",
        "drawn_at: {from: D, pivot: ask}",
        "tube_new: {from: D, yes: ask}",
    ] {
        let said = said(&with_columns(&format!("      {line}\n")));
        assert!(said.contains("waits for your answer"), "{line}: {said}");
        assert!(said.starts_with("map.yaml:7:"), "{line}: {said}");
    }
}

#[test]
fn the_fingerprint_follows_what_is_read_and_nothing_else() {
    let print = |text: &str| {
        let map = ColumnMap::from_yaml(text, "map.yaml").unwrap();
        map.fingerprint().to_owned()
    };
    let whole = print(WHOLE);
    let same = WHOLE
        .replace("Harbour works", "Other")
        .replace("\"3\"", "\"4\"")
        .replace("point_id: Stelle", "point_id: Stelle # a comment");
    assert_eq!(print(&same), whole);
    for (from, to) in [
        ("Stelle", "Punkt"),
        ("comma", "point\n    thousands: none\n    # "),
        ("°F", "K"),
        ("\"80\"", "\"81\""),
        ("part: 2", "part: 1"),
        ("klar: clear", "klar: cloudy"),
        ("only_named: true", "only_named: false"),
        ("Atlantic/Canary", "Atlantic/Madeira"),
        ("pivot: 70", "pivot: 71"),
        ("[Summe]", "[Summen]"),
        ("header_row: 3", "header_row: 4"),
    ] {
        let changed = WHOLE.replacen(from, to, 1);
        let changed = if from == "comma" {
            changed.replace("    thousands: point\n", "")
        } else {
            changed
        };
        assert_ne!(print(&changed), whole, "{from}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(512))]

    #[test]
    fn no_text_makes_the_checker_panic(text in "(?s).{0,400}") {
        let _ = ColumnMap::from_yaml(&text, "map.yaml");
    }

    #[test]
    fn no_change_of_a_map_makes_the_checker_panic(
        cuts in prop::collection::vec((any::<prop::sample::Index>(), any::<prop::sample::Index>(), ".{0,6}"), 1..6)
    ) {
        let mut chars: Vec<char> = WHOLE.chars().collect();
        for (at, length, put) in cuts {
            let at = at.index(chars.len().max(1)).min(chars.len());
            let end = (at + length.index(12)).min(chars.len());
            chars.splice(at..end, put.chars());
        }
        let text: String = chars.into_iter().collect();
        if let Err(problems) = ColumnMap::from_yaml(&text, "map.yaml") {
            prop_assert!(!problems.is_empty());
            // For YAML a lone carriage return ends a line too.
            let lines = text.matches(['\n', '\r']).count() + 1;
            for problem in problems {
                prop_assert!((1..=lines + 1).contains(&(problem.line as usize)), "{problem}");
            }
        }
    }
}

//! Sheets looked at before they are taken in.

use std::fs;
use std::sync::Arc;

use fairdraw::model::Progress;
use fairdraw::programme::maps::ColumnMap;
use fairdraw::programme::{Error, ImportRequest, Programme, SheetPreview};
use proptest::prelude::*;
use tempfile::TempDir;

use super::sheets::sheets;

fn request(paths: &[&str], map: &str) -> ImportRequest {
    let bytes = fs::read(crate::support::fixture("mapped").join(map)).unwrap();
    ImportRequest {
        sheets: sheets(paths),
        map: Some(Arc::new(ColumnMap::from_bytes(&bytes, map).unwrap())),
        ..ImportRequest::default()
    }
}

fn of_draws(previews: &[SheetPreview]) -> &SheetPreview {
    previews.last().unwrap()
}

#[test]
fn a_preview_shows_ten_rows_as_they_would_be_stored_and_stores_nothing() {
    let programme = Programme::in_memory().unwrap();
    let request = request(&["german"], "german/columns.yaml");
    let previews = programme.preview(&request, &Progress::default()).unwrap();
    let draws = of_draws(&previews);
    assert_eq!(
        (draws.looked_at, draws.taken, draws.rows.len()),
        (204, 204, 10)
    );
    assert_eq!(
        (draws.refused_rows, draws.refused_values, draws.is_whole),
        (0, 0, true)
    );
    assert_eq!(draws.header[4], "Probenahme am");
    let place = |name: &str| {
        draws
            .columns
            .iter()
            .position(|column| column.ours == name)
            .unwrap()
    };
    let column = &draws.columns[place("flushed_ml")];
    assert_eq!(
        (column.theirs.as_str(), column.unit),
        ("Spülmenge (l)", "mL")
    );
    // The same rows as the canonical sheet has them.
    let canonical =
        fs::read_to_string(crate::support::fixture("mapped/canonical/draws.csv")).unwrap();
    let names: Vec<&str> = canonical.lines().next().unwrap().split(',').collect();
    for (row, line) in draws.rows.iter().zip(canonical.lines().skip(1)) {
        let cells: Vec<&str> = line.split(',').collect();
        for name in [
            "draw_id",
            "method",
            "stopped_min",
            "oil_temp_c",
            "machine_hours",
            "flushed_ml",
            "looks",
            "tube_new",
        ] {
            let wanted = cells[names.iter().position(|one| *one == name).unwrap()];
            assert_eq!(row.cells[place(name)], wanted, "{name} of {line}");
        }
        let utc = cells[4].replace("+00:00", ":00Z");
        assert_eq!(row.cells[place("drawn_at")], utc);
    }
    assert!(programme.imports().unwrap().is_empty());
    assert!(programme.propose(&request, &Progress::default()).is_ok());
}

#[test]
fn a_preview_shows_what_would_be_refused() {
    let programme = Programme::in_memory().unwrap();
    // Without points and technicians every draw is refused.
    let request = request(&["german/Probenahmen.csv"], "german/columns.yaml");
    let previews = programme.preview(&request, &Progress::default()).unwrap();
    let draws = of_draws(&previews);
    assert_eq!(
        (draws.taken, draws.refused_rows, draws.rows.len()),
        (0, 204, 0)
    );
    assert_eq!(draws.refusals.len(), 20);
    assert_eq!(draws.refusals[0].column, "Messstelle");
    assert!(
        draws.refusals[0]
            .reason
            .starts_with("no such point is known (for point_id)")
    );
}

#[test]
fn a_preview_and_a_proposal_can_be_stopped() {
    let programme = Programme::in_memory().unwrap();
    let request = request(&["german"], "german/columns.yaml");
    let progress = Progress::default();
    progress.stop();
    assert!(matches!(
        programme.preview(&request, &progress),
        Err(Error::Stopped)
    ));
    assert!(matches!(
        programme.propose(&request, &progress),
        Err(Error::Stopped)
    ));
}

const MAP: &str = r#"fairdraw_columns: 1
name: T
revision: A
sheets:
  - kind: draws
    zones: {column: S, of: {N: Europe/Paris}}
    decimal: comma
    thousands: point
    dates: [DD.MM.YY HH:mm, "D MMM YYYY h:mm A", serial 1900, YYYYMMDDHHmmss]
    pivot: 70
    blank: ["-"]
    skip: [{column: A, begins: [sum]}]
    columns:
      point_id: {from: A, split: /, part: 2}
      technician_id: {from: [A, B], join: ""}
      drawn_at: {from: [C, {name: D, if_blank: "9:00"}]}
      oil_temp_c: {from: E, unit: °F, unit_in_cell: true}
      looks: {from: F, split: /, words: {x: clear}}
      tube_new: {from: G, yes: [x]}
"#;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// Whatever stands in the cells, a row is taken or refused by the columns of its sheet.
    #[test]
    fn no_cell_makes_a_map_panic(
        cells in prop::collection::vec(
            prop_oneof!["[^\"\\x00]{0,12}", "[0-9.,:/ -]{0,14}", "(31|4)[.]0?2[.]26", "[0-9]{1,7}([.][0-9]{1,4})?", "-?[0-9]{1,3} ?(°F|K|mL|oz)"],
            8..64,
        )
    ) {
        let folder = TempDir::new().unwrap();
        let mut text = "A,B,C,D,E,F,G,S\n".to_owned();
        for row in cells.chunks(8) {
            let quoted: Vec<String> = row.iter().map(|cell| format!("\"{cell}\"")).collect();
            text.push_str(&(quoted.join(",") + "\n"));
        }
        let path = folder.path().join("draws.csv");
        fs::write(&path, text).unwrap();
        let request = ImportRequest {
            sheets: vec![path],
            map: Some(Arc::new(ColumnMap::from_yaml(MAP, "map.yaml").unwrap())),
            ..ImportRequest::default()
        };
        let programme = Programme::in_memory().unwrap();
        for preview in programme.preview(&request, &Progress::default()).unwrap() {
            for refusal in preview.refusals {
                let known = ["A", "A + B", "C + D", "E", "F", "G", ""];
                prop_assert!(known.contains(&refusal.column.as_str()), "{refusal:?}");
            }
        }
    }
}

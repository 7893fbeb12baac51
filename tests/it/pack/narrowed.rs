//! A pack narrowed by a filter.

use fairdraw::analysis::Filter;

use super::made::{Desk, json, text};

#[test]
fn a_filter_narrows_draws_findings_and_results_and_is_told() {
    let desk = Desk::with_demo();
    desk.export("whole");
    let whole = desk.pack("whole");
    let all = json(&whole, "pack.json")["draws"].as_u64().unwrap();
    let methods = json(&whole, "tables/share_by_method.json");
    let draws_of = |row: &serde_json::Value| row["draws"].as_u64().unwrap();
    let most = methods
        .as_array()
        .unwrap()
        .iter()
        .max_by_key(|row| draws_of(row))
        .unwrap();
    let draws = draws_of(most);
    assert!(draws < all);
    let filter = format!("method:{}", most["key"].as_str().unwrap());
    let mut request = desk.request("some");
    request.filter = Filter::parse(&filter).unwrap();
    let report = desk.export_as(&request);
    assert_eq!(report.draws, draws);
    let some = desk.pack("some");
    let about = json(&some, "pack.json");
    assert_eq!(about["where"], request.filter.to_string());
    assert_eq!(
        (&about["draws"], &about["draws_in_all"]),
        (&draws.into(), &all.into())
    );
    let ids = |name: &str| -> Vec<String> {
        let rows = json(&some, &format!("tables/{name}.json"));
        let rows = rows.as_array().unwrap().iter();
        rows.map(|row| row["draw_id"].as_str().unwrap().to_owned())
            .collect()
    };
    let inside = ids("draws");
    assert_eq!(inside.len() as u64, draws);
    for table in ["findings_evidence", "set_asides", "resamples"] {
        for id in ids(table) {
            assert!(inside.contains(&id), "{table}: {id}");
        }
    }
    let html = text(&some, "report.html")
        .replace("&quot;", "\"")
        .replace("&#34;", "\"");
    assert!(html.contains(&request.filter.to_string()));
    // The rulebook, the imports and the trail are whole.
    assert_eq!(
        json(&some, "tables/imports.json").as_array().unwrap().len(),
        1
    );
    assert!(text(&some, "trail/trail.jsonl").starts_with(text(&whole, "trail/trail.jsonl")));
}

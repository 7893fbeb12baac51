//! People in an anonymous pack: nowhere, in any form.

use std::collections::{BTreeMap, BTreeSet};

use fairdraw::analysis::Filter;
use fairdraw::model::Progress;
use fairdraw::programme::ExportRequest;

use super::made::{DECIDERS, Desk, files, json, streams, text, unzipped};

/// Ids, names and crews of the demo, and the names of those who decided.
fn people(desk: &Desk) -> BTreeSet<String> {
    let assessed = desk.programme().assess(&Progress::default()).unwrap();
    let technicians = assessed.technicians.iter();
    let mut people: BTreeSet<String> = technicians
        .flat_map(|one| [Some(one.id.clone()), one.name.clone(), one.crew.clone()])
        .flatten()
        .collect();
    assert!(people.len() >= 17, "{people:?}");
    people.extend(DECIDERS.map(str::to_owned));
    people
}

/// Every file, the workbook's parts and the PDF's streams.
fn everything(pack: &BTreeMap<String, Vec<u8>>) -> BTreeMap<String, Vec<u8>> {
    let mut all = pack.clone();
    for (name, bytes) in unzipped(&pack["workbook.xlsx"]) {
        all.insert(format!("workbook.xlsx/{name}"), bytes);
    }
    for (number, bytes) in streams(&pack["report.pdf"]).into_iter().enumerate() {
        all.insert(format!("report.pdf/{number}"), bytes);
    }
    all
}

fn occurs(bytes: &[u8], name: &str) -> bool {
    let wide: Vec<u8> = name.encode_utf16().flat_map(u16::to_be_bytes).collect();
    let escaped = name.replace('&', "&amp;");
    [name.as_bytes(), escaped.as_bytes(), &wide]
        .iter()
        .any(|form| bytes.windows(form.len()).any(|it| it == *form))
}

fn exported(desk: &Desk, to: &str, filter: &str) -> BTreeMap<String, Vec<u8>> {
    desk.export_as(&ExportRequest {
        is_anonymous: true,
        filter: Filter::parse(filter).unwrap(),
        ..desk.request(to)
    });
    files(&desk.path(to))
}

#[test]
fn no_person_occurs_anywhere_in_an_anonymous_pack() {
    let desk = Desk::with_demo();
    let people = people(&desk);
    let crew = people.iter().find(|name| name.contains("crew")).unwrap();
    for (to, filter) in [
        ("all", String::new()),
        ("some", format!("-crew:\"{crew}\"")),
    ] {
        let pack = exported(&desk, to, &filter);
        for (path, bytes) in everything(&pack) {
            for name in &people {
                assert!(!occurs(&bytes, name), "{name} occurs in {to}/{path}");
            }
        }
    }
    // The search finds them in a pack that names people, in every form.
    desk.export("named");
    let named = everything(&files(&desk.path("named")));
    for form in [
        "report.html",
        "tables/draws.csv",
        "workbook.xlsx/xl/sharedStrings.xml",
        "trail/trail.jsonl",
    ] {
        let found = people
            .iter()
            .filter(|name| occurs(&named[form], name))
            .count();
        assert!(found > 0, "{form} names nobody");
    }
}

#[test]
fn a_code_stays_the_same_from_pack_to_pack_and_differs_between_programmes() {
    let desk = Desk::with_demo();
    let codes = |pack: &BTreeMap<String, Vec<u8>>| -> Vec<String> {
        let shares = json(pack, "tables/share_by_technician.json");
        let rows = shares.as_array().unwrap().iter();
        rows.map(|row| row["key"].as_str().unwrap().to_owned())
            .collect()
    };
    let one = codes(&exported(&desk, "one", ""));
    assert_eq!(one.len(), 8);
    for code in &one {
        assert!(code.len() == 8 && code.starts_with("T-"), "{code}");
    }
    let two = codes(&exported(&desk, "two", "verdict:unrepresentative"));
    assert!(two.iter().all(|code| one.contains(code)));
    let other = codes(&exported(&Desk::with_demo(), "other", ""));
    assert!(other.iter().all(|code| !one.contains(code)));
}

#[test]
fn the_key_of_the_codes_stays_in_the_programme() {
    let desk = Desk::with_demo();
    let pack = exported(&desk, "pack", "");
    let file = rusqlite::Connection::open(desk.path("programme.db")).unwrap();
    let key: Vec<u8> = file
        .query_row("SELECT key FROM keys", [], |row| row.get(0))
        .unwrap();
    assert_eq!(key.len(), 32);
    let hex: String = key.iter().map(|byte| format!("{byte:02x}")).collect();
    for (path, bytes) in everything(&pack) {
        let raw = bytes.windows(32).any(|it| it == key.as_slice());
        assert!(!raw && !occurs(&bytes, &hex), "{path}");
    }
}

#[test]
fn decisions_are_there_without_their_words() {
    let desk = Desk::with_demo();
    let pack = exported(&desk, "pack", "");
    let findings = json(&pack, "tables/findings.json");
    assert_eq!(findings[0]["finding"], "F-1");
    assert_eq!(findings[0]["state"], "answered");
    assert!(findings[0]["text"].is_null() && findings[0]["cause"].is_null());
    assert!(findings[0]["owner"].as_str().unwrap().starts_with("P-"));
    let link: serde_json::Value =
        serde_json::from_str(text(&pack, "trail/trail.jsonl").lines().nth(1).unwrap()).unwrap();
    assert!(link["canonical"].is_null());
    assert_eq!(link["hash"].as_str().unwrap().len(), 64);
    assert!(json(&pack, "pack.json")["programme"].is_null());
    let html = text(&pack, "report.html");
    assert!(html.contains("replaced by codes"));
}

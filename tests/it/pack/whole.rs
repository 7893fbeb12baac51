//! What a pack holds, and that it is the same for the same programme.

use std::fs;

use fairdraw::model::trail::NO_LINK;
use sha2::{Digest, Sha256};

use super::made::{Desk, json, text};

fn sha256(bytes: &[u8]) -> String {
    let hash = Sha256::digest(bytes);
    hash.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[test]
fn the_list_of_hashes_names_every_file_once_sorted_by_path() {
    let desk = Desk::with_demo();
    let report = desk.export("pack");
    let pack = desk.pack("pack");
    let list = text(&pack, "SHA256SUMS");
    let lines: Vec<(&str, &str)> = list
        .lines()
        .map(|it| it.split_once("  ").unwrap())
        .collect();
    let paths: Vec<&str> = lines.iter().map(|(_, path)| *path).collect();
    let there: Vec<&str> = pack
        .keys()
        .map(String::as_str)
        .filter(|it| *it != "SHA256SUMS")
        .collect();
    assert_eq!(paths, there);
    for (sum, path) in lines {
        assert_eq!(sum, sha256(&pack[path]), "{path}");
    }
    assert_eq!(report.sums_sha256, sha256(list.as_bytes()));
    assert_eq!(report.files.len(), pack.len());
    assert!(paths.contains(&"trail/head.txt") && paths.contains(&"report.pdf"));
}

#[test]
fn equal_programmes_give_equal_packs() {
    let desk = Desk::with_demo();
    fs::copy(desk.path("programme.db"), desk.path("copy.db")).unwrap();
    desk.export("one");
    fs::copy(desk.path("copy.db"), desk.path("programme.db")).unwrap();
    for log in ["programme.db-wal", "programme.db-shm"] {
        let _ = fs::remove_file(desk.path(log));
    }
    desk.export("two");
    let (one, two) = (desk.pack("one"), desk.pack("two"));
    for (path, bytes) in &one {
        assert!(two[path] == *bytes, "{path} differs");
    }
    assert_eq!(one.len(), two.len());
}

#[test]
fn every_table_is_there_as_csv_and_json_with_as_many_rows_as_the_pack_says() {
    let desk = Desk::with_demo();
    desk.export("pack");
    let pack = desk.pack("pack");
    let about = json(&pack, "pack.json");
    let tables = about["tables"].as_object().unwrap();
    assert!(tables.len() >= 28, "{}", tables.len());
    for (name, told) in tables {
        let rows = json(&pack, &format!("tables/{name}.json"));
        let rows = rows.as_array().unwrap();
        assert_eq!(rows.len() as u64, told["rows"].as_u64().unwrap(), "{name}");
        let Some(bytes) = pack.get(&format!("tables/{name}.csv")) else {
            assert_eq!(name, "attribution_model");
            continue;
        };
        let mut csv = csv::Reader::from_reader(bytes.as_slice());
        let heads = csv.headers().unwrap().clone();
        if let Some(first) = rows.first() {
            for head in &heads {
                assert!(first.get(head).is_some(), "{name}: {head}");
            }
        }
        assert_eq!(csv.records().count(), rows.len(), "{name}");
    }
    for (name, least) in [
        ("findings", 2),
        ("findings_evidence", 2),
        ("picks", 1),
        ("picks_draws", 20),
        ("set_asides", 1),
        ("imports", 1),
        ("imports_sheets", 4),
        ("resamples", 1),
        ("draws", 600),
    ] {
        assert!(tables[name]["rows"].as_u64().unwrap() >= least, "{name}");
    }
}

#[test]
fn draws_say_what_every_rule_saw_and_agree_with_the_command() {
    let desk = Desk::with_demo();
    desk.export("pack");
    let pack = desk.pack("pack");
    let draws = json(&pack, "tables/draws.json");
    let first = &draws[0];
    assert_eq!(first["rules"].as_object().unwrap().len(), 25);
    let output = crate::cli::runner::command(
        desk.folder.path(),
        &["-p", "programme.db", "score", "--format", "csv"],
    )
    .output()
    .unwrap();
    assert_eq!(
        String::from_utf8(output.stdout).unwrap(),
        text(&pack, "tables/draws.csv")
    );
}

#[test]
fn each_link_of_the_trail_can_be_recomputed_from_its_line() {
    let desk = Desk::with_demo();
    desk.export("pack");
    let pack = desk.pack("pack");
    let mut before = NO_LINK.to_owned();
    let mut count = 0;
    for line in text(&pack, "trail/trail.jsonl").lines() {
        let link: serde_json::Value = serde_json::from_str(line).unwrap();
        assert_eq!(link["previous"], before.as_str());
        let canonical = link["canonical"].as_str().unwrap();
        before = sha256(format!("{before}\n{canonical}").as_bytes());
        assert_eq!(link["hash"], before.as_str());
        count += 1;
    }
    assert!(count >= 7, "{count} links");
    assert_eq!(text(&pack, "trail/head.txt"), format!("{count} {before}\n"));
}

#[test]
fn the_adopted_rulebook_is_there_as_it_was_written() {
    let desk = Desk::of_demo(120);
    let yaml = "fairdraw_rulebook: 1\nname: ours # a remark\nrevision: 7\nrules:\n  flush-met: {multiple: 10}\n";
    let book = fairdraw::rules::Rulebook::from_yaml(yaml, "ours.yaml").unwrap();
    let who = fairdraw::model::trail::Who::named("Ada").unwrap();
    desk.programme().adopt_rulebook(&who, yaml, &book).unwrap();
    desk.export("pack");
    let pack = desk.pack("pack");
    assert_eq!(text(&pack, "rulebook/adopted.yaml"), yaml);
    assert!(text(&pack, "rulebook/standard.yaml").contains("name: standard"));
    let rules = json(&pack, "tables/rules_in_force.json");
    let flush = rules
        .as_array()
        .unwrap()
        .iter()
        .find(|row| row["rule"] == "flush-met")
        .unwrap();
    assert!(
        flush["settings"].as_str().unwrap().contains("multiple 10"),
        "{flush}"
    );
    assert_eq!(json(&pack, "pack.json")["rulebook"]["revision"], "7");
}

#[test]
fn a_read_only_programme_is_exported_and_nothing_is_noted() {
    let desk = Desk::of_demo(120);
    let file = desk.path("programme.db");
    let mut rights = fs::metadata(&file).unwrap().permissions();
    rights.set_readonly(true);
    fs::set_permissions(&file, rights).unwrap();
    let report = desk.export("pack");
    assert!(!desk.programme().is_read_only() || report.link.is_none());
    assert_eq!(json(&desk.pack("pack"), "pack.json")["draws"], 120);
}

#[test]
fn a_programme_without_draws_gives_a_pack_that_says_so() {
    let desk = Desk::of_demo(60);
    let mut request = desk.request("pack");
    request.filter = fairdraw::analysis::Filter::parse("site:Nowhere").unwrap();
    desk.export_as(&request);
    let pack = desk.pack("pack");
    assert!(text(&pack, "report.html").contains("There is no draw in this selection"));
    assert!(pack["report.pdf"].starts_with(b"%PDF-"));
}

#[test]
fn every_export_is_a_link_of_the_trail() {
    let desk = Desk::of_demo(60);
    let one = desk.export("one");
    let two = desk.export("two");
    assert_eq!(one.link.unwrap() + 1, two.link.unwrap());
    let head = |to: &str| text(&desk.pack(to), "trail/head.txt").to_owned();
    let link = desk.programme().trail().unwrap()[one.link.unwrap() as usize - 1].clone();
    assert_eq!(head("two"), format!("{} {}\n", link.number, link.hash));
}

//! Who may use whom, inside the crate and outside it.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use crate::support::root;

/// Each floor with the floors it may use. The one place where this table stands; it is
/// printed into DEVELOPERS.md.
const FLOORS: &[(&str, &[&str])] = &[
    ("model", &[]),
    ("physics", &[]),
    ("stats", &[]),
    ("written", &["model"]),
    ("store", &["model"]),
    ("intake", &["written", "model"]),
    ("rules", &["written", "model", "physics"]),
    ("scoring", &["rules", "model", "physics"]),
    ("demo", &["model", "physics"]),
    (
        "analysis",
        &["scoring", "rules", "model", "stats", "physics"],
    ),
    ("report", &["analysis", "scoring", "rules", "model"]),
    (
        "programme",
        &[
            "report", "analysis", "scoring", "rules", "intake", "store", "written", "model",
            "stats", "physics",
        ],
    ),
    (
        "cli",
        &[
            "programme",
            "report",
            "analysis",
            "rules",
            "demo",
            "physics",
            "model",
        ],
    ),
    (
        "tui",
        &["programme", "report", "analysis", "rules", "model"],
    ),
    ("main", &["cli", "tui"]),
];

/// Crates that only some floors may name.
const CRATES: &[(&str, &[&str])] = &[
    ("ratatui", &["tui"]),
    ("nucleo_matcher", &["tui"]),
    ("crossterm", &["tui"]),
    ("rustix", &["tui"]),
    ("clap", &["cli"]),
    ("clap_complete", &["cli"]),
    ("clap_mangen", &["cli"]),
    ("indicatif", &["cli"]),
    ("anstream", &["cli"]),
    ("terminal_size", &["cli"]),
    ("etcetera", &["programme"]),
    ("rusqlite", &["store"]),
    ("calamine", &["intake"]),
    ("chardetng", &["intake"]),
    ("csv", &["intake", "report", "demo"]),
    ("rust_xlsxwriter", &["report"]),
    ("askama", &["report"]),
    ("krilla", &["report"]),
    ("skrifa", &["report"]),
];

#[test]
fn every_floor_only_looks_down() {
    let mut breaches = Vec::new();
    for (file, floor, source) in sources() {
        let allowed = allowed(&floor);
        for used in floors_used(&source) {
            if used != floor && !allowed.contains(&used.as_str()) {
                breaches.push(format!("{}: {floor} may not use {used}", file.display()));
            }
        }
    }
    assert!(breaches.is_empty(), "\n{}", breaches.join("\n"));
}

#[test]
fn outside_crates_stay_on_their_floors() {
    let mut breaches = Vec::new();
    for (file, floor, source) in sources() {
        for (name, floors) in CRATES {
            if names_crate(&source, name) && !floors.contains(&floor.as_str()) {
                breaches.push(format!("{}: {floor} may not name {name}", file.display()));
            }
        }
    }
    assert!(breaches.is_empty(), "\n{}", breaches.join("\n"));
}

#[test]
fn every_floor_stands_in_the_table_and_the_table_has_no_circle() {
    let known: BTreeSet<_> = FLOORS.iter().map(|(floor, _)| *floor).collect();
    let there: BTreeSet<_> = sources().into_iter().map(|(_, floor, _)| floor).collect();
    let there: BTreeSet<_> = there.iter().map(String::as_str).collect();
    assert_eq!(known, there);
    let mut below: BTreeSet<&str> = BTreeSet::new();
    for (floor, uses) in FLOORS {
        assert!(
            uses.iter().all(|used| below.contains(used)),
            "{floor} uses a floor that is listed after it"
        );
        below.insert(floor);
    }
}

#[test]
fn the_check_sees_what_it_looks_for() {
    let source = "use crate::{model::Draw, store};\nfn f() { crate::physics::flow::g(); }\n";
    assert_eq!(
        floors_used(source),
        BTreeSet::from(["model", "physics", "store"].map(str::to_owned))
    );
    assert!(names_crate("use rusqlite::Connection;", "rusqlite"));
    assert!(names_crate("let x = csv::Reader::new();", "csv"));
    assert!(!names_crate("mod csv; super::csv::CsvWriter", "csv"));
    assert_eq!(
        without_comments("let a = 1; // crate::store\n"),
        "let a = 1; \n"
    );
}

/// The table as DEVELOPERS.md shows it.
pub fn table_markdown() -> String {
    let mut text = String::from("| floor | may use |\n|---|---|\n");
    for (floor, uses) in FLOORS {
        let uses = if uses.is_empty() {
            "nothing of ours".to_owned()
        } else {
            uses.join(", ")
        };
        writeln!(text, "| {floor} | {uses} |").unwrap();
    }
    let mut by_crate: BTreeMap<&[&str], Vec<&str>> = BTreeMap::new();
    for (name, floors) in CRATES {
        by_crate.entry(floors).or_default().push(name);
    }
    text.push_str("\n| crates | named only in |\n|---|---|\n");
    for (floors, names) in by_crate {
        writeln!(text, "| {} | {} |", names.join(", "), floors.join(", ")).unwrap();
    }
    text
}

fn allowed(floor: &str) -> &'static [&'static str] {
    FLOORS
        .iter()
        .find(|(name, _)| *name == floor)
        .map_or(&[], |(_, uses)| uses)
}

/// Every source file with its floor and its text without comments.
fn sources() -> Vec<(PathBuf, String, String)> {
    let src = root().join("src");
    let mut files = Vec::new();
    collect(&src, &mut files);
    files
        .into_iter()
        .filter(|file| *file != src.join("lib.rs"))
        .map(|file| {
            let inner = file.strip_prefix(&src).unwrap();
            let first = inner.components().next().unwrap().as_os_str();
            let floor = Path::new(first).file_stem().unwrap().to_str().unwrap();
            let source = without_comments(&fs::read_to_string(&file).unwrap());
            (inner.to_path_buf(), floor.to_owned(), source)
        })
        .collect()
}

fn collect(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            collect(&path, files);
        } else if path.extension().is_some_and(|ext| ext == "rs") {
            files.push(path);
        }
    }
}

fn without_comments(source: &str) -> String {
    let code = source.lines().map(|line| match line.find("//") {
        // An address in a text has a colon before its slashes.
        Some(at) if !line[..at].ends_with(':') => &line[..at],
        _ => line,
    });
    code.map(|line| format!("{line}\n")).collect()
}

/// The floors named after `crate::` or `fairdraw::`, alone or in braces.
fn floors_used(source: &str) -> BTreeSet<String> {
    let mut used = BTreeSet::new();
    for root in ["crate::", "fairdraw::"] {
        for (at, _) in source.match_indices(root) {
            let rest = &source[at + root.len()..];
            if let Some(inner) = rest.strip_prefix('{') {
                used.extend(heads(inner));
            } else {
                used.extend(head(rest));
            }
        }
    }
    used
}

/// The first names of the comma-separated paths up to the closing brace.
fn heads(text: &str) -> Vec<String> {
    let mut depth = 0;
    let mut found = Vec::new();
    let mut fresh = true;
    for (at, c) in text.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => fresh = true,
            c if fresh && !c.is_whitespace() => {
                found.extend(head(&text[at..]));
                fresh = false;
            }
            _ => {}
        }
    }
    found
}

fn head(text: &str) -> Option<String> {
    let name: String = text
        .chars()
        .take_while(|c| c.is_alphanumeric() || *c == '_')
        .collect();
    // A macro or an item of the root is no floor.
    let floor = FLOORS.iter().any(|(known, _)| *known == name);
    floor.then_some(name)
}

/// Whether the source names this crate, as a path that does not begin elsewhere.
fn names_crate(source: &str, name: &str) -> bool {
    source.match_indices(name).any(|(at, _)| {
        let before = source[..at].chars().next_back();
        let after = &source[at + name.len()..];
        let starts =
            !before.is_some_and(|c| c.is_alphanumeric() || c == '_' || c == ':' || c == '"');
        let imported = source[..at].ends_with("use ") && after.starts_with(';');
        starts && (after.starts_with("::") || imported)
    })
}

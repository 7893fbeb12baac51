//! Documents that cannot go stale: pages printed by the code, commands in README that run,
//! paths in DEVELOPERS.md that exist.
//!
//! `FAIRDRAW_WRITE_DOCS=1 cargo test --test it docs` writes the pages.

use std::fs;
use std::path::Path;

use crate::cli::runner::{Room, command};
use crate::floors;
use crate::support::root;

/// Set to write the pages instead of comparing them.
const WRITE: &str = "FAIRDRAW_WRITE_DOCS";

#[test]
fn the_generated_pages_say_what_the_code_says() {
    for (path, text) in [
        ("docs/commands.md", fairdraw::cli::commands_markdown()),
        ("docs/rules.md", fairdraw::rules::page::docs_markdown()),
        ("docs/keys.md", fairdraw::tui::keymap::docs_markdown()),
        ("docs/json.md", fairdraw::cli::json_markdown()),
    ] {
        same(path, &text);
    }
}

#[test]
fn the_columns_in_the_page_of_sheets_are_those_that_are_read() {
    let path = "docs/sheets.md";
    let page = fs::read_to_string(root().join(path)).unwrap();
    let (opening, _) = page.split_once("## points.csv\n").unwrap();
    let tables = fairdraw::intake::columns::docs_markdown();
    same(path, &format!("{opening}{tables}"));
}

#[test]
fn the_floors_in_the_contributors_guide_are_those_of_the_test() {
    let path = "DEVELOPERS.md";
    let guide = fs::read_to_string(root().join(path)).unwrap();
    let (opening, rest) = guide.split_once("<!-- floors -->\n").unwrap();
    let (_, closing) = rest.split_once("<!-- end of floors -->\n").unwrap();
    let table = floors::table_markdown();
    same(
        path,
        &format!("{opening}<!-- floors -->\n{table}<!-- end of floors -->\n{closing}"),
    );
}

pub fn same(path: &str, text: &str) {
    let file = root().join(path);
    if std::env::var_os(WRITE).is_some() {
        fs::create_dir_all(file.parent().unwrap()).unwrap();
        fs::write(&file, text).unwrap();
        return;
    }
    let there = fs::read_to_string(&file).unwrap_or_default();
    let differs = there.lines().zip(text.lines()).position(|(a, b)| a != b);
    assert!(
        there == text,
        "{path} is not what the code says (from line {}); write it with \
         `{WRITE}=1 cargo test --test it docs`",
        differs.map_or(there.lines().count().min(text.lines().count()), |at| at) + 1
    );
}

#[test]
fn the_commands_of_the_readme_run() {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let room = Room::with_sheets();
    let mut ran = 0;
    for line in shell_lines(&readme) {
        let Some(arguments) = line.strip_prefix("fairdraw ") else {
            assert!(
                line.starts_with("cargo "),
                "README.md: unknown command {line}"
            );
            continue;
        };
        let (arguments, file) = match arguments.split_once(" > ") {
            Some((arguments, file)) => (arguments, Some(file)),
            None => (arguments, None),
        };
        let words = words(arguments);
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let output = command(&room.path(""), &words).output().unwrap();
        let run = room.told(&words, &output);
        let opens = run.status == 3 && run.stderr.contains("needs a terminal");
        assert!(run.status == 0 || opens, "{}", run.told());
        if let Some(file) = file {
            fs::write(room.path(file), &run.stdout).unwrap();
        }
        ran += 1;
    }
    assert!(ran >= 8, "README.md shows only {ran} commands of fairdraw");
}

#[test]
fn the_readme_leads_to_every_page() {
    let readme = fs::read_to_string(root().join("README.md")).unwrap();
    let pages = fs::read_dir(root().join("docs")).unwrap();
    for page in pages {
        let page = page.unwrap();
        // Pictures lie in a folder, and stand on pages.
        if page.file_type().unwrap().is_dir() {
            continue;
        }
        let name = page.file_name().into_string().unwrap();
        let link = format!("(docs/{name})");
        assert!(readme.contains(&link), "README.md: no link to docs/{name}");
    }
}

#[test]
fn the_paths_of_the_contributors_guide_exist() {
    let guide = fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let mut seen = 0;
    for quoted in guide.split('`').skip(1).step_by(2) {
        let is_path = !quoted.contains([' ', '<', '*', '$', ':', '{'])
            && (quoted.contains('/') || Path::new(quoted).extension().is_some_and(|e| e == "md"));
        if is_path {
            seen += 1;
            assert!(root().join(quoted).exists(), "DEVELOPERS.md: no {quoted}");
        }
    }
    assert!(seen >= 20, "DEVELOPERS.md names only {seen} paths");
}

/// The lines of the `sh` blocks, without comments.
fn shell_lines(markdown: &str) -> Vec<String> {
    let blocks = markdown.split("```sh\n").skip(1);
    blocks
        .filter_map(|block| block.split("```").next())
        .flat_map(str::lines)
        .map(|line| line.split("  #").next().unwrap_or(line).trim().to_owned())
        .filter(|line| !line.is_empty())
        .collect()
}

/// Splits at blanks, but not inside single quotes.
fn words(line: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '\'' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            c => words.last_mut().unwrap().push(c),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}

//! Tables as other programs write them; tests/fixtures/sheets/README.md names the programs.

use std::path::PathBuf;

use fairdraw::intake::SheetKind;
use fairdraw::intake::table::{Next, ReadAs, Table, Wanted};

use crate::support::root;

fn fixture(name: &str) -> PathBuf {
    root().join("tests/fixtures/sheets").join(name)
}

#[test]
fn dump() {
    let mut names: Vec<_> = std::fs::read_dir(fixture(""))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    for name in names {
        if name.ends_with(".py") || name.ends_with(".md") {
            continue;
        }
        let wanted = Wanted::new(SheetKind::Draws.columns().iter().map(|column| column.name));
        println!("=== {name}");
        match Table::open(&fixture(&name), &ReadAs::default(), &wanted) {
            Err(error) => println!("{error}"),
            Ok(mut table) => {
                println!("{:?}\n{:?}", table.how().told(), table.names());
                loop {
                    match table.next_row().unwrap() {
                        Next::Row => println!("{} {:?}", table.line(), table.cells().all_as_text()),
                        Next::Refused(refusal) => println!("{refusal:?}"),
                        Next::End => break,
                    }
                }
            }
        }
    }
}

//! From the written form of a column map to the checked one: every mistake is collected, with
//! its place.
//!
//! Here stands the whole file; `sheet` reads the entry of a sheet, `manner` how its cells are
//! read, `column` what one of our columns is made of, `words` the units and words of a column,
//! and `values` what all of them are written with.

mod column;
mod manner;
mod sheet;
mod values;
mod words;

use super::WHAT;
use super::recipe::SheetMap;
use crate::written::{Node, Place, Problem, Reader, Value, find};

/// The version of the format.
const VERSION: f64 = 1.0;

/// What stands where a question was not yet answered.
pub const ASK: &str = "ask";

/// Name, revision and sheets of a map. The problems go to `problems`.
pub fn check(
    root: &Node,
    file: &str,
    problems: &mut Vec<Problem>,
) -> Option<(String, String, Vec<SheetMap>)> {
    Reader::new(file, WHAT, problems).column_map(root)
}

impl Reader<'_> {
    fn column_map(&mut self, root: &Node) -> Option<(String, String, Vec<SheetMap>)> {
        const KEYS: [&str; 4] = ["fairdraw_columns", "name", "revision", "sheets"];
        if matches!(root.value, Value::Null) {
            let message = "the file is empty; a column map begins with fairdraw_columns: 1";
            self.problem(Place::START, message);
            return None;
        }
        let entries = self.map(root, "a column map", &KEYS)?;
        match find(&entries, KEYS[0]) {
            None => self.problem(
                root.at,
                "fairdraw_columns is missing; begin the file with fairdraw_columns: 1",
            ),
            Some(node) if !matches!(node.value, Value::Number(number, _) if number == VERSION) => {
                let message = format!(
                    "fairdraw_columns is the version of the format and must be {VERSION}, not {}",
                    node.described()
                );
                self.problem(node.at, &message);
            }
            Some(_) => {}
        }
        let name = self.required_text(root.at, &entries, "name");
        let revision = self.required_text(root.at, &entries, "revision");
        let Some(sheets) = find(&entries, "sheets") else {
            let message = "sheets is missing; list the kinds of sheets, each with its columns";
            self.problem(root.at, message);
            return None;
        };
        let sheets = self.items(sheets, "sheets");
        let sheets = sheets.into_iter().filter_map(|node| self.sheet(node));
        Some((name, revision, sheets.collect()))
    }
}

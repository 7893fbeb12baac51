//! Units of a column's numbers, and words of theirs that mean words of ours.

use crate::intake::columns::{Column, Reading};
use crate::intake::maps::unit::{self, Said, Unit};
use crate::written::{Node, Reader, quoted, suggestion};

/// What a word of theirs is mapped to where it means nothing was recorded.
const BLANK: &str = "blank";

impl Reader<'_> {
    /// The unit of a column's numbers.
    pub(super) fn unit(&mut self, node: &Node, column: &Column) -> Option<&'static Unit> {
        let Said::Unit(ours) = unit::said(column.unit) else {
            let message = format!("{} has no unit", column.name);
            self.problem(node.at, &message);
            return None;
        };
        let same: Vec<&str> = (unit::UNITS.iter())
            .filter(|unit| unit.quantity == ours.quantity)
            .map(|unit| unit.name)
            .collect();
        let same = same.join(", ");
        if self.is_asked(node, "unit", &format!("write one of {same}")) {
            return None;
        }
        let text = node.as_text().unwrap_or_default();
        let message = match unit::said(text) {
            Said::Unit(unit) if unit.quantity == ours.quantity => return Some(unit),
            Said::Unit(unit) => format!(
                "{} is no unit for {}, which is in {}; known are {same}",
                unit.name, column.name, column.unit
            ),
            Said::Either(us, imperial) => {
                format!(
                    "{} means two things; write {} or {}",
                    quoted(text),
                    us.name,
                    imperial.name
                )
            }
            Said::Unknown => format!("unknown unit {}; known are {same}", quoted(text)),
        };
        self.problem(node.at, &message);
        None
    }

    /// Their words and ours. Ours must be words of the column.
    pub(super) fn words_of(&mut self, node: &Node, column: &Column) -> Vec<(String, String)> {
        let pairs = self.pairs(node, "words");
        let mut words = Vec::new();
        for (theirs, node) in pairs {
            let how = match listed(column) {
                Some(known) => format!("write one of {}, or blank", known.join(", ")),
                None => "write ours".to_owned(),
            };
            if self.is_asked(
                node,
                &format!("{} of {}", quoted(&theirs), column.name),
                &how,
            ) {
                continue;
            }
            if let Some(ours) = self.text(node, "words") {
                if ours != BLANK {
                    self.check_ours(node, &ours, column);
                }
                words.push((theirs, if ours == BLANK { String::new() } else { ours }));
            }
        }
        words
    }

    /// Whether a text of ours that the map puts in is one that the column takes.
    pub(super) fn check_ours(&mut self, node: &Node, text: &str, column: &Column) {
        let Some(known) = listed(column) else {
            return;
        };
        let parts: Vec<&str> = match column.reading {
            Reading::Words(_) => text.split(';').map(str::trim).collect(),
            _ => vec![text.trim()],
        };
        for part in parts {
            if !known.iter().any(|word| word.eq_ignore_ascii_case(part)) {
                let hint = match suggestion(part, known.iter().copied()) {
                    hint if hint.is_empty() => format!("; known are {}", known.join(", ")),
                    hint => hint,
                };
                let message = format!("unknown word {} for {}{hint}", quoted(part), column.name);
                self.problem(node.at, &message);
            }
        }
    }
}

/// The words of a column that takes no others.
fn listed(column: &Column) -> Option<Vec<&'static str>> {
    match column.reading {
        Reading::Word(words) | Reading::Words(words) => Some(words()),
        Reading::YesNo => Some(vec!["yes", "no"]),
        Reading::Text | Reading::Number(_) | Reading::Time | Reading::Date => None,
    }
}

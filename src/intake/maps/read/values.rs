//! What every part of a map is written with: lists, texts, counts, words, pairs and questions.

use super::ASK;
use crate::intake::maps::recipe::folded;
use crate::written::{Node, Reader, Value, quoted, suggestion};

/// Most entries of one list in a map.
const MOST: usize = 1000;

impl Reader<'_> {
    /// The items of a list, or the value itself for a list of one.
    pub(super) fn items<'n>(&mut self, node: &'n Node, name: &str) -> Vec<&'n Node> {
        match &node.value {
            Value::List(items) if items.is_empty() => {
                self.problem(node.at, &format!("{name} must list at least one entry"));
                Vec::new()
            }
            Value::List(items) if items.len() > MOST => {
                self.problem(node.at, &format!("more than {MOST} entries in {name}"));
                Vec::new()
            }
            Value::List(items) => items.iter().collect(),
            Value::Null => {
                self.problem(node.at, &format!("{name} is left empty"));
                Vec::new()
            }
            _ => vec![node],
        }
    }

    /// Whether the value waits for an answer; that is a problem.
    pub(super) fn is_asked(&mut self, node: &Node, name: &str, how: &str) -> bool {
        let asked = node.as_text().is_some_and(|text| text.trim() == ASK);
        if asked {
            let message = format!("{name} is a question that waits for your answer: {how}");
            self.problem(node.at, &message);
        }
        asked
    }

    /// A text that is not blank.
    pub(super) fn text(&mut self, node: &Node, name: &str) -> Option<String> {
        match node.as_text() {
            Some(text) if !text.trim().is_empty() => Some(text.to_owned()),
            _ => {
                let message = format!("{name} must be a text, not {}", node.described());
                self.problem(node.at, &message);
                None
            }
        }
    }

    pub(super) fn texts(&mut self, node: &Node, name: &str) -> Vec<String> {
        let items = self.items(node, name);
        (items.into_iter())
            .filter_map(|item| self.text(item, name))
            .map(|text| text.trim().to_owned())
            .collect()
    }

    pub(super) fn count(&mut self, node: &Node, name: &str, high: u32) -> Option<u32> {
        let count = self.whole(node, name, high)?;
        if count == 0 {
            self.problem(node.at, &format!("{name} counts from 1"));
            return None;
        }
        Some(count)
    }

    /// One of these words.
    pub(super) fn one_word<T>(
        &mut self,
        node: &Node,
        name: &str,
        known: &[&str],
        read: impl Fn(&str) -> Option<T>,
    ) -> Option<T> {
        let text = node.as_text().map(str::trim).unwrap_or_default();
        let word = read(text);
        if word.is_none() {
            let hint = suggestion(text, known.iter().copied());
            let message = format!(
                "{name} must be one of {}, not {}{hint}",
                known.join(", "),
                node.described()
            );
            self.problem(node.at, &message);
        }
        word
    }

    /// A map of texts to values, each key once in any case.
    pub(super) fn pairs<'n>(&mut self, node: &'n Node, name: &str) -> Vec<(String, &'n Node)> {
        let Value::Map(entries) = &node.value else {
            let message = format!("{name} must be a map, not {}", node.described());
            self.problem(node.at, &message);
            return Vec::new();
        };
        if entries.len() > MOST {
            self.problem(node.at, &format!("more than {MOST} entries in {name}"));
            return Vec::new();
        }
        let mut pairs: Vec<(String, &Node)> = Vec::new();
        for (key, value) in entries {
            let Some(text) = self.text(key, &format!("a key of {name}")) else {
                continue;
            };
            let text = text.trim().to_owned();
            if pairs
                .iter()
                .any(|(other, _)| folded(other) == folded(&text))
            {
                let message = format!("{} stands twice in {name}", quoted(&text));
                self.problem(key.at, &message);
            } else {
                pairs.push((text, value));
            }
        }
        pairs
    }
}

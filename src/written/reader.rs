//! Reading single values out of the written form: each is understood, or is a problem at its
//! place.

use chrono::NaiveDate;

use super::nearest::suggestion;
use super::parse::{Node, Value, quoted};
use super::problem::{Place, Problem};

/// One entry of a map: the key as text, the key, the value.
pub type Entry<'n> = (&'n str, &'n Node, &'n Node);

/// Reads values of one file and notes what is wrong with them.
pub struct Reader<'a> {
    file: &'a str,
    /// What such a file is called: `rulebook`, `column map`.
    what: &'static str,
    problems: &'a mut Vec<Problem>,
}

impl<'a> Reader<'a> {
    /// A reader of this file, which notes mistakes in `problems`.
    pub fn new(file: &'a str, what: &'static str, problems: &'a mut Vec<Problem>) -> Self {
        Reader {
            file,
            what,
            problems,
        }
    }

    /// How many mistakes were noted so far.
    pub fn noted(&self) -> usize {
        self.problems.len()
    }

    /// Notes a mistake.
    pub fn problem(&mut self, at: Place, message: &str) {
        self.problems.push(Problem::new(self.file, at, message));
    }

    /// The entries of a map with known keys, each key once. A missing value is an empty map.
    pub fn map<'n>(
        &mut self,
        node: &'n Node,
        what: &str,
        known: &[&str],
    ) -> Option<Vec<Entry<'n>>> {
        let entries = match &node.value {
            Value::Map(entries) => entries.as_slice(),
            Value::Null => &[],
            _ => {
                let message = format!(
                    "{what} is a map of keys and values, not {}",
                    node.described()
                );
                self.problem(node.at, &message);
                return None;
            }
        };
        let mut taken: Vec<Entry<'n>> = Vec::new();
        for (key, value) in entries {
            let Some(name) = key.as_text() else {
                let message = format!("a key of {what} is a word, not {}", key.described());
                self.problem(key.at, &message);
                continue;
            };
            if let Some((_, first, _)) = taken.iter().find(|(taken, _, _)| *taken == name) {
                let message = format!(
                    "{} stands here a second time (first in line {}); keep one of the two",
                    quoted(name),
                    first.at.line
                );
                self.problem(key.at, &message);
            } else if known.contains(&name) {
                taken.push((name, key, value));
            } else {
                let hint = suggestion(name, known.iter().copied());
                let message = format!("unknown {} {}{hint}", key_word(what), quoted(name));
                self.problem(key.at, &message);
            }
        }
        Some(taken)
    }

    /// The text under this key, which must be there and not blank.
    pub fn required_text(&mut self, at: Place, entries: &[Entry<'_>], key: &str) -> String {
        let Some(node) = find(entries, key) else {
            let message = format!(
                "{key} is missing; give the {} a {key}, as in {key}: \"1\"",
                self.what
            );
            self.problem(at, &message);
            return String::new();
        };
        match node.as_text().map(str::trim) {
            Some(text) if !text.is_empty() => text.to_owned(),
            _ => {
                let message = format!("{key} must be a text, not {}", node.described());
                self.problem(node.at, &message);
                String::new()
            }
        }
    }

    /// A day.
    pub fn date(&mut self, node: &Node) -> Option<NaiveDate> {
        let date = node
            .as_text()
            .filter(|text| text.len() == 10)
            .and_then(|text| NaiveDate::parse_from_str(text, "%Y-%m-%d").ok());
        if date.is_none() {
            let message = format!(
                "date must be a day as in 2026-03-04, not {}",
                node.described()
            );
            self.problem(node.at, &message);
        }
        date
    }

    /// `true` or `false`.
    pub fn truth(&mut self, node: &Node, name: &str) -> Option<bool> {
        if let Value::Bool(yes, _) = node.value {
            return Some(yes);
        }
        let message = format!("{name} must be true or false, not {}", node.described());
        self.problem(node.at, &message);
        None
    }

    /// A whole number from 0 to `high`.
    pub fn whole(&mut self, node: &Node, name: &str, high: u32) -> Option<u32> {
        match node.value {
            Value::Number(number, _)
                if number.fract() == 0.0 && (0.0..=f64::from(high)).contains(&number) =>
            {
                // In range and whole, so the cast is exact.
                #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
                Some(number as u32)
            }
            _ => {
                let message = format!(
                    "{name} must be a whole number from 0 to {high}, not {}",
                    node.described()
                );
                self.problem(node.at, &message);
                None
            }
        }
    }

    /// A number in a range.
    pub fn number(&mut self, node: &Node, name: &str, low: f64, high: f64) -> Option<f64> {
        match node.value {
            // Adding 0 turns −0 into 0, so that equal rulebooks stay equal.
            Value::Number(number, _) if (low..=high).contains(&number) => Some(number + 0.0),
            _ => {
                let message = format!(
                    "{name} must be a number from {low} to {high}, not {}",
                    node.described()
                );
                self.problem(node.at, &message);
                None
            }
        }
    }

    /// A list of words, or one word for a list of one. Words that `read` doesn't know are
    /// problems, each at its place.
    pub fn words<T>(
        &mut self,
        node: &Node,
        name: &str,
        known: &[&str],
        read: impl Fn(&str) -> Option<T>,
    ) -> Option<Vec<T>> {
        let items = match &node.value {
            Value::List(items) if !items.is_empty() => items.as_slice(),
            Value::Text(_) | Value::Bool(..) | Value::Number(..) => std::slice::from_ref(node),
            Value::List(_) => {
                self.problem(node.at, &format!("{name} must list at least one word"));
                return None;
            }
            Value::Null | Value::Map(_) => {
                let message = format!("{name} must be a list of words, not {}", node.described());
                self.problem(node.at, &message);
                return None;
            }
        };
        let before = self.problems.len();
        let mut chosen = Vec::new();
        for item in items {
            let text = item.as_text().map(str::trim).unwrap_or_default();
            match read(text) {
                Some(word) => chosen.push(word),
                None if item.as_text().is_some() && !known.is_empty() => {
                    let hint = match suggestion(text, known.iter().copied()) {
                        hint if hint.is_empty() => format!("; known are {}", known.join(", ")),
                        hint => hint,
                    };
                    let message = format!("unknown word {} for {name}{hint}", quoted(text));
                    self.problem(item.at, &message);
                }
                None => {
                    let message = format!("{name} lists words, not {}", item.described());
                    self.problem(item.at, &message);
                }
            }
        }
        (self.problems.len() == before).then_some(chosen)
    }
}

/// What a key of this map is called in a message.
fn key_word(what: &str) -> &'static str {
    if what == "rules" { "rule" } else { "key" }
}

/// The value under this key.
pub fn find<'n>(entries: &[Entry<'n>], key: &str) -> Option<&'n Node> {
    (entries.iter())
        .find(|(name, _, _)| *name == key)
        .map(|(_, _, value)| *value)
}

/// The bytes of a file as text.
///
/// # Errors
/// Where they stop being UTF-8.
pub fn utf8<'b>(bytes: &'b [u8], file: &str) -> Result<&'b str, Problem> {
    std::str::from_utf8(bytes).map_err(|error| {
        let sound = String::from_utf8_lossy(&bytes[..error.valid_up_to()]);
        let line = sound.matches('\n').count() + 1;
        let column = sound.rsplit('\n').next().unwrap_or("").chars().count() + 1;
        let at = Place {
            line: u32::try_from(line).unwrap_or(u32::MAX),
            column: u32::try_from(column).unwrap_or(u32::MAX),
        };
        let message = "the file is not UTF-8 from here on; save it as UTF-8";
        Problem::new(file, at, message)
    })
}

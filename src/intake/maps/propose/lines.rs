//! The lines of a proposed map, with a confidence and a reason each, and the questions that wait
//! for an answer.

use std::fmt::Write as _;

use super::super::read::ASK;

/// One line of a proposed map; with lines of its own below it, or with a value.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The key; a word of theirs among `words`.
    pub key: String,
    /// What stands behind it.
    pub value: Value,
    /// How sure it is, from 0 to 1.
    pub confidence: Option<f64>,
    /// Why, in words.
    pub reason: String,
}

/// What stands behind a key.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A value, as YAML.
    Yaml(String),
    /// A question.
    Open(Question),
    /// Lines below.
    Lines(Vec<Line>),
}

/// A question that the sheet can't answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// In words.
    pub text: String,
    /// Answers to choose from.
    pub choices: Vec<Choice>,
    /// Whether any other text may be the answer as well.
    pub is_free: bool,
    /// What stands before and behind the answer, as YAML.
    pub around: (String, String),
}

/// An answer to choose.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// In words.
    pub label: String,
    /// As YAML.
    pub yaml: String,
}

impl Question {
    /// A question with these answers.
    pub fn of(
        text: impl Into<String>,
        choices: impl IntoIterator<Item = (String, String)>,
    ) -> Self {
        Question {
            text: text.into(),
            choices: (choices.into_iter())
                .map(|(label, yaml)| Choice { label, yaml })
                .collect(),
            is_free: false,
            around: (String::new(), String::new()),
        }
    }

    fn with(&self, answer: &str) -> String {
        format!("{}{answer}{}", self.around.0, self.around.1)
    }
}

/// How sure a line is, in a word.
#[must_use]
pub fn confidence_word(confidence: f64) -> &'static str {
    match confidence {
        0.8.. => "high",
        0.6.. => "medium",
        _ => "low",
    }
}

impl Line {
    /// A line with a value.
    pub fn new(key: &str, value: String, confidence: f64, reason: impl Into<String>) -> Self {
        Line {
            key: key.to_owned(),
            value: Value::Yaml(value),
            confidence: Some(confidence),
            reason: reason.into(),
        }
    }

    /// A line that waits for an answer.
    pub fn open(key: &str, question: Question) -> Self {
        Line {
            key: key.to_owned(),
            value: Value::Open(question),
            confidence: None,
            reason: String::new(),
        }
    }

    /// A line of a word or a setting that needs no reason of its own.
    pub fn plain(key: &str, value: String) -> Self {
        Line {
            key: key.to_owned(),
            value: Value::Yaml(value),
            confidence: None,
            reason: String::new(),
        }
    }

    /// The open questions in and below this line, in order.
    pub fn questions<'l>(&'l self, into: &mut Vec<(String, &'l Question)>) {
        self.walk("", into);
    }

    fn walk<'l>(&'l self, above: &str, into: &mut Vec<(String, &'l Question)>) {
        let path = if above.is_empty() {
            self.key.clone()
        } else {
            format!("{above} / {}", self.key)
        };
        match &self.value {
            Value::Yaml(_) => {}
            Value::Open(question) => into.push((path, question)),
            Value::Lines(lines) => {
                for line in lines {
                    line.walk(&path, into);
                }
            }
        }
    }

    /// Answers the open question that stands at this place in the order of [`Self::questions`];
    /// gives how many are passed over where there are fewer.
    pub fn answer(&mut self, place: usize, yaml: &str) -> Result<(), usize> {
        match &mut self.value {
            Value::Yaml(_) => Err(place),
            Value::Open(question) if place == 0 => {
                self.reason = format!("your answer to: {}", question.text);
                self.value = Value::Yaml(question.with(yaml));
                Ok(())
            }
            Value::Open(_) => Err(place - 1),
            Value::Lines(lines) => {
                let mut left = place;
                for line in lines {
                    match line.answer(left, yaml) {
                        Ok(()) => return Ok(()),
                        Err(now) => left = now,
                    }
                }
                Err(left)
            }
        }
    }

    /// Writes the line and those below it.
    pub fn write(&self, depth: usize, out: &mut String) {
        let indent = "  ".repeat(depth);
        let key = key(&self.key);
        let value = match &self.value {
            Value::Yaml(yaml) => format!(" {yaml}"),
            Value::Open(question) => format!(" {}", question.with(ASK)),
            Value::Lines(_) => String::new(),
        };
        let _ = write!(out, "{indent}{key}:{value}");
        let comment = match (&self.value, self.confidence) {
            (Value::Open(question), _) => question.in_a_comment(),
            (_, Some(confidence)) => {
                let percent = (confidence * 100.0).round();
                let word = confidence_word(confidence);
                format!("{word} {percent} %: {}", self.reason)
            }
            (_, None) => self.reason.clone(),
        };
        if !comment.is_empty() {
            let _ = write!(out, "  # {}", in_one_line(&comment));
        }
        out.push('\n');
        if let Value::Lines(lines) = &self.value {
            for line in lines {
                line.write(depth + 1, out);
            }
        }
    }
}

impl Question {
    fn in_a_comment(&self) -> String {
        let answers: Vec<String> = (self.choices.iter().take(8))
            .map(|choice| match choice.yaml.lines().collect::<Vec<_>>()[..] {
                [one] if one == choice.label => one.to_owned(),
                [one] => format!("{one} ({})", choice.label),
                _ => choice.label.clone(),
            })
            .collect();
        match answers[..] {
            [] => self.text.clone(),
            _ => format!("{} {}", self.text, answers.join(" or ")),
        }
    }
}

/// A comment of one line: what comes from a sheet may hold anything.
pub fn in_one_line(text: &str) -> String {
    crate::model::printable::printable(text).into_owned()
}

/// A text as YAML writes it: plain where nothing can be misread.
#[must_use]
pub fn scalar(text: &str) -> String {
    let first = text.chars().next().unwrap_or(' ');
    let last = text.chars().next_back().unwrap_or(' ');
    let plain = |c: char| {
        c.is_alphanumeric()
            || matches!(
                c,
                ' ' | '_' | '/' | '(' | ')' | '.' | '°' | '%' | '-' | '+' | '³' | '²' | '€'
            )
    };
    let word = text.to_ascii_lowercase();
    let reserved = ["null", "true", "false", "ask", "blank", "inf", "nan"];
    let is_sound = (first.is_alphabetic() || first == '°')
        && last != ' '
        && text.chars().all(plain)
        && !reserved.contains(&word.as_str());
    if is_sound {
        return text.to_owned();
    }
    // JSON strings are YAML; its escapes keep every character in one line.
    let quoted = serde_json::Value::from(text).to_string();
    let hidden = |c: char| c != ' ' && in_one_line(&c.to_string()) != c.to_string();
    quoted
        .chars()
        .map(|c| match hidden(c) {
            true if u32::from(c) <= 0xffff => format!("\\u{:04x}", u32::from(c)),
            true => format!("\\U{:08x}", u32::from(c)),
            false => c.to_string(),
        })
        .collect()
}

/// A key as YAML writes it; words that are special as values are not as keys.
fn key(text: &str) -> String {
    match text {
        "ask" | "blank" => text.to_owned(),
        _ => scalar(text),
    }
}

/// Several texts as a YAML list in one line.
#[must_use]
pub fn list<T: AsRef<str>>(texts: &[T]) -> String {
    let texts: Vec<String> = texts.iter().map(|text| scalar(text.as_ref())).collect();
    format!("[{}]", texts.join(", "))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::written::{Value as Yaml, parse};
    use proptest::prelude::*;

    #[test]
    fn only_what_can_not_be_misread_is_written_plainly() {
        for text in ["Datum", "Öltemp (°C)", "Point / préleveur", "a.b"] {
            assert_eq!(scalar(text), text);
        }
        for text in [
            "", "- a", "a: b", "a #b", "#", "12", "no\nx", "true", "ask", " a", "a ", "{", "✓",
            "x,y", "\u{202e}",
        ] {
            assert!(scalar(text).starts_with('"'), "{text}");
        }
    }

    proptest! {
        #[test]
        fn whatever_is_written_reads_back_as_itself(text in "(?s).{0,20}") {
            let root = parse(&format!("key: {}\n", scalar(&text)), "a.yaml", "map").unwrap();
            let Yaml::Map(entries) = &root.value else { panic!("no map") };
            prop_assert_eq!(entries[0].1.as_text(), Some(text.as_str()));
            let root = parse(&format!("{}: 1\n", scalar(&text)), "a.yaml", "map").unwrap();
            let Yaml::Map(entries) = &root.value else { panic!("no map") };
            prop_assert_eq!(entries[0].0.as_text(), Some(text.as_str()));
        }
    }
}

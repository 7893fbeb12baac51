//! The words of a column: theirs and ours.

use super::fit::{our_word, separator};
use super::lines::{Line, Question, Value, scalar};
use super::sample::Sampled;
use super::vocabulary::{KNOWN, key};
use crate::intake::columns::{Column, Reading};

/// What is proposed for the words of a column.
#[derive(Debug, Default)]
pub struct Words {
    /// The lines that say it.
    pub lines: Vec<Line>,
    /// Texts that mean yes, and texts that mean no, besides those always read.
    pub yes: Vec<String>,
    pub no: Vec<String>,
}

/// Texts that are read as yes or no without a map.
const ALWAYS_READ: [&str; 8] = ["yes", "no", "y", "n", "true", "false", "1", "0"];

/// Finds the words of a column.
pub fn words(theirs: &Sampled, ours: &Column) -> Words {
    match ours.reading {
        Reading::YesNo => yes_no(theirs),
        Reading::Word(known) => {
            let parts = theirs.distinct.iter().map(|(text, _)| text.as_str());
            Words {
                lines: listed(parts, ours, &known()).into_iter().collect(),
                ..Words::default()
            }
        }
        Reading::Words(known) => {
            let between = separator(theirs, ours);
            let texts = theirs.distinct.iter().map(|(text, _)| text.as_str());
            let parts = texts.flat_map(|text| text.split(between.unwrap_or(";")));
            let mut lines = Vec::new();
            if let Some(between) = between.filter(|between| *between != ";") {
                lines.push(Line::plain("split", scalar(between)));
            }
            lines.extend(listed(parts.map(str::trim), ours, &known()));
            Words {
                lines,
                ..Words::default()
            }
        }
        _ => Words::default(),
    }
}

/// The line of words that are not ours already.
fn listed<'t>(
    texts: impl Iterator<Item = &'t str>,
    ours: &Column,
    known: &[&'static str],
) -> Option<Line> {
    let mut lines: Vec<Line> = Vec::new();
    let mut seen: Vec<String> = Vec::new();
    for text in texts.filter(|text| !text.is_empty()) {
        let folded = super::super::folded(text);
        let is_ours = known.iter().any(|word| word.eq_ignore_ascii_case(text));
        if is_ours || seen.contains(&folded) {
            continue;
        }
        seen.push(folded);
        lines.push(match our_word(ours, text) {
            Some(word) => Line::plain(text, word.to_owned()),
            None => {
                let choices = known.iter().chain(&["blank"]);
                let choices = choices.map(|word| ((*word).to_owned(), (*word).to_owned()));
                let question = format!("which word of {} is {text:?}?", ours.name);
                Line::open(text, Question::of(question, choices))
            }
        });
    }
    (!lines.is_empty()).then(|| Line {
        key: "words".to_owned(),
        value: Value::Lines(lines),
        confidence: None,
        reason: String::new(),
    })
}

fn yes_no(theirs: &Sampled) -> Words {
    let mut found = Words::default();
    let mut unknown: Vec<&str> = Vec::new();
    for (text, _) in &theirs.distinct {
        let folded = key(text);
        if ALWAYS_READ
            .iter()
            .any(|known| known.eq_ignore_ascii_case(text))
        {
            continue;
        }
        if KNOWN.yes.contains(&folded) {
            found.yes.push(text.clone());
        } else if KNOWN.no.contains(&folded) {
            found.no.push(text.clone());
        } else {
            unknown.push(text);
        }
    }
    let has_no = theirs
        .distinct
        .iter()
        .any(|(text, _)| KNOWN.no.contains(&key(text)));
    // Beside ticks a dash may mean no, or that nobody looked.
    if !has_no
        && theirs
            .distinct
            .iter()
            .any(|(text, _)| KNOWN.yes.contains(&key(text)))
    {
        let dashes = ["-", "--", "–", "—"];
        unknown.extend(
            theirs
                .blanks
                .iter()
                .map(String::as_str)
                .filter(|text| dashes.contains(text)),
        );
    }
    let mut seen: Vec<String> = Vec::new();
    unknown.retain(|text| {
        let folded = super::super::folded(text);
        let is_new = !seen.contains(&folded);
        seen.push(folded);
        is_new
    });
    let lines = unknown.iter().map(|text| {
        let choices = ["yes", "no", "blank"].map(|word| (word.to_owned(), word.to_owned()));
        Line::open(
            text,
            Question::of(format!("what does {text:?} mean?"), choices),
        )
    });
    let lines: Vec<Line> = lines.collect();
    if !lines.is_empty() {
        found.lines.push(Line {
            key: "words".to_owned(),
            value: Value::Lines(lines),
            confidence: None,
            reason: String::new(),
        });
    }
    found
}

/// Which of the column's texts that mean blank are asked for as words.
pub fn asked_blanks(words: &Words) -> Vec<&str> {
    let asked = words.lines.iter().filter_map(|line| match &line.value {
        Value::Lines(lines) if line.key == "words" => Some(lines),
        _ => None,
    });
    asked.flatten().map(|line| line.key.as_str()).collect()
}

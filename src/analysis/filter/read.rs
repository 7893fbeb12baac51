//! From the text of a filter to checked terms.

use chrono::NaiveDate;

use super::{BLANK, FilterError, FilterKey, Term, Value};
use crate::analysis::nearest::nearest;
use crate::model::printable::printable;

/// Reads the terms of a filter.
pub(super) fn filter(text: &str) -> Result<Vec<Term>, FilterError> {
    let mut reader = Reader {
        text: text.chars().collect(),
        at: 0,
    };
    let mut terms = Vec::new();
    while reader.skip_blanks() {
        terms.push(reader.term()?);
    }
    Ok(terms)
}

/// Checks one value of a key. `quoted` says that it stood in quotes, so that it is a text
/// even if it reads `(blank)`.
pub(super) fn value(
    key: FilterKey,
    text: &str,
    quoted: bool,
    column: usize,
) -> Result<Value, FilterError> {
    let refuse = |message| Err(FilterError { message, column });
    if text.is_empty() {
        return refuse(format!(
            "nothing stands for the {} of \"{key}:\"; write {key}:VALUE without a blank between, \
             or {key}:(blank) where it is blank",
            key.noun(),
            key = key.as_str(),
        ));
    }
    if !quoted && text.eq_ignore_ascii_case(BLANK) {
        if key.may_be_blank() {
            return Ok(Value::Blank);
        }
        let noun = key.noun();
        return refuse(format!("a {noun} is never blank; name a {noun}"));
    }
    if key.is_day() {
        return match day(text) {
            Some(value) => Ok(value),
            None => refuse(format!(
                "\"{}\" is no day; write YYYY-MM-DD, or YYYY-MM for a whole month",
                printable(text),
            )),
        };
    }
    let Some(words) = key.words() else {
        return Ok(Value::Text(text.to_owned()));
    };
    match words
        .iter()
        .position(|word| word.eq_ignore_ascii_case(text))
    {
        Some(place) => Ok(Value::Word(place)),
        None => refuse(unknown_word(key, text, &words)),
    }
}

/// Whether a text must stand in quotes to read back as it is.
pub(super) fn needs_quotes(text: &str) -> bool {
    text.is_empty()
        || text.eq_ignore_ascii_case(BLANK)
        || text.contains(|c: char| c.is_whitespace() || c == ',' || c == '"')
}

fn unknown_word(key: FilterKey, text: &str, words: &[&str]) -> String {
    let (noun, text) = (key.noun(), printable(text));
    if !key.is_many() {
        let meant = match nearest(&text, words.iter().copied()) {
            Some(nearest) => format!("; the nearest is {nearest}"),
            None => String::new(),
        };
        let known = words.join(", ");
        return format!("\"{text}\" is no {noun}{meant}; known are {known}");
    }
    match nearest(&text, words.iter().copied()) {
        Some(nearest) => format!("\"{text}\" is no rule; the nearest is {nearest}"),
        None => format!("\"{text}\" is no rule; \"fairdraw rules list\" names them"),
    }
}

fn unknown_key(text: &str) -> String {
    let known: Vec<&str> = FilterKey::ALL.iter().map(|key| key.as_str()).collect();
    let text = printable(text);
    let meant = match nearest(&text, known.iter().copied()) {
        Some(nearest) => format!("; the nearest is {nearest}"),
        None => String::new(),
    };
    format!(
        "\"{text}\" is no key of a filter{meant}; known are {}",
        known.join(", ")
    )
}

/// Reads `2026-03-04` or `2026-03`; nothing looser, so that no order of day and month is
/// guessed. Years 1 to 9999.
fn day(text: &str) -> Option<Value> {
    let mut parts = text.split('-');
    let mut part = |digits: usize| {
        let part = parts.next()?;
        let plain = part.len() == digits && part.bytes().all(|byte| byte.is_ascii_digit());
        plain.then(|| part.parse::<u32>().ok())?
    };
    let (year, month) = (part(4)?.cast_signed(), part(2)?);
    let day = part(2);
    let whole_month = text.len() == 7;
    if year == 0 || parts.next().is_some() || (day.is_none() && !whole_month) {
        return None;
    }
    let date = NaiveDate::from_ymd_opt(year, month, day.unwrap_or(1))?;
    Some(if whole_month {
        Value::Month(date)
    } else {
        Value::Day(date)
    })
}

struct Reader {
    text: Vec<char>,
    at: usize,
}

impl Reader {
    fn peek(&self) -> Option<char> {
        self.text.get(self.at).copied()
    }

    fn eat(&mut self, wanted: char) -> bool {
        let there = self.peek() == Some(wanted);
        self.at += usize::from(there);
        there
    }

    /// Takes characters as long as none of them ends the piece.
    fn take_until(&mut self, ends: impl Fn(char) -> bool) -> String {
        let start = self.at;
        while self.peek().is_some_and(|c| !ends(c)) {
            self.at += 1;
        }
        self.text[start..self.at].iter().collect()
    }

    /// Whether something follows.
    fn skip_blanks(&mut self) -> bool {
        self.take_until(|c| !c.is_whitespace());
        self.peek().is_some()
    }

    /// A refusal at the character `at`, counted from 0.
    fn refuse<T>(at: usize, message: String) -> Result<T, FilterError> {
        Err(FilterError {
            message,
            column: at + 1,
        })
    }

    fn term(&mut self) -> Result<Term, FilterError> {
        let start = self.at;
        let excludes = self.eat('-');
        let key_at = self.at;
        let word = self.take_until(|c| c.is_whitespace() || c == ':' || c == ',' || c == '"');
        if !self.eat(':') {
            let rest = self.take_until(char::is_whitespace);
            let written = format!("{}{word}{rest}", if excludes { "-" } else { "" });
            let message = format!(
                "\"{}\" is no term; write KEY:VALUE, for instance site:NORTH",
                printable(&written),
            );
            return Self::refuse(start, message);
        }
        let Some(key) = FilterKey::parse(&word) else {
            return Self::refuse(key_at, unknown_key(&word));
        };
        let values = self.values(key)?;
        Ok(Term {
            excludes,
            key,
            values,
        })
    }

    fn values(&mut self, key: FilterKey) -> Result<Vec<Value>, FilterError> {
        let mut values = Vec::new();
        loop {
            if key.is_day() && !values.is_empty() {
                let message = format!("\"{}:\" takes one day; give only one", key.as_str());
                return Self::refuse(self.at, message);
            }
            let value = self.value(key)?;
            values.push(value);
            if !self.eat(',') {
                break;
            }
        }
        match self.peek() {
            Some(c) if !c.is_whitespace() => Self::refuse(
                self.at,
                "after the closing quote a blank or a comma must follow; \
                 write a quote inside quotes twice"
                    .to_owned(),
            ),
            _ => Ok(values),
        }
    }

    fn value(&mut self, key: FilterKey) -> Result<Value, FilterError> {
        let start = self.at;
        if self.eat('"') {
            let text = self.quoted(start)?;
            return value(key, &text, true, start + 1);
        }
        let text = self.take_until(|c| c.is_whitespace() || c == ',' || c == '"');
        if self.peek() == Some('"') {
            let message = "quotes must surround the whole value, as in site:\"North pit\"";
            return Self::refuse(self.at, message.to_owned());
        }
        value(key, &text, false, start + 1)
    }

    /// The rest of a value whose opening quote stood at `start`.
    fn quoted(&mut self, start: usize) -> Result<String, FilterError> {
        let mut text = String::new();
        loop {
            text.push_str(&self.take_until(|c| c == '"'));
            if !self.eat('"') {
                let message = "this quote is never closed; put a quote at the end of the value";
                return Self::refuse(start, message.to_owned());
            }
            if !self.eat('"') {
                return Ok(text);
            }
            text.push('"');
        }
    }
}

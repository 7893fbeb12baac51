//! The one filter language of both faces.
//!
//! A filter is a line of terms `key:value`, all of which must hold; `-key:value` excludes;
//! commas join values of which any will do. The line is read into terms that are checked
//! ([`Filter::parse`]), terms are written back in one canonical way (`Display`), and rows
//! are picked by columns made ready once ([`Filter::select`]).

mod days;
mod edit;
mod key;
mod read;
mod select;
mod unknown;
mod values;
mod words;

use std::fmt;

use chrono::{Datelike, NaiveDate};

use super::Key;
pub use days::Days;
pub use key::FilterKey;
pub use unknown::UnknownValue;
pub use values::{Offer, Offers};

/// How a blank is written, in filters and as the key of a group.
pub const BLANK: &str = "(blank)";

/// A checked filter: terms that must all hold. Without terms every draw passes.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Filter {
    terms: Vec<Term>,
}

/// One term of a filter. It holds if any of its values matches, or, where it excludes, if
/// none does.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Term {
    excludes: bool,
    key: FilterKey,
    values: Vec<Value>,
}

/// A value of a term, checked against its key.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Value {
    /// The draw is blank here.
    Blank,
    /// A place in [`FilterKey::words`].
    Word(usize),
    /// A free text, compared as it is.
    Text(String),
    /// A day in the programme's zone.
    Day(NaiveDate),
    /// A month in the programme's zone, by its first day.
    Month(NaiveDate),
}

/// What is wrong with a filter text.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{message} (column {column})")]
pub struct FilterError {
    /// What is wrong and what to do, in one sentence.
    pub message: String,
    /// Where, counted in characters from 1.
    pub column: usize,
}

impl Filter {
    /// Reads a filter such as `site:"North pit" broken:flush-met,fill-level -crew:B`.
    ///
    /// # Errors
    /// An unknown key or value, an open quote, a date that is none: what and where.
    pub fn parse(text: &str) -> Result<Self, FilterError> {
        read::filter(text).map(|terms| Filter { terms })
    }

    /// The terms, in the order they were given.
    #[must_use]
    pub fn terms(&self) -> &[Term] {
        &self.terms
    }

    /// Whether every draw passes.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.terms.is_empty()
    }

    /// This filter narrowed by one more term, whose value is this text as it stands
    /// (`(blank)` for a blank). A term that the new one makes superfluous is left out, so
    /// that opening row after row keeps the line short; a draw passes if it passed before
    /// and has the value.
    ///
    /// # Errors
    /// The text is no value of this key; the column is 1.
    pub fn with(&self, key: FilterKey, value: &str) -> Result<Self, FilterError> {
        let value = read::value(key, value, false, 1)?;
        let mut terms = self.terms.clone();
        terms.retain(|term| !term.is_implied_by(key, &value));
        let term = Term {
            excludes: false,
            key,
            values: vec![value],
        };
        terms.push(term);
        Ok(Filter { terms })
    }

    /// This filter and draws that have one of these values; as it is without values.
    ///
    /// # Errors
    /// A value that the key can't have.
    pub fn with_any(&self, key: FilterKey, values: &[&str]) -> Result<Self, FilterError> {
        match values {
            [] => return Ok(self.clone()),
            [only] => return self.with(key, only),
            _ => {}
        }
        let values = values.iter().map(|value| read::value(key, value, false, 1));
        let mut terms = self.terms.clone();
        terms.push(Term {
            excludes: false,
            key,
            values: values.collect::<Result<_, _>>()?,
        });
        Ok(Filter { terms })
    }

    /// This filter without any term of this key.
    #[must_use]
    pub fn without(&self, key: FilterKey) -> Self {
        let mut terms = self.terms.clone();
        terms.retain(|term| term.key != key);
        Filter { terms }
    }

    /// This filter without the term at this place; all of it if there is none.
    #[must_use]
    pub fn without_term(&self, place: usize) -> Self {
        let mut terms = self.terms.clone();
        if place < terms.len() {
            terms.remove(place);
        }
        Filter { terms }
    }

    /// This filter narrowed to the draws of one group of a breakdown. Of a rule's group,
    /// those on which the rule is broken.
    ///
    /// # Errors
    /// The text is no group of this key; the column is 1.
    pub fn opening(&self, key: Key, group: &str) -> Result<Self, FilterError> {
        match key.filter_key() {
            Some(key) => self.with(key, group),
            None => self
                .with(FilterKey::From, group)?
                .with(FilterKey::To, group),
        }
    }
}

impl Term {
    /// Whether draws that match do not pass.
    #[must_use]
    pub const fn excludes(&self) -> bool {
        self.excludes
    }

    /// What it speaks about.
    #[must_use]
    pub const fn key(&self) -> FilterKey {
        self.key
    }

    /// Whether every draw that has this value passes this term, so that both say no more
    /// than the value alone.
    fn is_implied_by(&self, key: FilterKey, value: &Value) -> bool {
        if self.key != key {
            return false;
        }
        match (key, self.values.first()) {
            (FilterKey::From, Some(own)) => !self.excludes && own.first_day() <= value.first_day(),
            (FilterKey::To, Some(own)) => !self.excludes && own.last_day() >= value.last_day(),
            // One draw can break several rules, so an excluded other one still says more;
            // a technician can be named in two ways.
            _ if key.is_many() || key == FilterKey::Technician => {
                !self.excludes && self.values.contains(value)
            }
            _ => self.values.contains(value) != self.excludes,
        }
    }
}

impl Value {
    /// The first day of a day or month.
    const fn first_day(&self) -> Option<NaiveDate> {
        match self {
            Value::Day(day) | Value::Month(day) => Some(*day),
            _ => None,
        }
    }

    /// The last day of a day or month.
    fn last_day(&self) -> Option<NaiveDate> {
        match self {
            Value::Day(day) => Some(*day),
            Value::Month(first) => {
                let next = if first.month() == 12 {
                    NaiveDate::from_ymd_opt(first.year() + 1, 1, 1)
                } else {
                    first.with_month(first.month() + 1)
                };
                next.and_then(|next| next.pred_opt())
            }
            _ => None,
        }
    }

    /// Writes the value as it reads back.
    fn write(&self, key: FilterKey, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Value::Blank => f.write_str(BLANK),
            Value::Word(place) => {
                let words = key.words().unwrap_or_default();
                f.write_str(words.get(*place).copied().unwrap_or_default())
            }
            Value::Text(text) if read::needs_quotes(text) => {
                write!(f, "\"{}\"", text.replace('"', "\"\""))
            }
            Value::Text(text) => f.write_str(text),
            Value::Day(day) => write!(f, "{}", day.format("%Y-%m-%d")),
            Value::Month(first) => write!(f, "{}", first.format("%Y-%m")),
        }
    }
}

impl fmt::Display for Term {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.excludes {
            f.write_str("-")?;
        }
        f.write_str(self.key.as_str())?;
        for (place, value) in self.values.iter().enumerate() {
            f.write_str(if place == 0 { ":" } else { "," })?;
            value.write(self.key, f)?;
        }
        Ok(())
    }
}

/// Writes the filter in its canonical form, which reads back to the same filter.
impl fmt::Display for Filter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (place, term) in self.terms.iter().enumerate() {
            if place > 0 {
                f.write_str(" ")?;
            }
            write!(f, "{term}")?;
        }
        Ok(())
    }
}

impl std::str::FromStr for Filter {
    type Err = FilterError;

    fn from_str(text: &str) -> Result<Self, FilterError> {
        Filter::parse(text)
    }
}

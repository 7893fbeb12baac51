//! Terms of a filter in words, for those who do not write them.

use super::{FilterKey, Term, Value};

impl FilterKey {
    /// What is chosen by, in the words of the trade.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            FilterKey::Class => "machine class",
            FilterKey::Kind => "kind of point",
            FilterKey::Place => "place of point",
            FilterKey::Broken => "rule broken",
            FilterKey::Unrecorded => "rule unrecorded",
            FilterKey::From => "drawn from",
            FilterKey::To => "drawn until",
            _ => self.as_str(),
        }
    }
}

impl Term {
    /// The term as a sentence says it, such as `crew is neither Early nor Late`.
    #[must_use]
    pub fn said(&self) -> String {
        let name = self.key.title();
        let values: Vec<String> = self.values.iter().map(|it| it.shown(self.key)).collect();
        let (last, before) = match values.split_last() {
            Some((last, before)) => (last.as_str(), before.join(", ")),
            None => ("", String::new()),
        };
        match (self.key, self.excludes, before.is_empty()) {
            (FilterKey::From, false, _) => format!("drawn on {last} or later"),
            (FilterKey::From, true, _) => format!("drawn before {last}"),
            (FilterKey::To, false, _) => format!("drawn on {last} or earlier"),
            (FilterKey::To, true, _) => format!("drawn after {last}"),
            (_, false, true) => format!("{name} is {last}"),
            (_, false, false) => format!("{name} is {before} or {last}"),
            (_, true, true) => format!("{name} is not {last}"),
            (_, true, false) => format!("{name} is neither {before} nor {last}"),
        }
    }
}

impl Value {
    /// The value as it is read, without quotes.
    pub(crate) fn shown(&self, key: FilterKey) -> String {
        match self {
            Value::Blank => "blank".to_owned(),
            Value::Word(place) => {
                let words = key.words().unwrap_or_default();
                words.get(*place).copied().unwrap_or_default().to_owned()
            }
            Value::Text(text) => text.clone(),
            Value::Day(day) => day.format("%Y-%m-%d").to_string(),
            Value::Month(first) => first.format("%Y-%m").to_string(),
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use crate::analysis::Filter;

    #[test]
    fn a_term_is_said_as_a_sentence_says_it() {
        for (term, said) in [
            ("site:\"North pit\"", "site is North pit"),
            ("site:North,South,(blank)", "site is North, South or blank"),
            ("-method:(blank)", "method is not blank"),
            ("-crew:Early,Late", "crew is neither Early nor Late"),
            ("class:gearbox", "machine class is gearbox"),
            ("broken:flush-met", "rule broken is flush-met"),
            ("from:2026-03", "drawn on 2026-03 or later"),
            ("-from:2026-03-04", "drawn before 2026-03-04"),
            ("to:2026-03", "drawn on 2026-03 or earlier"),
            ("-to:2026-03", "drawn after 2026-03"),
        ] {
            assert_eq!(Filter::parse(term).unwrap().terms()[0].said(), said);
        }
    }
}

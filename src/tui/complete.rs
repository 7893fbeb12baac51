//! What the word before the cursor of a filter could become.

use crate::analysis::{Assessed, BLANK, Filter, FilterKey};

/// The words that fit, and how many bytes before the cursor they stand for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Completion {
    pub(crate) typed: usize,
    pub(crate) words: Vec<String>,
}

/// More words than this are not looked for.
const MOST: usize = 200;

impl Completion {
    /// For the text before the cursor.
    pub(crate) fn of(assessed: &Assessed, before: &str) -> Self {
        let term = last_term(before);
        let bare = term.strip_prefix('-').unwrap_or(term);
        let Some((key, values)) = bare.split_once(':') else {
            let keys = FilterKey::ALL
                .iter()
                .map(|key| format!("{}:", key.as_str()));
            return Completion {
                typed: bare.len(),
                words: starting_with(keys, bare),
            };
        };
        let Some(key) = FilterKey::parse(key) else {
            return Completion::default();
        };
        let typed = last_value(values);
        let sought = typed.trim_start_matches('"');
        let written = values_of(assessed, key)
            .into_iter()
            .filter(|value| begins(value, sought))
            .take(MOST)
            .filter_map(|value| as_written(key, &value))
            .collect();
        Completion {
            typed: typed.len(),
            words: written,
        }
    }

    /// What Tab puts in: the only word, or what all of them begin with if that is more than
    /// what stands there.
    pub(crate) fn insertion(&self) -> Option<String> {
        let (first, rest) = self.words.split_first()?;
        if rest.is_empty() {
            let gap = if first.ends_with(':') { "" } else { " " };
            return Some(format!("{first}{gap}"));
        }
        let mut common = first.as_str();
        for word in rest {
            let same = common
                .char_indices()
                .zip(word.chars())
                .find(|((_, a), b)| !a.eq_ignore_ascii_case(b))
                .map_or(common.len().min(word.len()), |((at, _), _)| at);
            common = common.get(..same).unwrap_or("");
        }
        (common.len() > self.typed).then(|| common.to_owned())
    }
}

/// The text from the last blank outside quotes.
fn last_term(before: &str) -> &str {
    let mut quoted = false;
    let mut start = 0;
    for (at, sign) in before.char_indices() {
        quoted ^= sign == '"';
        if sign.is_whitespace() && !quoted {
            start = at + sign.len_utf8();
        }
    }
    &before[start..]
}

/// The text from the last comma outside quotes.
fn last_value(values: &str) -> &str {
    let mut quoted = false;
    let mut start = 0;
    for (at, sign) in values.char_indices() {
        quoted ^= sign == '"';
        if sign == ',' && !quoted {
            start = at + 1;
        }
    }
    &values[start..]
}

fn begins(value: &str, typed: &str) -> bool {
    let mut signs = value.chars().flat_map(char::to_lowercase);
    typed
        .chars()
        .flat_map(char::to_lowercase)
        .all(|sign| signs.next() == Some(sign))
}

fn starting_with(words: impl Iterator<Item = String>, typed: &str) -> Vec<String> {
    words.filter(|word| begins(word, typed)).collect()
}

/// A value as a filter writes it, in quotes where need be.
fn as_written(key: FilterKey, value: &str) -> Option<String> {
    let filter = Filter::default().with(key, value).ok()?.to_string();
    let (_, written) = filter.split_once(':')?;
    Some(written.to_owned())
}

fn values_of(assessed: &Assessed, key: FilterKey) -> Vec<String> {
    if let Some(words) = key.words() {
        let mut words: Vec<String> = words.into_iter().map(str::to_owned).collect();
        if key.may_be_blank() {
            words.push(BLANK.to_owned());
        }
        return words;
    }
    let points = || assessed.points.iter();
    let people = || assessed.technicians.iter();
    let mut values: Vec<String> = match key {
        FilterKey::Site => points().filter_map(|point| point.site.clone()).collect(),
        FilterKey::Area => points().filter_map(|point| point.area.clone()).collect(),
        FilterKey::Machine => points().filter_map(|point| point.machine.clone()).collect(),
        FilterKey::Point => points().map(|point| point.id.clone()).collect(),
        FilterKey::Compartment => points().map(|point| point.compartment.clone()).collect(),
        FilterKey::Crew => people().filter_map(|person| person.crew.clone()).collect(),
        FilterKey::Technician => people()
            .flat_map(|person| [Some(person.id.clone()), person.name.clone()])
            .flatten()
            .collect(),
        _ => Vec::new(),
    };
    values.sort();
    values.dedup();
    values
}

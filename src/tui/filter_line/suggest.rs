//! What the word at the cursor of a filter could become.

use std::sync::Arc;

use crate::analysis::{Assessed, BLANK, Filter, FilterKey, Offer, Offers, nearest};
use crate::tui::line_edit::LineEdit;

/// What is being written at the cursor.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Spot {
    /// A key, so far.
    Key(String),
    /// A value of a key, so far, among the draws that pass the other terms.
    Value(FilterKey, String, Filter),
    /// A value of what is no key.
    Nothing,
}

/// The words on offer, and how many bytes before the cursor they stand for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Suggestions {
    pub(crate) typed: usize,
    pub(crate) words: Vec<Word>,
    /// How many of them, the first, begin with what is typed.
    begin: usize,
}

/// A word on offer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Word {
    /// As the filter writes it.
    pub(crate) written: String,
    /// What it is.
    pub(crate) note: String,
    /// How many draws have it, where that is counted.
    pub(crate) draws: Option<u64>,
}

/// More words than this are not looked for.
const MOST: usize = 200;

impl Spot {
    /// What is being written in a line.
    pub(crate) fn of(line: &LineEdit) -> Self {
        let before = line.before_cursor();
        let start = last_start(before, char::is_whitespace);
        let term = before[start..].trim_start_matches('-');
        let Some((key, values)) = term.split_once(':') else {
            return Spot::Key(term.to_owned());
        };
        let Some(key) = FilterKey::parse(key) else {
            return Spot::Nothing;
        };
        let typed = &values[last_start(values, |sign| sign == ',')..];
        // The rest of the term behind the cursor belongs to it.
        let quoted = before[start..].matches('"').count() % 2 == 1;
        let after = line.after_cursor();
        let others = format!(
            "{}{}",
            &before[..start],
            &after[end_of_term(after, quoted)..]
        );
        let within = Filter::parse(&others).unwrap_or_default();
        Spot::Value(key, typed.to_owned(), within)
    }
}

impl Suggestions {
    /// The words for a spot; the values of its key are counted, or the draws not yet known.
    pub(crate) fn of(assessed: &Assessed, spot: &Spot, counted: Option<&Arc<Offers>>) -> Self {
        match spot {
            Spot::Key(typed) => of_keys(typed),
            Spot::Value(key, typed, _) => match counted {
                Some(offers) => of_values(*key, typed, offers, true),
                None => of_values(*key, typed, &Offers::known(assessed, *key), false),
            },
            Spot::Nothing => Suggestions::default(),
        }
    }

    /// What Tab puts in: the only word that begins so, or what all that do begin with if that
    /// is more than what stands there.
    pub(crate) fn insertion(&self, typed: &str) -> Option<String> {
        let (first, rest) = self.words[..self.begin].split_first()?;
        if rest.is_empty() {
            return Some(first.inserted());
        }
        let mut common = first.written.as_str();
        for word in rest {
            let same = common
                .char_indices()
                .zip(word.written.chars())
                .find(|((_, a), b)| !a.eq_ignore_ascii_case(b))
                .map_or(common.len().min(word.written.len()), |((at, _), _)| at);
            common = common.get(..same).unwrap_or("");
        }
        (common.len() > typed.len()).then(|| common.to_owned())
    }

    /// Whether what is typed is the beginning of one of them.
    pub(crate) const fn may_go_on(&self) -> bool {
        self.begin > 0
    }
}

impl Word {
    /// The word as it is put into the line: after a value a blank follows.
    pub(crate) fn inserted(&self) -> String {
        let gap = if self.written.ends_with(':') { "" } else { " " };
        format!("{}{gap}", self.written)
    }
}

fn of_keys(typed: &str) -> Suggestions {
    let word = |key: &FilterKey| Word {
        written: format!("{}:", key.as_str()),
        note: key.about().to_owned(),
        draws: None,
    };
    let keys = || FilterKey::ALL.iter();
    let mut words: Vec<Word> = keys()
        .filter(|key| begins(key.as_str(), typed))
        .map(word)
        .collect();
    let begin = words.len();
    if begin == 0 {
        let meant = nearest(typed, keys().map(|key| key.as_str()));
        words.extend(meant.and_then(FilterKey::parse).map(|key| Word {
            note: format!("did you mean this? {}", key.about()),
            ..word(&key)
        }));
    }
    Suggestions {
        typed: typed.len(),
        words,
        begin,
    }
}

fn of_values(key: FilterKey, typed: &str, offers: &Offers, counted: bool) -> Suggestions {
    let sought = typed.trim_start_matches('"').to_lowercase();
    let all: Vec<&Offer> = match counted {
        true if key != FilterKey::Verdict && !key.is_day() => {
            let places = offers.most_first();
            places.into_iter().map(|at| &offers.values[at]).collect()
        }
        _ => offers.values.iter().collect(),
    };
    let texts = |offer: &Offer| {
        let name = offer.name.as_deref().unwrap_or_default();
        [offer.text.to_lowercase(), name.to_lowercase()]
    };
    let begins = |offer: &&&Offer| texts(offer).iter().any(|text| text.starts_with(&sought));
    let holds =
        |offer: &&&Offer| !begins(offer) && texts(offer).iter().any(|it| it.contains(&sought));
    let mut words: Vec<Word> = all
        .iter()
        .filter(begins)
        .take(MOST)
        .filter_map(|offer| word(key, offer, counted))
        .collect();
    let begin = words.len();
    let others = all.iter().filter(holds).take(MOST - begin);
    words.extend(others.filter_map(|offer| word(key, offer, counted)));
    if words.is_empty() {
        let known = || offers.values.iter();
        let names = known().flat_map(|it| [Some(it.text.as_str()), it.name.as_deref()]);
        let names: Vec<&str> = names.flatten().collect();
        let meant = nearest(&sought, names.iter().copied());
        let meant = meant.or_else(|| names.into_iter().find(|it| has_letters(it, &sought)));
        let meant = meant.and_then(|meant| {
            known().find(|it| it.text == meant || it.name.as_deref() == Some(meant))
        });
        words.extend(meant.and_then(|offer| {
            let word = word(key, offer, counted)?;
            Some(Word {
                note: format!("did you mean this? {}", word.note)
                    .trim_end()
                    .to_owned(),
                ..word
            })
        }));
    }
    Suggestions {
        typed: typed.len(),
        words,
        begin,
    }
}

fn word(key: FilterKey, offer: &Offer, counted: bool) -> Option<Word> {
    let value = match offer.text == BLANK && !key.may_be_blank() {
        true => return None,
        false => Filter::writing(key, &offer.value)?,
    };
    Some(Word {
        written: value,
        note: offer.name.clone().unwrap_or_default(),
        draws: counted.then_some(offer.draws),
    })
}

/// Whether the letters occur in the word in their order, as where some are left out.
fn has_letters(word: &str, sought: &str) -> bool {
    let mut letters = word.chars().flat_map(char::to_lowercase);
    sought.chars().count() > 2 && sought.chars().all(|sign| letters.any(|it| it == sign))
}

/// Where the last piece begins, of those that such signs part outside quotes.
fn last_start(text: &str, parts: impl Fn(char) -> bool) -> usize {
    let mut quoted = false;
    let mut start = 0;
    for (at, sign) in text.char_indices() {
        quoted ^= sign == '"';
        if parts(sign) && !quoted {
            start = at + sign.len_utf8();
        }
    }
    start
}

/// Where the term at the beginning ends.
fn end_of_term(text: &str, mut quoted: bool) -> usize {
    for (at, sign) in text.char_indices() {
        quoted ^= sign == '"';
        if sign.is_whitespace() && !quoted {
            return at;
        }
    }
    text.len()
}

fn begins(word: &str, typed: &str) -> bool {
    let beginning = word.get(..typed.len());
    beginning.is_some_and(|it| it.eq_ignore_ascii_case(typed))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spot(before: &str, after: &str) -> Spot {
        let mut line = LineEdit::new(after);
        line.start();
        line.insert(before);
        Spot::of(&line)
    }

    #[test]
    fn the_spot_is_the_word_at_the_cursor_within_the_other_terms() {
        let value = |key, typed: &str, within: &str| {
            let within = Filter::parse(within).unwrap_or_default();
            Spot::Value(key, typed.to_owned(), within)
        };
        let key = |typed: &str| Spot::Key(typed.to_owned());
        for (before, after, expected) in [
            ("", "", key("")),
            ("kind:sump ", "", key("")),
            ("kind:sump -cr", "", key("cr")),
            (
                "kind:su",
                "mp site:A",
                value(FilterKey::Kind, "su", "site:A"),
            ),
            (
                "crew:A kind:sump,ta",
                "",
                value(FilterKey::Kind, "ta", "crew:A"),
            ),
            (
                "site:\"North p",
                "it\" crew:A",
                value(FilterKey::Site, "\"North p", "crew:A"),
            ),
            ("-site:\"a,b\",c", "", value(FilterKey::Site, "c", "")),
            ("sight:N", "", Spot::Nothing),
            // What can't be read is left out of account.
            ("nonsense crew:E", "", value(FilterKey::Crew, "E", "")),
        ] {
            assert_eq!(spot(before, after), expected, "{before}|{after}");
        }
    }

    fn offers() -> Offers {
        let offer = |text: &str, name: Option<&str>, draws| Offer {
            value: crate::analysis::Value::Text(text.to_owned()),
            text: text.to_owned(),
            name: name.map(str::to_owned),
            draws,
        };
        Offers {
            values: vec![
                offer("T-1", Some("Ada Morn"), 3),
                offer("T-12", Some("Bo Lind"), 40),
                offer("Tor", None, 1),
            ],
            within: 44,
        }
    }

    fn written(typed: &str) -> (Vec<String>, Option<String>) {
        let found = of_values(FilterKey::Technician, typed, &offers(), true);
        let insertion = found.insertion(typed);
        let words = found.words.into_iter();
        let line = |word: Word| {
            let draws = word.draws.unwrap_or_default();
            format!("{} | {} | {draws}", word.written, word.note)
        };
        (words.map(line).collect(), insertion)
    }

    #[test]
    fn values_come_with_their_draws_and_the_nearest_is_offered_for_a_slip() {
        let (words, insertion) = written("t-");
        assert_eq!(words, ["T-12 | Bo Lind | 40", "T-1 | Ada Morn | 3"]);
        assert_eq!(insertion, Some("T-1".to_owned()));
        assert_eq!(written("Bo").0, ["T-12 | Bo Lind | 40"]);
        assert_eq!(written("Bo").1, Some("T-12 ".to_owned()));
        // Within a name it is found, but Tab takes nothing on its own.
        assert_eq!(written("morn").0, ["T-1 | Ada Morn | 3"]);
        assert_eq!(written("morn").1, None);
        assert_eq!(
            written("ada mron").0,
            ["T-1 | did you mean this? Ada Morn | 3"]
        );
        assert_eq!(
            written("bolnd").0,
            ["T-12 | did you mean this? Bo Lind | 40"]
        );
        assert!(written("zzzz").0.is_empty());
    }

    #[test]
    fn keys_come_with_what_they_match() {
        let words = |typed| of_keys(typed).words;
        assert_eq!(words("").len(), FilterKey::ALL.len());
        assert_eq!(words("ki")[0].written, "kind:");
        assert_eq!(words("ki")[0].note, "the kind of its point");
        assert!(words("tecnician")[0].note.starts_with("did you mean this?"));
        assert!(words("xyzzy").is_empty());
    }
}

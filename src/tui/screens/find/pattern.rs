//! How well a name fits what was typed.
//!
//! Every word that was typed must fit one of the names of a thing (its id, its name, its
//! site …), in any case and without regard to accents. Letters may be left out, but their
//! order counts; the matching itself is that of the crate `nucleo-matcher`.

use std::cmp::Reverse;

use nucleo_matcher::chars::{normalize, to_lower_case};
use nucleo_matcher::pattern::{Atom, AtomKind, CaseMatching, Normalization};
use nucleo_matcher::{Config, Matcher, Utf32Str};
use unicode_segmentation::UnicodeSegmentation;

/// How a word lies in a name, the best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Tier {
    /// It is the name.
    Whole,
    /// The name begins with it.
    Beginning,
    /// It stands somewhere in the name.
    Within,
    /// Its letters do, with others between them.
    Scattered,
}

/// How well something fits, the lower the better: how it lies, whether that is in something
/// that is only said of the thing and not its own name, and the crate's score.
pub(super) type Fit = (Tier, bool, Reverse<u32>);

/// What was typed, made ready.
pub(super) struct Pattern {
    words: Vec<Atom>,
    /// All words as they stand, where there are several.
    phrase: Option<Atom>,
    matcher: Matcher,
    buffer: Vec<char>,
}

/// The names a thing can be found by.
#[derive(Clone, Copy, Debug)]
pub(super) struct Names<'a> {
    pub(super) all: &'a [&'a str],
    /// So many of them, from the first on, are its own; the others are said of it.
    pub(super) own: usize,
}

impl Pattern {
    pub(super) fn new(query: &str) -> Self {
        let atom = |text: &str| {
            let (case, normal) = (CaseMatching::Ignore, Normalization::Smart);
            let letters: String = letters(text).collect();
            Atom::new(&letters, case, normal, AtomKind::Fuzzy, false)
        };
        let words: Vec<&str> = query.split_whitespace().collect();
        Pattern {
            phrase: (words.len() > 1).then(|| atom(&words.join(" "))),
            words: words.into_iter().map(atom).collect(),
            matcher: Matcher::new(Config::DEFAULT),
            buffer: Vec::new(),
        }
    }

    /// How well a thing with these names fits; `None` if some word fits none of them.
    pub(super) fn fit(&mut self, names: Names<'_>) -> Option<Fit> {
        let mut whole = (Tier::Whole, false, Reverse(0));
        for word in 0..self.words.len() {
            let (best, _) = self.best(Some(word), names)?;
            whole.0 = whole.0.max(best.0);
            whole.1 |= best.1;
            whole.2.0 += best.2.0;
        }
        Some(match self.best(None, names) {
            Some((phrase, _)) if (phrase.0, phrase.1) < (whole.0, whole.1) => {
                (phrase.0, phrase.1, whole.2)
            }
            _ => whole,
        })
    }

    /// For each name, the graphemes in it that a word is found by, where that word fits best.
    pub(super) fn marks(&mut self, names: Names<'_>) -> Vec<Vec<u32>> {
        let mut marks = vec![Vec::new(); names.all.len()];
        let is_phrase = self.best(None, names).is_some();
        let sought: Vec<Option<usize>> = match is_phrase {
            true => vec![None],
            false => (0..self.words.len()).map(Some).collect(),
        };
        for word in sought {
            let Some((_, at)) = self.best(word, names) else {
                continue;
            };
            let sought = match word {
                Some(word) => &self.words[word],
                None => self.phrase.as_ref().unwrap_or(&self.words[0]),
            };
            let name = name(names.all[at], &mut self.buffer);
            match start(name, sought.needle_text()) {
                Some(start) => {
                    marks[at].extend((start..).take(sought.needle_text().len()).map(number))
                }
                None => {
                    let _ = sought.indices(name, &mut self.matcher, &mut marks[at]);
                }
            }
        }
        for marks in &mut marks {
            marks.sort_unstable();
            marks.dedup();
        }
        marks
    }

    /// The name that a word fits best, or the phrase, which must lie in one piece.
    fn best(&mut self, word: Option<usize>, names: Names<'_>) -> Option<(Fit, usize)> {
        let sought = match word {
            Some(word) => self.words.get(word)?,
            None => self.phrase.as_ref()?,
        };
        let mut best = None;
        for (at, text) in names.all.iter().enumerate() {
            let name = name(text, &mut self.buffer);
            let Some((tier, score)) = lies(sought, name, &mut self.matcher) else {
                continue;
            };
            let fit = ((tier, at >= names.own, Reverse(score)), at);
            // In what is only said of a thing, often a sentence, scattered letters are no find.
            let may_scatter = word.is_some() && at < names.own;
            let is_close = tier < Tier::Scattered || may_scatter;
            if is_close && best.is_none_or(|best| fit < best) {
                best = Some(fit);
            }
        }
        best
    }
}

/// How a text lies in a name, and the crate's score.
fn lies(sought: &Atom, name: Utf32Str<'_>, matcher: &mut Matcher) -> Option<(Tier, u32)> {
    let score = u32::from(sought.score(name, matcher)?);
    let tier = match start(name, sought.needle_text()) {
        Some(0) if name.len() == sought.needle_text().len() => Tier::Whole,
        Some(0) => Tier::Beginning,
        Some(_) => Tier::Within,
        None if score < least(sought) => return None,
        None => Tier::Scattered,
    };
    Some((tier, score))
}

/// Where the text stands in one piece, counted in letters. The crate's own search for that
/// leaves out the end of names that are not ASCII.
fn start(name: Utf32Str<'_>, sought: Utf32Str<'_>) -> Option<usize> {
    let is_same = |letter: char, sought: char| {
        let letter = to_lower_case(letter);
        letter == sought || normalize(letter) == sought
    };
    let stands_at = |start: &usize| {
        let own = sought.chars().zip(number(*start)..);
        own.into_iter()
            .all(|(sought, at)| is_same(name.get(at), sought))
    };
    let last = name.len().checked_sub(sought.len())?;
    (0..=last).find(stands_at)
}

/// Names are shorter than 32 bits can count.
fn number(place: usize) -> u32 {
    u32::try_from(place).unwrap_or(u32::MAX)
}

/// The letters of a text: of every grapheme its first character, so that an accent of its own
/// neither helps nor hinders.
fn letters(text: &str) -> impl Iterator<Item = char> {
    text.graphemes(true).filter_map(|one| one.chars().next())
}

/// A name as the crate reads it.
fn name<'a>(text: &'a str, buffer: &'a mut Vec<char>) -> Utf32Str<'a> {
    if text.is_ascii() {
        return Utf32Str::Ascii(text.as_bytes());
    }
    buffer.clear();
    buffer.extend(letters(text));
    Utf32Str::Unicode(buffer)
}

/// Letters that lie too far apart are no find. A letter counts 16 in the crate's score, the
/// beginning of a word up to 20 more, and what is left out between letters is taken off.
fn least(word: &Atom) -> u32 {
    16 * word.needle_text().len() as u32 + 8
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn names<'a>(all: &'a [&'a str]) -> Names<'a> {
        Names { all, own: 2 }
    }

    fn tier(query: &str, all: &[&str]) -> Option<Tier> {
        let fit = Pattern::new(query).fit(names(all));
        fit.map(|(tier, ..)| tier)
    }

    #[test]
    fn a_word_fits_whole_at_the_beginning_within_or_scattered() {
        let all = ["T014", "Maren Varkonel", "Tide crew"];
        for (query, expected) in [
            ("t014", Some(Tier::Whole)),
            ("MAREN", Some(Tier::Beginning)),
            ("vark", Some(Tier::Within)),
            ("vrkn", Some(Tier::Scattered)),
            ("maren tide", Some(Tier::Beginning)),
            ("varkonel maren", Some(Tier::Within)),
            // All words in one piece, as they stand.
            ("maren varkonel", Some(Tier::Whole)),
            ("maren quay", None),
            ("nerav", None),
            ("tdcrw", None),
            // Letters that are all there, but far apart.
            ("mnol", None),
        ] {
            assert_eq!(tier(query, &all), expected, "{query}");
        }
        assert_eq!(tier("ard", &["Tomas Ård"]), Some(Tier::Within));
        assert_eq!(tier("Ård", &["Tomas Ård"]), Some(Tier::Within));
        assert_eq!(tier("Ård", &["Tomas Ard"]), None);
        assert_eq!(tier("油井", &["油井 太郎"]), Some(Tier::Beginning));
    }

    #[test]
    fn marks_stand_where_the_word_fits_best() {
        let marks = Pattern::new("vark t0").marks(names(&["T014", "Maren Varkonel"]));
        assert_eq!(marks, [vec![0, 1], vec![6, 7, 8, 9]]);
        let marks = Pattern::new("e\u{301}b").marks(names(&["ae\u{301}b"]));
        assert_eq!(marks, [vec![1, 2]]);
    }

    #[test]
    fn what_is_only_said_of_a_thing_comes_after_its_own_name() {
        let mut pattern = Pattern::new("tide");
        let crew = pattern.fit(names(&["Tide crew"])).unwrap();
        let member = pattern.fit(names(&["T014", "Maren", "Tide crew"])).unwrap();
        assert!(crew < member);
    }

    #[test]
    fn signs_of_other_search_languages_are_plain_letters() {
        assert_eq!(tier("!maren", &["Maren"]), None);
        assert_eq!(tier("^a$", &["x ^a$ y"]), Some(Tier::Within));
    }
}

//! How well a name fits what was typed.
//!
//! Every word that was typed must fit one of the names of a thing (its id, its name, its
//! site …), in any case and without regard to accents. Letters may be left out, but their
//! order counts; the matching itself is that of the crate `nucleo-matcher`.

use std::cmp::Reverse;

use nucleo_matcher::pattern::{Atom, AtomKind, CaseMatching, Normalization};
use nucleo_matcher::{Config, Matcher, Utf32Str};

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

const TIERS: [(Tier, AtomKind); 4] = [
    (Tier::Whole, AtomKind::Exact),
    (Tier::Beginning, AtomKind::Prefix),
    (Tier::Within, AtomKind::Substring),
    (Tier::Scattered, AtomKind::Fuzzy),
];

/// A text that is sought, in a way of matching for each tier.
type Ways = [Atom; 4];

/// What was typed, made ready.
pub(super) struct Pattern {
    words: Vec<Ways>,
    /// All words as they stand, where there are several.
    phrase: Option<Ways>,
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
        let atom = |text: &str, kind| {
            let (case, normal) = (CaseMatching::Ignore, Normalization::Smart);
            Atom::new(text, case, normal, kind, false)
        };
        let ways = |text: &str| TIERS.map(|(_, kind)| atom(text, kind));
        let words: Vec<&str> = query.split_whitespace().collect();
        Pattern {
            phrase: (words.len() > 1).then(|| ways(&words.join(" "))),
            words: words.into_iter().map(ways).collect(),
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
            let (Some(((tier, ..), at)), Some(ways)) = (self.best(word, names), self.ways(word))
            else {
                continue;
            };
            let atom = ways[tier as usize].clone();
            let text = Utf32Str::new(names.all[at], &mut self.buffer);
            let _ = atom.indices(text, &mut self.matcher, &mut marks[at]);
        }
        for marks in &mut marks {
            marks.sort_unstable();
            marks.dedup();
        }
        marks
    }

    fn ways(&self, word: Option<usize>) -> Option<&Ways> {
        match word {
            Some(word) => self.words.get(word),
            None => self.phrase.as_ref(),
        }
    }

    /// The name that a word fits best, or the phrase, which must lie in one piece.
    fn best(&mut self, word: Option<usize>, names: Names<'_>) -> Option<(Fit, usize)> {
        let ways = match word {
            Some(word) => self.words.get(word)?,
            None => self.phrase.as_ref()?,
        };
        let mut best = None;
        for (at, name) in names.all.iter().enumerate() {
            let text = Utf32Str::new(name, &mut self.buffer);
            let Some((tier, score)) = lies(ways, text, &mut self.matcher) else {
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
fn lies(ways: &Ways, name: Utf32Str<'_>, matcher: &mut Matcher) -> Option<(Tier, u32)> {
    let [whole, beginning, within, scattered] = ways;
    let score = u32::from(scattered.score(name, matcher)?);
    if within.score(name, matcher).is_none() {
        return (score >= least(scattered)).then_some((Tier::Scattered, score));
    }
    if beginning.score(name, matcher).is_none() {
        return Some((Tier::Within, score));
    }
    match whole.score(name, matcher) {
        None => Some((Tier::Beginning, score)),
        Some(_) => Some((Tier::Whole, score)),
    }
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
            ("mrel", None),
        ] {
            assert_eq!(tier(query, &all), expected, "{query}");
        }
        assert_eq!(tier("ard", &["Tomas Ård"]), Some(Tier::Within));
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

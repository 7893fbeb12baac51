//! The filter while it is built, and the one term of it whose values are open.

use crate::analysis::{Filter, FilterKey, Term, Value};

/// What is built so far.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Draft {
    pub(crate) filter: Filter,
    /// What is being chosen by.
    pub(crate) key: FilterKey,
    /// The place of the open term; none where it has no value yet.
    pub(crate) place: Option<usize>,
    /// Its values were ticked or turned by hand: the row under the cursor no longer stands for
    /// them.
    pub(crate) by_hand: bool,
}

impl Draft {
    /// A filter to go on from, with this key open.
    pub(crate) fn new(filter: Filter, key: FilterKey) -> Self {
        let mut draft = Draft {
            filter,
            key,
            place: None,
            by_hand: false,
        };
        draft.open(key);
        draft
    }

    /// Opens a key: the term that already chooses by it, or a new one. Where a draw can have
    /// several values, a new one narrows further.
    pub(crate) fn open(&mut self, key: FilterKey) {
        let is_open = |term: &Term| term.key() == key && !term.excludes() && !key.is_many();
        self.key = key;
        self.place = self.filter.terms().iter().position(is_open);
        self.by_hand = false;
    }

    /// Opens a term that is there.
    pub(crate) fn open_term(&mut self, place: usize) {
        if let Some(term) = self.filter.terms().get(place) {
            self.key = term.key();
            self.place = Some(place);
            self.by_hand = false;
        }
    }

    /// The open term, if it has values.
    pub(crate) fn term(&self) -> Option<&Term> {
        self.filter.terms().get(self.place?)
    }

    /// Its values.
    pub(crate) fn ticked(&self) -> &[Value] {
        self.term().map_or(&[], Term::values)
    }

    /// Whether it excludes.
    pub(crate) fn excludes(&self) -> bool {
        self.term().is_some_and(Term::excludes)
    }

    /// Ticks a value or takes the tick away. Of days there is one.
    pub(crate) fn tick(&mut self, value: &Value) {
        let mut values = self.ticked().to_vec();
        match values.iter().position(|known| known == value) {
            Some(at) => {
                values.remove(at);
            }
            None if self.key.is_day() => values = vec![value.clone()],
            None => values.push(value.clone()),
        }
        self.put(Term::of(self.key, self.excludes(), values));
    }

    /// Turns the open term into its opposite; without one, this value is excluded.
    pub(crate) fn turn(&mut self, value: Option<&Value>) {
        let term = match self.term() {
            Some(term) => Some(term.turned()),
            None => value.and_then(|value| Term::of(self.key, true, vec![value.clone()])),
        };
        self.put(term);
    }

    /// Takes the open term out.
    pub(crate) fn take_out(&mut self) {
        self.put(None);
    }

    fn put(&mut self, term: Option<Term>) {
        self.by_hand = true;
        let end = self.filter.terms().len();
        let gone = term.is_none();
        let place = self.place.unwrap_or(end);
        self.filter = self.filter.with_term_at(place, term);
        self.place = (!gone).then_some(place);
    }

    /// All terms but the open one: values are counted within it.
    pub(crate) fn within(&self) -> Filter {
        match self.place {
            Some(place) => self.filter.without_term(place),
            None => self.filter.clone(),
        }
    }

    /// What is applied while the cursor stands on this value: what was ticked by hand, else
    /// the open term with this value alone.
    pub(crate) fn with(&self, value: Option<&Value>) -> Filter {
        let chosen = value.filter(|_| !self.by_hand).cloned();
        let term = chosen.and_then(|value| Term::of(self.key, self.excludes(), vec![value]));
        match (term, self.place) {
            (None, _) => self.filter.clone(),
            (term, Some(place)) => self.filter.with_term_at(place, term),
            (Some(term), None) => self.filter.and(term),
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use proptest::prelude::*;

    use super::*;

    fn draft(filter: &str, key: FilterKey) -> Draft {
        Draft::new(Filter::parse(filter).unwrap(), key)
    }

    fn value(key: FilterKey, text: &str) -> Value {
        Value::read(key, text).unwrap()
    }

    #[test]
    fn the_row_under_the_cursor_counts_until_values_are_ticked() {
        let key = FilterKey::Crew;
        let (early, late) = (value(key, "Early"), value(key, "Late"));
        let mut draft = draft("kind:sump", key);
        let with = |draft: &Draft, value| draft.with(Some(value)).to_string();
        assert_eq!(with(&draft, &early), "kind:sump crew:Early");
        draft.tick(&late);
        assert_eq!(with(&draft, &early), "kind:sump crew:Late");
        draft.tick(&early);
        assert_eq!(with(&draft, &early), "kind:sump crew:Late,Early");
        draft.turn(None);
        assert_eq!(with(&draft, &early), "kind:sump -crew:Late,Early");
        assert_eq!(draft.within().to_string(), "kind:sump");
        draft.tick(&late);
        draft.tick(&early);
        assert_eq!(with(&draft, &early), "kind:sump");
        draft.turn(Some(&early));
        assert_eq!(with(&draft, &late), "kind:sump -crew:Early");
    }

    #[test]
    fn a_key_opens_the_term_that_chooses_by_it_unless_two_would_narrow_further() {
        let early = value(FilterKey::Crew, "Early");
        let filter = "crew:Late -site:North broken:flush-met";
        assert_eq!(draft(filter, FilterKey::Crew).place, Some(0));
        assert_eq!(draft(filter, FilterKey::Site).place, None);
        assert_eq!(draft(filter, FilterKey::Broken).place, None);
        let of_crew = draft(filter, FilterKey::Crew).with(Some(&early));
        assert_eq!(
            of_crew.to_string(),
            "crew:Early -site:North broken:flush-met"
        );
        let mut of_site = draft(filter, FilterKey::Site);
        of_site.open_term(1);
        assert!(of_site.excludes());
        of_site.take_out();
        assert_eq!(of_site.filter.to_string(), "crew:Late broken:flush-met");
        let rule = value(FilterKey::Broken, "level-set");
        let of_rule = draft(filter, FilterKey::Broken).with(Some(&rule));
        assert_eq!(of_rule.to_string(), format!("{filter} broken:level-set"));
    }

    #[test]
    fn of_days_there_is_one() {
        let key = FilterKey::From;
        let mut draft = draft("", key);
        draft.tick(&value(key, "2026-01"));
        draft.tick(&value(key, "2026-03-04"));
        assert_eq!(draft.filter.to_string(), "from:2026-03-04");
        draft.tick(&value(key, "2026-03-04"));
        assert_eq!(draft.filter, Filter::default());
    }

    fn any_value() -> impl Strategy<Value = (FilterKey, Value)> {
        let text = prop_oneof![Just("(blank)".to_owned()), ".{1,12}"];
        (0..FilterKey::ALL.len(), text, 0usize..40, 1u32..13).prop_map(
            |(key, text, word, month)| {
                let key = FilterKey::ALL[key];
                let value = match key.words() {
                    Some(words) => Value::Word(word % words.len()),
                    None if key.is_day() => value(key, &format!("2026-{month:02}")),
                    None => Value::Text(text),
                };
                (key, value)
            },
        )
    }

    proptest! {
        /// Whatever is ticked and turned, what the builder shows at its foot reads back as
        /// what it applies.
        #[test]
        fn what_is_built_is_what_is_shown(
            steps in proptest::collection::vec((any_value(), 0u8..4), 1..30)
        ) {
            let mut draft = draft("", FilterKey::Verdict);
            for ((key, value), what) in steps {
                match what {
                    0 => draft.open(key),
                    1 if draft.key == key => draft.turn(Some(&value)),
                    2 => draft.take_out(),
                    _ => {
                        draft.open(key);
                        draft.tick(&value);
                    }
                }
                let shown = draft.filter.to_string();
                prop_assert_eq!(&Filter::parse(&shown).unwrap(), &draft.filter);
                let chosen = (draft.key == key).then_some(&value);
                let applied = draft.with(chosen);
                prop_assert_eq!(&Filter::parse(&applied.to_string()).unwrap(), &applied);
            }
        }
    }
}

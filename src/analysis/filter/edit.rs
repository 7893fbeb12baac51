//! Filters put together piece by piece, without being written first.

use super::{Filter, FilterKey, Term, Value};

impl Term {
    /// A term of these values; none without a value, or with more than one day.
    pub(crate) fn of(key: FilterKey, excludes: bool, values: Vec<Value>) -> Option<Self> {
        let fits = match values.len() {
            0 => false,
            1 => true,
            _ => !key.is_day(),
        };
        fits.then_some(Term {
            excludes,
            key,
            values,
        })
    }

    /// Its values, in the order they were given.
    pub(crate) fn values(&self) -> &[Value] {
        &self.values
    }

    /// Its opposite: what passed no longer does, and the other way round.
    #[must_use]
    pub fn turned(&self) -> Self {
        Term {
            excludes: !self.excludes,
            ..self.clone()
        }
    }
}

impl Filter {
    /// This filter with the term at this place put another way, or left out; past the last
    /// term it is added.
    #[must_use]
    pub fn with_term_at(&self, place: usize, term: Option<Term>) -> Self {
        let mut terms = self.terms.clone();
        match term {
            Some(term) if place < terms.len() => terms[place] = term,
            Some(term) => terms.push(term),
            None => return self.without_term(place),
        }
        Filter { terms }
    }

    /// This filter and one more term. What the new one makes superfluous is left out.
    #[must_use]
    pub fn and(&self, term: Term) -> Self {
        let mut terms = self.terms.clone();
        let is_superfluous = |old: &Term| {
            let mut values = term.values.iter();
            *old == term || !term.excludes && values.all(|it| old.is_implied_by(term.key, it))
        };
        terms.retain(|old| !is_superfluous(old));
        terms.push(term);
        Filter { terms }
    }

    /// The terms of it that name first or last days alone.
    #[must_use]
    pub fn days_alone(&self) -> Self {
        self.only(|term| term.key.is_day())
    }

    /// This filter without the terms that name first or last days.
    #[must_use]
    pub fn without_days(&self) -> Self {
        self.only(|term| !term.key.is_day())
    }

    fn only(&self, keep: impl Fn(&Term) -> bool) -> Self {
        let terms = self.terms.iter().filter(|term| keep(term));
        Filter {
            terms: terms.cloned().collect(),
        }
    }

    /// A value of a key as filters write it, in quotes where need be; none where no term can
    /// hold it.
    pub(crate) fn writing(key: FilterKey, value: &Value) -> Option<String> {
        let term = Term::of(key, false, vec![value.clone()])?.to_string();
        Some(term.split_once(':')?.1.to_owned())
    }

    /// Whether its first day comes after its last, so that no draw can pass.
    #[must_use]
    pub fn days_cross(&self) -> bool {
        let days = |key: FilterKey| {
            let terms = self.terms.iter();
            terms.filter(move |term| term.key == key && !term.excludes)
        };
        let first = days(FilterKey::From).filter_map(|term| term.values.first()?.first_day());
        let last = days(FilterKey::To).filter_map(|term| term.values.first()?.last_day());
        matches!((first.max(), last.min()), (Some(first), Some(last)) if first > last)
    }
}

impl Value {
    /// Reads a value of a key, as it stands without quotes.
    ///
    /// # Errors
    /// The key can't have it; the column is 1.
    pub(crate) fn read(key: FilterKey, text: &str) -> Result<Self, super::FilterError> {
        super::read::value(key, text, false, 1)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn filter(text: &str) -> Filter {
        Filter::parse(text).unwrap()
    }

    #[test]
    fn terms_are_put_another_way_left_out_and_added() {
        let before = filter("site:North crew:Early");
        let turned = before.terms()[0].turned();
        let at = |place, term| before.with_term_at(place, term).to_string();
        assert_eq!(at(0, Some(turned.clone())), "-site:North crew:Early");
        assert_eq!(at(7, Some(turned)), "site:North crew:Early -site:North");
        assert_eq!(at(1, None), "site:North");
        assert_eq!(at(2, None), "site:North crew:Early");
    }

    #[test]
    fn one_more_term_leaves_out_what_it_makes_superfluous() {
        for (before, term, after) in [
            ("site:North,South", "site:North", "site:North"),
            (
                "site:North,South",
                "site:North,West",
                "site:North,South site:North,West",
            ),
            ("-crew:Late", "crew:Early", "crew:Early"),
            ("-crew:Late", "-crew:Late", "-crew:Late"),
            (
                "broken:flush-met",
                "broken:level-set",
                "broken:flush-met broken:level-set",
            ),
            ("from:2026-01", "from:2026-03", "from:2026-03"),
        ] {
            let term = filter(term).terms()[0].clone();
            assert_eq!(filter(before).and(term).to_string(), after);
        }
    }

    #[test]
    fn a_term_has_a_value_and_days_stand_alone() {
        let day = |text| Value::read(FilterKey::From, text).unwrap();
        assert_eq!(Term::of(FilterKey::Site, false, Vec::new()), None);
        let two = vec![day("2026-01"), day("2026-02-03")];
        assert_eq!(Term::of(FilterKey::From, false, two), None);
        let one = Term::of(FilterKey::From, true, vec![day("2026-02-03")]);
        assert_eq!(one.unwrap().to_string(), "-from:2026-02-03");
    }

    #[test]
    fn days_are_parted_from_the_rest() {
        let whole = filter("site:North from:2026-03 -crew:Late -to:2026-05");
        assert_eq!(whole.without_days().to_string(), "site:North -crew:Late");
        assert_eq!(whole.days_alone().to_string(), "from:2026-03 -to:2026-05");
    }

    #[test]
    fn days_that_cross_are_known() {
        for (text, cross) in [
            ("from:2026-03 to:2026-02", true),
            ("from:2026-03 to:2026-03", false),
            ("from:2026-03-02 to:2026-03-01", true),
            ("from:2026-01 from:2026-05 to:2026-04", true),
            ("from:2026-03 -to:2026-02", false),
            ("to:2026-02", false),
        ] {
            assert_eq!(filter(text).days_cross(), cross, "{text}");
        }
    }
}

//! The list of values: narrowed by what is typed, in order of draws or in its own.

use std::sync::Arc;

use nucleo_matcher::pattern::{AtomKind, CaseMatching, Normalization, Pattern};
use nucleo_matcher::{Config, Matcher, Utf32Str};

use crate::analysis::{FilterKey, Offer, Offers, Value};
use crate::tui::line_edit::LineEdit;
use crate::tui::list::ListPlace;

/// The values on offer and where one stands among them.
#[derive(Clone, Debug, Default)]
pub(crate) struct ValueList {
    /// What is typed to narrow the list.
    pub(crate) sought: LineEdit,
    /// In their own order, not those with most draws first.
    pub(crate) in_own_order: bool,
    pub(crate) list: ListPlace,
    /// The draws behind them are counted.
    pub(crate) counted: bool,
    pub(crate) offers: Arc<Offers>,
    /// The places of those in the list, in its order.
    shown: Vec<usize>,
    /// One has moved in the list; until then a value that is ticked is gone to.
    moved: bool,
}

impl ValueList {
    /// A list of values that are not counted yet.
    pub(crate) fn of(key: FilterKey, offers: Offers, ticked: &[Value], height: usize) -> Self {
        let mut list = ValueList {
            // Verdicts stand from the worst to the best.
            in_own_order: key == FilterKey::Verdict || key.is_day(),
            ..ValueList::default()
        };
        list.fill(Arc::new(offers), false, ticked, height);
        list
    }

    /// Takes the values in, staying on the one that was chosen.
    pub(crate) fn fill(
        &mut self,
        offers: Arc<Offers>,
        counted: bool,
        ticked: &[Value],
        height: usize,
    ) {
        let chosen = self.chosen().map(|offer| offer.value.clone());
        self.offers = offers;
        self.counted = counted;
        self.narrow();
        let sought = match chosen.filter(|_| self.moved) {
            Some(value) => Some(value),
            None => ticked.first().cloned(),
        };
        let is_sought = |offer: &Offer| Some(&offer.value) == sought.as_ref();
        let place = self.shown().position(is_sought);
        self.list.choose(place.unwrap_or(0), self.len(), height);
    }

    /// Finds the values that fit what is typed.
    fn narrow(&mut self) {
        let order = if self.in_own_order {
            (0..self.offers.values.len()).collect()
        } else {
            self.offers.most_first()
        };
        let sought = self.sought.text().trim();
        self.shown = if sought.is_empty() {
            order
        } else {
            best(&self.offers, order, sought)
        };
    }

    /// After a change of what is typed: the best is chosen.
    pub(crate) fn typed(&mut self) {
        self.narrow();
        self.list = ListPlace::default();
        self.moved = !self.sought.text().is_empty();
    }

    /// Turns to the other order, staying on the chosen value.
    pub(crate) fn turn_order(&mut self, height: usize) {
        self.moved = true;
        self.in_own_order = !self.in_own_order;
        self.fill(Arc::clone(&self.offers), self.counted, &[], height);
    }

    pub(crate) fn step(&mut self, by: isize, height: usize) {
        self.moved = true;
        self.list.step(by, self.len(), height);
    }

    pub(crate) fn scroll(&mut self, by: isize, height: usize) {
        self.moved = true;
        self.list.scroll(by, self.len(), height);
    }

    pub(crate) fn choose(&mut self, row: usize, height: usize) {
        self.moved = true;
        self.list.choose(row, self.len(), height);
    }

    /// Whether one has moved in the list or typed since it was opened.
    pub(crate) const fn has_moved(&self) -> bool {
        self.moved
    }

    pub(crate) fn len(&self) -> usize {
        self.shown.len()
    }

    /// The values in the list, in its order.
    pub(crate) fn shown(&self) -> impl Iterator<Item = &Offer> {
        self.shown.iter().map(|place| &self.offers.values[*place])
    }

    pub(crate) fn chosen(&self) -> Option<&Offer> {
        let place = self.shown.get(self.list.cursor)?;
        self.offers.values.get(*place)
    }

    /// The draws that have one of these values; none where one is not counted.
    pub(crate) fn draws(&self, values: &[Value]) -> Option<u64> {
        let offers = self.offers.values.iter();
        let found: Vec<u64> = offers
            .filter(|offer| values.contains(&offer.value))
            .map(|offer| offer.draws)
            .collect();
        (self.counted && found.len() == values.len()).then(|| found.iter().sum())
    }
}

/// The places of the values in which the letters occur in their order, the closest first.
fn best(offers: &Offers, order: Vec<usize>, sought: &str) -> Vec<usize> {
    let mut matcher = Matcher::new(Config::DEFAULT);
    let pattern = Pattern::new(
        sought,
        CaseMatching::Ignore,
        Normalization::Smart,
        AtomKind::Fuzzy,
    );
    let mut letters = Vec::new();
    let mut score = |text: &str| pattern.score(Utf32Str::new(text, &mut letters), &mut matcher);
    let mut found: Vec<(u32, usize)> = order
        .into_iter()
        .filter_map(|place| {
            let offer = &offers.values[place];
            let of_name = offer.name.as_deref().and_then(&mut score);
            Some((score(&offer.text).max(of_name)?, place))
        })
        .collect();
    // Equal ones stay in their order.
    found.sort_by_key(|(score, _)| std::cmp::Reverse(*score));
    found.into_iter().map(|(_, place)| place).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn offers(values: &[(&str, u64)]) -> Offers {
        let values = values.iter().map(|(text, draws)| Offer {
            value: Value::Text((*text).to_owned()),
            text: (*text).to_owned(),
            name: (*text == "T-7").then(|| "Ada Morn".to_owned()),
            draws: *draws,
        });
        Offers {
            values: values.collect(),
            within: 10,
        }
    }

    fn texts(list: &ValueList) -> Vec<&str> {
        list.shown().map(|offer| offer.text.as_str()).collect()
    }

    #[test]
    fn letters_narrow_the_list_and_the_order_is_turned() {
        let values = [("P-112", 2), ("P-12", 5), ("P-7", 9), ("T-7", 1)];
        let mut list = ValueList::of(FilterKey::Point, offers(&values), &[], 5);
        list.fill(Arc::new(offers(&values)), true, &[], 5);
        assert_eq!(texts(&list), ["P-7", "P-12", "P-112", "T-7"]);
        list.turn_order(5);
        assert_eq!(texts(&list), ["P-112", "P-12", "P-7", "T-7"]);
        // The value that was chosen stays chosen.
        assert_eq!(list.list.cursor, 2);
        for (sought, found) in [
            ("p12", vec!["P-12", "P-112"]),
            ("7", vec!["P-7", "T-7"]),
            ("ada", vec!["T-7"]),
            ("xyz", vec![]),
            ("", vec!["P-112", "P-12", "P-7", "T-7"]),
        ] {
            list.sought = LineEdit::new(sought);
            list.typed();
            assert_eq!(texts(&list), found, "{sought}");
        }
    }

    #[test]
    fn draws_are_added_up_only_where_all_are_counted() {
        let values = [("P-12", 5), ("P-7", 9)];
        let mut list = ValueList::of(FilterKey::Point, offers(&values), &[], 5);
        let text = |text: &str| Value::Text(text.to_owned());
        assert_eq!(list.draws(&[text("P-7")]), None);
        list.fill(Arc::new(offers(&values)), true, &[text("P-12")], 5);
        assert_eq!(list.chosen().map(|offer| offer.draws), Some(5));
        assert_eq!(list.draws(&[text("P-7"), text("P-12")]), Some(14));
        assert_eq!(list.draws(&[text("P-7"), text("P-99")]), None);
        assert_eq!(list.draws(&[]), Some(0));
    }
}

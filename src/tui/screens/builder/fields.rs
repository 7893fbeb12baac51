//! The list on the left: the terms in force, and the fields to choose by.

use crate::analysis::{Filter, FilterKey};
use crate::tui::list::ListPlace;

/// A line of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Entry {
    /// What stands below it.
    Heading(&'static str),
    /// A term, by its place in the filter.
    Term(usize),
    /// A field.
    Field(FilterKey),
}

/// Where one stands in the list.
#[derive(Clone, Debug)]
pub(crate) struct FieldList {
    pub(crate) chosen: Entry,
    /// The first line on screen.
    pub(crate) offset: usize,
}

/// The lines of the list over a filter.
pub(crate) fn entries(filter: &Filter) -> Vec<Entry> {
    let count = filter.terms().len();
    let mut entries = Vec::new();
    if count > 0 {
        entries.push(Entry::Heading("in force"));
        entries.extend((0..count).map(Entry::Term));
    }
    entries.push(Entry::Heading("narrow by"));
    entries.extend(FilterKey::ALL.iter().copied().map(Entry::Field));
    entries
}

impl FieldList {
    /// The place of the chosen line.
    fn cursor(&self, entries: &[Entry]) -> usize {
        let place = entries.iter().position(|entry| *entry == self.chosen);
        place.unwrap_or(0)
    }

    /// Moves by so many lines; headings are passed over.
    pub(crate) fn step(&mut self, by: isize, entries: &[Entry], height: usize) {
        let is_line = |place: &usize| !matches!(entries[*place], Entry::Heading(_));
        let last = entries.len().saturating_sub(1);
        let wanted = self.cursor(entries).saturating_add_signed(by).min(last);
        let later = (wanted..=last).find(is_line);
        let earlier = (0..wanted).rev().find(is_line);
        let found = if by < 0 {
            earlier.filter(|_| !is_line(&wanted)).or(later)
        } else {
            later.or(earlier)
        };
        if let Some(place) = found {
            self.chosen = entries[place];
        }
        self.settle(entries, height);
    }

    /// Brings the chosen line on screen; the first one with its heading.
    pub(crate) fn settle(&mut self, entries: &[Entry], height: usize) {
        let mut place = ListPlace {
            cursor: self.cursor(entries),
            offset: self.offset,
        };
        place.settle(entries.len(), height);
        self.offset = if place.offset == 1 && place.cursor < height {
            0
        } else {
            place.offset
        };
    }

    /// The wheel; the chosen line stays on screen.
    pub(crate) fn scroll(&mut self, by: isize, entries: &[Entry], height: usize) {
        self.step(by.signum(), entries, height);
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn moving_passes_over_headings_and_stays_in_the_list() {
        let filter = Filter::parse("site:North -crew:Late").unwrap();
        let entries = entries(&filter);
        let verdict = Entry::Field(FilterKey::Verdict);
        let mut list = FieldList {
            chosen: verdict,
            offset: 0,
        };
        for (by, chosen) in [
            (-1, Entry::Term(1)),
            (-1, Entry::Term(0)),
            (-1, Entry::Term(0)),
            (1, Entry::Term(1)),
            (1, verdict),
            (isize::MAX / 2, Entry::Field(FilterKey::To)),
            (1, Entry::Field(FilterKey::To)),
            (isize::MIN / 2, Entry::Term(0)),
        ] {
            list.step(by, &entries, 6);
            assert_eq!(list.chosen, chosen, "{by}");
            let cursor = list.cursor(&entries);
            assert!((list.offset..list.offset + 6).contains(&cursor));
        }
        assert_eq!(list.offset, 0);
    }
}

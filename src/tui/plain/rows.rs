//! Numbered rows, ten at a time.

use crate::tui::text;

/// So many rows are said at a time.
pub(crate) const PAGE: usize = 10;

/// Numbered rows of a list, of which the page with the chosen one is said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Rows {
    /// What one row is, and what many are.
    noun: (&'static str, &'static str),
    len: usize,
    chosen: usize,
    /// What is said where there are none.
    empty: String,
    /// The rows of the page.
    said: Vec<String>,
}

/// What the rows of people are called, one and many.
pub(super) const fn noun(crews: bool) -> (&'static str, &'static str) {
    if crews {
        ("crew", "crews")
    } else {
        ("technician", "technicians")
    }
}

impl Rows {
    /// The page of a list of `len` rows in which the row `chosen` (from 0) stands; `row` says
    /// what a row holds, `empty` what is said where there is none.
    pub(crate) fn of(
        noun: (&'static str, &'static str),
        len: usize,
        chosen: usize,
        empty: &str,
        row: impl Fn(usize) -> String,
    ) -> Self {
        let chosen = chosen.min(len.saturating_sub(1));
        let from = chosen / PAGE * PAGE;
        Rows {
            noun,
            len,
            chosen,
            empty: empty.to_owned(),
            said: (from..len.min(from + PAGE)).map(row).collect(),
        }
    }

    pub(crate) const fn len(&self) -> usize {
        self.len
    }

    const fn from(&self) -> usize {
        self.chosen / PAGE * PAGE
    }

    /// The first row of the page after this one.
    pub(crate) fn next(&self) -> Option<usize> {
        let next = self.from() + PAGE;
        (next < self.len).then_some(next)
    }

    /// The first row of the page before this one.
    pub(crate) fn before(&self) -> Option<usize> {
        self.from().checked_sub(PAGE)
    }

    /// The first row of a page by its number, from 1.
    pub(crate) fn page(&self, number: usize) -> Option<usize> {
        let from = number.checked_sub(1)?.checked_mul(PAGE)?;
        (from < self.len).then_some(from)
    }

    /// How many there are, which are said, and the rows.
    pub(crate) fn whole(&self) -> Vec<String> {
        if self.len == 0 {
            let words = text::sentence(&self.empty);
            return if self.empty.is_empty() {
                Vec::new()
            } else {
                vec![words]
            };
        }
        let (from, to) = (self.from(), self.from() + self.said.len());
        let count = text::count(self.len as u64);
        let mut head = match self.len {
            1 => format!("1 {}", self.noun.0),
            len if len <= PAGE => format!("{count} {}", self.noun.1.trim_end_matches(',')),
            _ => {
                let which = text::sentence(self.noun.1);
                let which = which.trim_end_matches('.');
                format!("{which} {} to {} of {count}", from + 1, to)
            }
        };
        if self.chosen != from {
            head.push_str(&format!("; {} is chosen", self.chosen + 1));
        }
        if to < self.len {
            head.push_str("; next for more");
        }
        let mut lines = vec![format!("{head}.")];
        lines.extend((from..to).map(|at| self.row(at)));
        lines
    }

    fn row(&self, at: usize) -> String {
        let said = self.said.get(at - self.from());
        format!("{}. {}", at + 1, said.map_or("", String::as_str))
    }

    /// The row of the page, from 0, that begins with these words, strokes between them or not.
    pub(crate) fn find(&self, words: &str) -> Option<usize> {
        let sought = words.trim().to_lowercase().replace('-', " ");
        let begins = |row: &String| row.to_lowercase().starts_with(&sought);
        let at = self.said.iter().position(begins)?;
        (!sought.is_empty()).then_some(self.from() + at)
    }

    /// The row that is chosen.
    pub(crate) fn chosen_row(&self) -> Option<String> {
        (self.len > 0).then(|| self.row(self.chosen))
    }

    /// Where one stands, where all of it was said before.
    pub(super) fn brief(&self) -> Vec<String> {
        self.chosen_row().into_iter().collect()
    }

    /// What is new: the page where another is said, else the rows that changed, else the
    /// chosen row.
    pub(super) fn since(&self, before: &Rows) -> Vec<String> {
        if self == before {
            return Vec::new();
        }
        let is_page = self.from() == before.from() && self.len == before.len;
        if !is_page || self.noun != before.noun {
            return self.whole();
        }
        let changed: Vec<usize> = (0..self.said.len())
            .filter(|at| before.said.get(*at) != self.said.get(*at))
            .map(|at| at + self.from())
            .collect();
        match changed.as_slice() {
            [] => vec![self.row(self.chosen)],
            some if some.len() <= 2 => some.iter().map(|at| self.row(*at)).collect(),
            _ => self.whole(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(len: usize, chosen: usize) -> Rows {
        Rows::of(("draw", "draws"), len, chosen, "no draws here", |at| {
            format!("d{at}")
        })
    }

    #[test]
    fn pages_are_told_with_their_place() {
        assert_eq!(
            rows(5012, 0).whole()[0],
            "Draws 1 to 10 of 5,012; next for more."
        );
        assert_eq!(
            rows(5012, 12).whole()[0],
            "Draws 11 to 20 of 5,012; 13 is chosen; next for more."
        );
        assert_eq!(
            rows(12, 10).whole(),
            ["Draws 11 to 12 of 12.", "11. d10", "12. d11"]
        );
        assert_eq!(rows(2, 0).whole(), ["2 draws.", "1. d0", "2. d1"]);
        assert_eq!(rows(1, 7).whole(), ["1 draw.", "1. d0"]);
        assert_eq!(rows(0, 0).whole(), ["No draws here."]);
    }

    #[test]
    fn pages_are_found_by_number_and_neighbourhood() {
        let middle = rows(25, 14);
        assert_eq!((middle.before(), middle.next()), (Some(0), Some(20)));
        assert_eq!(rows(25, 24).next(), None);
        assert_eq!(rows(25, 3).before(), None);
        assert_eq!(
            [1, 3, 4, 0].map(|it| middle.page(it)),
            [Some(0), Some(20), None, None]
        );
        assert_eq!(middle.page(usize::MAX), None);
    }
}

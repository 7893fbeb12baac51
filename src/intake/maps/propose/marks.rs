//! Which marks the numbers of a sheet are written with.

use super::super::number::NumberForm;
use super::super::unit::split_cell;

/// What the numbers of one column prove.
#[derive(Clone, Debug, Default)]
pub struct Marks {
    /// Numbers of any kind.
    pub numbers: usize,
    /// Values looked at.
    pub all: usize,
    /// Numbers that bear a unit.
    pub with_unit: usize,
    /// Numbers whose comma can only stand for the decimal.
    comma: usize,
    /// Numbers whose point can only stand for the decimal.
    point: usize,
    /// Numbers whose commas can only stand between thousands.
    thousands_comma: usize,
    /// Numbers whose points can only stand between thousands.
    thousands_point: usize,
    /// Numbers with one comma before three digits.
    open_comma: usize,
    /// Numbers with one point before three digits.
    open_point: usize,
    /// The first of those.
    pub example: String,
    /// Numbers with blanks between thousands.
    blanks: usize,
    apostrophes: usize,
}

/// What is to be said of the decimal mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// This form.
    Form(NumberForm),
    /// A mark that may be either stands in them.
    Open,
    /// Some columns say one thing, some the other.
    Both,
}

impl Marks {
    /// Looks at the values of a column.
    pub fn of<'v>(values: impl Iterator<Item = &'v str>) -> Self {
        let mut marks = Marks::default();
        for value in values {
            marks.all += 1;
            let (number, unit) = split_cell(value);
            if marks.count(number) {
                marks.numbers += 1;
                marks.with_unit += usize::from(!unit.is_empty());
            }
        }
        marks
    }

    /// What several columns prove together.
    pub fn together<'m>(columns: impl Iterator<Item = &'m Marks>) -> Marks {
        columns.fold(Marks::default(), |mut sum, one| {
            sum.comma += one.comma;
            sum.point += one.point;
            sum.thousands_comma += one.thousands_comma;
            sum.thousands_point += one.thousands_point;
            sum.open_comma += one.open_comma;
            sum.open_point += one.open_point;
            sum.blanks += one.blanks;
            sum.apostrophes += one.apostrophes;
            if sum.example.is_empty() {
                sum.example.clone_from(&one.example);
            }
            sum
        })
    }

    /// The form of the numbers.
    pub fn verdict(&self) -> Verdict {
        let comma = self.comma + self.thousands_point > 0;
        let point = self.point + self.thousands_comma > 0;
        let decimal = match (comma, point) {
            (true, true) => return Verdict::Both,
            (true, false) => ',',
            (false, true) => '.',
            (false, false) if self.open_comma + self.open_point > 0 => return Verdict::Open,
            (false, false) => '.',
        };
        let thousands = match decimal {
            ',' if self.thousands_point + self.open_point > 0 => Some('.'),
            '.' if self.thousands_comma + self.open_comma > 0 => Some(','),
            _ if self.blanks > 0 => Some(' '),
            _ if self.apostrophes > 0 => Some('\''),
            _ => None,
        };
        Verdict::Form(NumberForm { decimal, thousands })
    }

    /// Whether commas and whether points stand where they may mean either.
    pub fn open_marks(&self) -> (bool, bool) {
        (self.open_comma > 0, self.open_point > 0)
    }

    /// How much of the column is numbers, 0 to 1.
    pub fn share(&self) -> f64 {
        if self.all == 0 {
            return 0.0;
        }
        self.numbers as f64 / self.all as f64
    }

    /// Counts what one number proves; false where it is none.
    fn count(&mut self, text: &str) -> bool {
        let text = text.trim_start_matches(['+', '-', '−']);
        let is_blank = |c: char| matches!(c, ' ' | '\u{a0}' | '\u{2009}' | '\u{202f}');
        let known =
            |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '\'' | '’') || is_blank(c);
        if !text.chars().any(|c| c.is_ascii_digit()) || !text.chars().all(known) {
            return false;
        }
        let grouped = |mark: &dyn Fn(char) -> bool| {
            let whole = text.split(['.', ',']).next().unwrap_or_default();
            let mut groups = whole.split(mark);
            (1..=3).contains(&groups.next().map_or(0, str::len))
                && groups.all(|group| group.len() == 3)
        };
        if text.chars().any(is_blank) {
            if !grouped(&is_blank) {
                return false;
            }
            self.blanks += 1;
        }
        if text.contains(['\'', '’']) {
            if !grouped(&|c| matches!(c, '\'' | '’')) {
                return false;
            }
            self.apostrophes += 1;
        }
        let (commas, points) = (text.matches(',').count(), text.matches('.').count());
        match (commas, points) {
            (0, 0) => {}
            // Of two different marks the last one is the decimal.
            (1.., 1..) => match (text.rfind(','), text.rfind('.')) {
                (Some(comma), Some(point)) if comma > point && commas == 1 => {
                    self.thousands_point += 1
                }
                (Some(comma), Some(point)) if point > comma && points == 1 => {
                    self.thousands_comma += 1
                }
                _ => return false,
            },
            (2.., 0) => self.thousands_comma += 1,
            (0, 2..) => self.thousands_point += 1,
            (1, 0) if is_open(text, ',') => self.open(text, true),
            (0, 1) if is_open(text, '.') => self.open(text, false),
            (1, 0) => self.comma += 1,
            (0, 1) => self.point += 1,
        }
        true
    }

    fn open(&mut self, text: &str, is_comma: bool) {
        if self.open_comma + self.open_point == 0 {
            text.clone_into(&mut self.example);
        }
        if is_comma {
            self.open_comma += 1;
        } else {
            self.open_point += 1;
        }
    }
}

/// Whether the mark may stand between thousands: one to three digits before it, the first of
/// them not 0, and three behind it.
fn is_open(text: &str, mark: char) -> bool {
    text.split_once(mark).is_some_and(|(before, behind)| {
        (1..=3).contains(&before.len()) && !before.starts_with('0') && behind.len() == 3
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn verdict(values: &[&str]) -> Verdict {
        Marks::of(values.iter().copied()).verdict()
    }

    fn form(decimal: char, thousands: Option<char>) -> Verdict {
        Verdict::Form(NumberForm { decimal, thousands })
    }

    #[test]
    fn marks_are_proven_or_left_open() {
        assert_eq!(verdict(&["12", "7"]), form('.', None));
        assert_eq!(verdict(&["12,5", "1.234"]), form(',', Some('.')));
        assert_eq!(verdict(&["12.5", "1,234"]), form('.', Some(',')));
        assert_eq!(verdict(&["1.234.567"]), form(',', Some('.')));
        assert_eq!(verdict(&["1,234.5"]), form('.', Some(',')));
        assert_eq!(verdict(&["12 345,5"]), form(',', Some(' ')));
        assert_eq!(verdict(&["0.125", "1.5"]), form('.', None));
        assert_eq!(verdict(&["1.234", "7"]), Verdict::Open);
        assert_eq!(verdict(&["1,234", "7"]), Verdict::Open);
        assert_eq!(verdict(&["1,5", "1.5"]), Verdict::Both);
    }

    #[test]
    fn numbers_are_told_from_other_texts() {
        let marks = Marks::of(["5", "5 mL", "P-1", "3.4.2025 x1", "1 2", "-4,5"].into_iter());
        assert_eq!((marks.numbers, marks.with_unit, marks.all), (3, 1, 6));
    }
}

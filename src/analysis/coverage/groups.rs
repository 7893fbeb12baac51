//! The groups of a key, by number.

use super::Covered;
use crate::analysis::breakdown::{Names, text_of_point, text_of_technician};
use crate::analysis::filter::BLANK;
use crate::analysis::zone::Months;
use crate::analysis::{Assessed, Key};
use crate::model::Method;
use crate::model::time::month_text;

/// The groups of a key.
pub struct Groups {
    /// The name of each.
    pub names: Vec<String>,
    by: By,
    in_time: bool,
}

/// What tells the group of a row.
enum By {
    Nothing,
    Point(Vec<usize>),
    Technician(Vec<usize>),
    Method(Vec<usize>),
    /// The instant at which each month ends.
    Month(Vec<i64>),
}

impl Groups {
    pub fn of(assessed: &Assessed, key: Option<Key>) -> Self {
        let mut names = Names::default();
        let by = match key {
            None | Some(Key::Rule) => {
                return Groups {
                    names: vec!["all".to_owned()],
                    by: By::Nothing,
                    in_time: false,
                };
            }
            Some(Key::Month) => return Self::months(assessed),
            Some(key) => {
                if let Some(text) = text_of_point(key) {
                    By::Point(
                        assessed
                            .points
                            .iter()
                            .map(|it| names.of(text(it)))
                            .collect(),
                    )
                } else if let Some(text) = text_of_technician(key) {
                    let technicians = assessed.technicians.iter();
                    By::Technician(technicians.map(|it| names.of(text(it))).collect())
                } else {
                    let method = |byte| Method::from_index(byte).map(Method::as_str);
                    By::Method((0..=u8::MAX).map(|byte| names.of(method(byte))).collect())
                }
            }
        };
        let name = |name: &Option<&str>| name.unwrap_or(BLANK).to_owned();
        Groups {
            names: names.texts.iter().map(name).collect(),
            by,
            in_time: false,
        }
    }

    fn months(assessed: &Assessed) -> Self {
        let drawn_at = &assessed.judged.drawn_at;
        let (Some(first), Some(last)) = (drawn_at.first(), drawn_at.last()) else {
            return Self::of(assessed, None);
        };
        let months = Months::between(*first, *last, assessed.zone);
        let (names, ends) = months
            .each_with_end()
            .map(|(month, end)| (month_text(month), end))
            .unzip();
        Groups {
            names,
            by: By::Month(ends),
            in_time: true,
        }
    }

    pub fn count(&self) -> usize {
        self.names.len()
    }

    /// The group of a row.
    pub fn group_of(&self, assessed: &Assessed, row: usize) -> usize {
        let judged = &assessed.judged;
        match &self.by {
            By::Nothing => 0,
            By::Point(groups) => groups[judged.point[row] as usize],
            By::Technician(groups) => groups[judged.technician[row] as usize],
            By::Method(groups) => groups[usize::from(judged.method[row])],
            By::Month(ends) => ends.partition_point(|end| *end <= judged.drawn_at[row]),
        }
    }

    /// By the text of the key in byte order; months in time.
    pub fn sort(&self, found: &mut [(usize, Covered)]) {
        if self.in_time {
            found.sort_by_key(|(group, _)| *group);
        } else {
            found.sort_by(|one, other| one.1.key.cmp(&other.1.key));
        }
    }
}

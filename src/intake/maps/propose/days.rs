//! Days and times of a sheet: which columns hold them, and the forms they are written in.

use super::lines::{Line, Question, list};
use super::sample::Sample;
use super::times::{Dates, Order};
use super::{Pairs, is_dated};
use crate::intake::columns::Reading;
use crate::intake::maps::dates::DateForm;

/// Two-digit years from this one on are taken for the 20th century.
const PIVOT: u32 = 70;

/// A column with the dates it holds, put together from day and time where they stand apart.
pub(super) struct Dated {
    /// The place of the pair.
    pub(super) pair: usize,
    /// The column of the time of day, where that stands apart.
    pub(super) clock: Option<usize>,
    pub(super) dates: Dates,
    pub(super) is_serial: bool,
}

/// The columns of dates, each with the time of day beside it.
pub(super) fn dated(sample: &Sample, pairs: &Pairs) -> Vec<Dated> {
    let ours = pairs.kind.columns();
    let mut taken: Vec<usize> = pairs.pairs.iter().map(|pair| pair.theirs).collect();
    let mut found = Vec::new();
    for (place, pair) in pairs
        .pairs
        .iter()
        .enumerate()
        .filter(|(_, pair)| is_dated(&ours[pair.ours]))
    {
        let column = &sample.columns[pair.theirs];
        let is_serial = column
            .share(column.serials)
            .is_some_and(|share| share > 0.9);
        let is_time = matches!(ours[pair.ours].reading, Reading::Time);
        let is_whole = is_serial && column.values.iter().all(|value| !value.contains('.'));
        let lacks_clock =
            is_time && column.dates.all > 0 && (column.dates.timed == 0 && !is_serial || is_whole);
        let clock = if lacks_clock {
            clock_of(sample, pair.theirs, &taken)
        } else {
            None
        };
        let dates = match clock {
            Some(clock) if !is_serial => {
                taken.push(clock);
                let joined: Vec<String> = (sample.rows.iter())
                    .filter(|row| !row[pair.theirs].is_empty() && !row[clock].is_empty())
                    .map(|row| format!("{} {}", row[pair.theirs], row[clock]))
                    .collect();
                Dates::of(joined.iter().map(String::as_str))
            }
            Some(clock) => {
                taken.push(clock);
                column.dates.clone()
            }
            None => column.dates.clone(),
        };
        found.push(Dated {
            pair: place,
            clock,
            dates,
            is_serial,
        });
    }
    found
}

/// The free column of times of day that stands nearest behind a day, else before it.
fn clock_of(sample: &Sample, day: usize, taken: &[usize]) -> Option<usize> {
    let is_clock = |place: &usize| {
        let column = &sample.columns[*place];
        column.share(column.clocks).is_some_and(|share| share > 0.9)
    };
    let free = (0..sample.columns.len()).filter(|place| !taken.contains(place));
    let distance = |place: &usize| match place.checked_sub(day) {
        Some(behind) => behind,
        None => day - place + 3,
    };
    free.filter(is_clock)
        .min_by_key(distance)
        .filter(|place| distance(place) <= 4)
}

/// How the dates of a sheet are written.
pub(super) struct Plan {
    /// The forms of the whole sheet; empty where each column has its own.
    usual: Vec<&'static str>,
    /// The same with the month first, where the order is not known.
    month_first: Option<(Vec<&'static str>, String)>,
    order: Order,
    has_serial: bool,
    proven: Option<Order>,
}

pub(super) fn plan(dated: &[Dated]) -> Plan {
    let proofs: Vec<Order> = dated.iter().filter_map(|one| one.dates.proven()).collect();
    let proven = match (proofs.contains(&Order::Day), proofs.contains(&Order::Month)) {
        (true, false) => Some(Order::Day),
        (false, true) => Some(Order::Month),
        _ => None,
    };
    let order = proven.unwrap_or(Order::Day);
    let open = dated
        .iter()
        .find(|one| one.dates.is_ambiguous && proven.is_none());
    let union = |order: Order| {
        let mut forms: Vec<&'static str> = Vec::new();
        for form in dated.iter().flat_map(|one| one.dates.written(order)) {
            if !forms.contains(&form) {
                forms.push(form);
            }
        }
        forms
    };
    Plan {
        usual: union(order),
        month_first: open.map(|one| (union(Order::Month), one.dates.example.clone())),
        order,
        has_serial: dated.iter().any(|one| one.is_serial),
        proven,
    }
}

impl Plan {
    pub(super) fn lines(&self) -> Vec<Line> {
        let mut lines = Vec::new();
        let mut usual = self.usual.clone();
        if self.has_serial {
            usual.push("serial 1900");
        }
        if self.conflicts() {
            return lines;
        }
        if let Some((month_first, example)) = &self.month_first {
            lines.push(which_first(example, &usual, month_first));
        } else if !usual.is_empty() {
            let reason = match (self.proven, self.has_serial) {
                (Some(Order::Day), _) => "a day above 12 stands first",
                (Some(Order::Month), _) => "a day above 12 stands second",
                (_, true) => {
                    "days as spreadsheets count them; serial 1904 if four years are missing"
                }
                _ => "the values can't be read otherwise",
            };
            lines.push(Line::new("dates", list(&usual), 0.95, reason));
        }
        if usual
            .iter()
            .any(|form| form.contains("YY") && !form.contains("YYYY"))
        {
            let reason = format!(
                "two-digit years: {PIVOT} to 99 are 19.., 00 to {} are 20..",
                PIVOT - 1
            );
            lines.push(Line::new("pivot", PIVOT.to_string(), 0.8, reason));
        }
        lines
    }

    /// Whether the forms of some columns contradict those of others.
    fn conflicts(&self) -> bool {
        let forms: Vec<_> = (self.usual.iter())
            .filter_map(|form| DateForm::parse(form).ok())
            .collect();
        let mut pairs = forms.iter().enumerate();
        pairs.any(|(place, one)| forms[place + 1..].iter().any(|other| one.conflicts(other)))
    }

    /// The forms of one column, where the sheet has none for all.
    pub(super) fn of_column(&self, own: &Dated) -> Vec<Line> {
        if !self.conflicts() || own.dates.forms.is_empty() {
            return Vec::new();
        }
        if own.dates.is_ambiguous {
            let forms = |order| own.dates.written(order);
            let (day_first, month_first) = (forms(Order::Day), forms(Order::Month));
            return vec![which_first(&own.dates.example, &day_first, &month_first)];
        }
        vec![Line::plain("dates", list(&own.dates.written(self.order)))]
    }
}

/// The question whether days or months stand first, with the forms that follow from either.
fn which_first(example: &str, day_first: &[&str], month_first: &[&str]) -> Line {
    let text = format!("{example}: is the day first, or the month?");
    let choices = [
        ("day first".to_owned(), list(day_first)),
        ("month first".to_owned(), list(month_first)),
    ];
    Line::open("dates", Question::of(text, choices))
}

//! What forms the dates and times of a column are written in.

use std::sync::LazyLock;

use super::super::dates::DateForm;
use crate::intake::cell;
use crate::intake::when;
use crate::model::time::Tz;

/// How day and month stand in a form.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// Day first.
    Day,
    /// Month first.
    Month,
    /// It can't be read the wrong way: year first, or the month by its name.
    Sure,
}

/// A form that is tried.
pub struct Candidate {
    pub form: DateForm,
    pub order: Order,
    /// What stands between day and month.
    separator: char,
    /// The same with the order of day and month exchanged.
    other: Option<usize>,
}

/// Any pivot will do to see whether a form fits.
const PIVOT: u32 = 70;

/// The forms that are tried, the likelier ones of two that fit equally well first.
pub static CANDIDATES: LazyLock<Vec<Candidate>> = LazyLock::new(|| {
    const CLOCKS: [&str; 9] = [
        "",
        " HH:mm",
        " HH:mm:ss",
        " h:mm A",
        " h:mm:ss A",
        " HH[h]mm",
        " HH.mm",
        ", HH:mm",
        "[T]HH:mm:ss",
    ];
    const NAMED: [&str; 8] = [
        "DD MMM YYYY",
        "DD. MMM YYYY",
        "DD-MMM-YYYY",
        "DD-MMM-YY",
        "DD MMM YY",
        "MMM DD, YYYY",
        "MMM DD YYYY",
        "ddd DD MMM YYYY",
    ];
    let mut found = Vec::new();
    for clock in CLOCKS {
        for separator in ['.', '/', '-', ' '] {
            for year in ["YYYY", "YY"] {
                let at = found.len();
                for (order, first, second, other) in [
                    (Order::Day, "DD", "MM", at + 1),
                    (Order::Month, "MM", "DD", at),
                ] {
                    let text = format!("{first}{separator}{second}{separator}{year}{clock}");
                    found.push(candidate(&text, order, separator, Some(other)));
                }
            }
            if separator != '-' {
                let text = format!("YYYY{separator}MM{separator}DD{clock}");
                found.push(candidate(&text, Order::Sure, separator, None));
            }
        }
        for named in NAMED {
            found.push(candidate(
                &format!("{named}{clock}"),
                Order::Sure,
                ' ',
                None,
            ));
        }
    }
    found
});

fn candidate(text: &str, order: Order, separator: char, other: Option<usize>) -> Candidate {
    Candidate {
        form: DateForm::parse(text).expect("forms that are tried are forms"),
        order,
        separator,
        other,
    }
}

/// What was found out about the dates of a column.
#[derive(Clone, Debug, Default)]
pub struct Dates {
    /// The forms, by their places among the candidates, the commonest first.
    pub forms: Vec<usize>,
    /// How many values are of one of the forms, or canonical.
    pub read: usize,
    /// How many values there are.
    pub all: usize,
    /// Whether some of the forms might as well be read with day and month exchanged.
    pub is_ambiguous: bool,
    /// A value that would then be another day.
    pub example: String,
    /// Whether some values say a local time.
    pub is_local: bool,
    /// How many values say a time of day.
    pub timed: usize,
}

impl Dates {
    /// Looks at the values of a column.
    pub fn of<'v>(values: impl Iterator<Item = &'v str> + Clone) -> Self {
        let mut dates = Dates {
            all: values.clone().count(),
            ..Dates::default()
        };
        let mut left: Vec<&str> = Vec::new();
        for value in values {
            match when::time(value, Tz::UTC) {
                Ok(read) => {
                    dates.read += 1;
                    dates.timed += 1;
                    dates.is_local |= read.local.is_some();
                }
                Err(_) if cell::day(value).is_ok() => dates.read += 1,
                Err(_) => left.push(value),
            }
        }
        while !left.is_empty() && dates.forms.len() < 4 {
            let Some((place, count)) = likeliest(&left) else {
                break;
            };
            let candidate = &CANDIDATES[place];
            dates.forms.push(place);
            dates.read += count;
            if candidate.form.has_time() {
                dates.timed += count;
                dates.is_local = true;
            }
            let is_read = |value: &&str| candidate.form.read(value, PIVOT).is_ok();
            if let Some(other) = candidate.other {
                // A point between day and month is written where the day comes first.
                let may_be_other = left.iter().filter(|value| is_read(value)).all(|value| {
                    let there = CANDIDATES[other].form.read(value, PIVOT);
                    there.is_ok()
                });
                if may_be_other && candidate.separator != '.' {
                    dates.is_ambiguous = true;
                    let example = left.iter().find(|value| is_read(value));
                    dates.example = example.map_or(String::new(), |value| (*value).to_owned());
                }
            }
            left.retain(|value| !is_read(value));
        }
        dates
    }

    /// How much of the column is dates, 0 to 1.
    pub fn share(&self) -> f64 {
        if self.all == 0 {
            return 0.0;
        }
        self.read as f64 / self.all as f64
    }

    /// The order of day and month that the values prove.
    pub fn proven(&self) -> Option<Order> {
        if self.is_ambiguous {
            return None;
        }
        let orders = self.forms.iter().map(|place| CANDIDATES[*place].order);
        orders.into_iter().find(|order| *order != Order::Sure)
    }

    /// The forms as they are written, with day and month in this order.
    pub fn written(&self, order: Order) -> Vec<&'static str> {
        let forms = self.forms.iter().map(|place| {
            let candidate = &CANDIDATES[*place];
            match candidate.other {
                Some(other) if self.is_ambiguous && candidate.order != order => {
                    CANDIDATES[other].form.written.as_str()
                }
                _ => candidate.form.written.as_str(),
            }
        });
        forms.collect()
    }
}

/// The form that reads most of the values, and how many.
fn likeliest(values: &[&str]) -> Option<(usize, usize)> {
    const TRIED: usize = 20;
    let step = (values.len() / TRIED).max(1);
    let tried: Vec<&str> = values.iter().step_by(step).copied().collect();
    let fits = |place: &usize| {
        let form = &CANDIDATES[*place].form;
        tried.iter().any(|value| form.read(value, PIVOT).is_ok())
    };
    let counted = (0..CANDIDATES.len()).filter(fits).map(|place| {
        let form = &CANDIDATES[place].form;
        let count = (values.iter()).filter(|value| form.read(value, PIVOT).is_ok());
        (place, count.count())
    });
    // Of equals the first one.
    counted.fold(None, |best, one| match best {
        Some((_, count)) if count >= one.1 => best,
        _ => Some(one),
    })
}

/// Whether a text is a time of day alone.
pub fn is_clock(text: &str) -> bool {
    let text = text.trim().to_ascii_lowercase();
    let text = ["a.m.", "p.m.", "am", "pm", "uhr", "h"]
        .iter()
        .find_map(|end| text.strip_suffix(end))
        .unwrap_or(&text)
        .trim_end();
    let parts: Vec<&str> = text.split([':', 'h', '.']).collect();
    (2..=3).contains(&parts.len())
        && (parts.iter().zip([23, 59, 59])).all(|(part, most)| {
            (1..=2).contains(&part.len()) && part.parse::<u32>().is_ok_and(|part| part <= most)
        })
}

/// Whether a text is a number of days as spreadsheets count them, of the years 1990 to 2079.
pub fn is_serial(text: &str) -> bool {
    (text.parse::<f64>()).is_ok_and(|days| (32_874.0..65_746.0).contains(&days))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dates(values: &[&'static str]) -> Dates {
        Dates::of(values.iter().copied())
    }

    #[test]
    fn the_form_is_found_and_the_order_proven_by_a_day_above_twelve() {
        let found = dates(&["04/03/2026 09:30", "25/03/2026 9:05"]);
        assert_eq!(found.written(Order::Day), ["DD/MM/YYYY HH:mm"]);
        assert_eq!(found.proven(), Some(Order::Day));
        let found = dates(&["3/4/26 9:30 am", "3/25/26 12:00 PM"]);
        assert_eq!(found.written(Order::Month), ["MM/DD/YY h:mm A"]);
        assert_eq!(found.proven(), Some(Order::Month));
        let found = dates(&["04.03.2026", "05.03.2026"]);
        assert!(!found.is_ambiguous);
        assert_eq!(found.written(Order::Day), ["DD.MM.YYYY"]);
    }

    #[test]
    fn no_value_above_twelve_leaves_the_order_open() {
        let found = dates(&["03/04/2026", "05/06/2026"]);
        assert!(found.is_ambiguous && found.proven().is_none());
        assert_eq!(found.written(Order::Day), ["DD/MM/YYYY"]);
        assert_eq!(found.written(Order::Month), ["MM/DD/YYYY"]);
        assert_eq!(found.example, "03/04/2026");
    }

    #[test]
    fn canonical_times_need_no_form_and_words_have_none() {
        let found = dates(&["2026-03-04 09:30", "2026-03-04T09:30Z", "2026-03-04"]);
        assert!(found.forms.is_empty() && found.read == 3 && found.timed == 2);
        assert!(dates(&["pump", "12"]).share() < 0.1);
        assert!(is_clock("9:30") && is_clock("09h05") && is_clock("9:30 PM"));
        assert!(!is_clock("25:00") && !is_clock("9") && !is_clock("9.3.2026"));
    }
}

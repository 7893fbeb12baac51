//! The values a key can have, with the draws behind each: what a person chooses from.
//!
//! Counted within a filter, so that a value says how many draws would be left. A value that
//! the programme knows stays on offer with no draw behind it.

use std::cmp::Reverse;

use super::{BLANK, Filter, FilterKey, Value};
use crate::analysis::breakdown::{Names, by_month, by_rule, count};
use crate::analysis::{Assessed, Selection};
use crate::model::time::month_text;
use crate::model::{Method, Point};

/// A value on offer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offer {
    /// The value itself.
    pub(crate) value: Value,
    /// The value as it is read, without quotes; `(blank)` for a blank.
    pub text: String,
    /// The name of a technician, whose value is the id.
    pub name: Option<String>,
    /// How many draws have it.
    pub draws: u64,
}

/// The values of a key.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Offers {
    /// Every value: words as in their vocabulary, names by name, months newest first; a blank
    /// last.
    pub values: Vec<Offer>,
    /// How many draws were counted over.
    pub within: u64,
}

impl Offers {
    /// The values of a key over the draws that pass this filter.
    #[must_use]
    pub fn of(assessed: &Assessed, within: &Filter, key: FilterKey) -> Self {
        Offers::over(assessed, &within.select(assessed), key)
    }

    /// The values of a key that the programme knows, before any draw is counted.
    #[must_use]
    pub fn known(assessed: &Assessed, key: FilterKey) -> Self {
        Offers::over(assessed, &Selection::new(), key)
    }

    fn over(assessed: &Assessed, rows: &Selection, key: FilterKey) -> Self {
        let values = match key {
            FilterKey::From | FilterKey::To => months(assessed, rows),
            FilterKey::Broken | FilterKey::Unrecorded => rules(assessed, rows, key),
            FilterKey::Verdict => {
                let verdicts = &assessed.judged.verdict;
                words(key, rows, |row| usize::from(verdicts[row].index()))
            }
            FilterKey::Method => {
                let methods = &assessed.judged.method;
                let blank = Method::ALL.len();
                words(key, rows, |row| usize::from(methods[row]).min(blank))
            }
            FilterKey::Crew => {
                let technicians = assessed.technicians.iter();
                let crews = technicians.map(|technician| technician.crew.as_deref());
                names(rows, crews, &assessed.judged.technician)
            }
            FilterKey::Technician => technicians(assessed, rows),
            _ => of_points(assessed, rows, key),
        };
        Offers {
            values,
            within: rows.len() as u64,
        }
    }

    /// The places of all values, those with most draws first; equal ones in their own order.
    #[must_use]
    pub fn most_first(&self) -> Vec<usize> {
        let mut places: Vec<usize> = (0..self.values.len()).collect();
        places.sort_by_key(|place| Reverse(self.values[*place].draws));
        places
    }
}

fn of_points(assessed: &Assessed, rows: &Selection, key: FilterKey) -> Vec<Offer> {
    let places = &assessed.judged.point;
    let points = &assessed.points;
    let text: fn(&Point) -> Option<&str> = match key {
        FilterKey::Site => |point| point.site.as_deref(),
        FilterKey::Area => |point| point.area.as_deref(),
        FilterKey::Machine => |point| point.machine.as_deref(),
        FilterKey::Compartment => |point| Some(&point.compartment),
        FilterKey::Point => |point| Some(&point.id),
        _ => {
            let blank = key.words().map_or(0, |words| words.len());
            let word = |point: &Point| match key {
                FilterKey::Class => point.machine_class.map(|class| class.index()),
                FilterKey::Place => point.place.map(|place| place.index()),
                _ => Some(point.kind.index()),
            };
            let word = |point| word(point).map_or(blank, usize::from);
            let of_points: Vec<usize> = points.iter().map(word).collect();
            return words(key, rows, |row| of_points[places[row] as usize]);
        }
    };
    names(rows, points.iter().map(text), places)
}

/// Counts words of a vocabulary; `word` is a place in it, or just past it for a blank.
fn words(key: FilterKey, rows: &Selection, word: impl Fn(usize) -> usize + Sync) -> Vec<Offer> {
    let known = key.words().unwrap_or_default();
    let counts = count(rows, known.len() + 1, |row, counts| counts[word(row)] += 1);
    let blank = counts[known.len()];
    let mut offers: Vec<Offer> = known
        .into_iter()
        .zip(counts)
        .enumerate()
        .map(|(place, (word, draws))| Offer {
            value: Value::Word(place),
            text: word.to_owned(),
            name: None,
            draws,
        })
        .collect();
    if key.may_be_blank() {
        offers.push(blank_offer(blank));
    }
    offers
}

/// Counts names; `column` says for each draw whose name counts.
fn names<'a>(
    rows: &Selection,
    texts: impl Iterator<Item = Option<&'a str>>,
    column: &[u32],
) -> Vec<Offer> {
    let mut names = Names::default();
    let groups: Vec<usize> = texts.map(|text| names.of(text)).collect();
    let counts = count(rows, names.texts.len(), |row, counts| {
        counts[groups[column[row] as usize]] += 1;
    });
    let mut offers: Vec<Offer> = names
        .texts
        .iter()
        .zip(counts)
        .map(|(text, draws)| match text {
            Some(text) => Offer {
                value: Value::Text((*text).to_owned()),
                text: (*text).to_owned(),
                name: None,
                draws,
            },
            None => blank_offer(draws),
        })
        .collect();
    let is_blank = |offer: &Offer| offer.value == Value::Blank;
    offers.sort_by(|a, b| (is_blank(a), &a.text).cmp(&(is_blank(b), &b.text)));
    offers
}

fn technicians(assessed: &Assessed, rows: &Selection) -> Vec<Offer> {
    let people = &assessed.technicians;
    let ids = people.iter().map(|person| Some(person.id.as_str()));
    let mut offers = names(rows, ids, &assessed.judged.technician);
    let mut by_id: Vec<_> = people.iter().collect();
    by_id.sort_by_key(|person| &person.id);
    for offer in &mut offers {
        let found = by_id.binary_search_by_key(&&offer.text, |person| &person.id);
        offer.name = found.ok().and_then(|place| by_id[place].name.clone());
    }
    offers
}

fn rules(assessed: &Assessed, rows: &Selection, key: FilterKey) -> Vec<Offer> {
    let tallies = by_rule(assessed, rows).into_iter();
    let known = key.words().unwrap_or_default().into_iter();
    known
        .zip(tallies)
        .enumerate()
        .map(|(place, (word, tally))| Offer {
            value: Value::Word(place),
            text: word.to_owned(),
            name: None,
            draws: match key {
                FilterKey::Broken => tally.unrepresentative,
                _ => tally.unproven,
            },
        })
        .collect()
}

/// Months that hold a draw, newest first.
fn months(assessed: &Assessed, rows: &Selection) -> Vec<Offer> {
    let months = by_month(assessed, rows).into_iter().rev();
    months
        .filter(|(_, tally)| tally.draws > 0)
        .filter_map(|(month, tally)| {
            let text = month_text(month);
            Some(Offer {
                value: Value::read(FilterKey::From, &text).ok()?,
                text,
                name: None,
                draws: tally.draws,
            })
        })
        .collect()
}

fn blank_offer(draws: u64) -> Offer {
    Offer {
        value: Value::Blank,
        text: BLANK.to_owned(),
        name: None,
        draws,
    }
}

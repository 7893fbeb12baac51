//! Shares by a key: by site, crew, technician, month, rule and so on.
//!
//! Each row is counted under a small number (its group), and the numbers become texts at
//! the end, so that a million rows cost two look-ups each whatever the texts are.

use std::ops::AddAssign;

use rayon::prelude::*;
use rustc_hash::FxHashMap;

use super::filter::{BLANK, FilterKey};
use super::how_often::how_often;
use super::order::in_order;
use super::share::{CHUNK, tally_of};
use super::zone::Months;
use super::{Assessed, Selection, Tally};
use crate::model::time::month_text;
use crate::model::{Method, Point, Technician, Verdict};
use crate::rules::{COUNT, cards};

/// What draws are grouped by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Key {
    /// Site of the point.
    Site,
    /// Area of the point.
    Area,
    /// Crew of the technician.
    Crew,
    /// Technician.
    Technician,
    /// Point.
    Point,
    /// Compartment of the point.
    Compartment,
    /// Method of the draw.
    Method,
    /// Machine class of the point.
    MachineClass,
    /// Kind of the point.
    Kind,
    /// Place of the point.
    Place,
    /// Month of the draw in the programme's zone.
    Month,
    /// Rule: draws it applies to, broken, unrecorded.
    Rule,
}

impl Key {
    /// Every key, in the order they are listed to the user.
    pub const ALL: [Key; 12] = [
        Key::Site,
        Key::Area,
        Key::Crew,
        Key::Technician,
        Key::Point,
        Key::Compartment,
        Key::Method,
        Key::MachineClass,
        Key::Kind,
        Key::Place,
        Key::Month,
        Key::Rule,
    ];

    /// The word for it on the command line and on screens.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Key::Site => "site",
            Key::Area => "area",
            Key::Crew => "crew",
            Key::Technician => "technician",
            Key::Point => "point",
            Key::Compartment => "compartment",
            Key::Method => "method",
            Key::MachineClass => "machine-class",
            Key::Kind => "kind",
            Key::Place => "place",
            Key::Month => "month",
            Key::Rule => "rule",
        }
    }

    /// Reads the word in any case; `None` for any other text.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|key| key.as_str().eq_ignore_ascii_case(text))
    }

    /// The key of the filter that narrows to one group; none for months, which take two.
    #[must_use]
    pub const fn filter_key(self) -> Option<FilterKey> {
        match self {
            Key::Site => Some(FilterKey::Site),
            Key::Area => Some(FilterKey::Area),
            Key::Crew => Some(FilterKey::Crew),
            Key::Technician => Some(FilterKey::Technician),
            Key::Point => Some(FilterKey::Point),
            Key::Compartment => Some(FilterKey::Compartment),
            Key::Method => Some(FilterKey::Method),
            Key::MachineClass => Some(FilterKey::Class),
            Key::Kind => Some(FilterKey::Kind),
            Key::Place => Some(FilterKey::Place),
            Key::Month => None,
            Key::Rule => Some(FilterKey::Broken),
        }
    }
}

/// One group of a breakdown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Group {
    /// The value of the key as sheets write it; `(blank)` for a blank.
    pub key: String,
    /// The counts of the group.
    pub tally: Tally,
}

/// The groups of the selected draws; a group without draws is left out. Sorted by the text
/// of the key in byte order (so `(blank)` comes before letters and digits); months in time,
/// rules in the contract's order.
#[must_use]
pub fn by(assessed: &Assessed, selection: &Selection, key: Key) -> Vec<Group> {
    match key {
        Key::Month => by_month(assessed, selection)
            .into_iter()
            .map(|(month, tally)| (month_text(month), tally))
            .filter_map(group)
            .collect(),
        Key::Rule => by_rule(assessed, selection)
            .into_iter()
            .zip(cards())
            .map(|(tally, card)| (card.id.to_owned(), tally))
            .filter_map(group)
            .collect(),
        _ => by_text(assessed, selection, key),
    }
}

/// The counts of every month from the first to the last of the selected draws, those
/// without draws included, each with its number as
/// [`month_number`](crate::model::time::month_number) counts it.
pub(super) fn by_month(assessed: &Assessed, selection: &Selection) -> Vec<(i32, Tally)> {
    let drawn_at = |row: u32| assessed.judged.drawn_at[row as usize];
    // Rows stand in the order of time, so a month is a piece of the selection.
    let rows = in_order(selection);
    let (Some(&first), Some(&last)) = (rows.first(), rows.last()) else {
        return Vec::new();
    };
    let mut rest = &rows[..];
    Months::between(drawn_at(first), drawn_at(last), assessed.zone)
        .each_with_end()
        .map(|(month, end)| {
            let (piece, later) = rest.split_at(rest.partition_point(|&row| drawn_at(row) < end));
            rest = later;
            (month, tally_of(assessed, piece))
        })
        .collect()
}

/// For each rule: draws it applies to, broken (as unrepresentative), unrecorded (as
/// unproven), met (as representative).
pub(super) fn by_rule(assessed: &Assessed, selection: &Selection) -> Vec<Tally> {
    let judged = &assessed.judged;
    let counts = how_often(selection, |row| {
        [
            judged.applicable[row],
            judged.broken[row],
            judged.unrecorded[row],
        ]
    });
    (0..COUNT)
        .map(|rule| {
            let [draws, broken, unrecorded] = counts.map(|counts| counts[rule]);
            Tally {
                draws,
                unrepresentative: broken,
                doubtful: 0,
                representative: draws - broken - unrecorded,
                unproven: unrecorded,
            }
        })
        .collect()
}

/// By a key whose value is a text of the point, of the technician, or the method.
fn by_text(assessed: &Assessed, selection: &Selection, key: Key) -> Vec<Group> {
    let judged = &assessed.judged;
    let mut names = Names::default();
    let tallies = if let Some(text) = text_of_point(key) {
        let groups: Vec<usize> = assessed
            .points
            .iter()
            .map(|it| names.of(text(it)))
            .collect();
        tallies(assessed, selection, names.texts.len(), |row| {
            groups[judged.point[row] as usize]
        })
    } else if let Some(text) = text_of_technician(key) {
        let technicians = assessed.technicians.iter();
        let groups: Vec<usize> = technicians.map(|it| names.of(text(it))).collect();
        tallies(assessed, selection, names.texts.len(), |row| {
            groups[judged.technician[row] as usize]
        })
    } else {
        let methods = (0..=u8::MAX).map(|byte| Method::from_index(byte).map(Method::as_str));
        let groups: Vec<usize> = methods.map(|method| names.of(method)).collect();
        tallies(assessed, selection, names.texts.len(), |row| {
            groups[usize::from(judged.method[row])]
        })
    };
    let names = names
        .texts
        .iter()
        .map(|name| name.unwrap_or(BLANK).to_owned());
    let mut groups: Vec<Group> = names.zip(tallies).filter_map(group).collect();
    groups.sort_by(|one, other| one.key.cmp(&other.key));
    groups
}

/// Distinct texts, numbered as they come; a blank is one of them.
#[derive(Default)]
pub(super) struct Names<'a> {
    numbers: FxHashMap<Option<&'a str>, usize>,
    pub(super) texts: Vec<Option<&'a str>>,
}

impl<'a> Names<'a> {
    pub(super) fn of(&mut self, text: Option<&'a str>) -> usize {
        *self.numbers.entry(text).or_insert_with(|| {
            self.texts.push(text);
            self.texts.len() - 1
        })
    }
}

pub(super) fn text_of_point(key: Key) -> Option<fn(&Point) -> Option<&str>> {
    match key {
        Key::Site => Some(|point| point.site.as_deref()),
        Key::Area => Some(|point| point.area.as_deref()),
        Key::Point => Some(|point| Some(&point.id)),
        Key::Compartment => Some(|point| Some(&point.compartment)),
        Key::MachineClass => Some(|point| point.machine_class.map(|class| class.as_str())),
        Key::Kind => Some(|point| Some(point.kind.as_str())),
        Key::Place => Some(|point| point.place.map(|place| place.as_str())),
        Key::Crew | Key::Technician | Key::Method | Key::Month | Key::Rule => None,
    }
}

pub(super) fn text_of_technician(key: Key) -> Option<fn(&Technician) -> Option<&str>> {
    match key {
        Key::Crew => Some(|technician| technician.crew.as_deref()),
        Key::Technician => Some(|technician| Some(&technician.id)),
        _ => None,
    }
}

fn group((key, tally): (String, Tally)) -> Option<Group> {
    (tally.draws > 0).then_some(Group { key, tally })
}

/// The verdicts in each of `groups` groups, of which each row is in one.
fn tallies(
    assessed: &Assessed,
    selection: &Selection,
    groups: usize,
    group_of: impl Fn(usize) -> usize + Sync,
) -> Vec<Tally> {
    const VERDICTS: usize = Verdict::ALL.len();
    let verdicts = &assessed.judged.verdict;
    let counts = count(selection, groups * VERDICTS, |row, counts| {
        counts[group_of(row) * VERDICTS + usize::from(verdicts[row].index())] += 1;
    });
    let (each, _) = counts.as_chunks::<VERDICTS>();
    each.iter()
        .map(|counts| Tally::of_verdicts(*counts))
        .collect()
}

/// Counts of `kinds` kinds over the selected rows, added up from pieces: sums of whole
/// numbers are the same in any order.
pub(in crate::analysis) fn count(
    selection: &Selection,
    kinds: usize,
    add: impl Fn(usize, &mut [u64]) + Sync,
) -> Vec<u64> {
    // Few large pieces: each carries counts of its own, which many points make long.
    let piece = CHUNK.max(selection.len() / (4 * rayon::current_num_threads()) + 1);
    selection
        .par_chunks(piece)
        .map(|rows| {
            let mut counts = vec![0; kinds];
            for &row in rows {
                add(row as usize, &mut counts);
            }
            counts
        })
        .reduce(
            || vec![0; kinds],
            |mut one, other| {
                for (one, other) in one.iter_mut().zip(other) {
                    one.add_assign(other);
                }
                one
            },
        )
}

//! What the model can adjust for: circumstances that are neither person nor point.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

use super::counts::Count;
use crate::analysis::filter::BLANK;
use crate::analysis::{Assessed, Key};
use crate::model::time::month_text;
use crate::model::{Method, Point};

/// A circumstance the model adjusts for, as a fixed effect.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Adjust {
    /// Site of the point.
    Site,
    /// Area of the point, within its site.
    Area,
    /// Machine class of the point.
    Class,
    /// Crew of the technician: people are then compared within their crew.
    Crew,
    /// Method of the draw.
    Method,
    /// Month of the draw in the programme's zone.
    Month,
}

impl Adjust {
    /// All of them, in the order their columns stand in the model.
    pub const ALL: [Adjust; 6] = [
        Adjust::Site,
        Adjust::Area,
        Adjust::Class,
        Adjust::Crew,
        Adjust::Method,
        Adjust::Month,
    ];

    /// The word for it, as in filters.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Adjust::Site => "site",
            Adjust::Area => "area",
            Adjust::Class => "class",
            Adjust::Crew => "crew",
            Adjust::Method => "method",
            Adjust::Month => "month",
        }
    }

    /// Reads the word in any case; `None` for any other text.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|adjust| adjust.as_str().eq_ignore_ascii_case(text))
    }

    /// The key that groups draws in the same way.
    #[must_use]
    pub const fn key(self) -> Key {
        match self {
            Adjust::Site => Key::Site,
            Adjust::Area => Key::Area,
            Adjust::Class => Key::MachineClass,
            Adjust::Crew => Key::Crew,
            Adjust::Method => Key::Method,
            Adjust::Month => Key::Month,
        }
    }

    /// Its value at a point; none for what does not go with the point. Sites name areas as
    /// they like, so an area goes with its site where there is one.
    fn at(self, point: &Point) -> Option<Cow<'_, str>> {
        Some(match self {
            Adjust::Site => or_blank(point.site.as_deref()),
            Adjust::Area => match (&point.site, &point.area) {
                (Some(site), Some(area)) => format!("{site}: {area}").into(),
                (Some(site), None) => format!("{site}: {BLANK}").into(),
                (None, area) => or_blank(area.as_deref()),
            },
            Adjust::Class => or_blank(point.machine_class.map(|class| class.as_str())),
            Adjust::Crew | Adjust::Method | Adjust::Month => return None,
        })
    }

    /// How many different values of this there are at these points.
    pub(super) fn values_at<'a>(self, points: impl Iterator<Item = &'a Point>) -> usize {
        let values: BTreeSet<_> = points.filter_map(|point| self.at(point)).collect();
        values.len()
    }
}

/// Each of them once, in the order of [`Adjust::ALL`].
pub(super) fn in_order(adjust: &[Adjust]) -> Vec<Adjust> {
    let all = Adjust::ALL.into_iter();
    all.filter(|wanted| adjust.contains(wanted)).collect()
}

impl fmt::Display for Adjust {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

fn or_blank(text: Option<&str>) -> Cow<'_, str> {
    Cow::Borrowed(text.unwrap_or(BLANK))
}

/// The levels of one adjustment over some counts.
pub(super) struct Levels {
    pub adjust: Adjust,
    /// Their names, sorted; months in time.
    pub names: Vec<String>,
    /// For each count, the place of its level in `names`.
    pub of: Vec<u32>,
}

impl Levels {
    pub fn new(assessed: &Assessed, counts: &[Count], adjust: Adjust) -> Self {
        match adjust {
            Adjust::Method => Self::numbered(adjust, counts, |count| {
                Method::from_index(count.method).map_or(BLANK, Method::as_str)
            }),
            Adjust::Month => Self::numbered(adjust, counts, |count| Month(count.month)),
            Adjust::Crew => {
                let technicians = &assessed.technicians;
                Self::numbered(adjust, counts, |count| {
                    let crew = &technicians[count.technician as usize].crew;
                    crew.as_deref().unwrap_or(BLANK)
                })
            }
            Adjust::Site | Adjust::Area | Adjust::Class => {
                let points = assessed.points.iter();
                let texts: Vec<_> = points.map(|point| adjust.at(point)).collect();
                Self::numbered(adjust, counts, |count| {
                    texts[count.point as usize].as_deref().unwrap_or(BLANK)
                })
            }
        }
    }

    fn numbered<T: Ord + Copy + ToString>(
        adjust: Adjust,
        counts: &[Count],
        value: impl Fn(&Count) -> T,
    ) -> Self {
        let mut numbers: BTreeMap<T, u32> = counts.iter().map(|count| (value(count), 0)).collect();
        for (number, place) in (0..).zip(numbers.values_mut()) {
            *place = number;
        }
        Levels {
            adjust,
            of: counts.iter().map(|count| numbers[&value(count)]).collect(),
            names: numbers.keys().map(ToString::to_string).collect(),
        }
    }
}

/// A month that sorts in time.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Month(i32);

impl fmt::Display for Month {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&month_text(self.0))
    }
}

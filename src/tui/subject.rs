//! One technician, crew or point, and what stands beside it on screen.

use rayon::prelude::*;

use super::narrower::Narrower;
use super::screens::share::view::FEW;
use crate::analysis::trend::Period;
use crate::analysis::{self, Assessed, BLANK, Every, FilterKey, Group, Key, Selection, Tally};
use crate::rules;

/// Whose figures are asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Subject {
    /// A technician, by place in the programme's list.
    Technician(u32),
    /// A crew, by name; `(blank)` where none is given.
    Crew(String),
    /// A point, by place in the programme's list.
    Point(u32),
}

impl Subject {
    /// What narrows a filter to its draws.
    pub(crate) fn narrower(&self, assessed: &Assessed) -> Narrower {
        match self {
            Subject::Technician(place) => {
                let id = &assessed.technicians[*place as usize].id;
                Narrower::one(FilterKey::Technician, id)
            }
            Subject::Crew(name) => Narrower::one(FilterKey::Crew, name),
            Subject::Point(place) => {
                Narrower::one(FilterKey::Point, &assessed.points[*place as usize].id)
            }
        }
    }

    /// Its rows among the selected ones, in their order.
    fn rows(&self, assessed: &Assessed, selection: &Selection) -> Selection {
        let judged = &assessed.judged;
        let of = |column: &[u32], place: u32| kept(selection, |row| column[row as usize] == place);
        match self {
            Subject::Technician(place) => of(&judged.technician, *place),
            Subject::Point(place) => of(&judged.point, *place),
            Subject::Crew(name) => {
                let is_in: Vec<bool> = (assessed.technicians.iter())
                    .map(|technician| technician.crew.as_deref().unwrap_or(BLANK) == name)
                    .collect();
                let technician = |row: u32| judged.technician[row as usize] as usize;
                kept(selection, |row| is_in[technician(row)])
            }
        }
    }
}

/// The rows of a selection that pass. Each thread filters whole pieces: row by row, handing on
/// what passes takes longer than looking.
fn kept(selection: &Selection, passes: impl Fn(u32) -> bool + Sync) -> Selection {
    const PIECE: usize = 1 << 16;
    let pieces = selection.par_chunks(PIECE).map(|rows| {
        let rows = rows.iter().copied();
        rows.filter(|row| passes(*row)).collect()
    });
    pieces.collect::<Vec<Selection>>().concat()
}

/// What stands beside a technician, crew or point.
#[derive(Clone, Debug, Default)]
pub struct SubjectFigures {
    /// Rules broken at least once, most often broken first: place in the registry, counts.
    pub(crate) rules: Vec<(usize, Tally)>,
    /// Month by month, or quarter by quarter or year by year where those hold few draws; newest
    /// first, without those that have no draw.
    pub(crate) periods: Vec<Period>,
    /// How long these periods are.
    pub(crate) every: Option<Every>,
    /// The points served or the technicians who serve, most draws first.
    pub(crate) partners: Vec<Group>,
}

impl SubjectFigures {
    pub(crate) fn of(assessed: &Assessed, selection: &Selection, subject: &Subject) -> Self {
        let own = subject.rows(assessed, selection);
        let partner = match subject {
            Subject::Point(_) => Key::Technician,
            Subject::Technician(_) | Subject::Crew(_) => Key::Point,
        };
        let mut partners = analysis::by(assessed, &own, partner);
        partners.sort_by(|a, b| (b.tally.draws, &a.key).cmp(&(a.tally.draws, &b.key)));
        let (every, periods) = periods(assessed, &own);
        SubjectFigures {
            rules: broken_rules(assessed, &own),
            periods,
            every: Some(every),
            partners,
        }
    }
}

/// Whether more than half of the periods with so many judged draws each would be marked as one
/// of few.
fn are_few(judged: &[u64]) -> bool {
    let few = judged.iter().filter(|judged| **judged < FEW).count();
    2 * few > judged.len()
}

/// Months; or quarters where most months hold few draws; or years where most quarters do.
fn periods(assessed: &Assessed, own: &Selection) -> (Every, Vec<Period>) {
    let newest_first = |every| {
        let mut periods = analysis::trend(assessed, own, every).periods;
        periods.retain(|period| period.tally.draws > 0);
        periods.reverse();
        periods
    };
    let hold_few = |periods: &[Period]| {
        let judged: Vec<u64> = periods.iter().map(|it| it.tally.judged()).collect();
        are_few(&judged)
    };
    let months = newest_first(Every::Month);
    if !hold_few(&months) {
        return (Every::Month, months);
    }
    let quarters = newest_first(Every::Quarter);
    let years = newest_first(Every::Year);
    // One year alone says no more than all draws together.
    match hold_few(&quarters) && years.len() > 1 {
        true => (Every::Year, years),
        false => (Every::Quarter, quarters),
    }
}

/// Rules broken at least once among these draws, most often broken first.
pub(crate) fn broken_rules(assessed: &Assessed, selection: &Selection) -> Vec<(usize, Tally)> {
    let mut broken: Vec<(usize, Tally)> = analysis::by(assessed, selection, Key::Rule)
        .into_iter()
        .filter_map(|group| Some((rules::place_of(&group.key)?, group.tally)))
        .filter(|(_, tally)| tally.unrepresentative > 0)
        .collect();
    broken.sort_by_key(|(place, tally)| (std::cmp::Reverse(tally.unrepresentative), *place));
    broken
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn periods_that_would_mostly_be_marked_as_few_become_longer_ones() {
        assert!(are_few(&[8; 12]));
        assert!(are_few(&[19, 19, 40]));
        assert!(!are_few(&[19, 20, 40]));
        assert!(!are_few(&[20; 12]));
        assert!(!are_few(&[]));
    }
}

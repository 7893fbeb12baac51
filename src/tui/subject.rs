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
        let of = |column: &[u32], place: u32| -> Selection {
            let rows = selection.par_iter().copied();
            rows.filter(|row| column[*row as usize] == place).collect()
        };
        match self {
            Subject::Technician(place) => of(&judged.technician, *place),
            Subject::Point(place) => of(&judged.point, *place),
            Subject::Crew(name) => {
                let is_in: Vec<bool> = (assessed.technicians.iter())
                    .map(|technician| technician.crew.as_deref().unwrap_or(BLANK) == name)
                    .collect();
                let technician = |row: u32| judged.technician[row as usize] as usize;
                let rows = selection.par_iter().copied();
                rows.filter(|row| is_in[technician(*row)]).collect()
            }
        }
    }
}

/// What stands beside a technician, crew or point.
#[derive(Clone, Debug, Default)]
pub struct SubjectFigures {
    /// Rules broken at least once, most often broken first: place in the registry, counts.
    pub(crate) rules: Vec<(usize, Tally)>,
    /// Month by month, or quarter by quarter where months hold few draws; newest first,
    /// without those that have no draw.
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

/// Fewer draws than this in an average month, and quarters say more: each month would be marked
/// as one of few.
const FEW_A_MONTH: usize = FEW as usize;

/// Whether so many draws are few for so many months.
const fn are_few(draws: usize, months: usize) -> bool {
    draws < months * FEW_A_MONTH
}

fn periods(assessed: &Assessed, own: &Selection) -> (Every, Vec<Period>) {
    let newest_first = |every| {
        let mut periods = analysis::trend(assessed, own, every).periods;
        periods.retain(|period| period.tally.draws > 0);
        periods.reverse();
        periods
    };
    let months = newest_first(Every::Month);
    if are_few(own.len(), months.len()) {
        (Every::Quarter, newest_first(Every::Quarter))
    } else {
        (Every::Month, months)
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
    fn months_that_would_all_be_marked_as_few_become_quarters() {
        // Eight a month for a year, then as many as are not few.
        assert!(are_few(96, 12));
        assert!(are_few(239, 12));
        assert!(!are_few(240, 12));
    }
}

//! Whether a draw is judged once blanks are filled, and in which order columns pay most.

use super::column::{Column, ColumnSet};
use super::fill::{Question, Said};
use super::{Settled, Step};
use crate::model::{RuleSet, Verdict};
use crate::rules::InForce;
use crate::scoring::verdict;

/// No more steps than a supervisor would take at a time.
const STEPS: usize = 12;

/// Draws that filling sees alike, and how many there are.
pub type Weighted<'a> = (&'a Question, u64);

/// Whether the draw is judged once these columns are filled.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Judged {
    /// Whatever is written.
    pub whatever: bool,
    /// If what is written shows that the rules were kept.
    pub if_kept: bool,
}

/// Tries all that can be said once these columns are filled.
pub fn judged_with(question: &Question, filled: ColumnSet, in_force: &InForce) -> Judged {
    let tables: Vec<Table<'_>> = question
        .parts
        .iter()
        .map(|part| Table {
            now: part.said(ColumnSet::NONE)[0],
            then: part.said(filled),
        })
        .collect();
    let trial = Trial {
        tables: &tables,
        in_force,
    };
    let whatever = trial.always(question.fixed, 0);
    Judged {
        whatever,
        if_kept: whatever || trial.when_kept(question.fixed, 0),
    }
}

/// What one part says now and can say then.
struct Table<'a> {
    now: Said,
    then: &'a [Said],
}

struct Trial<'a> {
    tables: &'a [Table<'a>],
    in_force: &'a InForce,
}

impl Trial<'_> {
    fn is_judged(&self, said: Said) -> bool {
        let [applicable, broken, unrecorded] =
            [said.applicable, said.broken, said.unrecorded].map(RuleSet);
        verdict(self.in_force, applicable, broken, unrecorded) != Verdict::Unproven
    }

    /// A decisive breach is a verdict whatever else is said.
    fn is_decided(&self, said: Said) -> bool {
        self.in_force.decisive.0 & said.broken & said.applicable != 0
    }

    fn always(&self, so_far: Said, part: usize) -> bool {
        let Some(table) = self.tables.get(part) else {
            return self.is_judged(so_far);
        };
        table
            .then
            .iter()
            .all(|said| self.is_decided(*said) || self.always(so_far.and(*said), part + 1))
    }

    fn when_kept(&self, so_far: Said, part: usize) -> bool {
        let Some(table) = self.tables.get(part) else {
            return self.is_judged(so_far);
        };
        table
            .then
            .iter()
            .filter(|said| said.broken & !table.now.broken == 0)
            .any(|said| self.when_kept(so_far.and(*said), part + 1))
    }
}

/// Whether filling this column too can make another rule speak.
fn helps(question: &Question, filled: ColumnSet, column: Column) -> bool {
    let fewest = |said: &[Said]| said.iter().map(|said| said.unrecorded.count_ones()).min();
    question.parts.iter().any(|part| {
        part.columns.has(column)
            && fewest(part.said(filled.with(column))) < fewest(part.said(filled))
    })
}

/// All columns that can be filled on the draw.
pub fn fillable(question: &Question) -> ColumnSet {
    question
        .parts
        .iter()
        .fold(ColumnSet::NONE, |all, part| all.or(part.columns))
}

/// Of these draws, those that each column alone settles, in the order of [`Column::ALL`].
pub fn alone(draws: &[Weighted<'_>], books: &[InForce]) -> Vec<Settled> {
    let mut settled = vec![Settled::default(); Column::ALL.len()];
    for (question, count) in draws {
        for column in fillable(question).iter() {
            let judged = judged_with(question, ColumnSet::of(column), &books[question.in_force]);
            let settled = &mut settled[column.index()];
            settled.whatever += if judged.whatever { *count } else { 0 };
            settled.if_kept += if judged.if_kept { *count } else { 0 };
        }
    }
    settled
}

/// The column that settles most, then the one that settles most given the first, and so on.
/// Where none settles any draw by itself, the one comes next that would settle most if the
/// rules were kept, and then the one that makes a rule speak on most draws.
pub fn in_turn(draws: &[Weighted<'_>], books: &[InForce]) -> Vec<Step> {
    let mut filled = ColumnSet::NONE;
    let mut steps: Vec<Step> = Vec::new();
    let mut now = vec![Judged::default(); draws.len()];
    while steps.len() < STEPS {
        // Of each column: draws settled, settled if kept, draws on which a rule speaks.
        let mut gains = vec![[0_i64; 3]; Column::ALL.len()];
        for ((question, count), now) in draws.iter().zip(&now) {
            for column in fillable(question).iter().filter(|it| !filled.has(*it)) {
                let then = judged_with(question, filled.with(column), &books[question.in_force]);
                let helps = !now.whatever && helps(question, filled, column);
                let changes = [
                    i64::from(then.whatever) - i64::from(now.whatever),
                    i64::from(then.if_kept) - i64::from(now.if_kept),
                    i64::from(helps),
                ];
                for (gain, change) in gains[column.index()].iter_mut().zip(changes) {
                    *gain += change * count.cast_signed();
                }
            }
        }
        // The first of equal ones, in the order of the sheets.
        let best = Column::ALL.iter().rev().copied();
        let best = best.max_by_key(|column| gains[column.index()]);
        let Some(best) = best.filter(|best| gains[best.index()] > [0; 3]) else {
            break;
        };
        filled = filled.with(best);
        let mut together = Settled::default();
        for ((question, count), now) in draws.iter().zip(&mut now) {
            if fillable(question).has(best) {
                *now = judged_with(question, filled, &books[question.in_force]);
            }
            together.whatever += if now.whatever { *count } else { 0 };
            together.if_kept += if now.if_kept { *count } else { 0 };
        }
        steps.push(Step {
            column: best,
            together,
        });
    }
    steps
}

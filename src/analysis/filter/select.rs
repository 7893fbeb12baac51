//! Which rows pass a filter.
//!
//! Every term is turned into a table that is looked up by a column of the judged draws,
//! once for all rows: by point, by technician, by method, by verdict. Days become a range
//! of rows, since rows stand in the order of time. Then one pass over the columns that are
//! asked about, in pieces, on all threads; pieces are joined in order.

use std::ops::Range;

use rayon::prelude::*;

use super::{Filter, FilterKey, Term, Value};
use crate::analysis::zone::start_of_day;
use crate::analysis::{Assessed, Selection};
use crate::model::{Judged, Point, RuleSet, Technician, Verdict};

/// Rows looked at by one thread at a time.
const CHUNK: usize = 1 << 15;

impl Filter {
    /// The rows that pass. `from` and `to` are days in the programme's zone, both included.
    #[must_use]
    pub fn select(&self, assessed: &Assessed) -> Selection {
        let checks = Checks::new(self, assessed);
        let rows = checks.rows.clone();
        let pieces: Vec<Selection> = rows
            .clone()
            .into_par_iter()
            .step_by(CHUNK)
            .map(|start| checks.pass(&assessed.judged, start..rows.end.min(start + CHUNK)))
            .collect();
        pieces.concat()
    }
}

/// A filter made ready for the draws of one programme.
struct Checks {
    rows: Range<usize>,
    /// For each point, whether its draws pass; none if no term asks.
    points: Option<Vec<bool>>,
    /// For each technician.
    technicians: Option<Vec<bool>>,
    /// For each verdict, by its index.
    verdicts: Option<Vec<bool>>,
    /// For each byte that [`Judged::method`] can hold.
    methods: Option<Vec<bool>>,
    broken: Vec<RuleCheck>,
    unrecorded: Vec<RuleCheck>,
}

/// Passes if some of the rules are there, or, where it excludes, if none is.
struct RuleCheck {
    rules: RuleSet,
    excludes: bool,
}

impl Checks {
    fn new(filter: &Filter, assessed: &Assessed) -> Self {
        let mut checks = Checks {
            rows: 0..assessed.judged.len(),
            points: None,
            technicians: None,
            verdicts: None,
            methods: None,
            broken: Vec::new(),
            unrecorded: Vec::new(),
        };
        for term in &filter.terms {
            checks.add(term, assessed);
        }
        checks.rows.end = checks.rows.end.max(checks.rows.start);
        checks
    }

    fn add(&mut self, term: &Term, assessed: &Assessed) {
        let passes = |matches: bool| matches != term.excludes;
        match term.key {
            FilterKey::From | FilterKey::To => self.add_day(term, assessed),
            FilterKey::Broken => self.broken.push(RuleCheck::new(term)),
            FilterKey::Unrecorded => self.unrecorded.push(RuleCheck::new(term)),
            FilterKey::Verdict => narrow(
                &mut self.verdicts,
                (0..Verdict::ALL.len()).map(|index| passes(term.has_word(Some(index)))),
            ),
            FilterKey::Method => {
                let known = FilterKey::Method.words().map_or(0, |words| words.len());
                let word = |byte: usize| (byte < known).then_some(byte);
                narrow(
                    &mut self.methods,
                    (0..=usize::from(u8::MAX)).map(|byte| passes(term.has_word(word(byte)))),
                );
            }
            FilterKey::Technician => {
                let named = named(term, &assessed.technicians);
                narrow(&mut self.technicians, named.into_iter().map(passes));
            }
            FilterKey::Crew => narrow(
                &mut self.technicians,
                (assessed.technicians.iter())
                    .map(|technician| passes(term.has_text(technician.crew.as_deref()))),
            ),
            _ => narrow(
                &mut self.points,
                (assessed.points.iter()).map(|point| passes(term.matches_point(point))),
            ),
        }
    }

    /// Days narrow the range of rows; an excluded `from` is a `to` just before it.
    fn add_day(&mut self, term: &Term, assessed: &Assessed) {
        let Some(value) = term.values.first() else {
            return;
        };
        let from = term.key == FilterKey::From;
        let first = if from {
            value.first_day()
        } else {
            value.last_day().and_then(|day| day.succ_opt())
        };
        let start = first.and_then(|day| start_of_day(day, assessed.zone));
        let row = match start {
            Some(start) => (assessed.judged.drawn_at).partition_point(|&at| at < start),
            None => assessed.judged.len(),
        };
        if from != term.excludes {
            self.rows.start = self.rows.start.max(row);
        } else {
            self.rows.end = self.rows.end.min(row);
        }
    }

    /// The rows of this piece that pass, in order.
    fn pass(&self, judged: &Judged, piece: Range<usize>) -> Selection {
        let mut keep = vec![true; piece.len()];
        check(
            &mut keep,
            &self.points,
            &judged.point[piece.clone()],
            |&point| point as usize,
        );
        let technicians = &judged.technician[piece.clone()];
        check(&mut keep, &self.technicians, technicians, |&technician| {
            technician as usize
        });
        let verdicts = &judged.verdict[piece.clone()];
        check(&mut keep, &self.verdicts, verdicts, |verdict| {
            usize::from(verdict.index())
        });
        let methods = &judged.method[piece.clone()];
        check(&mut keep, &self.methods, methods, |&method| {
            usize::from(method)
        });
        for (checks, column) in [
            (&self.broken, &judged.broken),
            (&self.unrecorded, &judged.unrecorded),
        ] {
            for rules in checks {
                for (keep, &there) in keep.iter_mut().zip(&column[piece.clone()]) {
                    *keep &= there.and(rules.rules).is_empty() == rules.excludes;
                }
            }
        }
        kept(&keep, piece.start)
    }
}

/// The numbers of the rows that are kept. Without a branch, since whether a row is kept can
/// not be foreseen.
fn kept(keep: &[bool], start: usize) -> Selection {
    let first = u32::try_from(start).expect("rows are counted in 32 bits");
    let mut rows = vec![0; keep.len()];
    let mut count = 0;
    for (row, &keep) in (first..).zip(keep) {
        rows[count] = row;
        count += usize::from(keep);
    }
    rows.truncate(count);
    rows
}

/// Drops the rows whose value in the column does not pass the table.
fn check<T>(
    keep: &mut [bool],
    table: &Option<Vec<bool>>,
    column: &[T],
    place: impl Fn(&T) -> usize,
) {
    if let Some(table) = table {
        for (keep, value) in keep.iter_mut().zip(column) {
            *keep &= table[place(value)];
        }
    }
}

/// Lets only pass what passed before and passes now.
fn narrow(table: &mut Option<Vec<bool>>, passes: impl Iterator<Item = bool>) {
    match table {
        Some(table) => {
            for (before, now) in table.iter_mut().zip(passes) {
                *before &= now;
            }
        }
        None => *table = Some(passes.collect()),
    }
}

impl RuleCheck {
    fn new(term: &Term) -> Self {
        let mut rules = RuleSet::NONE;
        for value in &term.values {
            if let Value::Word(place) = value {
                rules.insert(*place);
            }
        }
        RuleCheck {
            rules,
            excludes: term.excludes,
        }
    }
}

impl Term {
    fn has_text(&self, text: Option<&str>) -> bool {
        self.values.iter().any(|value| match (value, text) {
            (Value::Blank, None) => true,
            (Value::Text(wanted), Some(text)) => wanted == text,
            _ => false,
        })
    }

    /// `word` is a place in the key's vocabulary.
    fn has_word(&self, word: Option<usize>) -> bool {
        self.values.iter().any(|value| match (value, word) {
            (Value::Blank, None) => true,
            (Value::Word(wanted), Some(word)) => *wanted == word,
            _ => false,
        })
    }

    fn matches_point(&self, point: &Point) -> bool {
        match self.key {
            FilterKey::Site => self.has_text(point.site.as_deref()),
            FilterKey::Area => self.has_text(point.area.as_deref()),
            FilterKey::Machine => self.has_text(point.machine.as_deref()),
            FilterKey::Point => self.has_text(Some(&point.id)),
            FilterKey::Compartment => self.has_text(Some(&point.compartment)),
            FilterKey::Class => self.has_word(point.machine_class.map(|it| it.index().into())),
            FilterKey::Kind => self.has_word(Some(point.kind.index().into())),
            FilterKey::Place => self.has_word(point.place.map(|place| place.index().into())),
            _ => false,
        }
    }
}

/// For each technician, whether the term names them. A value that is exactly someone's id
/// names that one alone; any other names all whose id or name it is, in any case.
pub(super) fn named(term: &Term, technicians: &[Technician]) -> Vec<bool> {
    let mut named = vec![false; technicians.len()];
    for value in &term.values {
        let Value::Text(text) = value else { continue };
        if let Some(place) = technicians.iter().position(|one| one.id == *text) {
            named[place] = true;
            continue;
        }
        let text = text.to_lowercase();
        for (named, technician) in named.iter_mut().zip(technicians) {
            let name = technician.name.as_deref().unwrap_or_default();
            *named |= technician.id.to_lowercase() == text || name.to_lowercase() == text;
        }
    }
    named
}

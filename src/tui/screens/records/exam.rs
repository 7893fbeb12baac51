//! What takes long to find out about the records: it is worked out in the background, once a
//! filter, and kept until the programme is read again.

use std::sync::Arc;

use super::coverage::CoverageFigures;
use crate::analysis::{Assessed, Doubts, Filter, Selection};
use crate::model::Progress;
use crate::programme::Error;
use crate::tui::app::{App, Loading};
use crate::tui::effect::{Effect, Shelf};
use crate::tui::moves;

/// Answers for more filters than this are not kept.
const MOST: usize = 8;

/// What is examined.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exam {
    /// How much of each column is filled.
    Coverage,
    /// What is hard to believe.
    Doubts,
}

/// What is to be examined over which draws.
#[derive(Clone)]
pub struct ExamOrder {
    /// What.
    pub exam: Exam,
    /// The filter's number.
    pub turn: u64,
    /// The filter.
    pub filter: Filter,
    /// The draws.
    pub selection: Arc<Selection>,
}

/// What came of it.
#[derive(Clone)]
pub struct ExamAnswer {
    /// The filter's number.
    pub turn: u64,
    /// The filter.
    pub filter: Filter,
    /// The figures.
    pub found: Found,
}

/// What was found, or why not.
#[derive(Clone)]
pub enum Found {
    /// To [`Exam::Coverage`].
    Coverage(Arc<CoverageFigures>),
    /// To [`Exam::Doubts`].
    Doubts(Arc<Doubts>),
    /// It was stopped.
    Stopped,
    /// It could not be done, in words.
    Failed(String),
}

/// Examines the records of a programme.
#[must_use]
pub fn examine(
    shelf: &dyn Shelf,
    assessed: &Assessed,
    order: &ExamOrder,
    progress: &Progress,
) -> ExamAnswer {
    let found = match order.exam {
        Exam::Coverage => shelf
            .coverage(assessed, &order.selection, progress)
            .map(|coverage| Found::Coverage(Arc::new(CoverageFigures::of(coverage)))),
        Exam::Doubts => shelf
            .doubts(assessed, &order.selection, progress)
            .map(|doubts| Found::Doubts(Arc::new(doubts))),
    };
    ExamAnswer {
        turn: order.turn,
        filter: order.filter.clone(),
        found: match found {
            Ok(found) => found,
            Err(Error::Stopped) => Found::Stopped,
            Err(error) => Found::Failed(error.to_string()),
        },
    }
}

/// The answer where the programme can't be opened.
#[must_use]
pub fn failed(order: &ExamOrder, error: &Error) -> ExamAnswer {
    ExamAnswer {
        turn: order.turn,
        filter: order.filter.clone(),
        found: Found::Failed(error.to_string()),
    }
}

/// What has been found so far.
#[derive(Clone, Default)]
pub(crate) struct Examined {
    pub(crate) coverage: Vec<(Filter, Arc<CoverageFigures>)>,
    pub(crate) doubts: Vec<(Filter, Arc<Doubts>)>,
    /// What is under way, and for which filter's number.
    pub(crate) under_way: Option<(Exam, u64)>,
    /// It was asked to stop.
    pub(crate) stopping: bool,
    pub(crate) progress: Loading,
    /// Why the last one found nothing; nothing more is asked before a reload.
    pub(crate) failed: Option<String>,
}

/// The answer for the present filter, if it is known.
pub(crate) fn known<'a, T>(app: &App, answers: &'a [(Filter, Arc<T>)]) -> Option<&'a Arc<T>> {
    let of = answers.iter().find(|(filter, _)| *filter == app.filter);
    of.map(|(_, found)| found)
}

/// Asks for what the view in front lacks.
pub(crate) fn ask(app: &mut App, exam: Exam, effects: &mut Vec<Effect>) {
    let examined = &app.examined;
    let is_known = match exam {
        Exam::Coverage => known(app, &examined.coverage).is_some(),
        Exam::Doubts => known(app, &examined.doubts).is_some(),
    };
    if is_known || examined.failed.is_some() {
        return;
    }
    match examined.under_way {
        Some(of) if of == (exam, app.turn) => {}
        Some(_) => stop(app, effects),
        None => {
            app.examined.under_way = Some((exam, app.turn));
            app.examined.progress = Loading::default();
            effects.push(Effect::Examine(ExamOrder {
                exam,
                turn: app.turn,
                filter: app.filter.clone(),
                selection: Arc::clone(&app.selection),
            }));
        }
    }
}

/// Stops what is under way for a filter that no longer holds.
pub(crate) fn stop_stale(app: &mut App, effects: &mut Vec<Effect>) {
    if app
        .examined
        .under_way
        .is_some_and(|(_, turn)| turn != app.turn)
    {
        stop(app, effects);
    }
}

fn stop(app: &mut App, effects: &mut Vec<Effect>) {
    if !app.examined.stopping {
        app.examined.stopping = true;
        effects.push(Effect::StopExam);
    }
}

/// An answer has come; one about an older programme is let go.
pub(crate) fn answered(app: &mut App, answer: ExamAnswer) {
    let examined = &mut app.examined;
    examined.under_way = None;
    examined.stopping = false;
    if answer.turn < app.loaded_turn {
        return;
    }
    match answer.found {
        Found::Coverage(figures) => keep(&mut examined.coverage, answer.filter, figures),
        Found::Doubts(found) => keep(&mut examined.doubts, answer.filter, found),
        Found::Stopped => {}
        Found::Failed(words) => examined.failed = Some(words),
    }
    moves::settle(app);
}

fn keep<T>(answers: &mut Vec<(Filter, Arc<T>)>, filter: Filter, found: Arc<T>) {
    answers.retain(|(known, _)| *known != filter);
    if answers.len() == MOST {
        answers.remove(0);
    }
    answers.push((filter, found));
}

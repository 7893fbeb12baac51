//! Answers kept by selection, so that going back to a filter waits for nothing.

use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use super::adjust::in_order;
use super::{Adjust, Attribution, NoAnswer, attribute};
use crate::analysis::{Assessed, Selection};

/// How many answers are kept; the oldest goes first.
const MOST: usize = 8;

/// Answers over one judged programme. Make a new one when the programme is read again.
#[derive(Debug, Default)]
pub struct Kept {
    answers: Mutex<Vec<Entry>>,
}

#[derive(Debug)]
struct Entry {
    selection: Arc<Selection>,
    adjust: Vec<Adjust>,
    answer: Answer,
}

type Answer = Arc<Result<Attribution, NoAnswer>>;

impl Kept {
    /// The answer, if it is known.
    #[must_use]
    pub fn known(&self, selection: &Arc<Selection>, adjust: &[Adjust]) -> Option<Answer> {
        let adjust = in_order(adjust);
        let answers = self.answers();
        let found = answers.iter().find(|entry| {
            entry.adjust == adjust
                && (Arc::ptr_eq(&entry.selection, selection) || entry.selection == *selection)
        });
        found.map(|entry| Arc::clone(&entry.answer))
    }

    /// The answer, known or worked out now; see [`attribute`]. A stop is not kept. Nothing
    /// is locked while the model is fitted.
    pub fn attribute(
        &self,
        assessed: &Assessed,
        selection: &Arc<Selection>,
        adjust: &[Adjust],
        keep_going: &mut dyn FnMut() -> bool,
    ) -> Answer {
        if let Some(known) = self.known(selection, adjust) {
            return known;
        }
        let answer = Arc::new(attribute(assessed, selection, adjust, keep_going));
        if *answer != Err(NoAnswer::Stopped) {
            let mut answers = self.answers();
            if answers.len() == MOST {
                answers.remove(0);
            }
            answers.push(Entry {
                selection: Arc::clone(selection),
                adjust: in_order(adjust),
                answer: Arc::clone(&answer),
            });
        }
        answer
    }

    fn answers(&self) -> MutexGuard<'_, Vec<Entry>> {
        // A panic elsewhere can't leave a list of finished answers half written.
        self.answers.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

//! Carries out what the state asks for, one thing after another, and says now and then how far
//! it has come.

use std::path::Path;
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

use crate::model::Progress;
use crate::programme::Programme;
use crate::programme::remembered::Keeper;
use crate::tui::action::Action;
use crate::tui::app::App;
use crate::tui::decide::{decide, write_out};
use crate::tui::effect::{self, Answer, Effect};
use crate::tui::error::Error;
use crate::tui::screens::import::order::carry_out;
use crate::tui::screens::records::exam::examine;

/// Where lines are said.
pub(super) type Say<'a> = &'a mut dyn FnMut(&str);

/// How often progress is looked at.
const GLANCE: Duration = Duration::from_millis(100);
/// Nothing is said of work that takes less than this, nor more often.
const PATIENCE: Duration = Duration::from_secs(2);

/// The means to stop what is under way, from another thread.
#[derive(Clone, Debug, Default)]
pub struct Stop(Arc<Mutex<Option<Arc<Progress>>>>);

impl Stop {
    /// Stops what is under way; whether there was anything.
    #[must_use]
    pub fn now(&self) -> bool {
        let under_way = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        under_way
            .as_ref()
            .inspect(|progress| progress.stop())
            .is_some()
    }

    fn set(&self, progress: Option<Arc<Progress>>) {
        *self.0.lock().unwrap_or_else(PoisonError::into_inner) = progress;
    }
}

/// What came of an effect.
pub(super) enum Came {
    /// This follows.
    Action(Box<Action>),
    /// Nothing follows.
    Nothing,
    /// The user leaves.
    Leave,
}

/// What work needs.
pub(super) struct Work<'a> {
    pub(super) programme: &'a mut Programme,
    pub(super) keeper: &'a mut Keeper,
    pub(super) file: &'a Path,
    pub(super) stop: &'a Stop,
    pub(super) say: Say<'a>,
}

impl Work<'_> {
    /// Carries one effect out and waits for what comes of it.
    ///
    /// # Errors
    /// A mistake of this program.
    pub(super) fn carry_out(&mut self, app: &App, effect: Effect) -> Result<Came, Error> {
        let action = match effect {
            Effect::Quit => return Ok(Came::Leave),
            // Nothing is ever under way while a line is read, and a terminal in its own mode
            // puts the program to sleep by itself.
            Effect::StopLong
            | Effect::StopFind
            | Effect::StopPlans
            | Effect::StopExam
            | Effect::StopIntake
            | Effect::StopDeciding
            | Effect::StopPack
            | Effect::Suspend => return Ok(Came::Nothing),
            Effect::Remember(change) => {
                let changed = self.keeper.change(&change);
                let memory = changed.map(|_| self.keeper.memory().clone());
                Action::Answered(Answer::Remembered(memory))
            }
            Effect::Reload => self.assess()?,
            Effect::Intake(order) => {
                let file = self.file;
                Action::Intake(watched(self.stop, self.say, |it| {
                    carry_out(file, &order, it)
                })?)
            }
            other => match self.of_draws(app, other)? {
                Some(action) => action,
                None => return Ok(Came::Nothing),
            },
        };
        Ok(Came::Action(Box::new(action)))
    }

    /// Reads and judges the programme. Once something was taken into a new file, that file is
    /// the programme.
    pub(super) fn assess(&mut self) -> Result<Action, Error> {
        if self.programme.path().is_none() && self.file.exists() {
            match Programme::open(self.file) {
                Ok(made) => *self.programme = made,
                Err(error) => return Ok(Action::Failed(error.to_string())),
            }
        }
        let programme = &mut *self.programme;
        let assessed = watched(self.stop, self.say, |progress| programme.assess(progress))?;
        Ok(match assessed {
            Ok(assessed) => Action::Loaded(Arc::new(assessed)),
            Err(error) => Action::Failed(error.to_string()),
        })
    }

    /// What is done with the judged programme; nothing before there is one.
    fn of_draws(&mut self, app: &App, effect: Effect) -> Result<Option<Action>, Error> {
        let Some(assessed) = app.data.as_deref() else {
            return Ok(None);
        };
        let (programme, stop) = (&mut *self.programme, self.stop);
        let say = &mut *self.say;
        let answer = match effect {
            Effect::Reckon(question) => watched(stop, say, |progress| {
                effect::reckon(assessed, question, progress)
            })?,
            Effect::Fetch(question) => watched(stop, say, move |_| {
                effect::fetch(programme, assessed, &question)
            })?,
            Effect::WritePlans(order) => watched(stop, say, move |progress| {
                effect::write_plans(programme, assessed, &order, progress)
            })?,
            Effect::Decide(decision) => {
                let Some(who) = app.who.clone() else {
                    return Ok(None);
                };
                Answer::Done(watched(stop, say, |progress| {
                    decide(programme, assessed, &who, &decision, progress)
                })?)
            }
            Effect::WriteOut(paper) => paper.answered(watched(stop, say, |progress| {
                write_out(programme, assessed, &paper, progress)
            })?),
            Effect::Examine(order) => {
                let found = watched(stop, say, move |progress| {
                    examine(programme, assessed, &order, progress)
                })?;
                return Ok(Some(Action::Examined(found)));
            }
            _ => return Ok(None),
        };
        Ok(Some(Action::Answered(answer)))
    }
}

/// Does some work on a thread of its own, so that it can be stopped and watched.
pub(super) fn watched<T: Send>(
    stop: &Stop,
    say: &mut dyn FnMut(&str),
    work: impl FnOnce(&Progress) -> T + Send,
) -> Result<T, Error> {
    let progress = Arc::new(Progress::default());
    stop.set(Some(Arc::clone(&progress)));
    let done = thread::scope(|scope| {
        let (working, ended) = channel::<()>();
        let shared = &progress;
        let worker = scope.spawn(move || {
            // It is dropped at the end, whatever the end is.
            let _working = working;
            work(shared)
        });
        let mut watch = Watch::new();
        while ended.recv_timeout(GLANCE) == Err(RecvTimeoutError::Timeout) {
            if let Some(words) = watch.look(&progress) {
                say(&words);
            }
        }
        worker.join()
    });
    stop.set(None);
    done.map_err(|_| Error::Mistake)
}

/// What was said last of how far something has come.
struct Watch {
    said: Instant,
    words: String,
}

impl Watch {
    fn new() -> Self {
        Watch {
            said: Instant::now(),
            words: String::new(),
        }
    }

    /// What is to be said now, if anything.
    fn look(&mut self, progress: &Progress) -> Option<String> {
        if self.said.elapsed() < PATIENCE {
            return None;
        }
        let (stage, done, total) = progress.read();
        let words = how_far(stage.as_str(), done, total);
        if words == self.words {
            return None;
        }
        self.said = Instant::now();
        self.words.clone_from(&words);
        Some(words)
    }
}

/// `judging: 40 %`; the stage alone where it is not counted.
fn how_far(stage: &str, done: u64, total: u64) -> String {
    if total == 0 {
        return format!("{stage}.");
    }
    let tenths = done.min(total).saturating_mul(10) / total;
    format!("{stage}: {} %", tenths * 10)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn progress_is_told_in_tenths() {
        assert_eq!(how_far("judging", 449, 1000), "judging: 40 %");
        assert_eq!(how_far("judging", u64::MAX, 1000), "judging: 100 %");
        assert_eq!(how_far("fitting", 3, 0), "fitting.");
    }

    #[test]
    fn work_is_stopped_from_another_thread() {
        let stop = Stop::default();
        assert!(!stop.now(), "nothing is under way");
        let other = stop.clone();
        let done = watched(&stop, &mut |_| {}, |progress| {
            assert!(other.now());
            progress.is_stopped()
        });
        assert!(matches!(done, Ok(true)));
        assert!(!stop.now());
    }
}

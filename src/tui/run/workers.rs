//! Threads that work beside the one that owns the programme file. Those that need the file
//! open it for themselves, so that draws can be opened meanwhile.

use std::sync::Arc;
use std::sync::mpsc::{Sender, channel};
use std::thread::{self, JoinHandle};

use super::own_file::OwnFile;
use super::wake::{Alarm, Wake};
use crate::analysis::Assessed;
use crate::model::Progress;
use crate::tui::action::Action;
use crate::tui::decide::{Paper, write_out};
use crate::tui::effect::{self, Answer, Fetch, PlansOrder, Question};
use crate::tui::screens::import::order::{IntakeOrder, carry_out, refused};
use crate::tui::screens::records::exam::{self, ExamOrder};
use crate::tui::text;

/// A question, what it is asked of, and the means to stop it.
pub(super) type Asked = (Arc<Assessed>, Question, Arc<Progress>);

/// What the thread that examines records is told, of what, and the means to stop it.
pub(super) type Examine = (Arc<Assessed>, ExamOrder, Arc<Progress>);

/// What the thread that takes tables in is told, and the means to stop it.
pub(super) type Intake = (IntakeOrder, Arc<Progress>);

/// What a thread that writes is told, of what, and the means to stop it.
pub(super) type Write = (Arc<Assessed>, Writing, Arc<Progress>);

/// Whose names are read: of the draws of the programme as it was read at this time.
pub(super) type Name = (Arc<Assessed>, u64);

/// What is written to a folder.
pub(super) enum Writing {
    /// Sheets to print, or the findings pack.
    Paper(Box<Paper>),
    /// Retraining plans.
    Plans(PlansOrder),
}

/// Starts a thread that answers one order after the other.
fn worker<T: Send + 'static>(
    wake: Sender<Wake>,
    mut answer: impl FnMut(T) -> Action + Send + 'static,
) -> (Sender<T>, JoinHandle<()>) {
    let (orders, ordered) = channel::<T>();
    let thread = thread::spawn(move || {
        let _alarm = Alarm(wake.clone());
        for order in ordered {
            if wake.send(Wake::Did(answer(order))).is_err() {
                return;
            }
        }
    });
    (orders, thread)
}

/// A thread that reckons over the judged programme in memory.
pub(super) fn reckoner(wake: Sender<Wake>) -> Sender<Asked> {
    let answer = |(assessed, question, progress): Asked| {
        Action::Answered(effect::reckon(&assessed, question, &progress))
    };
    worker(wake, answer).0
}

/// A thread that examines records.
pub(super) fn examiner(file: OwnFile, wake: Sender<Wake>) -> Sender<Examine> {
    let answer = move |(assessed, order, progress): Examine| {
        Action::Examined(match file.open() {
            Ok(programme) => exam::examine(&programme, &assessed, &order, &progress),
            Err(error) => exam::failed(&order, &error),
        })
    };
    worker(wake, answer).0
}

/// A thread that reads what draws and bottles are called.
pub(super) fn namer(file: OwnFile, wake: Sender<Wake>) -> Sender<Name> {
    let answer = move |(assessed, loaded): Name| {
        Action::Answered(match file.open() {
            Ok(programme) => effect::fetch(&programme, &assessed, &Fetch::Names(loaded)),
            Err(error) => Answer::Names(loaded, Err(error.to_string())),
        })
    };
    worker(wake, answer).0
}

/// The thread that looks into folders and takes tables in.
pub(super) fn clerk(file: OwnFile, wake: Sender<Wake>) -> (Sender<Intake>, JoinHandle<()>) {
    worker(wake, move |(order, progress): Intake| {
        let in_place = file
            .look()
            .map_err(|error| text::sentence(&error.to_string()));
        let refused = in_place.err().and_then(|words| refused(&order, words));
        Action::Intake(refused.unwrap_or_else(|| carry_out(file.path(), &order, &progress)))
    })
}

/// A thread that writes to folders.
pub(super) fn writer(file: OwnFile, wake: Sender<Wake>) -> (Sender<Write>, JoinHandle<()>) {
    worker(wake, move |(assessed, writing, progress): Write| {
        Action::Answered(write(&file, &assessed, &writing, &progress))
    })
}

fn write(file: &OwnFile, assessed: &Assessed, writing: &Writing, progress: &Progress) -> Answer {
    let opened = file.open().map_err(|error| error.to_string());
    match writing {
        Writing::Paper(paper) => {
            let done = opened
                .and_then(|mut programme| write_out(&mut programme, assessed, paper, progress));
            paper.answered(done)
        }
        Writing::Plans(order) => match opened {
            Ok(programme) => effect::write_plans(&programme, assessed, order, progress),
            Err(words) => Answer::Plans(Err(text::sentence(&words))),
        },
    }
}

//! The thread that owns the programme file.

use std::sync::Arc;
use std::sync::mpsc::{Sender, channel};
use std::thread::{self, JoinHandle};

use super::own_file::OwnFile;
use super::wake::{Alarm, Wake};
use crate::analysis::Assessed;
use crate::model::Progress;
use crate::model::progress::Stage;
use crate::model::trail::Who;
use crate::programme::{Programme, Standing};
use crate::tui::action::Action;
use crate::tui::decide::{Decision, decide};
use crate::tui::effect::{self, Answer, Fetch};
use crate::tui::text;

/// What the thread that owns the programme is told.
pub(super) enum Order {
    Assess,
    Fetch(Arc<Assessed>, Fetch),
    Decide(Arc<Assessed>, Box<(Who, Decision)>, Arc<Progress>),
    LookForChanges,
}

/// Starts the thread; without orders it ends, and the file is closed.
pub(super) fn keeper(
    programme: Programme,
    file: OwnFile,
    progress: Arc<Progress>,
    wake: Sender<Wake>,
) -> (Sender<Order>, JoinHandle<()>) {
    let (orders, ordered) = channel();
    let thread = thread::spawn(move || {
        let _alarm = Alarm(wake.clone());
        let mut keeper = Keeper {
            clock: programme.clock(),
            programme: Some(programme),
            file,
            told: Told::Nothing,
            wake,
        };
        for order in ordered {
            let Some(action) = keeper.carry_out(order, &progress) else {
                continue;
            };
            if keeper.wake.send(Wake::Did(action)).is_err() {
                return;
            }
        }
    });
    (orders, thread)
}

/// What was told of the file since it was read.
#[derive(PartialEq, Eq)]
enum Told {
    Nothing,
    Changed,
    OutOfPlace(Standing),
}

struct Keeper {
    /// None after another file came into its place that can't be opened.
    programme: Option<Programme>,
    file: OwnFile,
    /// Of an invented programme.
    clock: Option<i64>,
    /// What was told is not told again.
    told: Told,
    wake: Sender<Wake>,
}

impl Keeper {
    fn carry_out(&mut self, order: Order, progress: &Progress) -> Option<Action> {
        if matches!(order, Order::Assess) {
            return Some(self.assess(progress));
        }
        if matches!(order, Order::LookForChanges) {
            return self.look();
        }
        let Some(programme) = &mut self.programme else {
            let words = "The programme file is not open; r reads it again.".to_owned();
            return Some(Action::Answered(match order {
                Order::Decide(..) => Answer::Done(Err(words)),
                _ => Answer::Unreadable(words),
            }));
        };
        Some(Action::Answered(match order {
            Order::Fetch(assessed, question) => effect::fetch(programme, &assessed, &question),
            Order::Decide(assessed, decided, progress) => {
                let (who, decision) = *decided;
                let done = decide(programme, &assessed, &who, &decision, &progress);
                programme.empty_log();
                Answer::Done(done)
            }
            Order::Assess | Order::LookForChanges => return None,
        }))
    }

    /// Reads and judges the file; if another one stands in its place, that one.
    fn assess(&mut self, progress: &Progress) -> Action {
        self.told = Told::Nothing;
        progress.begin(Stage::Waiting, 0);
        if let Err(words) = self.reopen() {
            return Action::Failed(words);
        }
        let Some(programme) = &mut self.programme else {
            return Action::Failed("The programme file is not open.".to_owned());
        };
        match programme.assess(progress) {
            Ok(assessed) => {
                programme.empty_log();
                Action::Loaded(Arc::new(assessed))
            }
            Err(error) => Action::Failed(text::sentence(&error.to_string())),
        }
    }

    /// Opens the file anew where what is open is no longer what stands there. The old one is
    /// closed first: two files of one name can't be open at once without their logs being
    /// mixed up.
    fn reopen(&mut self) -> Result<(), String> {
        let open = self.programme.as_ref();
        // Once something was taken into a new file, that file is what is read.
        if open.is_some_and(|open| open.path().is_none()) && !self.file.path().exists() {
            return Ok(());
        }
        let is_in_place =
            |open: &Programme| open.path().is_some() && open.standing() == Standing::InPlace;
        if open.is_some_and(is_in_place) {
            return Ok(());
        }
        if let Some(old) = self.programme.take() {
            old.close();
        }
        let opened = Programme::open(self.file.path());
        let programme = opened.map_err(|error| text::sentence(&error.to_string()))?;
        if let Some(at) = self.clock {
            programme.set_clock(at);
        }
        self.file.is_now(&programme);
        let reopened = Action::Reopened(programme.is_read_only());
        let _ = self.wake.send(Wake::Did(reopened));
        self.programme = Some(programme);
        Ok(())
    }

    /// Looks whether others have changed the file or put another in its place.
    fn look(&mut self) -> Option<Action> {
        let programme = self.programme.as_ref()?;
        let found = match programme.standing() {
            Standing::InPlace => match programme.changed_elsewhere() {
                Ok(true) => Told::Changed,
                // A file in use is looked at again later.
                Ok(false) | Err(_) => return None,
            },
            standing => Told::OutOfPlace(standing),
        };
        if found == self.told {
            return None;
        }
        let action = match found {
            Told::OutOfPlace(standing) => Action::OutOfPlace(standing),
            Told::Changed | Told::Nothing => Action::ChangedElsewhere,
        };
        self.told = found;
        Some(action)
    }
}

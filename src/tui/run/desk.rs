//! The loop itself: what comes in changes the state, and the state is drawn when it changed
//! and the terminal has taken the frame before.

use std::sync::mpsc::{Receiver, RecvTimeoutError};
use std::time::{Duration, Instant};

use super::early::Early;
use super::errands::Errands;
use super::keeper::Order;
use super::look::Look;
use super::wake::Wake;
use crate::tui::action::Action;
use crate::tui::app::App;
use crate::tui::effect::Effect;
use crate::tui::error::Error;
use crate::tui::terminal::Screen;
use crate::tui::update::update;
use crate::tui::view::view;

/// How often progress is looked at while something long is under way.
pub(in crate::tui) const GLANCE: Duration = Duration::from_millis(100);
/// How often it is looked whether the programme was changed elsewhere.
const LOOK: Duration = Duration::from_secs(2);

/// The state, and those who carry out what it asks for.
pub(super) struct Desk {
    app: App,
    errands: Errands,
    /// The screen does not show the state as it is.
    is_stale: bool,
    looked: Instant,
    /// What was typed while the programme was read.
    early: Early,
}

/// How the interface on a programme ended.
pub(super) enum Left {
    /// The user leaves.
    ForGood,
    /// Another programme is to be opened.
    ForAnother,
}

impl Desk {
    pub(super) fn new(app: App, errands: Errands) -> Self {
        Desk {
            app,
            errands,
            is_stale: true,
            looked: Instant::now(),
            early: Early::default(),
        }
    }

    pub(super) fn leave(self) -> (App, Errands) {
        (self.app, self.errands)
    }

    /// Works until the user leaves or is gone.
    pub(super) fn work(
        &mut self,
        screen: &mut Screen,
        look: &mut Look,
        woken: &Receiver<Wake>,
    ) -> Result<Left, Error> {
        self.errands.keeper(Order::Assess);
        loop {
            if self.is_stale && look.is_settled && screen.is_free() {
                screen.draw(|frame| view(&self.app, frame))?;
                self.is_stale = false;
            }
            let first = match woken.recv_timeout(self.patience()) {
                Ok(wake) => Some(wake),
                Err(RecvTimeoutError::Timeout) => {
                    self.still_waiting();
                    None
                }
                Err(RecvTimeoutError::Disconnected) => return Ok(Left::ForGood),
            };
            // All that has come in is dealt with before the next frame, so that held keys
            // never queue up behind drawing.
            let mut next = first;
            while let Some(wake) = next {
                if let Some(left) = self.take(wake, look, screen)? {
                    return Ok(left);
                }
                next = woken.try_recv().ok();
            }
            if let Some(left) = self.look_around(screen)? {
                return Ok(left);
            }
        }
    }

    /// How long nothing need be done by itself.
    fn patience(&self) -> Duration {
        let look = LOOK.saturating_sub(self.looked.elapsed());
        let is_waiting = self.app.is_waiting() && !self.app.slow;
        if is_waiting || self.errands.is_busy(&self.app) {
            look.min(GLANCE)
        } else {
            look
        }
    }

    /// Says that an answer takes its time, once it does.
    fn still_waiting(&mut self) {
        if self.app.is_waiting() && !self.app.slow {
            update(&mut self.app, Action::StillWaiting);
            self.is_stale = true;
        }
    }

    /// Sees how far things have come, and now and then what others do to the file and to the
    /// window: not everything that passes a terminal on tells of another size.
    fn look_around(&mut self, screen: &mut Screen) -> Result<Option<Left>, Error> {
        for action in self.errands.progress(&self.app) {
            update(&mut self.app, action);
            self.is_stale = true;
        }
        if self.looked.elapsed() < LOOK {
            return Ok(None);
        }
        self.looked = Instant::now();
        // What is written by a pack of our own is no news, nor is what is not yet read.
        if self.app.data.is_some() && !self.app.is_packing() {
            self.errands.keeper(Order::LookForChanges);
        }
        self.follow_size(screen)
    }

    /// Shows the state in the window as large as it is now, where that is news.
    fn follow_size(&mut self, screen: &mut Screen) -> Result<Option<Left>, Error> {
        match screen.size()? {
            size if size == self.app.size => Ok(None),
            size => self.act(Action::Resize(size), screen),
        }
    }

    /// Deals with one event; says how to leave, if that was asked for.
    fn take(
        &mut self,
        wake: Wake,
        look: &mut Look,
        screen: &mut Screen,
    ) -> Result<Option<Left>, Error> {
        let action = match wake {
            Wake::Signal | Wake::TerminalGone => return Ok(Some(Left::ForGood)),
            Wake::Mistake => return Err(Error::Mistake),
            Wake::Written | Wake::Began(_) => return Ok(None),
            Wake::Looked(background) => {
                look.settle(background);
                match background {
                    Some(background) => Action::Background(background),
                    None => return Ok(None),
                }
            }
            Wake::Resumed => {
                screen.resume()?;
                Action::Resize(screen.size()?)
            }
            Wake::Resized => return self.follow_size(screen),
            Wake::Did(action) => action,
            Wake::Terminal(event) => {
                let by_key = |key| self.app.action_of(key);
                match self.early.pass(event, self.app.is_reading(), by_key) {
                    Some(action) => action,
                    None => return Ok(None),
                }
            }
        };
        let is_read = matches!(action, Action::Loaded(_));
        let mut left = self.act(action, screen)?;
        let early = if is_read {
            self.early.take()
        } else {
            Vec::new()
        };
        for event in early {
            left = match left {
                None => self.take(Wake::Terminal(event), look, screen)?,
                left => left,
            };
        }
        Ok(left)
    }

    fn act(&mut self, action: Action, screen: &mut Screen) -> Result<Option<Left>, Error> {
        self.is_stale = true;
        for effect in update(&mut self.app, action) {
            match effect {
                Effect::Quit => return Ok(Some(Left::ForGood)),
                Effect::OpenAnother => return Ok(Some(Left::ForAnother)),
                Effect::Suspend => {
                    screen.sleep()?;
                    // The window may have another size by now, of which nobody told.
                    let size = screen.size()?;
                    if let Some(left) = self.act(Action::Resize(size), screen)? {
                        return Ok(Some(left));
                    }
                }
                Effect::Copy(text) => screen.tell(&self.app.clipboard.sequence(&text))?,
                effect => self.errands.carry_out(&self.app, effect),
            }
        }
        Ok(None)
    }
}

//! What wakes the loop.

use std::sync::mpsc::Sender;
use std::thread;

use crossterm::event::Event;

use crate::tui::action::Action;
use crate::tui::start::run::Answered;
use crate::tui::theme::Background;

/// What wakes the loop.
pub(in crate::tui) enum Wake {
    /// The terminal was asked for its background, and told this.
    Looked(Option<Background>),
    /// The terminal has news.
    Terminal(Event),
    /// There is no terminal any more.
    TerminalGone,
    /// The last frame was taken by the terminal.
    Written,
    /// The window has another size, or may have: it is asked for when this is dealt with, so
    /// that no size is shown that is out of date.
    Resized,
    /// The process was asleep.
    Resumed,
    /// A signal asks to end.
    Signal,
    /// A thread came to grief.
    Mistake,
    /// A thread has an answer.
    Did(Action),
    /// From the time before a programme is open.
    Began(Answered),
}

/// Tells the loop if the thread it stands in comes to grief, so that the interface ends
/// instead of waiting for answers that never come.
pub(in crate::tui) struct Alarm(pub(in crate::tui) Sender<Wake>);

impl Drop for Alarm {
    fn drop(&mut self) {
        if thread::panicking() {
            let _ = self.0.send(Wake::Mistake);
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use std::sync::mpsc::channel;

    #[test]
    fn a_thread_that_comes_to_grief_is_told_and_one_that_ends_is_not() {
        let (wake, woken) = channel();
        let alarm = Alarm(wake.clone());
        let fell = thread::spawn(move || {
            let _alarm = alarm;
            panic!("for the test's sake");
        });
        assert!(fell.join().is_err());
        assert!(matches!(woken.try_recv(), Ok(Wake::Mistake)));
        let alarm = Alarm(wake);
        thread::spawn(move || drop(alarm)).join().unwrap();
        assert!(woken.try_recv().is_err());
    }
}

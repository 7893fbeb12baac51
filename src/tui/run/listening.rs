//! The terminal's events, and its end.

use std::sync::mpsc::Sender;
use std::thread;

use crossterm::event::{self, Event, KeyEvent, KeyEventKind, MouseButton, MouseEventKind};

use super::look;
use super::wake::Wake;
use crate::tui::action::Action;
use crate::tui::theme::{Late, Passed};

/// What an event of the terminal asks for; keys by the table that holds at present.
pub(super) fn action_of(
    event: Event,
    by_key: impl FnOnce(KeyEvent) -> Option<Action>,
) -> Option<Action> {
    match event {
        Event::Key(key) if key.kind != KeyEventKind::Release => by_key(key),
        Event::Paste(text) => Some(Action::Paste(text)),
        Event::Mouse(mouse) => match mouse.kind {
            MouseEventKind::Down(MouseButton::Left) => Some(Action::Click(mouse.column, mouse.row)),
            MouseEventKind::ScrollDown => Some(Action::Wheel(mouse.column, mouse.row, 3)),
            MouseEventKind::ScrollUp => Some(Action::Wheel(mouse.column, mouse.row, -3)),
            _ => None,
        },
        _ => None,
    }
}

/// Asks the terminal for its background, where that is wanted, and reads it until it is gone.
/// Nothing else need wait for the answer.
pub(super) fn listen(wake: Sender<Wake>, asks: bool) {
    watch_for_the_end(wake.clone());
    thread::spawn(move || {
        let mut late = match asks {
            true => look::ask(&wake),
            false => Late::over(),
        };
        loop {
            let Ok(event) = event::read() else {
                let _ = wake.send(Wake::TerminalGone);
                return;
            };
            for passed in late.pass(event) {
                let woken = match passed {
                    Passed::Event(Event::Resize(..)) => Wake::Resized,
                    Passed::Event(event) => Wake::Terminal(event),
                    Passed::Background(ground) => Wake::Did(Action::Background(ground)),
                };
                if wake.send(woken).is_err() {
                    return;
                }
            }
        }
    });
}

/// Waits until the terminal hangs up. Reading does not tell: the reader of events takes the
/// end of input for no input yet and asks again at once, for ever.
fn watch_for_the_end(wake: Sender<Wake>) {
    #[cfg(unix)]
    thread::spawn(move || {
        use rustix::event::{PollFd, PollFlags, poll};
        let input = std::io::stdin();
        loop {
            // Nothing is asked for, so only an end or an error wakes.
            let mut watched = [PollFd::new(&input, PollFlags::empty())];
            match poll(&mut watched, None) {
                Err(rustix::io::Errno::INTR | rustix::io::Errno::AGAIN) | Ok(0) => {}
                Ok(_) | Err(_) => {
                    let _ = wake.send(Wake::TerminalGone);
                    return;
                }
            }
        }
    });
    #[cfg(not(unix))]
    let _ = wake;
}

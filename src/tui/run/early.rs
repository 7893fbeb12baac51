//! Keys that are pressed while the programme is opened and read: they are kept for the screen
//! that comes, and dropped where something else comes than was to be expected.

use crossterm::event::Event;

use crate::tui::action::{Action, Command};

/// What was typed ahead, in order.
#[derive(Debug, Default)]
pub(in crate::tui) struct Early(Vec<Event>);

impl Early {
    /// Keeps a key or a paste, and says whether it did. What can be done at once is not kept:
    /// to leave, to ask for help; nor is another size.
    pub(in crate::tui) fn keep(&mut self, event: &Event, action: Option<&Action>) -> bool {
        let is_for_now = matches!(
            action,
            Some(Action::Command(
                Command::Quit | Command::Back | Command::Suspend | Command::Help | Command::Colours
            ))
        );
        let is_typed = matches!(event, Event::Key(_) | Event::Paste(_));
        if is_typed && !is_for_now {
            self.0.push(event.clone());
        }
        is_typed && !is_for_now
    }

    /// Hands out what was kept.
    pub(in crate::tui) fn take(&mut self) -> Vec<Event> {
        std::mem::take(&mut self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

    #[test]
    fn keys_are_kept_but_not_those_that_hold_at_once() {
        let key = |sign| Event::Key(KeyEvent::new(KeyCode::Char(sign), KeyModifiers::NONE));
        let mut early = Early::default();
        assert!(early.keep(&key('3'), None));
        assert!(early.keep(&Event::Paste("tank".to_owned()), None));
        assert!(early.keep(&key('j'), Some(&Action::Command(Command::Down))));
        for command in [Command::Quit, Command::Back, Command::Help] {
            assert!(!early.keep(&key('q'), Some(&Action::Command(command))));
        }
        assert!(!early.keep(&Event::Resize(80, 24), None));
        let kept = [key('3'), Event::Paste("tank".to_owned()), key('j')];
        assert_eq!(early.take(), kept);
        assert!(early.take().is_empty());
    }
}

//! Keys that are pressed while the programme is opened and read: they are kept for the screen
//! that comes, and dropped where something else comes than was to be expected.

use crossterm::event::{Event, KeyEvent};

use super::listening::action_of;
use crate::tui::action::{Action, Command};

/// What was typed ahead, in order.
#[derive(Debug, Default)]
pub(in crate::tui) struct Early(Vec<Event>);

impl Early {
    /// What an event asks for now; nothing where it is kept instead. While the programme is
    /// opened or read that is a key or a paste, unless it can be done at once: to leave, to ask
    /// for help.
    pub(in crate::tui) fn pass(
        &mut self,
        event: Event,
        is_reading: bool,
        by_key: impl FnOnce(KeyEvent) -> Option<Action>,
    ) -> Option<Action> {
        let action = action_of(event.clone(), by_key);
        let is_for_now = matches!(
            action,
            Some(Action::Command(
                Command::Quit | Command::Back | Command::Suspend | Command::Help | Command::Colours
            ))
        );
        let is_typed = matches!(event, Event::Key(_) | Event::Paste(_));
        if is_reading && is_typed && !is_for_now {
            self.0.push(event);
            return None;
        }
        action
    }

    /// Hands out what was kept.
    pub(in crate::tui) fn take(&mut self) -> Vec<Event> {
        std::mem::take(&mut self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crossterm::event::{KeyCode, KeyModifiers};

    #[test]
    fn keys_are_kept_but_not_those_that_hold_at_once() {
        let key = |sign| Event::Key(KeyEvent::new(KeyCode::Char(sign), KeyModifiers::NONE));
        let mut early = Early::default();
        let mut pass = |event, is_reading, command: Option<Command>| {
            early.pass(event, is_reading, |_| command.map(Action::Command))
        };
        assert!(pass(key('3'), true, None).is_none());
        assert!(pass(Event::Paste("tank".to_owned()), true, None).is_none());
        assert!(pass(key('j'), true, Some(Command::Down)).is_none());
        for command in [Command::Quit, Command::Back, Command::Help] {
            assert!(pass(key('q'), true, Some(command)).is_some());
        }
        assert!(pass(key('k'), false, Some(Command::Up)).is_some());
        let kept = [key('3'), Event::Paste("tank".to_owned()), key('j')];
        assert_eq!(early.take(), kept);
        assert!(early.take().is_empty());
    }
}

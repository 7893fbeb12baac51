//! How things look on this terminal.

use std::sync::mpsc::Sender;

use crossterm::event::Event;

use super::wake::Wake;
use crate::model::Colours;
use crate::tui::theme::{self, Late, Surroundings, Theme};

/// What was chosen, or suits the terminal, which is asked for its background before anything
/// else reads from it. Keys that were pressed meanwhile are handed on; an answer that is still
/// under way is to be taken out of the keys.
pub(super) fn look(colours: Colours, wake: &Sender<Wake>) -> (Theme, Late) {
    // What is drawn in no colour has none; the environment was heeded already.
    crossterm::style::force_color_output(true);
    let known = Surroundings::new(colours, |name| std::env::var(name).ok());
    let heard = match known.asks {
        true => theme::ask().ok(),
        false => None,
    };
    let Some(heard) = heard else {
        return (known.theme, Late::over());
    };
    let late = heard.late();
    for key in heard.typed {
        let _ = wake.send(Wake::Terminal(Event::Key(key)));
    }
    let theme = match heard.background {
        Some(background) => known.theme.on(Some(background)),
        None => known.theme,
    };
    (theme, late)
}

//! How things look on this terminal.

use std::sync::mpsc::Sender;

use crossterm::event::Event;

use super::wake::Wake;
use crate::model::Colours;
use crate::tui::theme::{self, Background, Late, Surroundings, Theme};

/// The look, and whether it is known for good.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::tui) struct Look {
    pub(in crate::tui) theme: Theme,
    /// The terminal has told its background, or was waited for long enough. Nothing is drawn
    /// before, so that no dark frame flashes up on a light ground.
    pub(in crate::tui) is_settled: bool,
    /// Neither the command line nor the environment decides on colours.
    pub(super) is_free: bool,
}

impl Look {
    /// What was chosen, or what the environment tells.
    pub(super) fn new(colours: Colours) -> Self {
        // What is drawn in no colour has none; the environment was heeded already.
        crossterm::style::force_color_output(true);
        let known = Surroundings::new(colours, |name| std::env::var(name).ok());
        let no_colour = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
        Look {
            theme: known.theme,
            is_settled: !known.asks,
            is_free: colours == Colours::Auto && !no_colour,
        }
    }

    /// The terminal was asked, and told this.
    pub(in crate::tui) fn settle(&mut self, background: Option<Background>) {
        self.is_settled = true;
        if background.is_some() {
            self.theme = self.theme.on(background);
        }
    }
}

/// Asks the terminal for its background, before anything else reads from it. Keys that were
/// pressed meanwhile are handed on; an answer that is still under way is to be taken out of the
/// keys.
pub(super) fn ask(wake: &Sender<Wake>) -> Late {
    let heard = theme::ask().ok();
    let background = heard.as_ref().and_then(|heard| heard.background);
    let _ = wake.send(Wake::Looked(background));
    let Some(heard) = heard else {
        return Late::over();
    };
    let late = heard.late();
    for key in heard.typed {
        let _ = wake.send(Wake::Terminal(Event::Key(key)));
    }
    late
}

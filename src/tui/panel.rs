//! What lies over a screen and takes the keys: a list to choose from, a line to write in.
//!
//! A panel is a file of its own with a type that is a [`Panel`], and a zone for its keys. It
//! stands in [`Over::Panel`](super::app::Over::Panel). Whatever happens to it, it is taken out
//! of the state first, so that it can change both; to stay, it puts itself back with
//! [`lay`].

use std::fmt::Debug;

use ratatui::Frame;
use ratatui::layout::{Position, Rect};

use super::action::Command;
use super::app::{App, Over};
use super::effect::Effect;
use super::keymap::Zone;
use super::line_edit::LineEdit;
use super::plain::{self, Told};

/// Something that lies over a screen and takes the keys.
pub(crate) trait Panel: Debug {
    /// The keys that hold in it.
    fn zone(&self) -> Zone;

    /// The commands that are worth a hint, most useful first.
    fn hinted(&self) -> &'static [Command];

    /// What a command is called there in the line of hints, where its own word does not fit.
    fn hint(&self, _command: Command) -> Option<&'static str> {
        None
    }

    /// Whether a command would do something at this moment; one that would not is no hint.
    fn works(&self, _app: &App, _command: Command) -> bool {
        true
    }

    /// What of the body it covers, where a click beside it is to close it.
    fn area(&self, _body: Rect) -> Option<Rect> {
        None
    }

    /// Does what a key asked for. `Back` closes it, as all that is not put back with [`lay`].
    fn obey(self: Box<Self>, app: &mut App, command: Command, effects: &mut Vec<Effect>);

    /// Takes typed or pasted text in, in a zone of text.
    fn insert(self: Box<Self>, app: &mut App, text: &str);

    /// Asks for what is still lacking; called after every action while it lies there.
    fn ask(self: Box<Self>, app: &mut App, effects: &mut Vec<Effect>);

    /// A click anywhere but in the header's first row; what it hands back is then done.
    fn click(self: Box<Self>, app: &mut App, at: Position) -> Option<Command>;

    /// The wheel was turned.
    fn wheel(self: Box<Self>, app: &mut App, at: Position, by: isize);

    /// Draws it over the body.
    fn view(&self, app: &App, frame: &mut Frame<'_>, body: Rect);

    /// What is told of it as linear text; what it draws is read off where it has no words of
    /// its own.
    fn told(&self, app: &App) -> Told {
        let title = self.zone().title();
        plain::read_off(title, app, |frame, body| self.view(app, frame, body))
    }

    /// Chooses the row of this number, from 0, among those that [`told`](Self::told) numbers.
    fn choose(&mut self, _app: &App, _row: usize) {}

    /// What a number alone does with the row it names.
    fn takes(&self) -> Command {
        Command::Open
    }

    /// The line of text that stands in the filter's place, if any, and what is before it.
    fn line(&self) -> Option<(&'static str, &LineEdit)> {
        None
    }
}

/// Lays a panel over the screen.
pub(crate) fn lay(app: &mut App, panel: Box<dyn Panel>) {
    app.over = Some(Over::Panel(panel));
}

/// Takes the panel out of the state, if one lies there.
pub(crate) fn take(app: &mut App) -> Option<Box<dyn Panel>> {
    match app.over.take() {
        Some(Over::Panel(panel)) => Some(panel),
        other => {
            app.over = other;
            None
        }
    }
}

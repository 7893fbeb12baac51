//! Writing text where it is wanted: into a field, a line, a choice, a panel.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::Session;
use crate::tui::action::{Action, Command};
use crate::tui::app::{Over, Place};
use crate::tui::error::Error;
use crate::tui::form::Value;
use crate::tui::keymap::{self, Zone};
use crate::tui::plain::forms;
use crate::tui::plain::rows::Rows;
use crate::tui::plain::told;
use crate::tui::plain::work::Say;
use crate::tui::screens::import::Stage;

impl Session {
    /// Does something that asks for words, and writes them there.
    pub(super) fn with(
        &mut self,
        command: Command,
        words: &str,
        say: Say<'_>,
    ) -> Result<(), Error> {
        self.command(command, say)?;
        let laid = told::over(&self.app).filter(|_| self.over.is_none());
        let offered = laid.and_then(|told| told.rows.as_ref()?.find(words));
        if self.app.zone().is_text() {
            self.settle();
            self.text(words, say)
        } else if let Some(row) = offered {
            self.settle();
            self.choose(row + 1, say)
        } else {
            self.say(say, &format!("\"{words}\" was not needed for that."));
            Ok(())
        }
    }

    /// Puts a text where one is wanted: into the field, the line, or the choice.
    pub(super) fn text(&mut self, text: &str, say: Say<'_>) -> Result<(), Error> {
        match &self.app.over {
            Some(Over::Form(_)) => self.field(text, say),
            Some(Over::Folder(_)) => self.write(text, Command::WritePlans, say),
            Some(Over::Asked(_)) => self.write(text, Command::GoOn, say),
            Some(Over::Panel(_)) => self.panel(text, say),
            _ if self.app.place == Place::Import => self.table(text, say),
            _ => Ok(()),
        }
    }

    /// A number takes a row of the panel, an empty line is its Enter, and anything else is
    /// written into its line; a filter is then applied, a list is narrowed by it.
    pub(super) fn panel(&mut self, text: &str, say: Say<'_>) -> Result<(), Error> {
        let zone = self.app.zone();
        let enter = KeyEvent::new(KeyCode::Enter, KeyModifiers::NONE);
        let enter = keymap::command(zone, enter).unwrap_or(Command::Open);
        let has_rows = self.rows().is_some();
        let len = self.rows().map_or(0, Rows::len);
        match text.parse::<usize>() {
            _ if text.is_empty() || !has_rows => self.write(text, enter, say),
            Ok(number) if (1..=len).contains(&number) => self.choose(number, say),
            _ => {
                self.command(Command::DeleteAll, say)?;
                self.act(Action::Paste(text.to_owned()), say)?;
                // Where a file is chosen, what it alone names is meant.
                let left = told::over(&self.app).and_then(|told| told.rows.map(|rows| rows.len()));
                if zone == Zone::PickSheet && left == Some(1) {
                    return self.command(enter, say);
                }
                Ok(())
            }
        }
    }

    /// Replaces the line unless the text is empty; then goes on.
    pub(super) fn write(&mut self, text: &str, then: Command, say: Say<'_>) -> Result<(), Error> {
        if !text.is_empty() {
            self.command(Command::DeleteAll, say)?;
            self.act(Action::Paste(text.to_owned()), say)?;
        }
        self.command(then, say)
    }

    /// Fills the field whose turn it is and goes to the next; the last one sends the form, and
    /// so does the last mistake that is put right.
    pub(super) fn field(&mut self, text: &str, say: Say<'_>) -> Result<(), Error> {
        let Some(Over::Form(form)) = &self.app.over else {
            return Ok(());
        };
        let was_wrong = form.is_wrong();
        if let Some(field) = form.fields.get(form.at) {
            match &field.value {
                Value::Choice(words, at) if !text.is_empty() => {
                    let Some(to) = forms::choice(words, text) else {
                        let words = format!("\"{text}\" is none of them, or could be several.");
                        self.say(say, &words);
                        return Ok(());
                    };
                    let turns = (to + words.len() - at) % words.len();
                    for _ in 0..turns {
                        self.act(Action::Type(' '), say)?;
                    }
                }
                Value::Text(_) if !text.is_empty() => {
                    self.command(Command::DeleteAll, say)?;
                    self.act(Action::Paste(text.to_owned()), say)?;
                }
                _ => {}
            }
        }
        let is_wrong = matches!(&self.app.over, Some(Over::Form(form)) if form.is_wrong());
        if was_wrong && !is_wrong {
            self.command(Command::SendNow, say)
        } else {
            self.command(Command::Send, say)
        }
    }

    /// A number chooses what lies in the folder; anything else narrows the list, and the only
    /// one left is chosen.
    pub(super) fn table(&mut self, text: &str, say: Say<'_>) -> Result<(), Error> {
        let listed = self.rows().map_or(0, Rows::len);
        if let Ok(number) = text.parse::<usize>()
            && (1..=listed).contains(&number)
        {
            return self.choose(number, say);
        }
        if text.is_empty() {
            return self.command(Command::Open, say);
        }
        self.command(Command::DeleteAll, say)?;
        self.act(Action::Paste(text.to_owned()), say)?;
        let is_choosing = matches!(self.app.import.stage, Stage::Choosing);
        if is_choosing && self.app.import.picker.rows().len() == 1 {
            self.command(Command::Open, say)?;
        }
        Ok(())
    }
}

//! Choosing rows, pages, orders, views and topics, and the filter.

use super::Session;
use crate::analysis::Filter;
use crate::tui::action::{Action, Command};
use crate::tui::app::{Over, Place};
use crate::tui::error::Error;
use crate::tui::keymap::Zone;
use crate::tui::plain::reader::Asked;
use crate::tui::plain::rows::Rows;
use crate::tui::plain::work::Say;
use crate::tui::plain::{forms, sorted, told, views};
use crate::tui::screens::topics;
use crate::tui::text;

impl Session {
    /// The rows that are told at present.
    pub(super) fn rows(&self) -> Option<&Rows> {
        let told = self.over.as_ref().unwrap_or(&self.place);
        told.rows.as_ref()
    }

    /// Chooses the row of this number; says so where there is none.
    pub(super) fn choose(&mut self, number: usize, say: Say<'_>) -> Result<(), Error> {
        let len = self.rows().map_or(0, Rows::len);
        let Some(row) = number.checked_sub(1).filter(|row| *row < len) else {
            let words = match len {
                0 => "No rows are numbered here.".to_owned(),
                _ => format!(
                    "There is no row {number}; they go from 1 to {}.",
                    text::count(len as u64)
                ),
            };
            self.say(say, &words);
            return Ok(());
        };
        self.act(Action::Row(row), say)?;
        // What is on offer is taken by its number.
        match &self.app.over {
            Some(Over::Panel(panel)) => {
                let takes = panel.takes();
                self.command(takes, say)
            }
            Some(Over::Choices(_)) => self.command(Command::Open, say),
            _ if self.app.zone() == Zone::ImportFile => self.command(Command::Open, say),
            _ => Ok(()),
        }
    }

    pub(super) fn page(&mut self, asked: &Asked, say: Say<'_>) -> Result<(), Error> {
        let Some(rows) = self.rows() else {
            self.say(say, "There are no pages here.");
            return Ok(());
        };
        let to = match asked {
            Asked::Next => rows.next(),
            Asked::Before => rows.before(),
            Asked::Page(number) => rows.page(*number),
            _ => None,
        };
        match (to, asked) {
            (Some(row), _) => self.act(Action::Row(row), say),
            (None, Asked::Next) => {
                self.say(say, "That was the last of them.");
                Ok(())
            }
            (None, Asked::Before) => {
                self.say(say, "These are the first of them.");
                Ok(())
            }
            (None, _) => {
                self.say(say, "There is no such page.");
                Ok(())
            }
        }
    }

    pub(super) fn filter(&mut self, filter: Option<String>, say: Say<'_>) -> Result<(), Error> {
        let Some(text) = filter else {
            let words = told::filter(&self.app);
            self.say(say, &words);
            self.say(say, "filter KEY:VALUE narrows all screens, such as filter site:\"North pit\" broken:flush-met; help tells more.");
            return Ok(());
        };
        match Filter::parse(&text) {
            Ok(filter) if filter == self.app.filter => {
                self.say(say, "That is the filter in view.");
                Ok(())
            }
            Ok(filter) => self.act(Action::Filter(filter), say),
            Err(error) => {
                self.say(say, &forms::mistake(&text, &error));
                self.say(say, "The filter stays as it was.");
                Ok(())
            }
        }
    }

    pub(super) fn sort(&mut self, order: Option<String>, say: Say<'_>) -> Result<(), Error> {
        let Some(orders) = sorted::of(&self.app) else {
            self.say(say, "There is one order only here.");
            return Ok(());
        };
        let names = orders.names.join(", ");
        let Some(word) = order else {
            self.say(
                say,
                &format!("Sorted by {}; sort goes by one of: {names}.", orders.now),
            );
            return Ok(());
        };
        let Some(meant) = sorted::meant(&orders, &word) else {
            self.say(
                say,
                &format!("There is no sorting by {word}; sort goes by one of: {names}."),
            );
            return Ok(());
        };
        let turn = if self.app.place == Place::Topics {
            Command::ByRegained
        } else {
            Command::SortNext
        };
        for _ in 0..orders.names.len() {
            if sorted::of(&self.app).is_some_and(|orders| orders.now == meant) {
                break;
            }
            self.command(turn, say)?;
        }
        Ok(())
    }

    pub(super) fn view(&mut self, view: Option<String>, say: Say<'_>) -> Result<(), Error> {
        let views = views::of(&self.app);
        if views.names.is_empty() {
            self.say(say, "There is one view only here.");
            return Ok(());
        }
        let word = view.unwrap_or_default().to_lowercase();
        let to = views.names.iter().position(|name| *name == word);
        let to = to.or_else(|| views.names.iter().position(|name| name.starts_with(&word)));
        let Some(to) = to.filter(|_| !word.is_empty()) else {
            let names = views.names.join(", ");
            self.say(say, &format!("Say one of these after view: {names}."));
            return Ok(());
        };
        for _ in 0..views.names.len() {
            if views::of(&self.app).at == to {
                break;
            }
            self.command(views.turn, say)?;
        }
        Ok(())
    }

    /// Chooses the rule of the heat table by the number of a topic or the rule's id.
    pub(super) fn topic(&mut self, topic: &str, say: Say<'_>) -> Result<(), Error> {
        let ids: Vec<&str> = topics::heat(&self.app).map_or_else(Vec::new, |heat| {
            let ids = heat
                .rules
                .iter()
                .map(|(rule, _)| crate::rules::cards()[*rule].id);
            ids.collect()
        });
        let Some(to) = ids.iter().position(|id| id.eq_ignore_ascii_case(topic)) else {
            let known = match ids.as_slice() {
                [] => "there is none here".to_owned(),
                some => format!("say one of: {}", some.join(", ")),
            };
            self.say(say, &format!("There is no topic {topic}; {known}."));
            return Ok(());
        };
        let now = self.app.screens.topics.rules.cursor;
        let step = if to < now { Command::Up } else { Command::Down };
        for _ in 0..to.abs_diff(now) {
            self.command(step, say)?;
        }
        self.tell(say);
        self.more(say);
        Ok(())
    }
}

//! Saying what has changed, all of a row, and where one is.

use super::{MOST_KNOWN, OF_TEXT, Session};
use crate::tui::frame;
use crate::tui::plain::rows::Rows;
use crate::tui::plain::told::{self, Told};
use crate::tui::plain::voice::stopped;
use crate::tui::plain::words;
use crate::tui::plain::work::Say;
use crate::tui::text;

impl Session {
    pub(super) fn more(&mut self, say: Say<'_>) {
        let more = told::more(&self.app);
        if more.is_empty() {
            return self.say(say, "There is no more to tell here.");
        }
        let more: Vec<String> = more.iter().map(|words| stopped(words)).collect();
        self.say_all(say, &more);
    }

    /// Where one is and what can be done here.
    pub(super) fn tell_where(&mut self, say: Say<'_>) {
        let zone = self.app.zone();
        let told = self.over.as_ref().unwrap_or(&self.place);
        let mut lines = vec![format!(
            "{}, on the screen {}.",
            told.title,
            told::screen_name(self.app.place)
        )];
        lines.push(told::filter(&self.app));
        lines.extend(told.rows.as_ref().and_then(Rows::chosen_row));
        lines.push("What can be done here:".to_owned());
        lines.extend(words::listing(zone));
        let screens: Vec<&str> = frame::SCREENS.iter().map(|tab| tab.name).collect();
        if zone.is_text() {
            lines.push(OF_TEXT.to_owned());
        } else {
            lines.push(format!(
                "Screens: {}. help tells the rest.",
                screens.join(", ").to_lowercase()
            ));
        }
        self.say_all(say, &lines);
    }

    /// What is told now is what was told last, without being said.
    pub(super) fn settle(&mut self) {
        self.place = told::place(&self.app);
        self.over = told::over(&self.app);
    }

    /// Says what has changed since it was told last, and the message.
    pub(super) fn tell(&mut self, say: Say<'_>) {
        let over = told::over(&self.app);
        let mut lines = Vec::new();
        if let Some(told) = &over {
            let before = self.over.take().unwrap_or_default();
            lines.extend(told.since(&before));
        } else {
            let told = told::place(&self.app);
            let is_uncovered = self.over.is_some();
            // A step back to what was told before, and is as it was, needs no list again.
            let is_known = self.goes_back && self.known.contains(&told);
            let news = if is_known && told.title != self.place.title {
                told.brief()
            } else {
                told.since(&self.place)
            };
            if is_uncovered && news.is_empty() {
                lines.push(format!("{}.", told.title));
            }
            lines.extend(news);
            self.remember(&told);
            self.place = told;
        }
        self.over = over;
        if let Some(message) = self.app.message.take() {
            lines.insert(0, text::sentence(&message));
        }
        self.say_all(say, &lines);
    }

    pub(super) fn remember(&mut self, told: &Told) {
        self.known.retain(|known| known.title != told.title);
        if self.known.len() == MOST_KNOWN {
            self.known.remove(0);
        }
        self.known.push(told.clone());
    }

    pub(super) fn say_all(&mut self, say: Say<'_>, lines: &[String]) {
        for line in lines {
            self.say(say, line);
        }
    }

    pub(super) fn say(&mut self, say: Say<'_>, line: &str) {
        let line = self.voice.line(line);
        if !line.is_empty() {
            self.said += 1;
            say(&line);
        }
    }
}

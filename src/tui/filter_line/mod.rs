//! The filter line: the filter typed, with what the word at the cursor could become below it.

mod suggest;
mod view;

use ratatui::Frame;
use ratatui::layout::{Position, Rect};

use super::action::Command;
use super::app::App;
use super::effect::Effect;
use super::keymap::Zone;
use super::line_edit::LineEdit;
use super::list::ListPlace;
use super::panel::{self, Panel};
use super::plain::{self, Told};
use super::steps::{change, list_place};
use super::{moves, wants};
use crate::analysis::{Filter, FilterError};
use suggest::{Spot, Suggestions};

/// A filter while it is written.
#[derive(Clone, Debug)]
pub(crate) struct FilterLine {
    line: LineEdit,
    /// The filter as it stands, or what is wrong with it.
    read: Result<Filter, FilterError>,
    /// It was to be applied with the mistake in it.
    tried: bool,
    /// How many draws pass, once that is known.
    count: Option<u64>,
    /// A name that nothing bears, in words.
    unknown: Option<String>,
    spot: Spot,
    suggestions: Suggestions,
    /// The chosen word, if one is.
    chosen: Option<usize>,
    /// The first word on screen.
    offset: usize,
    /// The place in the history of the filter that was called back, and what stood there before.
    recalled: Option<(usize, String)>,
}

/// Opens the line on the filter in force.
pub(crate) fn open(app: &mut App) {
    let filter = app.filter.clone();
    open_with(app, &filter);
}

/// Opens the line on this filter.
pub(crate) fn open_with(app: &mut App, filter: &Filter) {
    let text = filter.to_string();
    let gap = if text.is_empty() { "" } else { " " };
    let line = FilterLine::new(LineEdit::new(&format!("{text}{gap}")));
    panel::lay(app, Box::new(line));
}

impl FilterLine {
    fn new(line: LineEdit) -> Self {
        let mut new = FilterLine {
            spot: Spot::of(&line),
            line,
            read: Ok(Filter::default()),
            tried: false,
            count: None,
            unknown: None,
            suggestions: Suggestions::default(),
            chosen: None,
            offset: 0,
            recalled: None,
        };
        new.check();
        new
    }

    /// Looks at the line after a keystroke.
    fn check(&mut self) {
        self.tried = false;
        self.chosen = None;
        self.offset = 0;
        self.spot = Spot::of(&self.line);
        self.read = Filter::parse(self.line.text().trim_end());
    }

    /// Puts a word in place of what is typed of it.
    fn put(&mut self, written: &str) {
        self.line.replace_before(self.suggestions.typed, written);
        self.check();
    }

    fn put_chosen(&mut self) -> bool {
        let word = self.chosen.and_then(|at| self.suggestions.words.get(at));
        let Some(word) = word.map(suggest::Word::inserted) else {
            return false;
        };
        self.put(&word);
        self.recalled = None;
        true
    }

    /// Tab: the chosen word, else as much as is sure, else the first word is chosen.
    fn complete(&mut self) {
        if self.put_chosen() {
            return;
        }
        let before = self.line.before_cursor();
        let typed = &before[before.len() - self.suggestions.typed..];
        match self.suggestions.insertion(typed) {
            Some(insertion) => {
                self.put(&insertion);
                self.recalled = None;
            }
            None if !self.suggestions.words.is_empty() => self.chosen = Some(0),
            None => {}
        }
    }

    /// Moves in the words below; above the first one lies the history of filters.
    fn step(&mut self, by: isize, history: &[String], height: usize) {
        let len = self.suggestions.words.len();
        match self.chosen {
            Some(0) if by < 0 => self.chosen = None,
            None if by < 0 => self.recall_older(history),
            None if self.recalled.is_some() => self.recall_newer(history),
            None if len == 0 => {}
            chosen => {
                let first = by - isize::from(chosen.is_none());
                let mut list = ListPlace {
                    cursor: chosen.unwrap_or(0),
                    offset: self.offset,
                };
                list.step(first, len, height);
                self.chosen = Some(list.cursor);
                self.offset = list.offset;
            }
        }
    }

    fn recall_older(&mut self, history: &[String]) {
        let present = self.line.text().trim_end();
        let (before, kept) = match &self.recalled {
            Some((at, kept)) => (*at, kept.clone()),
            None => (history.len(), self.line.text().to_owned()),
        };
        // What stands there already is no step back.
        let older = (0..before).rev().find(|at| history[*at] != present);
        if let Some(at) = older {
            self.line = LineEdit::new(&history[at]);
            self.check();
            self.recalled = Some((at, kept));
        }
    }

    fn recall_newer(&mut self, history: &[String]) {
        let Some((at, kept)) = self.recalled.take() else {
            return;
        };
        match history.get(at + 1) {
            Some(newer) => {
                self.line = LineEdit::new(newer);
                self.recalled = Some((at + 1, kept));
            }
            None => self.line = LineEdit::new(&kept),
        }
        self.check();
    }
}

impl Panel for FilterLine {
    fn zone(&self) -> Zone {
        Zone::FilterLine
    }

    fn works(&self, app: &App, command: Command) -> bool {
        let has_words = !self.suggestions.words.is_empty();
        match command {
            Command::Complete => has_words,
            Command::Down => has_words || self.recalled.is_some(),
            Command::Up => self.chosen.is_some() || !app.history.is_empty(),
            Command::DeleteWord | Command::DeleteAll => !self.line.text().is_empty(),
            _ => true,
        }
    }

    fn hinted(&self) -> &'static [Command] {
        &[
            Command::Apply,
            Command::Back,
            Command::Complete,
            Command::Down,
            Command::Up,
            Command::DeleteWord,
            Command::DeleteAll,
        ]
    }

    fn hint(&self, command: Command) -> Option<&'static str> {
        match command {
            Command::Apply if self.chosen.is_some() => Some("take the word"),
            Command::Down => Some("choose"),
            Command::Up => Some("earlier filters"),
            _ => None,
        }
    }

    fn obey(mut self: Box<Self>, app: &mut App, command: Command, _effects: &mut Vec<Effect>) {
        let height = view::rows(app, &self);
        match command {
            Command::Back => return,
            Command::Apply if self.put_chosen() => {}
            Command::Apply => match &self.read {
                Ok(filter) => return change(app, filter.clone(), list_place(app.place)),
                Err(_) => self.tried = true,
            },
            Command::Complete => self.complete(),
            other => match moves::distance(other, height) {
                Some(by) => self.step(by, &app.history, height),
                None => {
                    let before = self.line.text().to_owned();
                    self.line.obey(other);
                    if self.line.text() != before {
                        self.recalled = None;
                    }
                    self.check();
                }
            },
        }
        panel::lay(app, self);
    }

    fn insert(mut self: Box<Self>, app: &mut App, text: &str) {
        self.line.insert(text);
        self.recalled = None;
        self.check();
        panel::lay(app, self);
    }

    fn ask(mut self: Box<Self>, app: &mut App, effects: &mut Vec<Effect>) {
        let offers = match &self.spot {
            Spot::Value(key, _, within) => wants::offers(app, within, *key, effects),
            _ => None,
        };
        if let Some(assessed) = &app.data {
            self.suggestions = Suggestions::of(assessed, &self.spot, offers.as_ref());
            let unknown = match &self.read {
                Ok(filter) if !self.suggestions.may_go_on() => filter.unknown_values(assessed),
                _ => Vec::new(),
            };
            self.unknown = unknown.first().map(ToString::to_string);
        }
        let len = self.suggestions.words.len();
        self.chosen = self.chosen.filter(|at| *at < len);
        self.count = match &self.read {
            Ok(filter) => wants::count(app, &filter.clone(), effects),
            Err(_) => None,
        };
        panel::lay(app, self);
    }

    fn click(mut self: Box<Self>, app: &mut App, at: Position) -> Option<Command> {
        let row = view::word_at(app, &self, at);
        self.chosen = row.or(self.chosen);
        panel::lay(app, self);
        row.map(|_| Command::Complete)
    }

    fn wheel(mut self: Box<Self>, app: &mut App, _at: Position, by: isize) {
        let height = view::rows(app, &self);
        let mut list = ListPlace {
            cursor: self.chosen.unwrap_or(self.offset),
            offset: self.offset,
        };
        list.scroll(by, self.suggestions.words.len(), height);
        self.offset = list.offset;
        self.chosen = self.chosen.map(|_| list.cursor);
        panel::lay(app, self);
    }

    fn told(&self, _app: &App) -> Told {
        let mut told = Told::new("Filter line");
        let text = self.line.text().trim();
        if let Some(error) = self.read.as_ref().err().filter(|_| self.tried) {
            told.notice(&plain::mistake(text, error));
        }
        told.say(&format!(
            "Now: {}",
            if text.is_empty() { "no filter" } else { text }
        ));
        if let Some(words) = &self.unknown {
            told.say(words);
        }
        told.say("Write the whole filter; .clear and an empty line take it away, .back leaves");
        told
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>, body: Rect) {
        view::view(self, app, frame, body);
    }

    fn line(&self) -> Option<(&'static str, &LineEdit)> {
        Some((" filter   ", &self.line))
    }
}

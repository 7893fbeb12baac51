//! Finding something by its name: a line to type in, and below it what bears such a name.
//!
//! Looking is done by a question on a thread of its own after every letter; what was asked for
//! an earlier text is stopped. The codes of draws and bottles are read once, in the background,
//! when something is first sought.

mod best;
mod codes;
mod finds;
mod goal;
mod lately;
mod pattern;
pub(crate) mod seek;
mod view;

use std::sync::Arc;

use ratatui::Frame;
use ratatui::layout::{Position, Rect};

pub use self::finds::Finds;
use self::finds::{Find, Kind};
use self::seek::Seek;
use crate::programme::DrawNames;
use crate::tui::action::Command;
use crate::tui::app::App;
use crate::tui::effect::{Effect, Fetch, Question};
use crate::tui::keymap::Zone;
use crate::tui::line_edit::LineEdit;
use crate::tui::moves;
use crate::tui::panel::{self, Panel};
use crate::tui::plain::{Rows, Told};
use crate::tui::steps::list_place;
use crate::tui::{layout, widgets};

/// What is known for finding something, and what was found before.
#[derive(Clone, Debug, Default)]
pub(crate) struct FindState {
    /// What draws and bottles are called, or in words why that could not be read; none until
    /// it is known.
    pub(crate) names: Option<Result<Arc<DrawNames>, String>>,
    /// What was found last.
    finds: Option<Arc<Finds>>,
    /// What is being looked for: the text, and whether among draws and bottles too.
    asked: Option<(String, bool)>,
    /// Things gone to, the latest first.
    lately: Vec<Find>,
    /// What is to be chosen in a list that is under way.
    seek: Option<Seek>,
}

impl FindState {
    fn names(&self) -> Option<&Arc<DrawNames>> {
        self.names.as_ref()?.as_ref().ok()
    }
}

/// The line, and where one stands among what was found.
#[derive(Debug)]
pub(crate) struct Finder {
    line: LineEdit,
    /// The chosen find, counted over all kinds.
    cursor: usize,
    /// The first line on screen.
    offset: usize,
    /// What is to be done as soon as what was typed is found.
    pending: Option<Command>,
    /// What was done lately; shown while nothing is typed.
    lately: Finds,
    /// Said about the last key.
    said: Option<&'static str>,
}

/// Lays the line over the screen.
pub(crate) fn begin(app: &mut App) {
    let finder = Finder {
        line: LineEdit::default(),
        cursor: 0,
        offset: 0,
        pending: None,
        lately: lately::lately(app),
        said: None,
    };
    panel::lay(app, Box::new(finder));
}

/// What was looked for was found, or was stopped.
pub(crate) fn answered(app: &mut App, finds: Option<Arc<Finds>>) {
    app.waiting.find = false;
    app.find.asked = None;
    let lines = view::height(view::area(layout::body(app.size)));
    let finds = finds.map(|finds| Arc::new(Arc::unwrap_or_clone(finds).fitted(lines)));
    app.find.finds = finds.or(app.find.finds.take());
}

impl Finder {
    fn query(&self) -> &str {
        self.line.text().trim()
    }

    /// What stands below the line: of an earlier text while the present one is looked for.
    fn shown<'a>(&'a self, app: &'a App) -> Option<&'a Finds> {
        match self.query().is_empty() {
            true => Some(&self.lately),
            false => app.find.finds.as_deref(),
        }
    }

    /// Whether that is what was typed last.
    fn is_current(&self, app: &App) -> bool {
        let query = self.query();
        query.is_empty() || (self.shown(app)).is_some_and(|finds| finds.query == query)
    }

    /// Whether nothing more can come of it.
    fn is_complete(&self, app: &App) -> bool {
        let all = matches!(&app.find.names, Some(names) if names.is_err())
            || self.shown(app).is_some_and(|finds| finds.with_names);
        self.is_current(app) && (all || self.query().is_empty())
    }

    fn changed(&mut self) {
        self.cursor = 0;
        self.offset = 0;
        self.pending = None;
        self.said = None;
    }

    fn step(&mut self, app: &App, by: isize) {
        let len = self.shown(app).map_or(0, Finds::len);
        let cursor = self.cursor.saturating_add_signed(by);
        self.cursor = cursor.min(len.saturating_sub(1));
        self.offset = view::offset(self, app, view::area(layout::body(app.size)));
    }

    /// Does what Enter or Tab asks for with what is chosen, as soon as that is known.
    fn act(mut self: Box<Self>, app: &mut App, command: Command) {
        let find = match self.is_current(app) {
            true => self.shown(app).and_then(|finds| finds.get(self.cursor)),
            false => None,
        };
        let Some(find) = find.cloned() else {
            self.pending = (!self.is_complete(app)).then_some(command);
            return panel::lay(app, self);
        };
        self.pending = None;
        let has_term = app
            .data
            .as_ref()
            .is_some_and(|it| find.goal.narrower(it).is_some());
        if command == Command::Only && !has_term {
            self.said = Some("No term of a filter says that; Enter goes there.");
            return panel::lay(app, self);
        }
        lately::keep(app, &find);
        match command {
            Command::Only => seek::narrow(app, &find, list_place(app.place)),
            _ => seek::go_to(app, &find),
        }
    }
}

impl Panel for Finder {
    fn zone(&self) -> Zone {
        Zone::Find
    }

    fn works(&self, app: &App, command: Command) -> bool {
        let len = self.shown(app).map_or(0, Finds::len);
        let chosen = || self.shown(app).and_then(|finds| finds.get(self.cursor));
        match command {
            Command::Open => len > 0 || !self.is_complete(app),
            Command::Only => match (chosen(), app.data.as_ref()) {
                (Some(find), Some(assessed)) => find.goal.narrower(assessed).is_some(),
                _ => !self.is_complete(app),
            },
            Command::Down => self.cursor + 1 < len,
            Command::Up => self.cursor > 0,
            Command::DeleteAll => !self.line.text().is_empty(),
            _ => true,
        }
    }

    fn hinted(&self) -> &'static [Command] {
        &[
            Command::Open,
            Command::Only,
            Command::Back,
            Command::Down,
            Command::Up,
            Command::DeleteAll,
        ]
    }

    fn hint(&self, command: Command) -> Option<&'static str> {
        match command {
            Command::Open => Some("go there"),
            Command::Back => Some("leave it"),
            _ => None,
        }
    }

    fn obey(mut self: Box<Self>, app: &mut App, command: Command, _effects: &mut Vec<Effect>) {
        self.said = None;
        match command {
            Command::Back => {}
            Command::Open | Command::Only => self.act(app, command),
            other => {
                let page = usize::from(view::area(layout::body(app.size)).height);
                match moves::distance(other, page / 2) {
                    Some(by) => self.step(app, by),
                    None => {
                        let before = self.line.text().to_owned();
                        self.line.obey(other);
                        if self.line.text() != before {
                            self.changed();
                        }
                    }
                }
                panel::lay(app, self);
            }
        }
    }

    fn insert(mut self: Box<Self>, app: &mut App, text: &str) {
        self.line.insert(text);
        self.changed();
        panel::lay(app, self);
    }

    fn ask(mut self: Box<Self>, app: &mut App, effects: &mut Vec<Effect>) {
        let is_empty = app.data.as_ref().is_none_or(|it| it.judged.is_empty());
        if app.find.names.is_none() && is_empty {
            // There may be no file yet.
            app.find.names = Some(Ok(Arc::default()));
        } else if app.find.names.is_none() && !app.waiting.names {
            app.waiting.names = true;
            effects.push(Effect::Fetch(Fetch::Names(app.loaded_turn)));
        }
        let with_names = app.find.names().is_some();
        let is_known = self.is_current(app)
            && (self.query().is_empty()
                || self
                    .shown(app)
                    .is_some_and(|it| it.with_names == with_names));
        if !is_known {
            let wanted = (self.query().to_owned(), with_names);
            if !app.waiting.find {
                app.waiting.find = true;
                effects.push(Effect::Reckon(Question::Find {
                    query: wanted.0.clone(),
                    names: app.find.names().cloned(),
                }));
                app.find.asked = Some(wanted);
            } else if app.find.asked.as_ref().is_some_and(|it| *it != wanted) {
                app.find.asked = None;
                effects.push(Effect::StopFind);
            }
        }
        match self.pending.take() {
            Some(command) => self.act(app, command),
            None => panel::lay(app, self),
        }
    }

    fn click(mut self: Box<Self>, app: &mut App, at: Position) -> Option<Command> {
        let area = view::area(layout::body(app.size));
        let line = widgets::boxed::line_at(area, at);
        let hit = line.and_then(|line| view::find_at(&self, app, area, line));
        self.cursor = hit.unwrap_or(self.cursor);
        panel::lay(app, self);
        hit.map(|_| Command::Open)
    }

    fn wheel(mut self: Box<Self>, app: &mut App, _at: Position, by: isize) {
        self.step(app, by.signum());
        panel::lay(app, self);
    }

    fn told(&self, app: &App) -> Told {
        let mut told = Told::new("Find");
        told.say("Write a name or a part of one; a number goes to what it names, an empty line to the chosen one, .back leaves");
        if !self.query().is_empty() {
            told.say(&format!("Looking for {}", self.query()));
        }
        let finds = self.shown(app);
        let groups = finds.map_or(&[][..], |finds| &finds.groups);
        let all: Vec<(Kind, &Find)> = groups
            .iter()
            .flat_map(|group| group.finds.iter().map(|find| (group.kind, find)))
            .collect();
        let noun = ("thing found", "things found");
        let empty = "nothing is called that";
        told.rows = Some(Rows::of(noun, all.len(), self.cursor, empty, |at| {
            let (kind, find) = all[at];
            let parts: Vec<&str> = find.parts.iter().map(|part| part.text.as_str()).collect();
            format!("{}: {}", kind.name(), parts.join(", "))
        }));
        told
    }

    fn choose(&mut self, app: &App, row: usize) {
        let len = self.shown(app).map_or(0, Finds::len);
        self.cursor = row.min(len.saturating_sub(1));
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>, body: Rect) {
        view::view(self, app, frame, body);
    }

    fn line(&self) -> Option<(&'static str, &LineEdit)> {
        Some((" find     ", &self.line))
    }
}

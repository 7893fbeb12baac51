//! The line that asks for the name of a filter. One that is taken is said before it is replaced.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::open_at;
use crate::programme::remembered::{CantChange, Change, names};
use crate::tui::action::Command;
use crate::tui::app::App;
use crate::tui::effect::Effect;
use crate::tui::keymap::Zone;
use crate::tui::line_edit::LineEdit;
use crate::tui::panel::{self, Panel};
use crate::tui::text;
use crate::tui::undo::{self, Deed};
use crate::tui::widgets::boxed;

/// How wide the box below the line is where there is room.
const WIDTH: u16 = 76;

/// What gets the name.
#[derive(Clone, Debug)]
enum What {
    /// The filter in force.
    Present,
    /// The saved filter that is called so.
    Saved(String),
}

/// The line while it is written.
#[derive(Clone, Debug)]
pub(crate) struct Naming {
    what: What,
    line: LineEdit,
    /// What is wrong with the name, or what it would replace.
    said: Option<String>,
    /// It was said that the name is taken; the next Enter replaces.
    sure: bool,
}

impl Naming {
    fn new(what: What, begins: &str) -> Self {
        Naming {
            what,
            line: LineEdit::new(begins),
            said: None,
            sure: false,
        }
    }

    fn change(&self, app: &App) -> Change {
        let name = self.line.text().trim().to_owned();
        match &self.what {
            What::Present => Change::Save {
                name,
                filter: app.filter.to_string(),
                replace: self.sure,
            },
            What::Saved(from) => Change::Rename {
                from: from.clone(),
                to: name,
            },
        }
    }

    /// Does what was asked for; whether it is done.
    fn go_on(&mut self, app: &mut App, effects: &mut Vec<Effect>) -> bool {
        let change = self.change(app);
        match change.make(&mut app.memory) {
            Ok(changed) => {
                app.message = Some(text::capital(&changed.words));
                undo::note(app, Deed::Remembered(changed));
                effects.push(Effect::Remember(change));
                return true;
            }
            Err(taken @ CantChange::Taken { .. }) if matches!(self.what, What::Present) => {
                self.said = Some(format!(
                    "{} Enter replaces it, U brings it back.",
                    text::sentence(&taken.to_string())
                ));
                self.sure = true;
            }
            Err(why) => self.said = Some(text::sentence(&why.to_string())),
        }
        false
    }

    fn touched(&mut self) {
        self.said = None;
        self.sure = false;
    }

    fn words(&self, app: &App) -> Vec<(String, bool)> {
        let width = usize::from(WIDTH);
        let about = match &self.what {
            What::Present => format!("Save under a name: {}", app.filter),
            What::Saved(name) => format!("The saved filter {name} gets this name."),
        };
        let below = match &self.said {
            Some(said) => (said.clone(), true),
            None => (
                format!(
                    "Up to {} characters; --where '@NAME' uses it on the command line.",
                    names::NAME_LIMIT
                ),
                false,
            ),
        };
        let wrap = |(words, is_warning): (String, bool)| {
            let parts = text::wrap(&words, width).into_iter();
            parts
                .map(move |part| (part, is_warning))
                .collect::<Vec<_>>()
        };
        let mut words: Vec<(String, bool)> = wrap((about, false)).into_iter().take(3).collect();
        words.extend(wrap(below));
        words
    }
}

/// Asks for the name of the filter in force.
pub(crate) fn save(app: &mut App) {
    panel::lay(app, Box::new(Naming::new(What::Present, "")));
}

/// Asks for another name of a saved filter.
pub(crate) fn rename(app: &mut App, name: &str) {
    let naming = Naming::new(What::Saved(name.to_owned()), name);
    panel::lay(app, Box::new(naming));
}

impl Panel for Naming {
    fn zone(&self) -> Zone {
        Zone::SavedName
    }

    fn hinted(&self) -> &'static [Command] {
        &[Command::GoOn, Command::Back, Command::DeleteAll]
    }

    fn hint(&self, command: Command) -> Option<&'static str> {
        match command {
            Command::GoOn if self.sure => Some("replace it"),
            Command::GoOn => Some("save"),
            Command::Back => Some("leave it"),
            _ => None,
        }
    }

    fn obey(mut self: Box<Self>, app: &mut App, command: Command, effects: &mut Vec<Effect>) {
        match command {
            Command::Back => return super::open(app),
            Command::GoOn => {
                if self.go_on(app, effects) {
                    let name = self.line.text().trim().to_owned();
                    return open_at(app, &name);
                }
            }
            other => {
                let before = self.line.text().to_owned();
                self.line.obey(other);
                if self.line.text() != before {
                    self.touched();
                }
            }
        }
        panel::lay(app, self);
    }

    fn insert(mut self: Box<Self>, app: &mut App, text: &str) {
        self.line.insert(text);
        self.touched();
        panel::lay(app, self);
    }

    fn ask(self: Box<Self>, app: &mut App, _effects: &mut Vec<Effect>) {
        panel::lay(app, self);
    }

    fn click(self: Box<Self>, app: &mut App, _at: Position) -> Option<Command> {
        panel::lay(app, self);
        None
    }

    fn wheel(self: Box<Self>, app: &mut App, _at: Position, _by: isize) {
        panel::lay(app, self);
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>, body: Rect) {
        let theme = app.theme;
        let words = self.words(app);
        let area = Rect {
            y: body.y,
            ..boxed::area(body, WIDTH, words.len() as u16)
        };
        let lines = words.into_iter().map(|(part, is_warning)| {
            let style = if is_warning {
                theme.warning()
            } else {
                Style::new()
            };
            Line::from(Span::styled(part, style))
        });
        boxed::view(frame, area, "name of the filter", lines.collect(), theme);
    }

    fn line(&self) -> Option<(&'static str, &LineEdit)> {
        Some((" name     ", &self.line))
    }
}

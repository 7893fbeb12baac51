//! The saved filters: their names, what they are, how many draws pass; the chosen one is
//! applied, the present one saved, any forgotten or called otherwise.

pub(crate) mod naming;

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::text::{Line, Span};

use crate::analysis::Filter;
use crate::programme::remembered::{Change, SavedFilter};
use crate::tui::action::Command;
use crate::tui::app::App;
use crate::tui::effect::{Effect, Question};
use crate::tui::keymap::Zone;
use crate::tui::list::ListPlace;
use crate::tui::panel::{self, Panel};
use crate::tui::plain::{Rows, Told};
use crate::tui::undo;
use crate::tui::update::at_place;
use crate::tui::widgets::boxed;
use crate::tui::{layout, moves, steps, text};

/// How wide the panel is where there is room.
const WIDTH: u16 = 96;

/// The cells of a count of draws.
const COUNT: usize = 10;

/// The panel.
#[derive(Clone, Debug, Default)]
pub(crate) struct Saved {
    pub(crate) list: ListPlace,
}

/// Lays it over the screen.
pub(crate) fn open(app: &mut App) {
    panel::lay(app, Box::new(Saved::default()));
}

/// Lays it over the screen with the filter of this name chosen.
pub(crate) fn open_at(app: &mut App, name: &str) {
    let at = app.memory.filters.iter().position(|it| it.name == name);
    let list = ListPlace {
        cursor: at.unwrap_or(0),
        offset: 0,
    };
    panel::lay(app, Box::new(Saved { list }));
}

/// What is said below the list.
fn said(app: &App, width: usize) -> Vec<String> {
    let mut said = Vec::new();
    if app.memory.filters.is_empty() {
        let words = if app.filter.is_empty() {
            "None is saved yet. Narrow the draws first, then a saves the filter under a name."
        } else {
            "None is saved yet; a saves the filter in force under a name."
        };
        said.extend(text::wrap(words, width));
    }
    if let Some(why) = app.not_kept {
        let words = format!("Kept for this sitting only: {why}.");
        said.extend(text::wrap(&words, width));
    }
    said
}

fn chosen(app: &App, list: ListPlace) -> Option<&SavedFilter> {
    app.memory.filters.get(list.cursor)
}

/// Where the panel stands, and how many rows of the list are on screen.
fn place(app: &App, body: Rect) -> (Rect, usize) {
    let width = usize::from(WIDTH.min(body.width.saturating_sub(4)));
    let below = said(app, width).len();
    // A blank line between the two.
    let below = below + usize::from(below > 0 && !app.memory.filters.is_empty());
    let rows = app.memory.filters.len() + below;
    let area = boxed::area(body, WIDTH, rows as u16);
    let inner = usize::from(boxed::inner(area).height);
    let height = inner.saturating_sub(below);
    (area, height.max(1))
}

impl Saved {
    fn apply(&self, app: &mut App) -> bool {
        let Some(saved) = chosen(app, self.list).cloned() else {
            return true;
        };
        match Filter::parse(&saved.filter) {
            Ok(filter) => {
                let place = steps::list_place(app.place);
                steps::change(app, filter, place);
                if app.message.is_none() {
                    app.message = Some(format!("{}: {}", saved.name, saved.filter));
                }
                true
            }
            Err(error) => {
                app.message = Some(format!(
                    "This fairdraw can't read the filter: {}",
                    error.message
                ));
                false
            }
        }
    }
}

impl Panel for Saved {
    fn zone(&self) -> Zone {
        Zone::Saved
    }

    fn works(&self, app: &App, command: Command) -> bool {
        let needs_one = matches!(
            command,
            Command::Open | Command::ForgetFilter | Command::RenameFilter
        );
        !needs_one || chosen(app, self.list).is_some()
    }

    fn hinted(&self) -> &'static [Command] {
        &[
            Command::Open,
            Command::SaveFilter,
            Command::ForgetFilter,
            Command::RenameFilter,
            Command::Back,
        ]
    }

    fn hint(&self, command: Command) -> Option<&'static str> {
        match command {
            Command::Open => Some("apply"),
            Command::SaveFilter => Some("save the present one"),
            _ => None,
        }
    }

    fn obey(mut self: Box<Self>, app: &mut App, command: Command, effects: &mut Vec<Effect>) {
        let len = app.memory.filters.len();
        let (_, height) = place(app, layout::body(app.size));
        match command {
            Command::Back | Command::SavedFilters => return,
            Command::Open => {
                if self.apply(app) {
                    return;
                }
            }
            Command::SaveFilter if app.filter.is_empty() => {
                app.message = Some("There is no filter to save; every draw is in view.".to_owned());
            }
            Command::SaveFilter => return naming::save(app),
            Command::RenameFilter => {
                if let Some(name) = chosen(app, self.list).map(|saved| saved.name.clone()) {
                    return naming::rename(app, &name);
                }
            }
            Command::ForgetFilter => {
                if let Some(name) = chosen(app, self.list).map(|saved| saved.name.clone()) {
                    undo::change_saved(app, Change::Forget { name }, effects);
                    if let Some(words) = &mut app.message {
                        words.push_str("; U brings it back.");
                    }
                }
            }
            other => match moves::distance(other, height) {
                Some(by) => self.list.step(by, len, height),
                None => return at_place(app, other, effects),
            },
        }
        panel::lay(app, self);
    }

    fn insert(self: Box<Self>, app: &mut App, _text: &str) {
        panel::lay(app, self);
    }

    /// Counts the draws of one filter after another, so that other questions get their turn.
    fn ask(mut self: Box<Self>, app: &mut App, effects: &mut Vec<Effect>) {
        let (_, height) = place(app, layout::body(app.size));
        self.list.settle(app.memory.filters.len(), height);
        if !app.waiting.saved {
            let shown = app.memory.filters.iter().skip(self.list.offset);
            let mut missing = shown
                .take(height)
                .filter(|saved| !app.figures.saved.contains_key(&saved.filter));
            if let Some(saved) = missing.next() {
                let text = saved.filter.clone();
                app.waiting.saved = true;
                effects.push(Effect::Reckon(Question::Saved {
                    turn: app.loaded_turn,
                    text,
                }));
            }
        }
        panel::lay(app, self);
    }

    fn click(mut self: Box<Self>, app: &mut App, at: Position) -> Option<Command> {
        let (area, height) = place(app, layout::body(app.size));
        if !area.contains(at) {
            return None;
        }
        let row = boxed::line_at(area, at).filter(|row| *row < height);
        let row = row.map(|row| row + self.list.offset);
        let row = row.filter(|row| *row < app.memory.filters.len());
        let was = self.list.cursor;
        self.list.cursor = row.unwrap_or(was);
        panel::lay(app, self);
        row.filter(|row| *row == was).map(|_| Command::Open)
    }

    fn wheel(mut self: Box<Self>, app: &mut App, _at: Position, by: isize) {
        let (_, height) = place(app, layout::body(app.size));
        self.list.scroll(by, app.memory.filters.len(), height);
        panel::lay(app, self);
    }

    fn told(&self, app: &App) -> Told {
        let mut told = Told::new("Saved filters");
        for words in said(app, 1000) {
            told.say(&words);
        }
        let saved = &app.memory.filters;
        let noun = ("saved filter", "saved filters");
        told.rows = Some(Rows::of(noun, saved.len(), self.list.cursor, "", |at| {
            let draws = match app.figures.saved.get(&saved[at].filter) {
                Some(Some(draws)) => format!(", {}", text::plural(*draws as u64, "draw", "draws")),
                Some(None) => ", can't be read".to_owned(),
                None => String::new(),
            };
            format!("{}: {}{draws}", saved[at].name, saved[at].filter)
        }));
        told
    }

    fn choose(&mut self, app: &App, row: usize) {
        let len = app.memory.filters.len();
        self.list.choose(row, len, len);
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>, body: Rect) {
        let theme = app.theme;
        let (area, height) = place(app, body);
        let width = usize::from(boxed::inner(area).width);
        let saved = &app.memory.filters;
        let widest = saved.iter().map(|it| text::width(&it.name)).max();
        let name = widest.unwrap_or(0).clamp(8, width / 3);
        let rest = width.saturating_sub(name + 2 + COUNT);
        let rows = saved.iter().enumerate().skip(self.list.offset).take(height);
        let mut lines: Vec<Line<'static>> = rows
            .map(|(at, saved)| {
                let count = match app.figures.saved.get(&saved.filter) {
                    Some(Some(draws)) => text::count(*draws as u64),
                    Some(None) => "not read".to_owned(),
                    None => app.theme.pick("…", "...").to_owned(),
                };
                let line = Line::from(vec![
                    Span::styled(text::left(&saved.name, name), theme.strong()),
                    Span::raw("  "),
                    Span::raw(text::left(&saved.filter, rest)),
                    Span::raw(text::right(&count, COUNT)),
                ]);
                if at == self.list.cursor {
                    theme.choose(line)
                } else {
                    line
                }
            })
            .collect();
        let said = said(app, width);
        if !said.is_empty() && !lines.is_empty() {
            lines.push(Line::default());
        }
        let faint = |words| Line::from(Span::styled(words, theme.faint()));
        lines.extend(said.into_iter().map(faint));
        boxed::view(frame, area, "saved filters", lines, theme);
    }
}

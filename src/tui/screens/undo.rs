//! The panel of what was done in this sitting: the latest first, and how the chosen one is
//! undone.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::text::{Line, Span};

use crate::tui::action::Command;
use crate::tui::app::App;
use crate::tui::effect::Effect;
use crate::tui::keymap::Zone;
use crate::tui::list::ListPlace;
use crate::tui::panel::{self, Panel};
use crate::tui::plain::{Rows, Told};
use crate::tui::undo::{self, Deed};
use crate::tui::update::at_place;
use crate::tui::widgets::boxed;
use crate::tui::{layout, moves, text};

/// How wide the panel is where there is room.
const WIDTH: u16 = 84;

/// The cells of the word that says how something is undone.
const WORD: usize = 12;

/// The panel.
#[derive(Clone, Debug, Default)]
pub(crate) struct Undo {
    list: ListPlace,
}

/// Lays it over the screen.
pub(crate) fn open(app: &mut App) {
    if app.deeds.is_empty() {
        app.message = Some(
            "Nothing was decided or ticked in this sitting; Esc takes steps and filters back."
                .to_owned(),
        );
        return;
    }
    panel::lay(app, Box::new(Undo::default()));
}

/// The deeds, the latest first, each with its place among them.
fn deeds(app: &App) -> impl Iterator<Item = (usize, &Deed)> {
    app.deeds.iter().enumerate().rev()
}

/// Where the panel stands, and what is said of the chosen deed below the list.
fn place(app: &App, chosen: usize, body: Rect) -> (Rect, Vec<String>) {
    let width = usize::from(WIDTH.min(body.width.saturating_sub(4)));
    let said = deeds(app).nth(chosen).map_or_else(Vec::new, |(_, deed)| {
        text::wrap(deed.way(app).words(), width)
    });
    let rows = app.deeds.len() + 1 + said.len();
    (boxed::area(body, WIDTH, rows as u16), said)
}

impl Undo {
    /// Rows of the list on screen.
    fn height(&self, app: &App) -> usize {
        let (area, said) = place(app, self.list.cursor, layout::body(app.size));
        let rows = usize::from(area.height).saturating_sub(2);
        rows.saturating_sub(1 + said.len()).max(1)
    }
}

impl Panel for Undo {
    fn zone(&self) -> Zone {
        Zone::Undo
    }

    fn hinted(&self) -> &'static [Command] {
        &[Command::Open, Command::Back]
    }

    fn hint(&self, command: Command) -> Option<&'static str> {
        (command == Command::Open).then_some("undo it")
    }

    fn obey(mut self: Box<Self>, app: &mut App, command: Command, effects: &mut Vec<Effect>) {
        let (len, height) = (app.deeds.len(), self.height(app));
        match command {
            Command::Back | Command::Undo => {}
            Command::Open => {
                let at = deeds(app).nth(self.list.cursor).map(|(at, _)| at);
                if let Some(at) = at {
                    undo::undo(app, at, effects);
                }
            }
            other => match moves::distance(other, height) {
                Some(by) => {
                    self.list.step(by, len, height);
                    panel::lay(app, self);
                }
                None => at_place(app, other, effects),
            },
        }
    }

    fn insert(self: Box<Self>, app: &mut App, _text: &str) {
        panel::lay(app, self);
    }

    fn ask(mut self: Box<Self>, app: &mut App, _effects: &mut Vec<Effect>) {
        let height = self.height(app);
        self.list.settle(app.deeds.len(), height);
        panel::lay(app, self);
    }

    fn click(mut self: Box<Self>, app: &mut App, at: Position) -> Option<Command> {
        let (area, _) = place(app, self.list.cursor, layout::body(app.size));
        if !area.contains(at) {
            return None;
        }
        let height = self.height(app);
        let row = boxed::line_at(area, at).filter(|row| *row < height);
        let row = row.map(|row| row + self.list.offset);
        let row = row.filter(|row| *row < app.deeds.len());
        let was = self.list.cursor;
        self.list.cursor = row.unwrap_or(was);
        panel::lay(app, self);
        row.filter(|row| *row == was).map(|_| Command::Open)
    }

    fn wheel(mut self: Box<Self>, app: &mut App, _at: Position, by: isize) {
        let height = self.height(app);
        self.list.scroll(by, app.deeds.len(), height);
        panel::lay(app, self);
    }

    fn told(&self, app: &App) -> Told {
        let mut told = Told::new("Undo");
        let deeds: Vec<&Deed> = deeds(app).map(|(_, deed)| deed).collect();
        if let Some(deed) = deeds.get(self.list.cursor) {
            told.say(deed.way(app).words());
        }
        let noun = ("thing done", "things done, the latest first,");
        told.rows = Some(Rows::of(noun, deeds.len(), self.list.cursor, "", |at| {
            format!("{}: {}", deeds[at].says(), deeds[at].way(app).word())
        }));
        told
    }

    fn choose(&mut self, app: &App, row: usize) {
        let len = app.deeds.len();
        self.list.choose(row, len, len);
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>, body: Rect) {
        let theme = app.theme;
        let (area, said) = place(app, self.list.cursor, body);
        let width = usize::from(boxed::inner(area).width);
        let rows = deeds(app).enumerate().skip(self.list.offset);
        let mut lines: Vec<Line<'static>> = rows
            .take(self.height(app))
            .map(|(at, (_, deed))| {
                let word = deed.way(app).word();
                let line = Line::from(vec![
                    Span::raw(text::left(&deed.says(), width.saturating_sub(WORD))),
                    Span::styled(text::right(word, WORD), theme.faint()),
                ]);
                if at == self.list.cursor {
                    theme.choose(line)
                } else {
                    line
                }
            })
            .collect();
        lines.push(Line::default());
        lines.extend(said.into_iter().map(Line::from));
        boxed::view(frame, area, "undo", lines, theme);
    }
}

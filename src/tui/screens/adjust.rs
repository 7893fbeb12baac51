//! Choosing what the comparison of people and points is adjusted for, as with
//! `fairdraw attribute --adjust`.
//!
//! It holds for this sitting: whoever opens a programme anew sees it compared as always.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::text::{Line, Span};

use crate::analysis::Adjust;
use crate::tui::action::Command;
use crate::tui::app::App;
use crate::tui::effect::Effect;
use crate::tui::keymap::Zone;
use crate::tui::list::ListPlace;
use crate::tui::panel::{self, Panel};
use crate::tui::plain::{Rows, Told};
use crate::tui::update::at_place;
use crate::tui::widgets::boxed;
use crate::tui::{layout, moves, text};

/// Lines of the list: nothing, and what can be adjusted for.
const ROWS: usize = Adjust::ALL.len() + 1;

/// Lines below them, with a blank one before.
const BELOW: u16 = 3;

const WIDTH: u16 = 58;

const ABOUT: &str = "Odds are then against those at the same level. Enter takes the chosen line; \
                     Space ticks several for Enter to take.";

/// What is on offer, what is ticked and the chosen line.
#[derive(Clone, Debug, Default)]
struct AdjustFor {
    ticked: Vec<Adjust>,
    /// Whether a tick was set or taken away here; Enter then takes the ticks.
    touched: bool,
    list: ListPlace,
}

/// Lays the choice over the screen; what is in force is ticked.
pub(crate) fn open(app: &mut App) {
    let first = app.adjust.first();
    let cursor = Adjust::ALL.iter().position(|it| Some(it) == first);
    let mut panel = AdjustFor {
        ticked: app.adjust.clone(),
        ..AdjustFor::default()
    };
    panel.list.cursor = cursor.map_or(0, |at| at + 1);
    panel::lay(app, Box::new(panel));
}

/// `Adjusted for area and crew.`; none where nothing is adjusted for.
pub(crate) fn said(app: &App) -> Option<String> {
    let words: Vec<&str> = app.adjust.iter().map(|it| it.as_str()).collect();
    let (last, before) = words.split_last()?;
    Some(match before {
        [] => format!("Adjusted for {last}."),
        before => format!("Adjusted for {} and {last}.", before.join(", ")),
    })
}

const fn about(adjust: Adjust) -> &'static str {
    match adjust {
        Adjust::Site => "the site of the point",
        Adjust::Area => "the area of the point, within its site",
        Adjust::Class => "the class of the machine",
        Adjust::Crew => "people against those of their own crew",
        Adjust::Method => "the method of the draw",
        Adjust::Month => "the month of the draw",
    }
}

/// What a line offers; none for nothing.
fn adjust_at(row: usize) -> Option<Adjust> {
    Adjust::ALL.get(row.checked_sub(1)?).copied()
}

impl AdjustFor {
    fn area(&self, body: Rect) -> Rect {
        boxed::area(body, WIDTH, ROWS as u16 + BELOW)
    }

    fn tick(&mut self) {
        self.touched = true;
        match adjust_at(self.list.cursor) {
            None => self.ticked.clear(),
            Some(adjust) if self.ticked.contains(&adjust) => {
                self.ticked.retain(|it| *it != adjust);
            }
            Some(adjust) => self.ticked.push(adjust),
        }
    }

    /// What Enter puts in force, in the order in which they are on offer.
    fn taken(&self) -> Vec<Adjust> {
        if !self.touched {
            return adjust_at(self.list.cursor).into_iter().collect();
        }
        let all = Adjust::ALL.into_iter();
        all.filter(|it| self.ticked.contains(it)).collect()
    }
}

impl Panel for AdjustFor {
    fn zone(&self) -> Zone {
        Zone::Adjust
    }

    fn hinted(&self) -> &'static [Command] {
        &[Command::Open, Command::TickLevel, Command::Back]
    }

    fn hint(&self, command: Command) -> Option<&'static str> {
        match command {
            Command::Open => Some("adjust"),
            Command::Back => Some("leave it"),
            _ => None,
        }
    }

    fn area(&self, body: Rect) -> Option<Rect> {
        Some(AdjustFor::area(self, body))
    }

    fn obey(mut self: Box<Self>, app: &mut App, command: Command, effects: &mut Vec<Effect>) {
        match command {
            Command::Back => return,
            Command::Open => {
                app.adjust = self.taken();
                let words = said(app).unwrap_or_else(|| "Adjusted for nothing.".to_owned());
                app.message = Some(format!("{words} a chooses anew."));
                return moves::settle(app);
            }
            Command::TickLevel => self.tick(),
            other => match moves::distance(other, ROWS) {
                Some(by) => self.list.step(by, ROWS, ROWS),
                None => return at_place(app, other, effects),
            },
        }
        panel::lay(app, self);
    }

    fn insert(self: Box<Self>, app: &mut App, _text: &str) {
        panel::lay(app, self);
    }

    fn ask(self: Box<Self>, app: &mut App, _effects: &mut Vec<Effect>) {
        panel::lay(app, self);
    }

    fn click(mut self: Box<Self>, app: &mut App, at: Position) -> Option<Command> {
        let row = boxed::line_at(AdjustFor::area(&self, layout::body(app.size)), at);
        let row = row.filter(|row| *row < ROWS);
        let was = self.list.cursor;
        self.list.cursor = row.unwrap_or(was);
        panel::lay(app, self);
        row.filter(|row| *row == was).map(|_| Command::Open)
    }

    fn wheel(mut self: Box<Self>, app: &mut App, _at: Position, by: isize) {
        self.list.step(by.signum(), ROWS, ROWS);
        panel::lay(app, self);
    }

    fn told(&self, _app: &App) -> Told {
        let mut told = Told::new("Adjust for");
        told.say(ABOUT);
        let noun = ("choice", "choices");
        told.rows = Some(Rows::of(noun, ROWS, self.list.cursor, "", |at| {
            let Some(adjust) = adjust_at(at) else {
                return "nothing".to_owned();
            };
            let ticked = match self.ticked.contains(&adjust) {
                true => ", ticked",
                false => "",
            };
            format!("{adjust}: {}{ticked}", about(adjust))
        }));
        told
    }

    fn choose(&mut self, _app: &App, row: usize) {
        self.list.choose(row, ROWS, ROWS);
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>, body: Rect) {
        let theme = app.theme;
        let area = AdjustFor::area(self, body);
        let width = usize::from(boxed::inner(area).width);
        let mut lines: Vec<Line<'static>> = (0..ROWS)
            .map(|at| {
                let (tick, name, words) = match adjust_at(at) {
                    None => ("   ", "nothing", "all against all"),
                    Some(adjust) => {
                        let tick = match self.ticked.contains(&adjust) {
                            true => theme.pick("[✓]", "[x]"),
                            false => "[ ]",
                        };
                        (tick, adjust.as_str(), about(adjust))
                    }
                };
                let head = format!("{tick} {}", text::left(name, 9));
                let rest = width.saturating_sub(text::width(&head));
                let line = Line::from(vec![
                    Span::styled(head, theme.plain()),
                    Span::styled(text::left(words, rest), theme.faint()),
                ]);
                if at == self.list.cursor {
                    theme.choose(line)
                } else {
                    line
                }
            })
            .collect();
        lines.push(Line::default());
        let said = text::wrap(ABOUT, width).into_iter();
        lines.extend(said.map(|part| Line::from(Span::styled(part, theme.faint()))));
        boxed::view(frame, area, "adjust for", lines, theme);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn enter_takes_the_chosen_line_or_else_the_ticks() {
        let mut panel = AdjustFor::default();
        assert_eq!(panel.taken(), []);
        panel.list.cursor = 4;
        assert_eq!(panel.taken(), [Adjust::Crew]);
        panel.tick();
        panel.list.cursor = 2;
        assert_eq!(panel.taken(), [Adjust::Crew]);
        panel.tick();
        assert_eq!(panel.taken(), [Adjust::Area, Adjust::Crew]);
        panel.list.cursor = 0;
        panel.tick();
        assert_eq!(panel.taken(), []);
    }
}

//! Choosing which value of a draw to narrow the filter to.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::text::{Line, Span};

use crate::analysis::{Assessed, BLANK, FilterKey};
use crate::model::{Method, time};
use crate::tui::action::Command;
use crate::tui::app::App;
use crate::tui::effect::Effect;
use crate::tui::keymap::Zone;
use crate::tui::list::ListPlace;
use crate::tui::narrower::Narrower;
use crate::tui::panel::{self, Panel};
use crate::tui::plain::{Rows, Told};
use crate::tui::update::{at_place, narrow_to};
use crate::tui::widgets::boxed;
use crate::tui::{layout, moves, text};

/// The values on offer and the chosen one.
#[derive(Clone, Debug, Default)]
pub(crate) struct Narrow {
    pub(crate) options: Vec<Choice>,
    pub(crate) list: ListPlace,
}

/// One value on offer.
#[derive(Clone, Debug)]
pub(crate) struct Choice {
    pub(crate) name: &'static str,
    pub(crate) value: String,
    pub(crate) narrower: Narrower,
}

impl Narrow {
    /// The values of the draw in this row.
    pub(crate) fn of_draw(assessed: &Assessed, row: usize) -> Self {
        let judged = &assessed.judged;
        let point = &assessed.points[judged.point[row] as usize];
        let technician = &assessed.technicians[judged.technician[row] as usize];
        let shown = |value: &Option<String>| value.clone().unwrap_or_else(|| BLANK.to_owned());
        let method = Method::from_index(judged.method[row]).map_or(BLANK, Method::as_str);
        let person = technician.name.as_ref().unwrap_or(&technician.id);
        let mut options: Vec<Choice> = [
            (FilterKey::Verdict, judged.verdict[row].as_str().to_owned()),
            (FilterKey::Point, point.id.clone()),
            (FilterKey::Compartment, point.compartment.clone()),
            (FilterKey::Technician, person.clone()),
            (FilterKey::Crew, shown(&technician.crew)),
            (FilterKey::Machine, shown(&point.machine)),
            (FilterKey::Area, shown(&point.area)),
            (FilterKey::Site, shown(&point.site)),
            (FilterKey::Method, method.to_owned()),
        ]
        .into_iter()
        .map(|(key, value)| {
            let sought = match key {
                FilterKey::Technician => &technician.id,
                _ => &value,
            };
            Choice {
                name: key.as_str(),
                narrower: Narrower::one(key, sought),
                value,
            }
        })
        .collect();
        let month = time::month_text(time::month_number(judged.drawn_at[row], assessed.zone));
        options.push(Choice {
            name: "month",
            narrower: Narrower::month(&month),
            value: month,
        });
        Narrow {
            options,
            list: ListPlace::default(),
        }
    }

    /// Where the list is drawn.
    fn area(&self, body: Rect) -> Rect {
        boxed::area(body, 52, self.options.len() as u16)
    }
}

impl Panel for Narrow {
    fn zone(&self) -> Zone {
        Zone::Narrow
    }

    fn hinted(&self) -> &'static [Command] {
        &[Command::Open, Command::Back]
    }

    fn area(&self, body: Rect) -> Option<Rect> {
        Some(Narrow::area(self, body))
    }

    fn obey(mut self: Box<Self>, app: &mut App, command: Command, effects: &mut Vec<Effect>) {
        let len = self.options.len();
        match command {
            Command::Back => {}
            Command::Open => {
                if let Some(choice) = self.options.get(self.list.cursor) {
                    narrow_to(app, &choice.narrower, app.place);
                }
            }
            other => match moves::distance(other, len) {
                Some(by) => {
                    self.list.step(by, len, len);
                    panel::lay(app, self);
                }
                None => at_place(app, other, effects),
            },
        }
    }

    fn insert(self: Box<Self>, app: &mut App, _text: &str) {
        panel::lay(app, self);
    }

    fn ask(self: Box<Self>, app: &mut App, _effects: &mut Vec<Effect>) {
        panel::lay(app, self);
    }

    fn click(mut self: Box<Self>, app: &mut App, at: Position) -> Option<Command> {
        let row = boxed::line_at(Narrow::area(&self, layout::body(app.size)), at);
        let row = row.filter(|row| *row < self.options.len());
        self.list.cursor = row.unwrap_or(self.list.cursor);
        panel::lay(app, self);
        row.map(|_| Command::Open)
    }

    fn wheel(mut self: Box<Self>, app: &mut App, _at: Position, by: isize) {
        let len = self.options.len();
        self.list.step(by.signum(), len, len);
        panel::lay(app, self);
    }

    fn told(&self, _app: &App) -> Told {
        let mut told = Told::new("Narrow to");
        let len = self.options.len();
        let noun = ("value of this draw", "values of this draw");
        told.rows = Some(Rows::of(noun, len, self.list.cursor, "", |at| {
            let option = &self.options[at];
            format!("{} {}", option.name, option.value)
        }));
        told
    }

    fn choose(&mut self, _app: &App, row: usize) {
        let len = self.options.len();
        self.list.choose(row, len, len);
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>, body: Rect) {
        let theme = app.theme;
        let area = Narrow::area(self, body);
        let inner = usize::from(area.width.saturating_sub(4));
        let line = |(at, option): (usize, &Choice)| {
            let line = Line::from(vec![
                Span::styled(text::left(option.name, 13), theme.faint()),
                Span::raw(text::left(&option.value, inner.saturating_sub(13))),
            ]);
            if at == self.list.cursor {
                theme.choose(line)
            } else {
                line
            }
        };
        let lines = self.options.iter().enumerate().map(line).collect();
        boxed::view(frame, area, "narrow to", lines, theme);
    }
}

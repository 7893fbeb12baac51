//! The draws of one compartment on an axis of time, in a lane for each way they were drawn, the
//! crosshair at one of them.

use ratatui::Frame;
use ratatui::layout::Position;

use super::{Around, Parts, Picture, around, instead, parts};
use crate::analysis::{Assessed, FilterKey};
use crate::model::time;
use crate::tui::action::Command;
use crate::tui::app::{App, Place};
use crate::tui::keymap::Zone;
use crate::tui::moves;
use crate::tui::narrower::Narrower;
use crate::tui::panel;
use crate::tui::screens::draws::{self, lanes};
use crate::tui::screens::narrow::Narrow;
use crate::tui::text;
use crate::tui::update::narrow_to;
use crate::tui::widgets::chart::lanes::{self as widget, Lanes};

pub(super) struct StripPicture;

/// The rows of the compartment's draws, oldest first.
fn rows(app: &App) -> Option<&[u32]> {
    let opened = app.opened_draw()?;
    (!opened.compartment.is_empty()).then_some(opened.compartment.as_slice())
}

/// The draw under the crosshair, by its place among them.
fn chosen(app: &App, rows: &[u32]) -> usize {
    let row = app.screens.draws.mark.or(app.chosen_row());
    let at = rows.iter().position(|other| Some(*other) == row);
    at.unwrap_or(rows.len() - 1)
}

/// The chart takes the rows that its lanes need; what is read off takes the rest.
fn parts_of(app: &App, assessed: &Assessed, rows: &[u32]) -> (Parts, Lanes) {
    let mut parts = parts(app, &lanes::legend(app.theme));
    let drawn = lanes::drawn(assessed, rows, parts.chart.width, app.theme);
    let bottom = parts.said.bottom();
    let needed = widget::roomy_height(drawn.names.len());
    if needed < parts.chart.height {
        parts.chart.height = needed;
        parts.said.y = parts.chart.bottom() + 1;
        parts.said.height = bottom.saturating_sub(parts.said.y);
    }
    (parts, drawn)
}

fn step(app: &mut App, by: isize) {
    let Some(rows) = rows(app) else { return };
    let to = chosen(app, rows).saturating_add_signed(by);
    let row = rows[to.min(rows.len() - 1)];
    app.screens.draws.mark = Some(row);
}

/// Opens the draw under the crosshair, if the list holds it.
fn open(app: &mut App) {
    let Some(row) = rows(app).map(|rows| rows[chosen(app, rows)]) else {
        return;
    };
    let Some(at) = (0..app.list_len()).find(|at| app.row_at(*at) == Some(row)) else {
        app.message = Some("The filter leaves this draw out; x widens it.".to_owned());
        return;
    };
    let (len, height) = (app.list_len(), draws::height(app));
    app.screens.draws.list.choose(at, len, height);
    app.screens.draws.reopen();
    app.screens.draws.picture = false;
    app.place = Place::Opened;
    moves::settle(app);
}

/// Narrows to the compartment.
fn compartment(app: &mut App) {
    let (Some(assessed), Some(row)) = (&app.data, app.chosen_row()) else {
        return;
    };
    let point = assessed.judged.point[row as usize] as usize;
    let name = assessed.points[point].compartment.clone();
    narrow_to(
        app,
        &Narrower::one(FilterKey::Compartment, &name),
        Place::Draws,
    );
}

impl Picture for StripPicture {
    fn zone(&self) -> Zone {
        Zone::Strip
    }

    fn hinted(&self) -> &'static [Command] {
        &[
            Command::Leftward,
            Command::Rightward,
            Command::Open,
            Command::Back,
            Command::Compartment,
            Command::DrawNext,
            Command::AddTerm,
        ]
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>) {
        let Some(assessed) = &app.data else { return };
        let Some(rows) = rows(app) else {
            let words = match app.chosen_row() {
                Some(_) => "opening",
                None => "No draw is chosen, so there is no compartment to show.",
            };
            return instead(app, words, frame);
        };
        let (parts, drawn) = parts_of(app, assessed, rows);
        let at = chosen(app, rows);
        drawn.draw(frame.buffer_mut(), parts.chart, Some(at), app.theme);
        let day = |row: u32| {
            let text = time::local_text(assessed.judged.drawn_at[row as usize], assessed.zone);
            text.get(..10).map(str::to_owned).unwrap_or(text)
        };
        let point = assessed.judged.point[rows[at] as usize] as usize;
        // The crosshair's own reading takes a row or two of what is left below.
        let rows_left = usize::from(parts.said.height).saturating_sub(2).max(1);
        let room = rows_left * usize::from(parts.said.width).saturating_sub(12);
        let words = Around {
            title: "Compartment",
            about: format!(
                "{}, its draws over time",
                assessed.points[point].compartment
            ),
            extent: format!(
                "{}, {} to {}",
                text::plural(rows.len() as u64, "draw", "draws"),
                day(rows[0]),
                day(rows[rows.len() - 1])
            ),
            legend: lanes::legend(app.theme),
            reading: lanes::reading(assessed, rows, at),
            notes: vec![lanes::changes(assessed, rows, room)],
        };
        around(app, &words, &parts, frame);
    }

    fn obey(&self, app: &mut App, command: Command) -> bool {
        match command {
            Command::Leftward => step(app, -1),
            Command::Rightward => step(app, 1),
            Command::First | Command::Last => {
                step(app, moves::distance(command, 1).unwrap_or_default());
            }
            Command::Open => open(app),
            Command::Compartment => compartment(app),
            Command::AddTerm => {
                if let (Some(assessed), Some(rows)) = (&app.data, rows(app)) {
                    let row = rows[chosen(app, rows)];
                    let narrow = Narrow::of_draw(assessed, row as usize);
                    panel::lay(app, Box::new(narrow));
                }
            }
            Command::Up | Command::Down | Command::PageUp | Command::PageDown => {}
            _ => return false,
        }
        true
    }

    fn click(&self, app: &mut App, at: Position) -> Option<Command> {
        let assessed = app.data.as_ref()?;
        let rows = rows(app)?;
        let (parts, drawn) = parts_of(app, assessed, rows);
        let to = drawn.at(parts.chart, at)?;
        let was = chosen(app, rows);
        let row = rows[to];
        app.screens.draws.mark = Some(row);
        (to == was).then_some(Command::Open)
    }

    fn wheel(&self, app: &mut App, by: isize) {
        step(app, by);
    }
}

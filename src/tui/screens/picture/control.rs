//! The control chart of the share in full, the crosshair at the chosen period.

use ratatui::Frame;
use ratatui::layout::Position;

use super::{Around, Parts, Picture, around, instead, parts};
use crate::analysis::Trend;
use crate::tui::action::Command;
use crate::tui::app::App;
use crate::tui::keymap::Zone;
use crate::tui::layout;
use crate::tui::moves;
use crate::tui::screens::share::{self, Section, chart, periods};
use crate::tui::text;
use crate::tui::widgets::chart::control::Control;

pub(super) struct ControlPicture;

fn trend(app: &App) -> Option<&Trend> {
    let (_, figures) = app.figures.share.as_ref()?;
    figures.trend(app.screens.share.every)
}

fn control(app: &App) -> Option<Control> {
    let drawn = chart::control(trend(app)?, app.screens.share.every);
    (!drawn.slots.is_empty()).then_some(drawn)
}

/// The period under the crosshair, counted from the oldest; the list counts from the newest.
fn chosen(app: &App, drawn: &Control) -> usize {
    let cursor = app.screens.share.list(Section::Months).cursor;
    (drawn.slots.len() - 1).saturating_sub(cursor)
}

fn choose(app: &mut App, slot: usize) {
    let len = share::len(app, Section::Months);
    let area = share::panes(app).sections[Section::Months as usize];
    let row = len.saturating_sub(slot + 1);
    let list = &mut app.screens.share.lists[Section::Months as usize];
    list.choose(row, len, layout::rows_of(area));
}

fn step(app: &mut App, by: isize) {
    if let Some(drawn) = control(app) {
        let to = chosen(app, &drawn).saturating_add_signed(by);
        choose(app, to.min(drawn.slots.len() - 1));
    }
}

fn parts_of(app: &App, drawn: &Control) -> Parts {
    parts(app, &drawn.legend(app.theme))
}

impl Picture for ControlPicture {
    fn zone(&self) -> Zone {
        Zone::ControlChart
    }

    fn hinted(&self) -> &'static [Command] {
        &[
            Command::Leftward,
            Command::Rightward,
            Command::Open,
            Command::Back,
            Command::Periods,
            Command::AddTerm,
            Command::EditFilter,
        ]
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>) {
        let (Some(trend), Some(drawn)) = (trend(app), control(app)) else {
            return instead(app, "No draws in view, so nothing to draw.", frame);
        };
        let every = app.screens.share.every;
        let parts = parts_of(app, &drawn);
        let slot = chosen(app, &drawn);
        drawn.draw(frame.buffer_mut(), parts.chart, Some(slot), app.theme);
        let keys = |at: usize| drawn.slots[at].key.clone();
        let shown = drawn.stand(parts.chart, Some(slot));
        let (first, count) = shown.map_or((0, drawn.slots.len()), |it| (it.first, it.count));
        let len = drawn.slots.len() as u64;
        let mut extent = format!("{} to {}", keys(first), keys(first + count - 1));
        if (count as u64) < len {
            extent = format!("{extent}, {} of {}", count, text::count(len));
        }
        let period = trend.periods.get(drawn.slots.len() - 1 - slot);
        let words = Around {
            title: "Control chart",
            about: format!(
                "unrepresentative draws, % of those judged, {} by {}",
                every.as_str(),
                every.as_str()
            ),
            extent,
            legend: drawn.legend(app.theme),
            reading: period.map_or_else(String::new, |period| chart::reading(period, trend.chart)),
            notes: periods::chart_words(trend, every).into_iter().collect(),
        };
        around(app, &words, &parts, frame);
    }

    fn obey(&self, app: &mut App, command: Command) -> bool {
        match command {
            Command::Leftward => step(app, -1),
            Command::Rightward => step(app, 1),
            Command::PageUp => step(app, -(app.screens.share.every.in_a_year() as isize)),
            Command::PageDown => step(app, app.screens.share.every.in_a_year() as isize),
            Command::First | Command::Last => {
                step(app, moves::distance(command, 1).unwrap_or_default());
            }
            // There is one row of marks.
            Command::Up | Command::Down => {}
            _ => return false,
        }
        true
    }

    fn click(&self, app: &mut App, at: Position) -> Option<Command> {
        let drawn = control(app)?;
        let before = chosen(app, &drawn);
        let slot = drawn.at(parts_of(app, &drawn).chart, Some(before), at)?;
        choose(app, slot);
        (slot == before).then_some(Command::Open)
    }

    fn wheel(&self, app: &mut App, by: isize) {
        step(app, by);
    }
}

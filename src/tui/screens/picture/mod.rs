//! The large picture of a screen: it takes the whole body, a crosshair goes from mark to mark,
//! and what is behind the mark opens.
//!
//! ```text
//! Control chart  what is drawn, in which unit            how much of it
//! • share   ▲ high: above the upper limit   …
//!
//!        the chart
//!
//! March 2026: what the crosshair reads
//! ```
//!
//! Whether it is open and where the crosshair stands is kept in the state of its screen, so that
//! a step back finds both. Esc closes it and leaves the user where the crosshair was.

mod bars;
pub(crate) mod compared;
mod control;
mod funnel;
mod strip;

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::topics::Tab;
use super::{draws, people, points, share};
use crate::tui::action::Command;
use crate::tui::app::{App, Place};
use crate::tui::keymap::Zone;
use crate::tui::widgets::chart::legend::{self, Entry};
use crate::tui::{layout, moves, text};

/// What the frame asks of a picture.
pub(crate) trait Picture: Sync {
    /// The keys that hold in it.
    fn zone(&self) -> Zone;

    /// The commands that are worth a hint, most useful first.
    fn hinted(&self) -> &'static [Command];

    /// Draws it in place of the screen.
    fn view(&self, app: &App, frame: &mut Frame<'_>);

    /// Deals with a command; `false` leaves it to the screen.
    fn obey(&self, app: &mut App, command: Command) -> bool;

    /// A click in the body chooses the mark there; on the chosen one it opens.
    fn click(&self, app: &mut App, at: Position) -> Option<Command>;

    /// The wheel moves the crosshair.
    fn wheel(&self, app: &mut App, by: isize);
}

/// The picture that is open where the user stands.
pub(crate) fn open(app: &App) -> Option<&'static dyn Picture> {
    let screens = &app.screens;
    match app.place {
        Place::Share if screens.share.picture => Some(&control::ControlPicture),
        Place::Draws | Place::Opened if screens.draws.picture => Some(&strip::StripPicture),
        Place::People if screens.people.picture => Some(compared_picture(screens.people.bars)),
        Place::Points if screens.points.picture => Some(compared_picture(screens.points.bars)),
        _ => None,
    }
}

fn compared_picture(bars: bool) -> &'static dyn Picture {
    if bars {
        &bars::BarsPicture
    } else {
        &funnel::FunnelPicture
    }
}

/// Whether a picture is open where the user stands; that of Topics is the heat table itself.
pub(crate) fn is_open(app: &App) -> bool {
    let topics = &app.screens.topics;
    let is_heat = app.place == Place::Topics && topics.tab == Tab::Heat;
    open(app).is_some() || is_heat && topics.picture
}

/// Opens the picture of the place, or closes it.
pub(crate) fn turn(app: &mut App) {
    match app.place {
        Place::Share => {
            app.screens.share.picture ^= true;
            // What is behind the crosshair is what is behind the chosen period.
            app.screens.share.section = share::Section::Months;
        }
        Place::Draws | Place::Opened => {
            app.screens.draws.picture ^= true;
            app.screens.draws.mark = None;
        }
        Place::People => app.screens.people.picture ^= true,
        Place::Points => app.screens.points.picture ^= true,
        Place::Topics => app.screens.topics.picture ^= true,
        _ => {}
    }
}

/// Deals with a command where a picture is open.
pub(crate) fn obey(app: &mut App, command: Command) -> bool {
    if command == Command::Back && is_open(app) {
        turn(app);
        moves::settle(app);
        return true;
    }
    open(app).is_some_and(|picture| picture.obey(app, command))
}

/// Where the parts of a picture stand.
pub(crate) struct Parts {
    title: Rect,
    legend: Rect,
    pub(crate) chart: Rect,
    pub(crate) said: Rect,
}

/// The parts within the body: a legend of so many rows, and what is read off below the chart.
pub(crate) fn parts(app: &App, legend: &[Entry]) -> Parts {
    let body = layout::body(app.size);
    let body = Rect {
        width: body.width.saturating_sub(1),
        ..body
    };
    let width = usize::from(body.width);
    let rows = legend::lines(legend, width, app.theme).len() as u16;
    let gap = u16::from(body.height >= 26);
    let said = match body.height {
        ..22 => 2,
        22..34 => 3,
        _ => 5,
    };
    let top = 1 + rows + gap;
    let part = |y: u16, height: u16| Rect {
        y: body.y + y.min(body.height),
        height: height.min(body.height.saturating_sub(y)),
        ..body
    };
    let chart = body.height.saturating_sub(top + said + gap);
    Parts {
        title: part(0, 1),
        legend: part(1, rows),
        chart: part(top, chart),
        said: part(top + chart + gap, said),
    }
}

/// What stands around the chart.
pub(crate) struct Around {
    pub(crate) title: &'static str,
    /// What is drawn, in which unit.
    pub(crate) about: String,
    /// How much of it.
    pub(crate) extent: String,
    pub(crate) legend: Vec<Entry>,
    /// What the crosshair reads.
    pub(crate) reading: String,
    /// What is to be known beside it.
    pub(crate) notes: Vec<String>,
}

/// Draws title, legend and what is read off.
pub(crate) fn around(app: &App, around: &Around, parts: &Parts, frame: &mut Frame<'_>) {
    let theme = app.theme;
    let width = usize::from(parts.title.width);
    let left = format!("{}  ", around.title);
    let about = text::cut(&around.about, width.saturating_sub(text::width(&left)));
    let used = text::width(&left) + text::width(&about);
    // What does not fit as a whole is left out: half a date would mislead.
    let extent = format!("   {}", around.extent);
    let extent = if used + text::width(&extent) <= width {
        text::right(&extent, width - used)
    } else {
        String::new()
    };
    let title = Line::from(vec![
        Span::styled(left, theme.title()),
        Span::raw(about),
        Span::styled(extent, theme.faint()),
    ]);
    frame.render_widget(Paragraph::new(title), parts.title);
    let lines = legend::lines(&around.legend, width, theme);
    frame.render_widget(Paragraph::new(lines), parts.legend);
    let bold = |line| Line::from(Span::styled(line, theme.strong()));
    let mut lines: Vec<Line<'_>> = text::wrap(&around.reading, width)
        .into_iter()
        .map(bold)
        .collect();
    for note in &around.notes {
        let wrapped = text::wrap(note, width);
        // A note stands as a whole or not at all.
        if lines.len() + wrapped.len() <= usize::from(parts.said.height) {
            lines.extend(wrapped.into_iter().map(Line::from));
        }
    }
    lines.truncate(usize::from(parts.said.height));
    frame.render_widget(Paragraph::new(lines), parts.said);
}

/// What stands in place of a chart that is still worked out or that has nothing to show.
pub(crate) fn instead(app: &App, words: &str, frame: &mut Frame<'_>) {
    let body = layout::body(app.size);
    let lines: Vec<Line<'_>> = text::wrap(words, usize::from(body.width).saturating_sub(1))
        .into_iter()
        .map(|line| Line::from(Span::styled(line, app.theme.faint())))
        .collect();
    frame.render_widget(Paragraph::new(lines), body);
}

/// Whether the user stands where a draw is shown in the strip.
pub(crate) fn wants_draw(app: &App) -> bool {
    app.screens.draws.picture || draws::panes(app).opened.is_some()
}

/// Rows of the list of people or points, for moves within a picture.
fn choose_row(app: &mut App, row: usize) {
    match app.place {
        Place::People => {
            let (len, height) = (people::lines(app).len(), people::height(app));
            app.screens.people.list.choose(row, len, height);
        }
        Place::Points => {
            let (len, height) = (points::lines(app).len(), points::height(app));
            app.screens.points.list.choose(row, len, height);
        }
        _ => {}
    }
}

//! Events on an axis of time, each in the lane of what it belongs to, so that a change of lane
//! jumps out; a sign below marks each change.
//!
//! ```text
//! GEAR-2 tube-pump │ ✗      ~  ✗  ?     ✗
//! GEAR-2 drain     │    ?            ~
//! changes          │    ◆   ◆        ◆  ◆
//!                  └─┬──────┬──────┬──────
//!                  2026-04 2026-06 2026-08
//! ```

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::axes::{self, Label};
use super::scale::Scale;
use crate::tui::text;
use crate::tui::theme::Theme;

/// One event.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Event {
    /// When, in seconds.
    pub(crate) at: i64,
    /// Its lane, from the top.
    pub(crate) lane: usize,
    pub(crate) glyph: &'static str,
    pub(crate) style: Style,
    /// Whether something changed with it.
    pub(crate) changed: bool,
}

/// What is drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Lanes {
    pub(crate) names: Vec<String>,
    /// Oldest first.
    pub(crate) events: Vec<Event>,
    /// Labelled moments, such as beginnings of months.
    pub(crate) moments: Vec<(i64, String)>,
}

/// Where things stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Stand {
    pub(crate) plot: Rect,
    across: Scale,
    /// The lanes on screen; the row below them marks changes.
    lanes: u16,
    /// Rows from one lane to the next.
    pitch: u16,
}

impl Stand {
    fn column(&self, at: i64) -> u16 {
        let width = usize::from(self.plot.width);
        self.across.nearest(at as f64, width) as u16
    }

    fn row(&self, lane: usize) -> u16 {
        (lane as u16).min(self.lanes.saturating_sub(1)) * self.pitch
    }
}

/// How many rows the chart takes with so many lanes, close together.
pub(crate) fn height(lanes: usize) -> u16 {
    (lanes as u16 + 1).max(3) + axes::BELOW
}

/// How many rows it takes with a blank one below each lane.
pub(crate) fn roomy_height(lanes: usize) -> u16 {
    (2 * lanes as u16 + 1).max(3) + axes::BELOW
}

impl Lanes {
    /// Where it stands; none without room or events. Lanes for which there is no room share the
    /// last one.
    pub(crate) fn stand(&self, area: Rect) -> Option<Stand> {
        let widest = self.names.iter().map(|name| text::width(name)).max()?;
        let names = (widest as u16 + 1).clamp(8, 34).min(area.width / 3);
        let plot = axes::plot(area, names)?;
        let (first, last) = (self.events.first()?.at, self.events.last()?.at);
        let room = plot.height - 1;
        let wanted = self.names.len().max(1) as u16;
        let lanes = wanted.min(room);
        let pitch = if lanes * 2 <= room { 2 } else { 1 };
        let height = (lanes * pitch + 1).max(3).min(plot.height);
        // Signs at the very ends of the axis would stand on its corners.
        let margin = ((last - first) as f64 / f64::from(plot.width)).max(1.0);
        Some(Stand {
            plot: Rect { height, ..plot },
            across: Scale::even(first as f64 - margin, last as f64 + margin),
            lanes,
            pitch,
        })
    }

    /// The event nearest to a cell of the plot.
    pub(crate) fn at(&self, area: Rect, at: Position) -> Option<usize> {
        let stand = self.stand(area)?;
        if !stand.plot.contains(at) {
            return None;
        }
        let (x, y) = (at.x - stand.plot.x, at.y - stand.plot.y);
        let far = |event: &Event| {
            let across = stand.column(event.at).abs_diff(x);
            (across, stand.row(event.lane).abs_diff(y))
        };
        (0..self.events.len()).min_by_key(|event| far(&self.events[*event]))
    }

    /// Draws it, with the crosshair at the chosen event.
    pub(crate) fn draw(
        &self,
        buffer: &mut Buffer,
        area: Rect,
        chosen: Option<usize>,
        theme: Theme,
    ) {
        let Some(stand) = self.stand(area) else {
            return;
        };
        let plot = stand.plot;
        self.lanes(buffer, area, &stand, theme);
        let label = |(at, words): &(i64, String)| (stand.column(*at), words.clone());
        let inside = |(at, _): &&(i64, String)| {
            (stand.across.from..=stand.across.to).contains(&(*at as f64))
        };
        let labels: Vec<Label> = self.moments.iter().filter(inside).map(label).collect();
        axes::below(buffer, plot, &labels, None, theme);
        let chosen = chosen.and_then(|chosen| self.events.get(chosen));
        for event in &self.events {
            let (x, y) = (
                plot.x + stand.column(event.at),
                plot.y + stand.row(event.lane),
            );
            buffer.set_string(x, y, event.glyph, event.style);
            if event.changed {
                let below = plot.bottom() - 1;
                buffer.set_string(x, below, theme.pick("◆", "#"), theme.strong());
            }
        }
        if let Some(event) = chosen {
            let (x, y) = (stand.column(event.at), stand.row(event.lane));
            buffer.set_string(plot.x + x, plot.y + y, event.glyph, theme.chosen());
            axes::crosshair(buffer, plot, Some(x), None, theme);
            let tick = theme.pick("┴", "^");
            buffer.set_string(plot.x + x, plot.bottom(), tick, theme.crosshair());
        }
    }

    fn lanes(&self, buffer: &mut Buffer, area: Rect, stand: &Stand, theme: Theme) {
        let plot = stand.plot;
        let room = usize::from(plot.x - area.x).saturating_sub(2);
        for y in plot.top()..plot.bottom() {
            buffer.set_string(plot.x - 1, y, theme.pick("│", "|"), theme.axis());
        }
        for (lane, name) in self.names.iter().enumerate().take(usize::from(stand.lanes)) {
            let y = plot.y + stand.row(lane);
            let is_last = lane + 1 == usize::from(stand.lanes);
            let others = self.names.len() - lane - 1;
            let name = if is_last && others > 0 {
                format!("{name} and {others} more")
            } else {
                name.clone()
            };
            buffer.set_string(area.x, y, text::cut(&name, room), theme.plain());
            // A faint line leads the eye along a lane.
            let line = theme.pick("·", ".").repeat(usize::from(plot.width));
            buffer.set_string(plot.x, y, line, theme.faint());
        }
        let words = text::cut("changes", room);
        buffer.set_string(area.x, plot.bottom() - 1, words, theme.faint());
    }
}

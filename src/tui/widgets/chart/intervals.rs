//! Interval bars: one a row, on an axis of their own, with a line through all of them for what
//! they are compared with.
//!
//! ```text
//! Ines Falk        10  ·├──●───┤·┊··········
//! Joan Okoro       10  ···········┊├────●──┤
//!                      └──┬───────┬────────┬
//!                        0 %    50 %    100 %
//! ```

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use super::axes::{self, Label};
use super::legend::Entry;
use super::scale::Scale;
use crate::tui::text;
use crate::tui::theme::Theme;

/// One bar: a value with its interval.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Bar {
    pub(crate) name: String,
    /// How many it rests on.
    pub(crate) count: String,
    pub(crate) value: Option<f64>,
    pub(crate) low: Option<f64>,
    pub(crate) high: Option<f64>,
    /// The value and the interval in figures.
    pub(crate) words: String,
}

/// What is drawn.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Intervals {
    /// The bars on screen.
    pub(crate) bars: Vec<Bar>,
    pub(crate) scale: Scale,
    /// The labelled values of the axis.
    pub(crate) ticks: Vec<(f64, String)>,
    /// What all are compared with.
    pub(crate) line: Option<f64>,
    /// What stands over the names and the counts.
    pub(crate) headings: (&'static str, &'static str),
}

/// The cells of the counts with the blanks around them.
const COUNTS: u16 = 9;

/// Figures stand at the right end from this width on.
const WIDE: u16 = 96;
const FIGURES: u16 = 22;

/// Where things stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Stand {
    pub(crate) plot: Rect,
    names: u16,
    figures: u16,
    /// Rows from one bar to the next.
    pitch: u16,
    /// How many bars there are.
    bars: u16,
}

/// The row above the bars.
const ABOVE: u16 = 1;

/// How many bars an area has room for.
pub(crate) fn rows(area: Rect) -> usize {
    usize::from(area.height.saturating_sub(ABOVE + axes::BELOW))
}

/// Where so many bars with names of this width stand; none without room.
pub(crate) fn stand(area: Rect, bars: usize, widest: usize) -> Option<Stand> {
    let names = (widest as u16).clamp(6, 24).min(area.width / 4);
    let figures = if area.width >= WIDE { FIGURES } else { 0 };
    let below = Rect {
        y: area.y + ABOVE.min(area.height),
        height: area.height.saturating_sub(ABOVE),
        width: area.width.saturating_sub(figures),
        ..area
    };
    let plot = axes::plot(below, names + COUNTS)?;
    let bars = bars.max(1) as u16;
    let pitch = if bars.saturating_mul(2) <= plot.height + 1 {
        2
    } else {
        1
    };
    // The axis stands close below the last bar.
    let height = ((bars - 1) * pitch + 1).max(3).min(plot.height);
    Some(Stand {
        plot: Rect { height, ..plot },
        names,
        figures,
        pitch,
        bars,
    })
}

/// Which bar stands in a row of the screen, or just above it.
pub(crate) fn at(stand: &Stand, at: Position) -> Option<usize> {
    let row = at.y.checked_sub(stand.plot.y)?;
    let bar = row / stand.pitch;
    (row < stand.plot.height && bar < stand.bars).then_some(usize::from(bar))
}

/// What the signs mean.
pub(crate) fn legend(value: &str, line: &str, theme: Theme) -> Vec<Entry> {
    vec![
        (theme.pick("●", "o"), value.to_owned()),
        (theme.pick("├─┤", "[-]"), "95 % interval".to_owned()),
        (theme.pick("┊", ":"), line.to_owned()),
    ]
}

/// What the arrows of intervals mean that go on beyond the axis.
pub(crate) fn arrows(theme: Theme) -> Entry {
    (
        theme.pick("◂ ▸", "< >"),
        "goes on beyond the axis".to_owned(),
    )
}

impl Intervals {
    /// Draws them, the chosen one reversed.
    pub(crate) fn draw(
        &self,
        buffer: &mut Buffer,
        area: Rect,
        widest: usize,
        chosen: Option<usize>,
        theme: Theme,
    ) {
        let Some(stand) = stand(area, self.bars.len(), widest) else {
            return;
        };
        let plot = stand.plot;
        self.head(buffer, area, &stand, theme);
        for y in plot.top()..plot.bottom() {
            buffer.set_string(plot.x - 1, y, theme.pick("│", "|"), theme.axis());
            if let Some(cell) = self.line.map(|line| self.cell(line, plot)) {
                buffer.set_string(plot.x + cell, y, theme.pick("┊", ":"), theme.chart_limit());
            }
        }
        for (at, bar) in self.bars.iter().enumerate() {
            let y = plot.y + at as u16 * stand.pitch;
            if y < plot.bottom() {
                self.bar(buffer, area, (&stand, y), bar, chosen == Some(at), theme);
            }
        }
        let label = |(value, words): &(f64, String)| (self.cell(*value, plot), words.clone());
        let labels: Vec<Label> = self.ticks.iter().map(label).collect();
        axes::below(buffer, plot, &labels, None, theme);
    }

    fn cell(&self, value: f64, plot: Rect) -> u16 {
        self.scale.nearest(value, usize::from(plot.width)) as u16
    }

    fn head(&self, buffer: &mut Buffer, area: Rect, stand: &Stand, theme: Theme) {
        let faint = theme.faint();
        let (names, counts) = self.headings;
        buffer.set_string(
            area.x,
            area.y,
            text::cut(names, usize::from(stand.names)),
            faint,
        );
        let counts = text::right(counts, usize::from(COUNTS) - 1);
        buffer.set_string(area.x + stand.names, area.y, counts, faint);
        if stand.figures > 0 {
            let words = text::right("value, 95 %", usize::from(stand.figures) - 1);
            buffer.set_string(stand.plot.right() + 1, area.y, words, faint);
        }
    }

    fn bar(
        &self,
        buffer: &mut Buffer,
        area: Rect,
        (stand, y): (&Stand, u16),
        bar: &Bar,
        is_chosen: bool,
        theme: Theme,
    ) {
        let plot = stand.plot;
        let style = if is_chosen {
            theme.chosen()
        } else {
            theme.plain()
        };
        let name = text::left(&bar.name, usize::from(stand.names));
        buffer.set_string(area.x, y, name, style);
        let count = text::right(&bar.count, usize::from(COUNTS) - 1);
        buffer.set_string(area.x + stand.names, y, count, theme.faint());
        if stand.figures > 0 {
            let words = text::right(&bar.words, usize::from(stand.figures) - 1);
            buffer.set_string(plot.right() + 1, y, words, theme.plain());
        }
        let (Some(value), Some(low), Some(high)) = (bar.value, bar.low, bar.high) else {
            return;
        };
        let [from, to] = [low, high].map(|end| self.cell(end, plot));
        let line = theme.pick("─", "-").repeat(usize::from(to - from) + 1);
        buffer.set_string(plot.x + from, y, line, theme.chart_line());
        if let Some(cell) = self.line.map(|line| self.cell(line, plot))
            && (from..=to).contains(&cell)
        {
            buffer.set_string(plot.x + cell, y, theme.pick("┼", "+"), theme.chart_line());
        }
        let ends = [
            (
                from,
                low < self.scale.from,
                theme.pick("├", "["),
                theme.pick("◂", "<"),
            ),
            (
                to,
                high > self.scale.to,
                theme.pick("┤", "]"),
                theme.pick("▸", ">"),
            ),
        ];
        for (cell, goes_on, end, arrow) in ends {
            let sign = if goes_on { arrow } else { end };
            buffer.set_string(plot.x + cell, y, sign, theme.chart_line());
        }
        // A value beyond the axis has no mark on it: the arrow says where it is.
        if self.scale.place(value, usize::from(plot.width)).is_some() {
            let style = if is_chosen {
                theme.crosshair()
            } else {
                theme.strong()
            };
            let sign = theme.pick("●", "o");
            buffer.set_string(plot.x + self.cell(value, plot), y, sign, style);
        }
    }
}

//! How a funnel is drawn: the curves of its limits, its dots, and the crosshair.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::axes::{self, Label};
use super::canvas::Canvas;
use super::funnel::{Crowd, Funnel, Stand, chosen_glyph};
use super::ticks;
use crate::tui::text;
use crate::tui::theme::Theme;

impl Funnel {
    /// Draws it, with the crosshair at the chosen dot and its name beside it.
    pub(crate) fn draw(
        &self,
        buffer: &mut Buffer,
        area: Rect,
        chosen: Option<(usize, &str)>,
        theme: Theme,
    ) {
        let Some(stand) = self.stand(area) else {
            return;
        };
        let plot = stand.plot;
        axes::shares(buffer, plot, stand.up, theme);
        let chosen = chosen.and_then(|(dot, name)| Some((*self.dots.get(dot)?, name)));
        self.trials(buffer, &stand, chosen.map(|(dot, _)| dot), theme);
        self.curves(&stand, theme).draw(buffer, plot, theme);
        self.marks(buffer, &stand, theme);
        let Some((dot, name)) = chosen else { return };
        let (x, y) = stand.cell(dot);
        axes::crosshair(buffer, plot, Some(x), Some(y), theme);
        let style = theme.crosshair();
        buffer.set_string(plot.x + x, plot.y + y, chosen_glyph(theme), style);
        name_beside(buffer, plot, (x, y), name, theme);
        let share = format!("{:.0} %", dot.1 * 100.0);
        axes::at_left(buffer, plot, y, &text::right(&share, 5), theme.chosen());
    }

    /// The numbers of trials below the plot, the chosen one's among them.
    fn trials(&self, buffer: &mut Buffer, stand: &Stand, chosen: Option<(u64, f64)>, theme: Theme) {
        let most = usize::from(stand.plot.width / 10).max(2);
        let label = |trials: f64| {
            let cell = stand.cell((trials as u64, stand.up.from)).0;
            (cell, text::count(trials as u64))
        };
        let round = ticks::factors(stand.across.from, stand.across.to, most);
        let chosen = chosen.map(|(trials, _)| label(trials as f64));
        let first = chosen.is_some().then_some(0);
        let labels: Vec<Label> = chosen
            .into_iter()
            .chain(round.into_iter().map(label))
            .collect();
        axes::below(buffer, stand.plot, &labels, first, theme);
    }

    /// The limits as curves, the outer ones dotted, and the centre as dashes.
    fn curves(&self, stand: &Stand, theme: Theme) -> Canvas {
        let mut canvas = Canvas::new(stand.plot.width, stand.plot.height);
        let (across, down) = canvas.dots();
        let style = theme.chart_limit();
        if let Some(y) = stand.up.place_down(self.centre, down) {
            for x in (0..across).filter(|x| x % 6 < 3) {
                canvas.dot((x, y), style);
            }
        }
        let mut before: [Option<usize>; 4] = [None; 4];
        for x in 0..across {
            let part = x as f64 / (across - 1) as f64;
            let Some(limits) = self.limits(stand.across.value(part)) else {
                continue;
            };
            for (which, limit) in limits.into_iter().enumerate() {
                let y = stand.up.place_down(limit, down);
                let is_outer = which == 0 || which == 3;
                if let Some(y) = y.filter(|_| !is_outer || x % 4 == 0) {
                    // Where a limit falls steeply the dots below each other close the gap.
                    let from = before[which].filter(|_| !is_outer).unwrap_or(y);
                    canvas.line((x, from), (x, y), style);
                }
                before[which] = y;
            }
        }
        canvas
    }

    /// One sign a cell, that of one dot or of several.
    fn marks(&self, buffer: &mut Buffer, stand: &Stand, theme: Theme) {
        let plot = stand.plot;
        let width = usize::from(plot.width);
        let mut counts = vec![0_u32; width * usize::from(plot.height)];
        for dot in &self.dots {
            let (x, y) = stand.cell(*dot);
            counts[usize::from(y) * width + usize::from(x)] += 1;
        }
        for (at, count) in counts.into_iter().enumerate() {
            if let Some(crowd) = Crowd::of(count) {
                let (x, y) = ((at % width) as u16, (at / width) as u16);
                let glyph = crowd.glyph(theme);
                buffer.set_string(plot.x + x, plot.y + y, glyph, theme.chart_mark());
            }
        }
    }
}

/// Writes a name to the right of a cell, or to the left where the plot ends.
fn name_beside(buffer: &mut Buffer, plot: Rect, (x, y): (u16, u16), name: &str, theme: Theme) {
    let (before, after) = (x, plot.width - x - 1);
    let name = text::cut(
        name,
        usize::from(before.max(after)).saturating_sub(2).min(24),
    );
    let wide = text::width(&name) as u16;
    let start = if wide + 2 <= after {
        x + 2
    } else {
        x.saturating_sub(wide + 1)
    };
    if wide > 0 {
        // Blanks around it keep it apart from the crosshair.
        let name = format!(" {name} ");
        let room = usize::from(plot.width - start + 1);
        let start = plot.x + start - 1;
        buffer.set_stringn(start, plot.y + y, name, room, theme.crosshair());
    }
}

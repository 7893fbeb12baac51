//! How a control chart is drawn: limits in steps, the line of shares, marks and labels.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::axes::{self, Label};
use super::canvas::{ACROSS, Canvas, DOWN};
use super::control::{Control, Mark, Stand};
use crate::tui::text;
use crate::tui::theme::Theme;

impl Mark {
    /// The word that stands beside the sign in the picture.
    const fn word(self) -> Option<&'static str> {
        match self {
            Mark::High => Some("high"),
            Mark::Low => Some("low"),
            _ => None,
        }
    }

    fn style(self, theme: Theme) -> Style {
        match self {
            Mark::Inside => theme.strong(),
            Mark::Few => theme.plain(),
            _ => theme.chart_signal(),
        }
    }
}

impl Control {
    /// Draws it, with the crosshair at the chosen period.
    pub(crate) fn draw(
        &self,
        buffer: &mut Buffer,
        area: Rect,
        chosen: Option<usize>,
        theme: Theme,
    ) {
        let Some(stand) = self.stand(area, chosen) else {
            return;
        };
        let plot = stand.plot;
        axes::shares(buffer, plot, stand.scale, theme);
        let chosen = chosen.filter(|slot| stand.shown().contains(slot));
        let labels = self.labels(&stand, chosen);
        axes::below(buffer, plot, &labels, chosen.map(|_| 0), theme);
        self.lines(&stand, theme).draw(buffer, plot, theme);
        let column = chosen.map(|slot| stand.middle(slot));
        self.marks(buffer, &stand, chosen, theme);
        axes::crosshair(buffer, plot, column, None, theme);
    }

    /// Limits in steps, the centre in dashes, and from share to share a line where dots are
    /// fine enough to tell it from the limits.
    fn lines(&self, stand: &Stand, theme: Theme) -> Canvas {
        let mut canvas = Canvas::new(stand.plot.width, stand.plot.height);
        let (_, down) = canvas.dots();
        let limit = theme.chart_limit();
        if let Some(y) = self
            .centre
            .and_then(|centre| stand.scale.place_down(centre, down))
        {
            for x in (0..canvas.dots().0).filter(|x| x % 6 < 3) {
                canvas.dot((x, y), limit);
            }
        }
        let of_slot = |slot: usize| {
            let (from, to) = stand.cells(slot);
            let last = (usize::from(to) * ACROSS).saturating_sub(1);
            (usize::from(from) * ACROSS, last)
        };
        for side in [0, 1] {
            let mut before: Option<usize> = None;
            for slot in stand.shown() {
                let limits = self.slots[slot].limits.map(<[f64; 2]>::from);
                let y = limits.and_then(|limits| stand.scale.place_down(limits[side], down));
                let (from, to) = of_slot(slot);
                if let Some(y) = y {
                    canvas.line((from, before.unwrap_or(y)), (from, y), limit);
                    canvas.line((from, y), (to, y), limit);
                }
                before = y;
            }
        }
        if theme.pick("u", "a") == "u" {
            let mut before: Option<(usize, usize)> = None;
            for slot in stand.shown() {
                let share = self.slots[slot].share;
                let y = share.map(|share| stand.scale.nearest_down(share, down));
                let here = y.map(|y| (usize::from(stand.middle(slot)) * ACROSS, y));
                if let Some((from, to)) = before.zip(here) {
                    canvas.line(from, to, theme.chart_line());
                }
                before = here.or(before);
            }
        }
        canvas
    }

    fn marks(&self, buffer: &mut Buffer, stand: &Stand, chosen: Option<usize>, theme: Theme) {
        let plot = stand.plot;
        let cell = |slot: usize| {
            let share = self.slots[slot].share?;
            let dots = usize::from(plot.height) * DOWN;
            let y = (stand.scale.nearest_down(share, dots) / DOWN) as u16;
            Some(Position::new(plot.x + stand.middle(slot), plot.y + y))
        };
        let mut taken: Vec<Position> = stand.shown().filter_map(cell).collect();
        for slot in stand.shown() {
            let Some(at) = cell(slot) else { continue };
            let mark = self.slots[slot].mark;
            let style = if chosen == Some(slot) {
                theme.chosen()
            } else {
                mark.style(theme)
            };
            buffer.set_string(at.x, at.y, mark.glyph(theme), style);
            if let Some(word) = mark.word() {
                say(buffer, plot, at, word, &mut taken, theme);
            }
        }
    }

    /// The periods' names below the axis, the chosen one first; the others as many as fit at
    /// equal parts of the year, so that they are easily found again.
    fn labels(&self, stand: &Stand, chosen: Option<usize>) -> Vec<Label> {
        let label = |slot: usize| (stand.middle(slot), self.slots[slot].key.clone());
        let every = |step: u32| -> Vec<Label> {
            let regular =
                |slot: &usize| (self.slots[*slot].ordinal.max(1) - 1).is_multiple_of(step);
            stand.shown().filter(regular).map(label).collect()
        };
        let steps = (1..=self.in_a_year).filter(|step| self.in_a_year.is_multiple_of(*step));
        let mut labels: Vec<Label> = chosen.map(label).into_iter().collect();
        let fitting = steps
            .map(every)
            .find(|labels| are_apart(labels, stand.plot.width));
        labels.extend(fitting.unwrap_or_else(|| every(self.in_a_year.max(1))));
        labels
    }
}

/// Whether all labels find a place with two blanks between them.
fn are_apart(labels: &[Label], width: u16) -> bool {
    let shown = axes::placed(labels, width, None);
    let end = |(at, start): (usize, u16)| start + text::width(&labels[at].1) as u16;
    let apart = |pair: &[(usize, u16)]| end(pair[0]) + 2 <= pair[1].1;
    shown.len() == labels.len() && shown.windows(2).all(apart)
}

/// Writes a word beside a mark where no other mark stands.
fn say(
    buffer: &mut Buffer,
    plot: Rect,
    at: Position,
    word: &str,
    taken: &mut Vec<Position>,
    theme: Theme,
) {
    let wide = text::width(word) as u16;
    let starts = [at.x + 2, at.x.saturating_sub(wide + 1)];
    for start in starts {
        let inside = start >= plot.x && start + wide <= plot.right();
        let cells = (start..start + wide).map(|x| Position::new(x, at.y));
        if inside && cells.clone().all(|cell| !taken.contains(&cell)) {
            buffer.set_string(start, at.y, word, theme.chart_signal());
            taken.extend(cells);
            return;
        }
    }
}

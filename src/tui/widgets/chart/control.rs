//! A control chart: the share of each period between its own limits, around the centre of all.
//!
//! ```text
//! 50 % ┤             ▲ high
//!      │▔▔▔▔▔▔▁▁▁▁▁▁│▔▔▔▔▔▔▔
//! 30 % ┤  •     •   │    •
//!      └──┬─────────┴─────┬──
//! ```

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;

use super::axes::{self, Label};
use super::canvas::{ACROSS, Canvas, DOWN};
use super::legend::Entry;
use super::scale::Scale;
use super::ticks;
use crate::tui::text;
use crate::tui::theme::Theme;

/// What the chart says of a period.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Mark {
    Inside,
    High,
    Low,
    RunHigh,
    RunLow,
    /// Too few draws for limits that mean much.
    Few,
}

impl Mark {
    const ALL: [Mark; 6] = [
        Mark::Inside,
        Mark::High,
        Mark::Low,
        Mark::RunHigh,
        Mark::RunLow,
        Mark::Few,
    ];

    pub(crate) const fn glyph(self, theme: Theme) -> &'static str {
        match self {
            Mark::Inside => theme.pick("•", "o"),
            Mark::High => theme.pick("▲", "^"),
            Mark::Low => theme.pick("▼", "v"),
            Mark::RunHigh => theme.pick("△", "'"),
            Mark::RunLow => theme.pick("▽", ","),
            Mark::Few => theme.pick("◦", "c"),
        }
    }

    const fn meaning(self) -> &'static str {
        match self {
            Mark::Inside => "share",
            Mark::High => "high: above the upper limit",
            Mark::Low => "low: below the lower limit",
            Mark::RunHigh => "run above the centre",
            Mark::RunLow => "run below the centre",
            Mark::Few => "few draws",
        }
    }

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

/// One period, the shares from 0 to 1.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Slot {
    /// As it is written below the axis.
    pub(crate) key: String,
    /// Which of its year's periods it is, from 1.
    pub(crate) ordinal: u32,
    pub(crate) share: Option<f64>,
    /// The lower and the upper limit.
    pub(crate) limits: Option<(f64, f64)>,
    pub(crate) mark: Mark,
}

/// What is drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Control {
    /// Oldest first.
    pub(crate) slots: Vec<Slot>,
    /// How many periods a year has.
    pub(crate) in_a_year: u32,
    pub(crate) centre: Option<f64>,
}

/// Where things stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Stand {
    pub(crate) plot: Rect,
    pub(crate) scale: Scale,
    /// The first period on screen and how many there are.
    pub(crate) first: usize,
    pub(crate) count: usize,
}

impl Stand {
    /// The cells of a period on screen, counted from the plot's left: the first one and the one
    /// behind the last.
    pub(crate) fn cells(&self, slot: usize) -> (u16, u16) {
        let width = usize::from(self.plot.width);
        let at = slot - self.first;
        let edge = |at: usize| (at * width / self.count.max(1)) as u16;
        (edge(at), edge(at + 1))
    }

    /// The cell in which a period's mark stands.
    pub(crate) fn middle(&self, slot: usize) -> u16 {
        let (from, to) = self.cells(slot);
        (from + to.max(from + 1) - 1) / 2
    }

    fn shown(&self) -> std::ops::Range<usize> {
        self.first..self.first + self.count
    }
}

impl Control {
    /// The ends of the axis: round numbers around every share and every limit that means much.
    pub(crate) fn ends(&self) -> (f64, f64) {
        let shares = self.slots.iter().filter_map(|slot| slot.share);
        let firm = self.slots.iter().filter(|slot| slot.mark != Mark::Few);
        let limits = firm.filter_map(|slot| slot.limits);
        let limits = limits.flat_map(|(low, high)| [low, high]);
        let all: Vec<f64> = shares.chain(limits).chain(self.centre).collect();
        let least = all.iter().copied().fold(f64::INFINITY, f64::min);
        let most = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if !(most >= least) {
            return (0.0, 1.0);
        }
        // One value alone stands in the middle of a tenth.
        let (least, most) = if most - least < 0.01 {
            (least - 0.05, most + 0.05)
        } else {
            (least, most)
        };
        let (bottom, top) = ticks::ends(least.max(0.0), most.min(1.0), 5);
        (bottom.max(0.0), top.min(1.0))
    }

    /// Where it stands in an area, so that the chosen period is on screen; none where there is
    /// no room or nothing to draw.
    pub(crate) fn stand(&self, area: Rect, chosen: Option<usize>) -> Option<Stand> {
        let plot = axes::plot(area, axes::SHARE_LABELS)?;
        let len = self.slots.len();
        if len == 0 {
            return None;
        }
        let count = len.min(usize::from(plot.width));
        let chosen = chosen.unwrap_or(len - 1).min(len - 1);
        // Whole windows from the newest period back, so that it stands still between them.
        let back = (len - 1 - chosen) / count * count;
        let (bottom, top) = self.ends();
        Some(Stand {
            plot,
            scale: Scale::even(bottom, top),
            first: (len - back).saturating_sub(count),
            count,
        })
    }

    /// The period under a cell of the plot or of the axis below it.
    pub(crate) fn at(&self, area: Rect, chosen: Option<usize>, at: Position) -> Option<usize> {
        let stand = self.stand(area, chosen)?;
        let plot = stand.plot;
        let reach = Rect {
            height: plot.height + axes::BELOW,
            ..plot
        };
        if !reach.contains(at) {
            return None;
        }
        let column = at.x - plot.x;
        let under = |slot: &usize| {
            let (from, to) = stand.cells(*slot);
            (from..to).contains(&column)
        };
        stand.shown().find(under)
    }

    /// What the signs mean; those of signals only where there are any.
    pub(crate) fn legend(&self, theme: Theme) -> Vec<Entry> {
        let occurs =
            |mark: &Mark| *mark == Mark::Inside || self.slots.iter().any(|slot| slot.mark == *mark);
        let mut entries: Vec<Entry> = Mark::ALL
            .into_iter()
            .filter(occurs)
            .map(|mark| (mark.glyph(theme), mark.meaning().to_owned()))
            .collect();
        // Those of few draws may all lie beyond the axis.
        let (bottom, top) = self.ends();
        let is_on = |limit: f64| (bottom..=top).contains(&limit);
        let mut limits = self.slots.iter().filter_map(|slot| slot.limits);
        if limits.any(|(low, high)| is_on(low) || is_on(high)) {
            entries.push((theme.pick("⠤⠤", "--"), "control limits".to_owned()));
        }
        entries.push((theme.pick("⠤ ⠤", "- -"), "centre of all".to_owned()));
        entries
    }

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
            let regular = |slot: &usize| (self.slots[*slot].ordinal.max(1) - 1) % step == 0;
            stand.shown().filter(regular).map(label).collect()
        };
        let steps = (1..=self.in_a_year).filter(|step| self.in_a_year % step == 0);
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

//! A control chart: the share of each period between its own limits, around the centre of all.
//!
//! ```text
//! 50 % ┤             ▲ high
//!      │▔▔▔▔▔▔▁▁▁▁▁▁│▔▔▔▔▔▔▔
//! 30 % ┤  •     •   │    •
//!      └──┬─────────┴─────┬──
//! ```

use ratatui::layout::{Position, Rect};

use super::axes;
use super::legend::Entry;
use super::scale::Scale;
use super::ticks;
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

    pub(super) fn shown(&self) -> std::ops::Range<usize> {
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
        if all.is_empty() {
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
}

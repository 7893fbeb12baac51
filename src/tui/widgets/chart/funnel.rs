//! A funnel: shares against the number of trials behind them, with the limits of chance.
//!
//! ```text
//! 60 % ┤⠢⣀  •  │
//!      │   ⠉⠒──◆ GEAR-2
//! 40 % ┤- - - -│- - - -
//!      │  ⢀⠤⠒⠉ │ ●
//! 20 % ┤⠔⠁     │
//!      └──┬────┴───┬──
//!        20   37  100
//! ```

use ratatui::layout::{Position, Rect};

use super::axes;
use super::canvas::{ACROSS, DOWN};
use super::legend::Entry;
use super::scale::Scale;
use super::ticks;
use crate::tui::theme::Theme;

/// The limits of chance at a number of trials: 99.8 % and 95 % below, 95 % and 99.8 % above.
pub(crate) type Limits = [f64; 4];

/// What is drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Funnel {
    /// The share of all together, from 0 to 1.
    pub(crate) centre: f64,
    /// One mark each: trials (above 0), share.
    pub(crate) dots: Vec<(u64, f64)>,
    /// The limits at growing numbers of trials, from fewer than those of any dot to more.
    pub(crate) curve: Vec<(u64, Limits)>,
}

/// Where things stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Stand {
    pub(crate) plot: Rect,
    pub(crate) across: Scale,
    pub(crate) up: Scale,
}

impl Stand {
    /// The cell of a dot, counted from the upper left of the plot.
    pub(crate) fn cell(&self, (trials, share): (u64, f64)) -> (u16, u16) {
        let (x, y) = self.dot((trials, share));
        ((x / ACROSS) as u16, (y / DOWN) as u16)
    }

    fn dot(&self, (trials, share): (u64, f64)) -> (usize, usize) {
        let across = usize::from(self.plot.width) * ACROSS;
        let down = usize::from(self.plot.height) * DOWN;
        (
            self.across.nearest(trials as f64, across),
            self.up.nearest_down(share, down),
        )
    }
}

/// Where the crosshair goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Toward {
    Left,
    Right,
    Up,
    Down,
}

impl Funnel {
    /// Nothing to draw without dots and limits.
    pub(crate) fn is_empty(&self) -> bool {
        self.dots.is_empty() || self.curve.is_empty()
    }

    /// The ends of the shares: round numbers around every dot and the limits in the middle; those
    /// of few trials reach from none to all and are cut off.
    fn ends(&self) -> (f64, f64) {
        let middle = self.curve[self.curve.len() / 2].1;
        let shares = || self.dots.iter().map(|(_, share)| *share);
        let most = shares().fold(middle[3], f64::max).min(1.0);
        let least = shares().fold(middle[0], f64::min).max(0.0);
        let (least, most) = if most - least < 0.01 {
            (least - 0.05, most + 0.05)
        } else {
            (least, most)
        };
        let (bottom, top) = ticks::ends(least, most, 5);
        (bottom.max(0.0), top.min(1.0))
    }

    /// Where it stands in an area; none where there is no room or nothing to draw.
    pub(crate) fn stand(&self, area: Rect) -> Option<Stand> {
        let plot = axes::plot(area, axes::SHARE_LABELS).filter(|_| !self.is_empty())?;
        let (bottom, top) = self.ends();
        let ends = [self.curve.first(), self.curve.last()];
        let [left, right] = ends.map(|end| end.map_or(1.0, |(trials, _)| *trials as f64));
        Some(Stand {
            plot,
            across: Scale::factors(left, right),
            up: Scale::even(bottom, top),
        })
    }

    /// The limits at a number of trials, straight between those that are known.
    pub(crate) fn limits(&self, trials: f64) -> Option<Limits> {
        let after = self
            .curve
            .partition_point(|(known, _)| (*known as f64) < trials);
        let (high, upper) = *self.curve.get(after).or(self.curve.last())?;
        let (low, lower) = *self.curve.get(after.saturating_sub(1))?;
        let part = if high > low {
            ((trials - low as f64) / (high - low) as f64).clamp(0.0, 1.0)
        } else {
            1.0
        };
        let mut limits = upper;
        for (limit, lower) in limits.iter_mut().zip(lower) {
            *limit = lower + part * (*limit - lower);
        }
        Some(limits)
    }

    /// The dot nearest to a cell of the plot.
    pub(crate) fn at(&self, area: Rect, at: Position) -> Option<usize> {
        let stand = self.stand(area)?;
        if !stand.plot.contains(at) {
            return None;
        }
        let (x, y) = (at.x - stand.plot.x, at.y - stand.plot.y);
        let far = |dot: &(u64, f64)| {
            let cell = stand.cell(*dot);
            let (across, down) = (u32::from(cell.0.abs_diff(x)), u32::from(cell.1.abs_diff(y)));
            // A cell is about twice as high as it is wide.
            across * across + 4 * down * down
        };
        (0..self.dots.len()).min_by_key(|dot| far(&self.dots[*dot]))
    }

    /// The nearest dot on one side of another, if there is one.
    pub(crate) fn toward(&self, area: Rect, from: usize, toward: Toward) -> Option<usize> {
        let stand = self.stand(area)?;
        let cell = |dot: usize| {
            let (x, y) = stand.cell(self.dots[dot]);
            (i64::from(x), 2 * i64::from(y))
        };
        let here = (from < self.dots.len()).then(|| cell(from))?;
        let measure = |dot: usize| {
            let there = cell(dot);
            let (x, y) = (there.0 - here.0, there.1 - here.1);
            let (along, aside) = match toward {
                Toward::Left => (-x, y),
                Toward::Right => (x, y),
                Toward::Up => (-y, x),
                Toward::Down => (y, x),
            };
            // What lies aside more than along is not in that direction, unless nothing else is.
            (along > 0).then(|| (aside.abs() > 2 * along, along + 2 * aside.abs(), along))
        };
        let found = (0..self.dots.len()).filter_map(|dot| Some((measure(dot)?, dot)));
        found.min().map(|(_, dot)| dot)
    }

    /// How many dots stand in the cell of this one, itself counted in.
    pub(crate) fn crowd(&self, area: Rect, dot: usize) -> usize {
        let (Some(stand), Some(own)) = (self.stand(area), self.dots.get(dot)) else {
            return 0;
        };
        let cell = stand.cell(*own);
        let same = |other: &&(u64, f64)| stand.cell(**other) == cell;
        self.dots.iter().filter(same).count()
    }

    /// What the signs mean; `each` is what a dot stands for.
    pub(crate) fn legend(&self, each: &str, theme: Theme) -> Vec<Entry> {
        vec![
            (CROWDS[0].glyph(theme), each.to_owned()),
            (CROWDS[1].glyph(theme), "2 to 4".to_owned()),
            (CROWDS[2].glyph(theme), "5 or more in one place".to_owned()),
            (chosen_glyph(theme), "chosen".to_owned()),
            (theme.pick("⠤⠤", "--"), "95 % limits of chance".to_owned()),
            (theme.pick("⠄⠄", ". ."), "99.8 %".to_owned()),
            (theme.pick("⠤ ⠤", "- -"), "share of all".to_owned()),
        ]
    }
}

/// How many dots stand in one cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Crowd {
    One,
    Some,
    Many,
}

const CROWDS: [Crowd; 3] = [Crowd::One, Crowd::Some, Crowd::Many];

impl Crowd {
    pub(super) const fn of(count: u32) -> Option<Self> {
        match count {
            0 => None,
            1 => Some(Crowd::One),
            2..=4 => Some(Crowd::Some),
            _ => Some(Crowd::Many),
        }
    }

    pub(super) const fn glyph(self, theme: Theme) -> &'static str {
        match self {
            Crowd::One => theme.pick("•", "o"),
            Crowd::Some => theme.pick("●", "O"),
            Crowd::Many => theme.pick("█", "@"),
        }
    }
}

/// The sign of the chosen dot.
pub(super) const fn chosen_glyph(theme: Theme) -> &'static str {
    theme.pick("◆", "#")
}

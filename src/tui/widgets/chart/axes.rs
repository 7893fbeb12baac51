//! The two axes of a chart: round numbers on the left, labels below that never overlap.
//!
//! ```text
//! 40 % ┤
//!      │        plot
//! 20 % ┤
//!      └───┬───────┬──────
//!        2026-01 2026-04
//! ```

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

use super::canvas::DOWN;
use super::scale::Scale;
use super::ticks;
use crate::tui::text;
use crate::tui::theme::Theme;

/// Rows below the plot: the axis and its labels.
pub(crate) const BELOW: u16 = 2;

/// A plot smaller than this says nothing.
const LEAST_WIDTH: u16 = 8;
const LEAST_HEIGHT: u16 = 3;

/// The plot of a chart whose labels on the left take so many cells, without their axis; none
/// where there is no room.
pub(crate) fn plot(area: Rect, labels: u16) -> Option<Rect> {
    let left = labels + 1;
    let plot = Rect {
        x: area.x + left,
        y: area.y,
        width: area.width.saturating_sub(left),
        height: area.height.saturating_sub(BELOW),
    };
    (plot.width >= LEAST_WIDTH && plot.height >= LEAST_HEIGHT).then_some(plot)
}

/// The row of a plot in which a value stands, counted from the top, if it is on the axis.
pub(crate) fn row(scale: Scale, value: f64, height: u16) -> Option<u16> {
    let dot = scale.place_down(value, usize::from(height) * DOWN)?;
    Some((dot / DOWN) as u16)
}

/// A share as a label of an axis: whole percents, or a decimal where they are told apart by
/// less.
pub(crate) fn percent(share: f64, step: f64) -> String {
    let decimals = usize::from(step < 0.01 - 1e-9);
    format!("{:.decimals$} %", share * 100.0)
}

/// About so many labels stand well on the left of a plot.
pub(crate) fn most_on_the_left(height: u16) -> usize {
    (usize::from(height) / 4).clamp(3, 6)
}

/// The axis of shares on the left: round percents, each at its row.
pub(crate) fn shares(buffer: &mut Buffer, plot: Rect, scale: Scale, theme: Theme) {
    let step = ticks::step(scale.to - scale.from, most_on_the_left(plot.height));
    let values = ticks::even(scale.from, scale.to, most_on_the_left(plot.height));
    let labels = values
        .into_iter()
        .map(|value| (value, percent(value, step)))
        .collect::<Vec<_>>();
    left(buffer, plot, scale, &labels, theme);
}

/// The cells that the widest label of [`shares`] takes, with a blank behind it.
pub(crate) const SHARE_LABELS: u16 = 7;

fn left(buffer: &mut Buffer, plot: Rect, scale: Scale, labels: &[(f64, String)], theme: Theme) {
    let faint = theme.axis();
    let x = plot.x - 1;
    for y in plot.top()..plot.bottom() {
        buffer.set_string(x, y, theme.pick("│", "|"), faint);
    }
    let mut taken = None;
    for (value, words) in labels {
        let Some(row) = row(scale, *value, plot.height) else {
            continue;
        };
        if taken == Some(row) {
            continue;
        }
        taken = Some(row);
        buffer.set_string(x, plot.y + row, theme.pick("┤", "+"), faint);
        at_left(buffer, plot, row, words, faint);
    }
}

/// Writes a label to the left of the axis in a row of the plot.
pub(crate) fn at_left(buffer: &mut Buffer, plot: Rect, row: u16, words: &str, style: Style) {
    let room = usize::from(plot.x.saturating_sub(1 + buffer.area.x));
    let words = text::cut(words, room.min(usize::from(SHARE_LABELS) - 1));
    let start = plot.x.saturating_sub(2 + text::width(&words) as u16);
    buffer.set_string(start, plot.y + row, words, style);
}

/// A label below a plot: the cell it stands under, counted from the plot's left, and its text.
pub(crate) type Label = (u16, String);

/// Which labels are shown and where each begins, from the left: those without overlap, a
/// blank between them. The one at `first` stands in any case; the others in their order.
pub(crate) fn placed(labels: &[Label], width: u16, first: Option<usize>) -> Vec<(usize, u16)> {
    let mut shown: Vec<(usize, u16, u16)> = Vec::new();
    let order = first.into_iter().chain(0..labels.len());
    for at in order {
        let Some((cell, words)) = labels.get(at) else {
            continue;
        };
        let wide = text::width(words) as u16;
        if wide == 0 || wide > width || shown.iter().any(|(other, ..)| *other == at) {
            continue;
        }
        let start = cell.saturating_sub(wide / 2).min(width - wide);
        let end = start + wide;
        let free = |(_, from, to): &(usize, u16, u16)| end < *from || start > *to;
        if shown.iter().all(free) {
            shown.push((at, start, end));
        }
    }
    shown.sort_by_key(|(_, start, _)| *start);
    shown
        .into_iter()
        .map(|(at, start, _)| (at, start))
        .collect()
}

/// The axis below a plot with its labels; the chosen one reversed.
pub(crate) fn below(
    buffer: &mut Buffer,
    plot: Rect,
    labels: &[Label],
    chosen: Option<usize>,
    theme: Theme,
) {
    let faint = theme.axis();
    let y = plot.bottom();
    buffer.set_string(plot.x - 1, y, theme.pick("└", "+"), faint);
    let line = theme.pick("─", "-").repeat(usize::from(plot.width));
    buffer.set_string(plot.x, y, line, faint);
    for (at, start) in placed(labels, plot.width, chosen) {
        let (cell, words) = &labels[at];
        let is_chosen = chosen == Some(at);
        let tick = if is_chosen {
            theme.pick("┴", "^")
        } else {
            theme.pick("┬", "+")
        };
        let cell = (*cell).min(plot.width - 1);
        let style = if is_chosen { theme.crosshair() } else { faint };
        buffer.set_string(plot.x + cell, y, tick, style);
        let style = if is_chosen { theme.chosen() } else { faint };
        buffer.set_string(plot.x + start, y + 1, words, style);
    }
}

/// The crosshair's lines through a cell of the plot, where nothing else stands.
pub(crate) fn crosshair(
    buffer: &mut Buffer,
    plot: Rect,
    column: Option<u16>,
    row: Option<u16>,
    theme: Theme,
) {
    let style = theme.crosshair();
    let mut put = |x: u16, y: u16, sign: &str| {
        if let Some(cell) = buffer.cell_mut((x, y))
            && cell.symbol() == " "
        {
            cell.set_symbol(sign).set_style(style);
        }
    };
    for y in plot.top()..plot.bottom() {
        if let Some(column) = column.filter(|column| *column < plot.width) {
            put(plot.x + column, y, theme.pick("│", "|"));
        }
    }
    for x in plot.left()..plot.right() {
        if let Some(row) = row.filter(|row| *row < plot.height) {
            put(x, plot.y + row, theme.pick("─", "-"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_plot_leaves_room_for_its_axes() {
        let plot = plot(Rect::new(2, 3, 40, 12), SHARE_LABELS);
        assert_eq!(plot, Some(Rect::new(10, 3, 32, 10)));
        assert_eq!(super::plot(Rect::new(0, 0, 15, 12), SHARE_LABELS), None);
        assert_eq!(super::plot(Rect::new(0, 0, 40, 4), SHARE_LABELS), None);
    }

    #[test]
    fn shares_stand_at_their_rows() {
        let scale = Scale::even(0.0, 0.4);
        let area = Rect::new(0, 0, 20, 11);
        let plot = plot(area, SHARE_LABELS).unwrap_or_default();
        let mut buffer = Buffer::empty(area);
        shares(&mut buffer, plot, scale, Theme::new(true, true));
        let line = |y: u16| -> String { (0..9).map(|x| buffer[(x, y)].symbol()).collect() };
        assert_eq!(line(0), "  40 % ┤ ");
        assert_eq!(line(4), "  20 % ┤ ");
        assert_eq!(line(8), "   0 % ┤ ");
        assert_eq!(line(1), "       │ ");
    }

    #[test]
    fn percents_have_a_decimal_only_where_they_need_it() {
        assert_eq!(percent(0.4, 0.1), "40 %");
        assert_eq!(percent(0.025, 0.005), "2.5 %");
    }

    proptest! {
        #[test]
        fn labels_never_overlap_and_stay_below_the_plot(
            width in 1u16..200, cells in proptest::collection::vec((0u16..220, 1usize..12), 0..60),
            first in 0usize..70
        ) {
            let labels: Vec<Label> =
                cells.into_iter().map(|(cell, wide)| (cell, "8".repeat(wide))).collect();
            let shown = placed(&labels, width, Some(first));
            let mut end = None;
            for (at, start) in &shown {
                prop_assert!(end.is_none_or(|end| *start > end));
                end = Some(start + labels[*at].1.len() as u16);
                prop_assert!(end.is_some_and(|end| end <= width));
            }
            if labels.get(first).is_some_and(|(_, words)| words.len() <= usize::from(width)) {
                prop_assert!(shown.iter().any(|(at, _)| *at == first));
            }
        }
    }
}

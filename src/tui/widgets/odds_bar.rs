//! An odds ratio with its interval on a line from an eighth to eightfold, 1 in the middle,
//! equal factors equally far apart.

use ratatui::text::Span;

use super::cells;
use super::interval_bar::{self, Shown};
use crate::tui::theme::Theme;

/// The odds ratio at the right end; its inverse stands at the left one.
pub(crate) const END: f64 = 8.0;

/// An odds ratio and its interval, all above 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Odds {
    pub(crate) ratio: f64,
    pub(crate) low: f64,
    pub(crate) high: f64,
}

/// `·····├──┊─●──┤·····`: exactly `width` cells. An interval that goes on beyond an end has
/// an arrow there, also in place of a ratio that lies beyond it.
pub(crate) fn spans(odds: Option<Odds>, width: usize, theme: Theme) -> Vec<Span<'static>> {
    let part = |ratio: f64| 0.5 + ratio.ln() / END.ln() / 2.0;
    let shown = Shown {
        share: odds.map(|odds| part(odds.ratio)),
        low: odds.map(|odds| part(odds.low)),
        high: odds.map(|odds| part(odds.high)),
        all: Some(0.5),
    };
    let mut line = interval_bar::line(shown, width, theme);
    let middle = cells::place(0.5, width);
    if let (Some(odds), Some(last)) = (odds, width.checked_sub(1)) {
        if line[middle].0 == theme.pick("─", "-") {
            line[middle].0 = theme.pick("┼", "+");
        }
        // The mark of the ratio is covered only where it would stand for another ratio.
        let dot = theme.pick("●", "o");
        if odds.low < 1.0 / END && (line[0].0 != dot || odds.ratio < 1.0 / END) {
            line[0].0 = theme.pick("◂", "<");
        }
        if odds.high > END && (line[last].0 != dot || odds.ratio > END) {
            line[last].0 = theme.pick("▸", ">");
        }
    }
    cells::spans(line)
}

/// What stands over the line: its ends and its middle.
pub(crate) fn heading(width: usize) -> String {
    if width < 9 {
        return " ".repeat(width);
    }
    let middle = cells::place(0.5, width);
    let mut words = format!("{:<middle$}1", "1/8");
    let rest = width - middle - 1;
    words.push_str(&format!("{:>rest$}", "8"));
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(odds: Option<(f64, f64, f64)>, theme: Theme) -> String {
        let odds = odds.map(|(ratio, low, high)| Odds { ratio, low, high });
        let spans = spans(odds, 13, theme);
        spans.iter().map(|span| span.content.as_ref()).collect()
    }

    #[test]
    fn equal_factors_are_equally_far_from_the_middle() {
        let fine = Theme::new(true, true);
        assert_eq!(drawn(Some((2.0, 1.0, 4.0)), fine), "······├─●─┤··");
        assert_eq!(drawn(Some((0.5, 0.25, 1.0)), fine), "··├─●─┤······");
        assert_eq!(drawn(Some((2.0, 0.5, 100.0)), fine), "····├─┼─●───▸");
        assert_eq!(drawn(Some((30.0, 4.0, 200.0)), fine), "······┊···├─▸");
        assert_eq!(drawn(Some((0.01, 0.001, 0.5)), fine), "◂───┤·┊······");
        assert_eq!(drawn(Some((7.9, 4.0, 20.0)), fine), "······┊···├─●");
        let plain = Theme::new(true, false);
        assert_eq!(drawn(Some((0.5, 0.01, 2.0)), plain), "<---o-+-]....");
        assert_eq!(drawn(None, fine), "······┊······");
        assert_eq!(heading(13), "1/8   1     8");
    }
}

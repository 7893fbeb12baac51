//! One period of a control chart, lying on its side: the share between its limits.

use ratatui::style::Modifier;
use ratatui::text::Span;

use super::cells::{self, Cells};
use crate::tui::theme::Theme;

/// The share, the limits of its period and the centre of all, each from 0 to 1.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Shown {
    pub(crate) share: Option<f64>,
    pub(crate) limits: Option<(f64, f64)>,
    pub(crate) centre: Option<f64>,
    /// The shares at the left and the right end of the line.
    pub(crate) ends: (f64, f64),
}

/// `··(···┊··●··)······`: exactly `width` cells.
pub(crate) fn spans(shown: Shown, width: usize, theme: Theme) -> Vec<Span<'static>> {
    let (left, right) = shown.ends;
    let at = |share: f64| cells::place((share - left) / (right - left), width);
    let faint = theme.faint();
    let mut cells: Cells = vec![(" ", faint); width];
    if width == 0 {
        return Vec::new();
    }
    if let Some((low, high)) = shown.limits {
        let (low, high) = (at(low), at(high));
        for cell in &mut cells[low..=high] {
            cell.0 = theme.pick("·", ".");
        }
        cells[low] = ("(", theme.plain());
        cells[high] = (")", theme.plain());
    }
    if let Some(centre) = shown.centre {
        cells[at(centre)] = (theme.pick("┊", ":"), faint);
    }
    if let Some(share) = shown.share {
        let bold = theme.plain().add_modifier(Modifier::BOLD);
        cells[at(share)] = (theme.pick("●", "o"), bold);
    }
    cells::spans(cells)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(shown: Shown, width: usize, theme: Theme) -> String {
        let spans = spans(shown, width, theme);
        spans.iter().map(|span| span.content.as_ref()).collect()
    }

    #[test]
    fn the_share_stands_between_or_beyond_its_limits() {
        let shown = Shown {
            share: Some(0.45),
            limits: Some((0.1, 0.4)),
            centre: Some(0.25),
            ends: (0.0, 0.5),
        };
        let fine = Theme::new(true, true);
        assert_eq!(drawn(shown, 11, fine), "  (··┊··)● ");
        let plain = Theme::new(true, false);
        assert_eq!(drawn(shown, 11, plain), "  (..:..)o ");
        assert_eq!(
            drawn(
                Shown {
                    share: None,
                    ..shown
                },
                11,
                fine
            ),
            "  (··┊··)  "
        );
        assert_eq!(drawn(shown, 0, fine), "");
    }
}

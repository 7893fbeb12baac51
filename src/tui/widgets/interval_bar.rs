//! A share with its interval on a line from 0 to 100 %.

use ratatui::style::Modifier;
use ratatui::text::Span;

use super::cells::{self, Cells};
use crate::tui::theme::Theme;

/// The share, its interval and the share of all for comparison, each from 0 to 1.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Shown {
    pub(crate) share: Option<f64>,
    pub(crate) low: Option<f64>,
    pub(crate) high: Option<f64>,
    pub(crate) all: Option<f64>,
}

/// `··├──●───┤··┊····`: exactly `width` cells.
pub(crate) fn spans(shown: Shown, width: usize, theme: Theme) -> Vec<Span<'static>> {
    cells::spans(line(shown, width, theme))
}

/// The same, cell by cell.
pub(super) fn line(shown: Shown, width: usize, theme: Theme) -> Cells {
    let at = |share: f64| cells::place(share, width);
    let faint = theme.faint();
    let mut cells: Cells = vec![(theme.pick("·", "."), faint); width];
    if width == 0 {
        return cells;
    }
    if let Some(all) = shown.all {
        cells[at(all)] = (theme.pick("┊", ":"), theme.plain());
    }
    if let (Some(share), Some(low), Some(high)) = (shown.share, shown.low, shown.high) {
        let (low, share, high) = (at(low), at(share), at(high));
        for cell in &mut cells[low..=high] {
            *cell = (theme.pick("─", "-"), theme.plain());
        }
        cells[low].0 = theme.pick("├", "[");
        cells[high].0 = theme.pick("┤", "]");
        cells[share] = (
            theme.pick("●", "o"),
            theme.plain().add_modifier(Modifier::BOLD),
        );
    }
    cells
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(shown: Shown, width: usize, theme: Theme) -> String {
        let spans = spans(shown, width, theme);
        spans.iter().map(|span| span.content.as_ref()).collect()
    }

    #[test]
    fn the_interval_lies_on_a_line_from_nothing_to_all() {
        let shown = Shown {
            share: Some(0.5),
            low: Some(0.2),
            high: Some(0.7),
            all: Some(0.9),
        };
        let fine = Theme::new(true, true);
        assert_eq!(drawn(shown, 11, fine), "··├──●─┤·┊·");
        assert_eq!(drawn(shown, 11, Theme::new(true, false)), "..[--o-].:.");
        assert_eq!(drawn(Shown::default(), 4, fine), "····");
        assert_eq!(drawn(shown, 0, fine), "");
        let none = Shown {
            share: Some(0.0),
            low: Some(0.0),
            high: Some(0.16),
            all: None,
        };
        assert_eq!(drawn(none, 11, fine), "●─┤········");
    }
}

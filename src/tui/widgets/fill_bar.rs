//! How much of something is filled: a bar, and a line of small ones over time.

use ratatui::text::Span;

use crate::tui::theme::Theme;

/// A share of 0 to 1 as a bar of exactly `width` cells; a share above 0 has at least one
/// cell, one below 1 never all.
pub(crate) fn spans(share: Option<f64>, width: usize, theme: Theme) -> Vec<Span<'static>> {
    let full = share.map_or(0, |share| cells(share, width));
    vec![
        Span::raw(theme.pick("█", "#").repeat(full)),
        Span::styled(theme.pick("·", ".").repeat(width - full), theme.faint()),
    ]
}

fn cells(share: f64, width: usize) -> usize {
    let share = share.clamp(0.0, 1.0);
    let near = (share * width as f64).round() as usize;
    if share > 0.0 && near == 0 {
        1.min(width)
    } else if share < 1.0 && near == width {
        width.saturating_sub(1)
    } else {
        near
    }
}

/// A share as one cell of eight heights, `·` for none at all and a blank where nothing is
/// known; in ASCII of three, `:` up to a third, `=` up to two, `#` above, `.` for none.
pub(crate) fn cell(share: Option<f64>, theme: Theme) -> &'static str {
    const FINE: [&str; 9] = ["·", "▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"];
    let Some(share) = share else { return " " };
    let plain = match share {
        ..=0.0 => ".",
        ..=0.333 => ":",
        ..=0.667 => "=",
        _ => "#",
    };
    theme.pick(FINE[cells(share, 8)], plain)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_is_full_or_empty_only_where_the_share_is() {
        for (share, expected) in [(0.0, 0), (0.01, 1), (0.5, 5), (0.99, 9), (1.0, 10)] {
            assert_eq!(cells(share, 10), expected, "{share}");
        }
        assert_eq!(cells(0.5, 0), 0);
        let fine = Theme::new(true, true);
        assert_eq!(cell(None, fine), " ");
        assert_eq!(cell(Some(0.0), fine), "·");
        assert_eq!(cell(Some(0.999), fine), "▇");
        let plain = |share| cell(Some(share), Theme::new(true, false));
        assert_eq!([0.0, 0.02, 0.5, 0.9].map(plain), [".", ":", "=", "#"]);
    }
}

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

/// Up to which share of blanks each height goes. What is recorded at all is blank on few draws:
/// in equal steps every month would look the same.
const STEPS: [f64; 8] = [0.01, 0.02, 0.05, 0.1, 0.2, 0.4, 0.7, 1.0];

/// A share of blanks as one cell of eight heights, `·` for none at all and a blank where nothing
/// is known; in ASCII of three, `:` up to 5 %, `=` up to 20 %, `#` above, `.` for none.
pub(crate) fn blanks(share: Option<f64>, theme: Theme) -> &'static str {
    const FINE: [&str; 8] = ["▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"];
    const PLAIN: [&str; 8] = [":", ":", ":", "=", "=", "#", "#", "#"];
    match share {
        None => " ",
        Some(share) if share <= 0.0 => theme.pick("·", "."),
        Some(share) => {
            let height = STEPS.iter().position(|most| share <= *most);
            let height = height.unwrap_or(STEPS.len() - 1);
            theme.pick(FINE[height], PLAIN[height])
        }
    }
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
        assert_eq!(blanks(None, fine), " ");
        let seen = |share| blanks(Some(share), fine);
        let shares = [0.0, 0.004, 0.02, 0.03, 0.06, 0.12, 0.3, 0.5, 0.99];
        assert_eq!(
            shares.map(seen),
            ["·", "▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"]
        );
        let plain = |share| blanks(Some(share), Theme::new(true, false));
        assert_eq!([0.0, 0.04, 0.12, 0.9].map(plain), [".", ":", "=", "#"]);
    }
}

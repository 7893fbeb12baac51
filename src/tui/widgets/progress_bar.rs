//! How far something long has come.

use ratatui::text::{Line, Span};

use crate::tui::app::Loading;
use crate::tui::text;
use crate::tui::theme::Theme;

/// What is being done with how much of it, and a bar of `width` cells where that is known.
pub(crate) fn lines(theme: Theme, loading: Loading, width: usize) -> Vec<Line<'static>> {
    let Loading { stage, done, total } = loading;
    let stage = if stage.is_empty() { "beginning" } else { stage };
    if total == 0 {
        return vec![Line::from(stage.to_owned())];
    }
    let part = (done as f64 / total as f64).clamp(0.0, 1.0);
    let full = ((part * width as f64) as usize).min(width);
    let percent = format!("{:.0} %", (part * 100.0).floor());
    let gap = width.saturating_sub(text::width(stage));
    vec![
        Line::from(vec![
            Span::raw(stage.to_owned()),
            Span::raw(text::right(&percent, gap)),
        ]),
        Line::from(vec![
            Span::raw(theme.pick("━", "=").repeat(full)),
            Span::styled(theme.pick("─", "-").repeat(width - full), theme.faint()),
        ]),
    ]
}

/// Cells of a short bar.
const SHORT: usize = 12;

/// A bar and a share in percent for a line that holds other things, too; nothing where it is
/// not known how much there is to do.
pub(crate) fn short(theme: Theme, loading: Loading) -> Vec<Span<'static>> {
    if loading.total == 0 {
        return Vec::new();
    }
    let part = (loading.done as f64 / loading.total as f64).clamp(0.0, 1.0);
    let full = ((part * SHORT as f64) as usize).min(SHORT);
    vec![
        Span::raw(theme.pick("━", "=").repeat(full)),
        Span::styled(theme.pick("┈", ".").repeat(SHORT - full), theme.faint()),
        Span::raw(format!(" {:3.0} %", (part * 100.0).floor())),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_bar_is_as_full_as_the_work_is_done() {
        let loading = Loading {
            stage: "reading",
            done: 5,
            total: 10,
        };
        let drawn: Vec<String> = lines(Theme::new(true, true), loading, 12)
            .iter()
            .map(ToString::to_string)
            .collect();
        assert_eq!(drawn, ["reading 50 %", "━━━━━━──────"]);
        let unknown = Loading {
            total: 0,
            ..loading
        };
        assert_eq!(lines(Theme::new(true, true), unknown, 12).len(), 1);
    }
}

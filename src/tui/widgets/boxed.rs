//! A box in the middle of the body with lines in it, for panels that lie over a screen.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::{Block, BorderType, Clear, Paragraph};

use crate::tui::text;
use crate::tui::theme::Theme;

/// Where a box for `rows` lines of `width` cells stands: in the middle of the body, as small as
/// it can be, its border counted in.
pub(crate) fn area(body: Rect, width: u16, rows: u16) -> Rect {
    let width = body.width.min(width.saturating_add(4));
    let height = body.height.min(rows.saturating_add(2));
    Rect {
        x: body.x + (body.width - width) / 2,
        y: body.y + (body.height - height) / 2,
        width,
        height,
    }
}

/// Where the lines stand: within the border, with a blank on either side.
pub(crate) fn inner(area: Rect) -> Rect {
    Rect {
        x: area.x + 2,
        y: area.y + 1,
        width: area.width.saturating_sub(4),
        height: area.height.saturating_sub(2),
    }
}

/// Which line of the box a cell belongs to, counted from the first on screen.
pub(crate) fn line_at(area: Rect, at: Position) -> Option<usize> {
    let inner = inner(area);
    let inside = at.x > area.x && at.x + 1 < area.right();
    (inside && at.y >= inner.y && at.y < inner.bottom()).then(|| usize::from(at.y - inner.y))
}

/// Draws the box over what is there.
pub(crate) fn view(
    frame: &mut Frame<'_>,
    area: Rect,
    title: &str,
    lines: Vec<Line<'static>>,
    theme: Theme,
) {
    let block = Block::bordered()
        .border_type(BorderType::Plain)
        .border_style(theme.line())
        .title(Span::styled(format!(" {title} "), theme.title()));
    clear(frame, area);
    frame.render_widget(block, area);
    frame.render_widget(Paragraph::new(lines), inner(area));
}

/// Clears what is below a box. A character of two cells that begins before the box goes as a
/// whole: the terminal would else keep its second half where the border is to stand.
pub(crate) fn clear(frame: &mut Frame<'_>, area: Rect) {
    if let Some(x) = area.x.checked_sub(1) {
        for y in area.y..area.bottom() {
            let cell = frame.buffer_mut().cell_mut((x, y));
            if let Some(cell) = cell.filter(|cell| text::width(cell.symbol()) > 1) {
                cell.set_symbol(" ");
            }
        }
    }
    frame.render_widget(Clear, area);
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use ratatui::Terminal;
    use ratatui::backend::TestBackend;

    use super::*;

    #[test]
    fn a_box_keeps_its_border_where_it_cuts_a_wide_character() {
        let mut terminal = Terminal::new(TestBackend::new(12, 4)).unwrap();
        let theme = Theme::new(false, true);
        let under = || Paragraph::new(vec![Line::from("\u{6cb9}".repeat(6)); 4]);
        terminal
            .draw(|frame| frame.render_widget(under(), frame.area()))
            .unwrap();
        terminal
            .draw(|frame| {
                frame.render_widget(under(), frame.area());
                let area = Rect::new(3, 0, 6, 4);
                view(
                    frame,
                    area,
                    "",
                    vec![Line::from("ab"), Line::from("cd")],
                    theme,
                );
            })
            .unwrap();
        let buffer = terminal.backend().buffer();
        let column = |x: u16| -> String { (0..4).map(|y| buffer[(x, y)].symbol()).collect() };
        assert_eq!(column(2), "    ");
        assert_eq!(column(3), "┌││└");
        assert_eq!(column(8), "┐││┘");
    }
}

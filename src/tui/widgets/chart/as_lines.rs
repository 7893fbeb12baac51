//! A picture as lines of text, to stand among other lines.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};

use crate::tui::text;

/// What `draw` puts into an area of this size, line by line.
pub(crate) fn lines(
    (width, height): (usize, usize),
    draw: impl FnOnce(&mut Buffer, Rect),
) -> Vec<Line<'static>> {
    let most = |cells: usize| cells.min(usize::from(u16::MAX / 64)) as u16;
    let area = Rect::new(0, 0, most(width), most(height));
    let mut buffer = Buffer::empty(area);
    draw(&mut buffer, area);
    (0..area.height).map(|y| line(&buffer, y)).collect()
}

fn line(buffer: &Buffer, y: u16) -> Line<'static> {
    let mut spans: Vec<Span<'static>> = Vec::new();
    let mut run: Option<(String, Style)> = None;
    let mut x = 0;
    while x < buffer.area.width {
        let cell = &buffer[(x, y)];
        let (symbol, style) = (cell.symbol(), cell.style());
        match &mut run {
            Some((words, of)) if *of == style => words.push_str(symbol),
            _ => {
                let before = run.replace((symbol.to_owned(), style));
                spans.extend(before.map(|(words, style)| Span::styled(words, style)));
            }
        }
        // A wide sign covers the cell behind it.
        x += text::width(symbol).max(1) as u16;
    }
    spans.extend(run.map(|(words, style)| Span::styled(words, style)));
    Line::from(spans)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_drawn_becomes_lines_and_keeps_its_looks() {
        let bold = Style::new().bold();
        let drawn = lines((6, 2), |buffer, area| {
            buffer.set_string(area.x + 1, area.y, "油a", bold);
        });
        let text: Vec<String> = drawn.iter().map(ToString::to_string).collect();
        assert_eq!(text, [" 油a  ", "      "]);
        assert_eq!(drawn[0].spans.len(), 3);
        assert!(lines((0, 0), |_, _| {}).is_empty());
    }
}

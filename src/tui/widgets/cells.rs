//! A line that is drawn cell by cell.

use ratatui::style::Style;
use ratatui::text::Span;

/// A glyph of one cell and how it looks.
pub(crate) type Cells = Vec<(&'static str, Style)>;

/// Which of `width` cells a part of the line, from 0 to 1, falls into.
pub(crate) fn place(part: f64, width: usize) -> usize {
    let last = width.saturating_sub(1);
    let part = if part.is_nan() { 0.0 } else { part };
    ((part.clamp(0.0, 1.0) * last as f64).round() as usize).min(last)
}

/// The cells as text, those that look alike together.
pub(crate) fn spans(cells: Cells) -> Vec<Span<'static>> {
    let mut spans: Vec<Span<'static>> = Vec::new();
    let mut run: Option<(String, Style)> = None;
    for (glyph, style) in cells {
        match &mut run {
            Some((text, of)) if *of == style => text.push_str(glyph),
            _ => {
                spans.extend(run.take().map(|(text, style)| Span::styled(text, style)));
                run = Some((glyph.to_owned(), style));
            }
        }
    }
    spans.extend(run.map(|(text, style)| Span::styled(text, style)));
    spans
}

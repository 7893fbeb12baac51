//! Dots finer than a cell: two across and four down in each, as Braille signs, or as near as
//! ASCII comes to them.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

use crate::tui::theme::Theme;

/// How many dots a cell has across and down.
pub(crate) const ACROSS: usize = 2;
pub(crate) const DOWN: usize = 4;

/// The bit of each dot in a Braille sign, row by row.
const BITS: [[u8; ACROSS]; DOWN] = [[0x01, 0x08], [0x02, 0x10], [0x04, 0x20], [0x40, 0x80]];

/// Dots that are on, and how each cell looks. The latest dot decides on its cell.
pub(crate) struct Canvas {
    width: usize,
    height: usize,
    cells: Vec<(u8, Style)>,
}

impl Canvas {
    /// An empty one of so many cells.
    pub(crate) fn new(width: u16, height: u16) -> Self {
        let (width, height) = (usize::from(width), usize::from(height));
        Canvas {
            width,
            height,
            cells: vec![(0, Style::new()); width * height],
        }
    }

    /// How many dots there are from left to right and from top to bottom.
    pub(crate) const fn dots(&self) -> (usize, usize) {
        (self.width * ACROSS, self.height * DOWN)
    }

    /// Sets a dot, counted from the upper left; one outside is let go.
    pub(crate) fn dot(&mut self, (x, y): (usize, usize), style: Style) {
        let (across, down) = self.dots();
        if x < across && y < down {
            let cell = &mut self.cells[y / DOWN * self.width + x / ACROSS];
            cell.0 |= BITS[y % DOWN][x % ACROSS];
            cell.1 = style;
        }
    }

    /// Dots from the one to the other, both included, without gaps.
    pub(crate) fn line(&mut self, from: (usize, usize), to: (usize, usize), style: Style) {
        let (across, down) = (from.0.abs_diff(to.0), from.1.abs_diff(to.1));
        let steps = across.max(down).max(1);
        let between = |from: usize, to: usize, step: usize| {
            let (from, to) = (from as f64, to as f64);
            (from + (to - from) * step as f64 / steps as f64).round() as usize
        };
        for step in 0..=steps {
            let at = (between(from.0, to.0, step), between(from.1, to.1, step));
            self.dot(at, style);
        }
    }

    /// Puts the cells that have dots into the buffer; the others keep what is there.
    pub(crate) fn draw(&self, buffer: &mut Buffer, area: Rect, theme: Theme) {
        let is_fine = theme.pick("u", "a") == "u";
        for (at, (bits, style)) in self.cells.iter().enumerate() {
            let (x, y) = ((at % self.width) as u16, (at / self.width) as u16);
            if *bits == 0 || x >= area.width || y >= area.height {
                continue;
            }
            if let Some(cell) = buffer.cell_mut((area.x + x, area.y + y)) {
                let sign = if is_fine { fine(*bits) } else { plain(*bits) };
                cell.set_char(sign).set_style(*style);
            }
        }
    }
}

/// The Braille sign with these dots.
fn fine(bits: u8) -> char {
    char::from_u32(0x2800 + u32::from(bits)).unwrap_or(' ')
}

/// The ASCII sign that lies where these dots lie: high, in the middle, low, or upright.
fn plain(bits: u8) -> char {
    let row = |at: usize| bits & (BITS[at][0] | BITS[at][1]) != 0;
    match [row(0), row(1), row(2), row(3)] {
        [false, false, false, false] => ' ',
        [true, false, false, false] | [true, true, false, false] => '\'',
        [false, true, false, false] | [false, false, true, false] | [false, true, true, false] => {
            '-'
        }
        [false, false, _, true] => '.',
        [true, false, _, true] | [true, false, true, false] | [false, true, false, true] => ':',
        _ => '|',
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn drawn(canvas: &Canvas, theme: Theme) -> Vec<String> {
        let area = Rect::new(0, 0, canvas.width as u16, canvas.height as u16);
        let mut buffer = Buffer::empty(area);
        canvas.draw(&mut buffer, area, theme);
        let row = |y| (0..area.width).map(|x| buffer[(x, y)].symbol()).collect();
        (0..area.height).map(row).collect()
    }

    #[test]
    fn a_dot_lights_its_own_part_of_its_cell() {
        for (at, cell, sign) in [
            ((0, 0), 0, "⠁"),
            ((1, 0), 0, "⠈"),
            ((0, 3), 0, "⡀"),
            ((3, 3), 1, "⢀"),
            ((2, 2), 1, "⠄"),
        ] {
            let mut canvas = Canvas::new(2, 1);
            canvas.dot(at, Style::new());
            let line = drawn(&canvas, Theme::new(true, true)).concat();
            let found = line.chars().nth(cell).map(String::from);
            assert_eq!(found.as_deref(), Some(sign), "{at:?}");
        }
    }

    #[test]
    fn a_line_reaches_from_end_to_end() {
        let mut canvas = Canvas::new(3, 1);
        canvas.line((0, 3), (5, 0), Style::new());
        assert_eq!(drawn(&canvas, Theme::new(true, true)), ["⡠⠔⠊"]);
        assert_eq!(drawn(&canvas, Theme::new(true, false)), [".-'"]);
    }

    #[test]
    fn in_ascii_the_height_within_a_cell_is_kept() {
        let mut canvas = Canvas::new(5, 1);
        for (cell, rows) in [vec![0], vec![1], vec![3], vec![0, 3], vec![0, 1, 2, 3]]
            .into_iter()
            .enumerate()
        {
            for row in rows {
                canvas.dot((2 * cell, row), Style::new());
            }
        }
        assert_eq!(drawn(&canvas, Theme::new(true, false)), ["'-.:|"]);
    }

    proptest! {
        #[test]
        fn lines_have_no_gaps_and_nothing_leaves_the_canvas(
            width in 1u16..40, height in 1u16..20,
            from in (0usize..90, 0usize..90), to in (0usize..90, 0usize..90)
        ) {
            let mut canvas = Canvas::new(width, height);
            canvas.line(from, to, Style::new());
            let lit: u32 = canvas.cells.iter().map(|(bits, _)| bits.count_ones()).sum();
            let longest = from.0.abs_diff(to.0).max(from.1.abs_diff(to.1)) as u32 + 1;
            prop_assert!(lit <= longest);
            let (across, down) = canvas.dots();
            let inside = |at: (usize, usize)| at.0 < across && at.1 < down;
            if inside(from) && inside(to) {
                prop_assert_eq!(lit, longest);
            }
            for theme in [Theme::new(true, true), Theme::new(true, false)] {
                drawn(&canvas, theme);
            }
        }
    }
}

//! Tables over pages, with their heads repeated.

use super::lines::{broken, widest_word};
use super::pages::{LEFT, Pages, Part, PartNumber, Style, WIDTH};
use crate::report::document::Table;
use crate::report::document::chart::{Anchor, Ink, Shape};

const CELL: Style = Style {
    size: 8.0,
    leading: 10.6,
    ink: Ink::Plain,
    bold: false,
};
const HEAD: Style = Style { bold: true, ..CELL };
const CAPTION: Style = Style {
    size: 9.5,
    leading: 14.0,
    ink: Ink::Plain,
    bold: true,
};
/// The room between columns.
const GAP: f64 = 10.0;
/// The room above and below the lines of a row.
const PAD: f64 = 3.0;

/// Sets a table.
pub fn table(pages: &mut Pages<'_>, table: &Table) {
    let texts: Vec<Vec<String>> = (table.rows.iter())
        .map(|row| {
            row.iter()
                .map(|cell| pages.faces.shown(cell).into_owned())
                .collect()
        })
        .collect();
    let heads: Vec<String> = (table.columns.iter())
        .map(|column| pages.faces.shown(column.text).into_owned())
        .collect();
    let widths = widths(pages, &heads, &texts);
    let aligned: Vec<bool> = table
        .columns
        .iter()
        .map(|column| column.is_number)
        .collect();
    let laid = Laid {
        widths: &widths,
        is_number: &aligned,
    };
    pages.need(CAPTION.leading + 4.0 * (CELL.leading + 2.0 * PAD));
    let part = pages.part(Part::Table, None);
    let caption = pages.part(Part::Paragraph, Some(part));
    pages.lines(caption, CAPTION, (LEFT, WIDTH), &table.caption);
    pages.y += 2.0;
    laid.head(pages, part, &heads, false);
    for row in &texts {
        laid.row(pages, part, &heads, row);
    }
    pages.y += 8.0;
}

/// Columns laid out.
struct Laid<'t> {
    widths: &'t [f64],
    is_number: &'t [bool],
}

impl Laid<'_> {
    fn broken(&self, pages: &Pages<'_>, style: Style, cells: &[String]) -> Vec<Vec<String>> {
        let face = pages.faces.face(style.bold);
        cells
            .iter()
            .zip(self.widths)
            .map(|(cell, width)| broken(face, cell, style.size, width - GAP))
            .collect()
    }

    /// The head; a repeated one is not read out again.
    fn head(&self, pages: &mut Pages<'_>, table: PartNumber, heads: &[String], again: bool) {
        let cells = self.broken(pages, HEAD, heads);
        let deepest = cells.iter().map(Vec::len).max().unwrap_or(1);
        let row = (!again).then(|| pages.part(Part::Row, Some(table)));
        let top = pages.y;
        for (place, lines) in cells.iter().enumerate() {
            let part = row.map(|row| pages.part(Part::Head, Some(row)));
            // Heads stand on the line below them.
            let down = (deepest - lines.len()) as f64 * HEAD.leading;
            self.cell(pages, part, HEAD, place, (top + PAD + down, lines));
        }
        pages.y = top + deepest as f64 * HEAD.leading + 2.0 * PAD;
        rule(pages, Ink::Plain, 0.9);
    }

    fn row(&self, pages: &mut Pages<'_>, table: PartNumber, heads: &[String], cells: &[String]) {
        let cells = self.broken(pages, CELL, cells);
        let deepest = cells.iter().map(Vec::len).max().unwrap_or(1);
        let row = pages.part(Part::Row, Some(table));
        let parts: Vec<PartNumber> = (cells.iter())
            .map(|_| pages.part(Part::Cell, Some(row)))
            .collect();
        let height = |lines: usize| lines as f64 * CELL.leading + 2.0 * PAD;
        let mut from = 0;
        while from < deepest {
            let rest = deepest - from;
            // A row that fits a page is not torn; a longer one is, line by line.
            let fit = ((pages.left() - 2.0 * PAD) / CELL.leading).floor().max(0.0) as usize;
            let is_torn = height(rest) > Pages::whole() - 40.0;
            if fit < rest && (!is_torn || fit == 0) {
                pages.turn();
                self.head(pages, table, heads, true);
                if !is_torn {
                    continue;
                }
            }
            let fit = ((pages.left() - 2.0 * PAD) / CELL.leading).floor().max(1.0) as usize;
            let now = rest.min(fit);
            let top = pages.y;
            for (place, lines) in cells.iter().enumerate() {
                let (begin, end) = (from.min(lines.len()), (from + now).min(lines.len()));
                let part = Some(parts[place]);
                self.cell(pages, part, CELL, place, (top + PAD, &lines[begin..end]));
            }
            pages.y = top + height(now);
            rule(pages, Ink::Grid, 0.6);
            from += now;
        }
    }

    fn cell(
        &self,
        pages: &mut Pages<'_>,
        part: Option<PartNumber>,
        style: Style,
        place: usize,
        (top, lines): (f64, &[String]),
    ) {
        let left = LEFT + self.widths[..place].iter().sum::<f64>();
        let (x, anchor) = if self.is_number[place] {
            let is_last = place + 1 == self.widths.len();
            let gap = if is_last { 0.0 } else { GAP };
            (left + self.widths[place] - gap, Anchor::End)
        } else {
            (left, Anchor::Start)
        };
        for (line, number) in lines.iter().zip(0..) {
            let foot = top + style.leading * (f64::from(number) + 0.5) + style.size * 0.34;
            pages.text(part, ((x, foot), anchor), style, line);
        }
    }
}

fn rule(pages: &mut Pages<'_>, ink: Ink, width: f64) {
    let y = pages.y;
    pages.draw(
        None,
        Shape::Line {
            points: vec![(LEFT, y), (LEFT + WIDTH, y)],
            ink,
            width,
            dashed: false,
        },
    );
}

/// The widths of the columns, which fill the page together: each as wide as its widest word
/// at least, the rest in proportion to what its texts would take on one line.
fn widths(pages: &Pages<'_>, heads: &[String], rows: &[Vec<String>]) -> Vec<f64> {
    let measured: Vec<(f64, f64)> = (heads.iter().enumerate())
        .map(|(place, head)| {
            let (bold, plain) = (pages.faces.face(true), pages.faces.face(false));
            let mut least = widest_word(bold, head);
            let mut whole = bold.width(head);
            for row in rows {
                least = least.max(widest_word(plain, &row[place]));
                whole = whole.max(plain.width(&row[place]));
            }
            (least * CELL.size + GAP, whole * CELL.size + GAP)
        })
        .collect();
    let sum = |of: fn(&(f64, f64)) -> f64| measured.iter().map(of).sum::<f64>();
    let (least, whole) = (sum(|it| it.0), sum(|it| it.1));
    if whole <= WIDTH {
        let spare = (WIDTH - whole) / measured.len() as f64;
        return measured.iter().map(|(_, whole)| whole + spare).collect();
    }
    if least >= WIDTH {
        return measured
            .iter()
            .map(|(least_one, _)| least_one * WIDTH / least)
            .collect();
    }
    let part = (WIDTH - least) / (whole - least);
    measured
        .iter()
        .map(|(least, whole)| least + (whole - least) * part)
        .collect()
}

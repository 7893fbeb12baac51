//! A list of rows under headings: which columns fit, how wide they are, and the rows that
//! are on screen.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use crate::tui::list::ListPlace;
use crate::tui::text;
use crate::tui::theme::Theme;

/// A column as a screen describes it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Column<Id> {
    pub(crate) id: Id,
    pub(crate) title: &'static str,
    /// The least width in cells.
    pub(crate) width: usize,
    /// How much of the room to spare it takes; 0 for none.
    pub(crate) grows: usize,
    /// Never wider than this.
    pub(crate) most: usize,
    /// Columns of high rank go first where there is no room.
    pub(crate) rank: u8,
    pub(crate) right: bool,
}

impl<Id> Column<Id> {
    /// A column of fixed width with its text on the left.
    pub(crate) const fn new(id: Id, title: &'static str, width: usize, rank: u8) -> Self {
        Column {
            id,
            title,
            width,
            grows: 0,
            most: width,
            rank,
            right: false,
        }
    }

    /// The same with its text on the right.
    pub(crate) const fn right(mut self) -> Self {
        self.right = true;
        self
    }

    /// The same, taking a part of the room to spare.
    pub(crate) const fn grows(mut self, part: usize, most: usize) -> Self {
        self.grows = part;
        self.most = most;
        self
    }
}

/// The columns that fit into `width` with a blank between them, and their widths. The
/// column for which `keep` holds stays as long as any.
pub(crate) fn fit<Id: Copy>(
    columns: &[Column<Id>],
    width: usize,
    keep: impl Fn(Id) -> bool,
) -> Vec<(Column<Id>, usize)> {
    let mut kept: Vec<Column<Id>> = columns.to_vec();
    let needed = |kept: &[Column<Id>]| {
        let cells: usize = kept.iter().map(|column| column.width).sum();
        cells + kept.len().saturating_sub(1)
    };
    while kept.len() > 1 && needed(&kept) > width {
        let last = kept
            .iter()
            .enumerate()
            .filter(|(_, column)| !keep(column.id))
            .max_by_key(|(at, column)| (column.rank, *at))
            .map(|(at, _)| at);
        let Some(last) = last else { break };
        kept.remove(last);
    }
    let mut spare = width.saturating_sub(needed(&kept));
    let mut widths: Vec<usize> = kept.iter().map(|column| column.width).collect();
    loop {
        let open = |at: &usize| kept[*at].grows > 0 && widths[*at] < kept[*at].most;
        let growing: Vec<usize> = (0..kept.len()).filter(open).collect();
        let parts: usize = growing.iter().map(|at| kept[*at].grows).sum();
        if parts == 0 || spare == 0 {
            break;
        }
        let before = spare;
        for at in growing {
            let part = (before * kept[at].grows / parts).max(1);
            let part = part.min(kept[at].most - widths[at]).min(spare);
            widths[at] += part;
            spare -= part;
        }
    }
    kept.into_iter().zip(widths).collect()
}

/// What a table shows beside its rows.
pub(crate) struct Look<'a> {
    pub(crate) theme: Theme,
    pub(crate) place: ListPlace,
    pub(crate) len: usize,
    /// Whether the keys act on this list.
    pub(crate) focused: bool,
    /// Whether the chosen row is shown at all.
    pub(crate) marked: bool,
    /// What is said where there are no rows.
    pub(crate) empty: &'a str,
}

/// One line of headings; the sorted column carries an arrow.
pub(crate) fn headings<Id: Copy>(
    columns: &[(Column<Id>, usize)],
    theme: Theme,
    sorted: impl Fn(Id) -> Option<bool>,
) -> Line<'static> {
    let mut spans = Vec::new();
    for (column, width) in columns {
        let arrow = sorted(column.id).map(|descending| {
            if descending {
                theme.pick("▼", "v")
            } else {
                theme.pick("▲", "^")
            }
        });
        let title = match arrow {
            Some(arrow) if column.right => format!("{arrow}{}", column.title),
            Some(arrow) => format!("{}{arrow}", column.title),
            None => column.title.to_owned(),
        };
        let title = if column.right {
            text::right(&title, *width)
        } else {
            text::left(&title, *width)
        };
        let style = if arrow.is_some() {
            theme.title()
        } else {
            theme.faint()
        };
        spans.push(Span::styled(title, style));
        spans.push(Span::raw(" "));
    }
    Line::from(spans)
}

/// The column whose heading stands at this cell, counted from the first of the list.
pub(crate) fn column_at<Id: Copy>(columns: &[(Column<Id>, usize)], cell: usize) -> Option<Id> {
    let mut start = 0;
    for (column, width) in columns {
        if (start..start + width).contains(&cell) {
            return Some(column.id);
        }
        start += width + 1;
    }
    None
}

/// One cell of text, cut and padded.
pub(crate) fn cell<Id>(
    column: &(Column<Id>, usize),
    value: &str,
    style: Style,
) -> Vec<Span<'static>> {
    let value = if column.0.right {
        text::right(value, column.1)
    } else {
        text::left(value, column.1)
    };
    vec![Span::styled(value, style)]
}

/// Draws the headings and the rows on screen.
pub(crate) fn view(
    frame: &mut Frame<'_>,
    area: Rect,
    headings: Line<'static>,
    look: &Look<'_>,
    row: impl Fn(usize) -> Line<'static>,
) {
    if area.height == 0 || area.width < 2 {
        return;
    }
    let height = usize::from(area.height) - 1;
    let mut place = look.place;
    place.settle(look.len, height);
    let mut lines = vec![headings];
    if look.len == 0 {
        let parts = text::wrap(look.empty, usize::from(area.width - 1)).into_iter();
        let style = look.theme.faint();
        lines.extend(parts.map(|part| Line::from(Span::styled(part, style))));
    }
    for at in place.offset..(place.offset + height).min(look.len) {
        let mut line = row(at);
        if at == place.cursor && look.marked {
            let gap = usize::from(area.width - 1).saturating_sub(line.width());
            line.spans.push(Span::raw(" ".repeat(gap)));
            line = if look.focused {
                look.theme.choose(line)
            } else {
                line.style(look.theme.resting())
            };
        }
        lines.push(line);
    }
    let inner = Rect {
        width: area.width - 1,
        ..area
    };
    frame.render_widget(Paragraph::new(lines), inner);
    scrollbar(frame, area, look.theme, place.offset, look.len);
}

/// A thumb in the last column where a list is longer than its place.
pub(crate) fn scrollbar(
    frame: &mut Frame<'_>,
    area: Rect,
    theme: Theme,
    offset: usize,
    len: usize,
) {
    let height = usize::from(area.height).saturating_sub(1);
    if len <= height || height == 0 {
        return;
    }
    let thumb = (height * height / len).max(1);
    let room = height - thumb;
    let start = (offset * room).div_ceil(len - height).min(room);
    let glyph = theme.pick("┃", "|");
    for at in start..start + thumb {
        let y = area.y + 1 + at as u16;
        let buffer = frame.buffer_mut();
        buffer.set_string(area.right() - 1, y, glyph, theme.line());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_of_high_rank_go_first_and_growing_ones_share_the_rest() {
        let columns = [
            Column::new('a', "a", 10, 0),
            Column::new('b', "b", 5, 2).grows(1, 100),
            Column::new('c', "c", 5, 1).grows(1, 6),
        ];
        let widths = |width, keep| -> Vec<(char, usize)> {
            fit(&columns, width, |id| id == keep)
                .into_iter()
                .map(|(column, width)| (column.id, width))
                .collect()
        };
        assert_eq!(widths(22, 'a'), [('a', 10), ('b', 5), ('c', 5)]);
        assert_eq!(widths(30, 'a'), [('a', 10), ('b', 12), ('c', 6)]);
        assert_eq!(widths(17, 'a'), [('a', 10), ('c', 6)]);
        assert_eq!(widths(17, 'b'), [('a', 10), ('b', 6)]);
        assert_eq!(widths(3, 'b'), [('b', 5)]);
    }

    #[test]
    fn the_heading_under_a_cell_is_found_and_the_blank_between_two_is_none() {
        let columns = [
            (Column::new('a', "a", 10, 0), 10),
            (Column::new('b', "b", 5, 0), 5),
        ];
        let found = [0, 9, 10, 11, 15, 16].map(|cell| column_at(&columns, cell));
        let expected = [Some('a'), Some('a'), None, Some('b'), Some('b'), None];
        assert_eq!(found, expected);
    }
}

//! Where things stand on the screen. Used by drawing and by update alike, so that a click
//! finds what was drawn and a page is as long as it looks.
//!
//! ```text
//! row 0     name of the program, screens, programme
//! row 1     the filter, how many draws are in view
//! row 2     a line
//! body
//! last row  the keys of this place, or a message
//! ```

use ratatui::layout::{Rect, Size};

/// Smaller terminals get a polite message.
pub(crate) const LEAST: Size = Size {
    width: 60,
    height: 20,
};

/// From this width on, panes stand side by side.
pub(crate) const SIDE_BY_SIDE: u16 = 118;

/// Whether everything can be shown.
pub(crate) const fn is_enough(size: Size) -> bool {
    size.width >= LEAST.width && size.height >= LEAST.height
}

/// Between header and hints.
pub(crate) const fn body(size: Size) -> Rect {
    Rect {
        x: 1,
        y: 3,
        width: size.width.saturating_sub(1),
        height: size.height.saturating_sub(4),
    }
}

/// The body from a quarter of its height on, for a few words that stand alone.
pub(crate) fn a_quarter_down(body: Rect) -> Rect {
    let down = (body.height / 4).min(8);
    Rect {
        y: body.y + down,
        height: body.height - down,
        ..body
    }
}

/// A list and what stands beside or below it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Pair {
    pub(crate) list: Rect,
    pub(crate) beside: Rect,
}

/// A list as wide as on a screen of 80 columns.
const AS_AT_80: u16 = 79;

/// Side by side where the width allows, else one below the other. `share` is the part of
/// the list in percent; it is never less wide than at 80 columns.
pub(crate) fn pair(body: Rect, share: u16) -> Pair {
    pair_of(body, share, AS_AT_80)
}

/// The same for a list that needs so many cells for the columns that it shows at 80 columns: more
/// room must not show less.
pub(crate) fn pair_of(body: Rect, share: u16, least: u16) -> Pair {
    if body.width >= SIDE_BY_SIDE {
        let width = (u32::from(body.width) * u32::from(share) / 100) as u16;
        let width = width.max(least);
        Pair {
            list: Rect { width, ..body },
            beside: Rect {
                x: body.x + width + 3,
                width: body.width.saturating_sub(width + 4),
                ..body
            },
        }
    } else {
        let height = body.height * 11 / 20;
        Pair {
            list: Rect { height, ..body },
            beside: Rect {
                y: body.y + height + 1,
                height: body.height.saturating_sub(height + 1),
                ..body
            },
        }
    }
}

/// The rows of a list below its heading.
pub(crate) const fn rows_of(list: Rect) -> usize {
    list.height.saturating_sub(1) as usize
}

/// Which row of a list a cell belongs to, counted from the first on screen.
pub(crate) fn row_at(list: Rect, x: u16, y: u16) -> Option<usize> {
    let inside = x >= list.x && x < list.right() && y > list.y && y < list.bottom();
    inside.then(|| usize::from(y - list.y - 1))
}

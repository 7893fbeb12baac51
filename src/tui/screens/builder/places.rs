//! Where the parts of the builder stand: used by drawing and by update alike.
//!
//! ```text
//! in force           │ site: the site of its point
//!   crew is Early    │ type to narrow the list       most draws first
//! narrow by          │ [x] North pit                            1,204
//!   verdict          │ [ ] South                                  310
//!   site             │
//! ──────────────────────────────────────────────────────────────────
//! 1,204 of 3,650 draws would be in view
//! crew:Early site:"North pit"
//! ```

use ratatui::layout::Rect;

use crate::tui::widgets::boxed;

/// The parts.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Places {
    pub(crate) frame: Rect,
    /// Terms and fields.
    pub(crate) fields: Rect,
    /// What the open field is, and what narrows its values; two lines.
    pub(crate) head: Rect,
    /// The values.
    pub(crate) values: Rect,
    /// The count, and the filter as it is written.
    pub(crate) foot: Rect,
}

/// Below this height the filter as it is written has one line, else two.
const TALL: u16 = 18;

/// Where everything stands in a body.
pub(crate) fn places(body: Rect) -> Places {
    let frame = boxed::area(body, 104, 30);
    let inner = boxed::inner(frame);
    let foot = if inner.height >= TALL { 4 } else { 3 };
    let lists = inner.height.saturating_sub(foot);
    let left = (inner.width * 2 / 5).min(34);
    let right = Rect {
        x: inner.x + left + 3,
        width: inner.width.saturating_sub(left + 3),
        ..inner
    };
    Places {
        frame,
        fields: Rect {
            width: left,
            height: lists,
            ..inner
        },
        head: Rect { height: 2, ..right },
        values: Rect {
            y: inner.y + 2,
            height: lists.saturating_sub(2),
            ..right
        },
        foot: Rect {
            y: inner.y + lists,
            height: foot,
            ..inner
        },
    }
}

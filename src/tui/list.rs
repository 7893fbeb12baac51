//! Where one stands in a list: the chosen row and the first row on screen.

use ratatui::layout::Rect;

use super::action::Command;
use super::layout;

/// A place in a list. Both numbers count rows from 0.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct ListPlace {
    /// The chosen row.
    pub(crate) cursor: usize,
    /// The first row on screen.
    pub(crate) offset: usize,
}

impl ListPlace {
    /// Moves the chosen row, keeping it in the list and on screen.
    pub(crate) fn step(&mut self, by: isize, len: usize, height: usize) {
        self.cursor = self.cursor.saturating_add_signed(by);
        self.settle(len, height);
    }

    /// Chooses a row.
    pub(crate) fn choose(&mut self, cursor: usize, len: usize, height: usize) {
        self.cursor = cursor;
        self.settle(len, height);
    }

    /// Scrolls without leaving the chosen row off screen.
    pub(crate) fn scroll(&mut self, by: isize, len: usize, height: usize) {
        let height = height.max(1);
        self.offset = self
            .offset
            .saturating_add_signed(by)
            .min(len.saturating_sub(height));
        let last = (self.offset + height - 1).min(len.saturating_sub(1));
        self.cursor = self.cursor.clamp(self.offset.min(last), last);
        self.settle(len, height);
    }

    /// A click on a cell of the list drawn in `area` chooses its row; on the chosen row it opens.
    pub(crate) fn click(
        &mut self,
        area: Rect,
        (x, y): (u16, u16),
        len: usize,
        height: usize,
    ) -> Option<Command> {
        let row = self.offset + layout::row_at(area, x, y)?;
        if row >= len {
            return None;
        }
        if row == self.cursor {
            return Some(Command::Open);
        }
        self.choose(row, len, height);
        None
    }

    /// Brings both numbers into a list of `len` rows of which `height` are on screen.
    pub(crate) fn settle(&mut self, len: usize, height: usize) {
        let height = height.max(1);
        self.cursor = self.cursor.min(len.saturating_sub(1));
        self.offset = self.offset.min(self.cursor).min(len.saturating_sub(height));
        if self.cursor >= self.offset + height {
            self.offset = self.cursor + 1 - height;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_list_without_room_still_shows_its_chosen_row() {
        let mut place = ListPlace::default();
        place.step(1, 1, 0);
        place.scroll(1, 1, 0);
        assert_eq!((place.cursor, place.offset), (0, 0));
    }

    proptest! {
        #[test]
        fn the_chosen_row_is_always_on_screen(
            moves in proptest::collection::vec((-30isize..30, 0usize..50, 0usize..20, 0u8..3), 1..40)
        ) {
            let mut place = ListPlace::default();
            for (by, len, height, what) in moves {
                match what {
                    0 => place.step(by, len, height),
                    1 => place.choose(by.unsigned_abs(), len, height),
                    _ => place.scroll(by, len, height),
                }
                prop_assert!(place.cursor < len.max(1));
                prop_assert!(place.offset <= place.cursor);
                prop_assert!(place.cursor < place.offset + height.max(1));
            }
        }
    }
}

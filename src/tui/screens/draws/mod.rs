//! Draws: the list, and beside it the draw opened up.

pub mod columns;
pub(crate) mod lanes;
pub(crate) mod opened;
pub(crate) mod reasons;
pub(crate) mod strip;
pub(crate) mod view;

use columns::Column;
use ratatui::layout::Rect;

use crate::tui::app::{App, Place};
use crate::tui::layout;
use crate::tui::list::ListPlace;

/// Where the user stands.
#[derive(Clone, Debug)]
pub(crate) struct DrawsState {
    pub(crate) column: Column,
    pub(crate) descending: bool,
    pub(crate) list: ListPlace,
    /// The chosen rule of the opened draw, in the order shown.
    pub(crate) rule: usize,
    /// The first line of the opened draw on screen.
    pub(crate) scroll: usize,
    /// The draws of the compartment take all of the body.
    pub(crate) picture: bool,
    /// The draw under the crosshair, as a row of the judged programme; the chosen one where
    /// there is none.
    pub(crate) mark: Option<u32>,
}

impl Default for DrawsState {
    fn default() -> Self {
        DrawsState {
            column: Column::Date,
            descending: true,
            list: ListPlace::default(),
            rule: 0,
            scroll: 0,
            picture: false,
            mark: None,
        }
    }
}

impl DrawsState {
    /// Sorts by a column, in the order in which it is mostly wanted.
    pub(crate) fn sort(&mut self, column: Column) {
        self.column = column;
        self.descending = column.begins_high();
    }

    /// Sorts by a column; by the one it is sorted by, the other way round.
    pub(crate) fn sort_or_turn(&mut self, column: Column) {
        if self.column == column {
            self.descending = !self.descending;
        } else {
            self.sort(column);
        }
    }

    /// The opened draw is shown from its beginning.
    pub(crate) fn reopen(&mut self) {
        self.rule = 0;
        self.scroll = 0;
        self.mark = None;
    }
}

/// Where list and opened draw stand; where there is room for one only, the place decides.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Panes {
    pub(crate) list: Option<Rect>,
    pub(crate) opened: Option<Rect>,
}

pub(crate) fn panes(app: &App) -> Panes {
    let body = layout::body(app.size);
    if body.width >= layout::SIDE_BY_SIDE || body.height >= 40 {
        let pair = layout::pair_of(body, 46, 71);
        Panes {
            list: Some(pair.list),
            opened: Some(pair.beside),
        }
    } else if app.place == Place::Opened {
        Panes {
            list: None,
            opened: Some(body),
        }
    } else {
        Panes {
            list: Some(body),
            opened: None,
        }
    }
}

/// Rows of the list on screen.
pub(crate) fn height(app: &App) -> usize {
    panes(app).list.map_or(1, layout::rows_of)
}

/// Lines of the opened draw on screen.
pub(crate) fn opened_height(app: &App) -> usize {
    panes(app).opened.map_or(1, |area| usize::from(area.height))
}

//! Records: what was taken in, what was refused, what is filled in, what to doubt.
//!
//! ```text
//! Ledger
//! batch  taken in          draws  refused  │ the chosen batch: its sheets,
//! 3      2026-03-04 09:30    120        4  │ what was refused first
//! ```
//!
//! Nothing here depends on the filter but the draws that a line leads to.

pub(crate) mod batch;
pub(crate) mod ledger;
pub(crate) mod view;

use std::sync::Arc;

use ratatui::Frame;
use ratatui::layout::{Position, Rect};

use crate::programme::{Import, ImportedSheet, Refused};
use crate::tui::action::Command;
use crate::tui::app::{App, Place};
use crate::tui::effect::{Effect, Fetch};
use crate::tui::frame::Screen;
use crate::tui::keymap::Zone;
use crate::tui::layout::{self, Pair};
use crate::tui::list::ListPlace;
use crate::tui::{moves, steps};

/// One batch of the ledger: an import with its sheets.
#[derive(Clone, Debug)]
pub struct Batch {
    /// Number, time, zone.
    pub import: Import,
    /// What was done with each sheet.
    pub sheets: Vec<ImportedSheet>,
}

/// The most refusals that a batch shows; the export holds all.
pub(crate) const MOST_REFUSED: u32 = 1000;

/// What has come for the screen.
#[derive(Clone, Default)]
pub(crate) struct RecordsFigures {
    pub(crate) ledger: Option<Arc<Vec<Batch>>>,
    /// What the batch of this number refused.
    pub(crate) refused: Option<(i64, Arc<Vec<Refused>>)>,
}

/// Where the user stands.
#[derive(Clone, Debug, Default)]
pub(crate) struct RecordsState {
    pub(crate) batches: ListPlace,
    /// Whether the chosen batch is opened.
    pub(crate) opened: bool,
    /// The chosen row among those that the batch refused.
    pub(crate) refused: ListPlace,
}

/// All batches, the latest first.
pub(crate) fn ledger(app: &App) -> &[Batch] {
    let ledger = app.figures.records.ledger.as_ref();
    ledger.map_or(&[], |ledger| ledger.as_slice())
}

/// The chosen batch.
pub(crate) fn chosen(app: &App) -> Option<&Batch> {
    ledger(app).get(app.screens.records.batches.cursor)
}

/// What the chosen batch refused, once it is known.
pub(crate) fn refused(app: &App) -> Option<&[Refused]> {
    let number = chosen(app)?.import.number;
    let (of, refused) = app.figures.records.refused.as_ref()?;
    (*of == number).then_some(refused.as_slice())
}

/// The line with the names of the views.
pub(crate) fn tabs_area(app: &App) -> Rect {
    Rect {
        height: 1,
        ..layout::body(app.size)
    }
}

/// Below the names of the views.
pub(crate) fn below(app: &App) -> Rect {
    let body = layout::body(app.size);
    let gap = if body.height >= 24 { 2 } else { 1 };
    Rect {
        y: body.y + gap,
        height: body.height.saturating_sub(gap),
        ..body
    }
}

/// Where the list and what stands beside it are drawn.
pub(crate) fn panes(app: &App) -> Pair {
    layout::pair(below(app), 52)
}

/// The list that the keys act on: how long it is and how many rows are on screen.
fn list_size(app: &App) -> (usize, usize) {
    if app.screens.records.opened {
        let len = refused(app).map_or(0, <[Refused]>::len);
        (len, layout::rows_of(batch::list_area(app)))
    } else {
        (ledger(app).len(), layout::rows_of(panes(app).list))
    }
}

fn list(app: &mut App) -> &mut ListPlace {
    let state = &mut app.screens.records;
    if state.opened {
        &mut state.refused
    } else {
        &mut state.batches
    }
}

fn list_area(app: &App) -> Rect {
    if app.screens.records.opened {
        batch::list_area(app)
    } else {
        panes(app).list
    }
}

/// The Records screen.
pub(crate) struct Records;

impl Screen for Records {
    fn zone(&self, app: &App) -> Zone {
        if app.screens.records.opened {
            Zone::Batch
        } else {
            Zone::Ledger
        }
    }

    fn hinted(&self, zone: Zone) -> &'static [Command] {
        use Command as C;
        match zone {
            Zone::Batch => &[C::Back, C::PageDown],
            _ => &[C::Open, C::Import, C::Back],
        }
    }

    fn hint(&self, zone: Zone, command: Command) -> Option<&'static str> {
        match (zone, command) {
            (Zone::Batch, Command::Back) => Some("to the ledger"),
            _ => None,
        }
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>) {
        view::view(app, frame);
    }

    fn ask(&self, app: &mut App, effects: &mut Vec<Effect>) {
        if app.unreadable || app.waiting.ledger {
            return;
        }
        let figures = &app.figures.records;
        let wanted = if figures.ledger.is_none() {
            Some(Fetch::Ledger)
        } else {
            let number = chosen(app).map(|batch| batch.import.number);
            number
                .filter(|number| figures.refused.as_ref().map(|(of, _)| of) != Some(number))
                .map(Fetch::Refused)
        };
        if let Some(wanted) = wanted {
            app.waiting.ledger = true;
            effects.push(Effect::Fetch(wanted));
        }
    }

    fn obey(&self, app: &mut App, command: Command, _effects: &mut Vec<Effect>) -> bool {
        if command == Command::Import {
            steps::go(app, Place::Import);
            return true;
        }
        let has_batch = chosen(app).is_some();
        let state = &mut app.screens.records;
        match command {
            Command::Open if state.opened => return true,
            Command::Open => state.opened = has_batch,
            Command::Back if state.opened => state.opened = false,
            _ => return false,
        }
        app.screens.records.refused = ListPlace::default();
        true
    }

    fn step(&self, app: &mut App, command: Command) {
        let (len, height) = list_size(app);
        if let Some(by) = moves::distance(command, height) {
            list(app).step(by, len, height);
        }
    }

    fn click(&self, app: &mut App, at: Position) -> Option<Command> {
        let (area, (len, height)) = (list_area(app), list_size(app));
        list(app).click(area, (at.x, at.y), len, height)
    }

    fn wheel(&self, app: &mut App, _at: Position, by: isize) {
        let (len, height) = list_size(app);
        list(app).scroll(by, len, height);
    }

    fn settle(&self, app: &mut App) {
        if app.figures.records.ledger.is_some() {
            let (len, height) = list_size(app);
            list(app).settle(len, height);
        }
    }
}

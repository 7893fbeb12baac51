//! Records: what was taken in, what was refused, what is filled in, what to doubt.
//!
//! ```text
//! Ledger   Coverage
//! batch  taken in          draws  refused  │ the chosen batch: its sheets,
//! 3      2026-03-04 09:30    120        4  │ what was refused first
//! ```
//!
//! Nothing here depends on the filter but the draws that a line leads to.

pub(crate) mod batch;
pub mod coverage;
pub mod exam;
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

/// What the screen shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Tab {
    #[default]
    Ledger,
    Coverage,
}

impl Tab {
    pub(crate) const ALL: [Tab; 2] = [Tab::Ledger, Tab::Coverage];

    /// The name at the top of the screen.
    pub(crate) const fn title(self) -> &'static str {
        match self {
            Tab::Ledger => " What was taken in ",
            Tab::Coverage => " What is filled in ",
        }
    }

    /// The view so many further on.
    fn turned(self, by: usize) -> Self {
        Tab::ALL[(self as usize + by) % Tab::ALL.len()]
    }
}

/// Where the user stands.
#[derive(Clone, Debug, Default)]
pub(crate) struct RecordsState {
    pub(crate) tab: Tab,
    pub(crate) batches: ListPlace,
    /// Whether the chosen batch is opened.
    pub(crate) opened: bool,
    /// The chosen row among those that the batch refused.
    pub(crate) refused: ListPlace,
    /// The chosen column.
    pub(crate) columns: ListPlace,
    pub(crate) order: coverage::Order,
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
    let below = below(app);
    match app.screens.records.tab {
        Tab::Ledger => layout::pair(below, 52),
        Tab::Coverage => {
            let width = usize::from(below.width).saturating_sub(1);
            let head = coverage::head(app, width).len() as u16;
            let rest = Rect {
                y: below.y + head,
                height: below.height.saturating_sub(head),
                ..below
            };
            layout::pair(rest, 64)
        }
    }
}

/// The list that the keys act on: how long it is and how many rows are on screen.
fn list_size(app: &App) -> (usize, usize) {
    if app.screens.records.tab == Tab::Coverage {
        (coverage::len(app), layout::rows_of(panes(app).list))
    } else if app.screens.records.opened {
        let len = refused(app).map_or(0, <[Refused]>::len);
        (len, layout::rows_of(batch::list_area(app)))
    } else {
        (ledger(app).len(), layout::rows_of(panes(app).list))
    }
}

fn list(app: &mut App) -> &mut ListPlace {
    let state = &mut app.screens.records;
    if state.tab == Tab::Coverage {
        &mut state.columns
    } else if state.opened {
        &mut state.refused
    } else {
        &mut state.batches
    }
}

fn list_area(app: &App) -> Rect {
    if app.screens.records.tab == Tab::Ledger && app.screens.records.opened {
        batch::list_area(app)
    } else {
        panes(app).list
    }
}

/// The Records screen.
pub(crate) struct Records;

impl Screen for Records {
    fn zone(&self, app: &App) -> Zone {
        match app.screens.records.tab {
            Tab::Ledger if app.screens.records.opened => Zone::Batch,
            Tab::Ledger => Zone::Ledger,
            Tab::Coverage => Zone::Coverage,
        }
    }

    fn hinted(&self, zone: Zone) -> &'static [Command] {
        use Command as C;
        match zone {
            Zone::Batch => &[C::Back, C::PageDown],
            Zone::Coverage => &[
                C::SortNext,
                C::PaneNext,
                C::EditFilter,
                C::DropTerm,
                C::Back,
            ],
            _ => &[C::Open, C::Import, C::PaneNext, C::Back],
        }
    }

    fn hint(&self, zone: Zone, command: Command) -> Option<&'static str> {
        match (zone, command) {
            (Zone::Batch, Command::Back) => Some("to the ledger"),
            (_, Command::PaneNext) => Some("next view"),
            _ => None,
        }
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>) {
        view::view(app, frame);
    }

    fn ask(&self, app: &mut App, effects: &mut Vec<Effect>) {
        if app.screens.records.tab == Tab::Coverage {
            return exam::ask(app, exam::Exam::Coverage, effects);
        }
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
        match command {
            Command::Import => {
                steps::go(app, Place::Import);
                return true;
            }
            Command::PaneNext | Command::PaneBack => {
                let by = if command == Command::PaneNext {
                    1
                } else {
                    Tab::ALL.len() - 1
                };
                app.screens.records.tab = app.screens.records.tab.turned(by);
                self.settle(app);
                return true;
            }
            Command::SortNext => {
                let state = &mut app.screens.records;
                state.order = state.order.next();
                state.columns = ListPlace::default();
                return true;
            }
            _ if app.screens.records.tab != Tab::Ledger => return false,
            _ => {}
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
        if at.y == tabs_area(app).y {
            if let Some(tab) = view::tab_at(app, at.x) {
                app.screens.records.tab = tab;
            }
            return None;
        }
        let (area, (len, height)) = (list_area(app), list_size(app));
        list(app).click(area, (at.x, at.y), len, height)
    }

    fn wheel(&self, app: &mut App, _at: Position, by: isize) {
        let (len, height) = list_size(app);
        list(app).scroll(by, len, height);
    }

    fn settle(&self, app: &mut App) {
        let is_known = match app.screens.records.tab {
            Tab::Ledger => app.figures.records.ledger.is_some(),
            Tab::Coverage => coverage::figures(app).is_some(),
        };
        if is_known {
            let (len, height) = list_size(app);
            list(app).settle(len, height);
        }
    }
}

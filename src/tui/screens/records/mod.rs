//! Records: what was taken in, what was refused, what is filled in, what to doubt.
//!
//! ```text
//! What was taken in   What is filled in   What is hard to believe
//! batch  taken in            new  refused  │ the chosen batch: its sheets,
//! 3      2026-03-04 09:30    120        4  │ what was refused first
//! ```
//!
//! The ledger is shown whatever the filter; what is filled in and what is hard to believe are
//! worked out over the draws in view.

pub(crate) mod asked;
pub(crate) mod batch;
pub mod brought;
pub mod coverage;
pub(crate) mod doubts;
pub mod exam;
pub(crate) mod ledger;
pub(crate) mod reached;
pub(crate) mod view;

use std::sync::Arc;

use ratatui::Frame;
use ratatui::layout::{Position, Rect};

use brought::Brought;

use crate::analysis::reach::Reach;
use crate::programme::{Batch, Refused};
use crate::tui::action::Command;
use crate::tui::app::{App, Place};
use crate::tui::command_line::CommandLine;
use crate::tui::effect::{Effect, Fetch};
use crate::tui::frame::Screen;
use crate::tui::keymap::Zone;
use crate::tui::layout::{self, Pair};
use crate::tui::list::ListPlace;
use crate::tui::narrower::Narrower;
use crate::tui::{moves, steps, update};

/// The most refusals that a batch shows; the export holds all.
pub(crate) const MOST_REFUSED: u32 = 1000;

/// What has come for the screen.
#[derive(Clone, Default)]
pub(crate) struct RecordsFigures {
    pub(crate) ledger: Option<Arc<Vec<Batch>>>,
    /// How far the records of each site reach.
    pub(crate) reached: Option<Arc<Vec<Reach>>>,
    /// What the batch of this number refused.
    pub(crate) refused: Option<(i64, Arc<Vec<Refused>>)>,
    /// What the batch of this number brought.
    pub(crate) brought: Option<(i64, Arc<Brought>)>,
}

/// What the screen shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Tab {
    #[default]
    Ledger,
    Coverage,
    Doubts,
}

impl Tab {
    pub(crate) const ALL: [Tab; 3] = [Tab::Ledger, Tab::Coverage, Tab::Doubts];

    /// The name at the top of the screen.
    pub(crate) const fn title(self) -> &'static str {
        match self {
            Tab::Ledger => " What was taken in ",
            Tab::Coverage => " What is filled in ",
            Tab::Doubts => " What is hard to believe ",
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
    /// Whether the keys act on what is said of its sheets, not on its refused rows.
    pub(crate) in_sheets: bool,
    /// The first line of that on screen.
    pub(crate) sheets_scroll: usize,
    /// The chosen row among those that the batch refused.
    pub(crate) refused: ListPlace,
    /// The chosen column.
    pub(crate) columns: ListPlace,
    pub(crate) order: coverage::Order,
    /// The chosen doubt.
    pub(crate) doubts: ListPlace,
    /// Whether it is opened.
    pub(crate) doubt_opened: bool,
    /// The chosen draw of its evidence.
    pub(crate) evidence: usize,
    /// The first line of it on screen.
    pub(crate) doubt_scroll: usize,
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

/// What the chosen batch brought, once it is known.
pub(crate) fn brought(app: &App) -> Option<&Brought> {
    let number = chosen(app)?.import.number;
    let (of, brought) = app.figures.records.brought.as_ref()?;
    (*of == number).then_some(brought)
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
        Tab::Ledger => layout::pair(below, 62),
        Tab::Coverage => layout::pair(under_head(app), 64),
        Tab::Doubts => layout::pair(under_head(app), 62),
    }
}

/// Below what is said above the list.
pub(crate) fn under_head(app: &App) -> Rect {
    let below = below(app);
    let width = usize::from(below.width).saturating_sub(1);
    let head = match app.screens.records.tab {
        Tab::Ledger => 0,
        Tab::Coverage => coverage::head(app, width).len() as u16,
        Tab::Doubts => doubts::head(app, width).len() as u16,
    };
    Rect {
        y: below.y + head,
        height: below.height.saturating_sub(head + legend_height(app)),
        ..below
    }
}

/// How many rows the words below the columns take.
fn legend_height(app: &App) -> u16 {
    let below = below(app);
    match app.screens.records.tab {
        Tab::Coverage if below.height >= 24 => {
            let width = usize::from(below.width).saturating_sub(1);
            coverage::legend(app, width).len() as u16
        }
        _ => 0,
    }
}

/// Where they stand.
pub(crate) fn legend_area(app: &App) -> Rect {
    let below = below(app);
    let height = legend_height(app);
    Rect {
        y: below.bottom() - height,
        height,
        ..below
    }
}

/// The list that the keys act on: how long it is and how many rows are on screen.
fn list_size(app: &App) -> (usize, usize) {
    if app.screens.records.tab == Tab::Coverage {
        (coverage::len(app), layout::rows_of(panes(app).list))
    } else if app.screens.records.tab == Tab::Doubts {
        (doubts::list_of(app).len(), layout::rows_of(panes(app).list))
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
    } else if state.tab == Tab::Doubts {
        &mut state.doubts
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

fn obey_doubts(app: &mut App, command: Command) -> bool {
    let state = &app.screens.records;
    match (command, state.doubt_opened) {
        (Command::Open, false) if doubts::chosen(app).is_some() => {
            let state = &mut app.screens.records;
            state.doubt_opened = true;
            state.evidence = 0;
            state.doubt_scroll = 0;
        }
        (Command::Open, true) => to_draws(app, doubts::narrower_of_evidence(app)),
        (Command::AddTerm, _) => to_draws(app, doubts::narrower(app)),
        (Command::Back, true) => app.screens.records.doubt_opened = false,
        _ => return false,
    }
    true
}

/// Goes to the draws behind a doubt.
fn to_draws(app: &mut App, narrower: Option<Narrower>) {
    if let Some(narrower) = narrower {
        update::narrow_to(app, &narrower, Place::Draws);
    }
}

/// In an opened doubt arrows go from draw to draw of the evidence, pages scroll.
fn step_doubt(app: &mut App, command: Command) {
    let area = under_head(app);
    let height = usize::from(area.height);
    let (Some(by), Some(page)) = (
        moves::distance(command, height),
        doubts::page(app, area, true),
    ) else {
        return;
    };
    let most = page.lines.len().saturating_sub(height);
    let state = &mut app.screens.records;
    let before = state.evidence;
    let is_arrow = matches!(command, Command::Up | Command::Down);
    if is_arrow {
        let last = page.evidence.len().saturating_sub(1);
        state.evidence = before.saturating_add_signed(by).min(last);
    }
    if state.evidence == before {
        // Past the first or the last draw arrows scroll too.
        let by = if is_arrow { by * 3 } else { by };
        state.doubt_scroll = state.doubt_scroll.saturating_add_signed(by).min(most);
    } else if let Some(lines) = page.evidence.get(state.evidence) {
        let shown = state.doubt_scroll..state.doubt_scroll + height;
        if lines.start < shown.start + 1 {
            state.doubt_scroll = lines.start.saturating_sub(1);
        } else if lines.end > shown.end {
            state.doubt_scroll = lines.end - height;
        }
        state.doubt_scroll = state.doubt_scroll.min(most);
    }
}

fn scroll_sheets(app: &mut App, by: isize) {
    let height = usize::from(batch::areas(app).0.height);
    let most = batch::about(app).len().saturating_sub(height);
    let state = &mut app.screens.records;
    state.sheets_scroll = state.sheets_scroll.saturating_add_signed(by).min(most);
}

fn works(app: &App, zone: Zone, command: Command) -> Option<bool> {
    use Command as C;
    let batch = chosen(app);
    Some(match (command, zone) {
        (C::Back, Zone::Batch | Zone::Doubt) => true,
        (C::Open, Zone::Ledger) => batch.is_some(),
        (C::Open, Zone::Doubts) => doubts::chosen(app).is_some(),
        (C::Open, Zone::Doubt) => doubts::narrower_of_evidence(app).is_some(),
        (C::Open | C::AddTerm, Zone::Coverage) => coverage::narrower(app).is_some(),
        (C::AddTerm, _) => doubts::narrower(app).is_some(),
        (C::TakeBack, _) => {
            let still_counts = |batch: &Batch| {
                batch.import.taken_back_in.is_none() && batch.import.takes_back.is_none()
            };
            !app.read_only && batch.is_some_and(still_counts)
        }
        (C::ExportRefused, _) => batch.is_some_and(|batch| batch.open_rows() > 0),
        (C::SortNext, Zone::Coverage) => coverage::len(app) > 1,
        (C::PaneNext, Zone::Batch) => refused(app).is_some_and(|rows| !rows.is_empty()),
        (C::PageDown, Zone::Batch) if app.screens.records.in_sheets => {
            let height = usize::from(batch::areas(app).0.height);
            app.screens.records.sheets_scroll + height < batch::about(app).len()
        }
        (C::PageDown, Zone::Batch) => {
            let (len, _) = list_size(app);
            app.screens.records.refused.cursor + 1 < len
        }
        (C::PageDown, Zone::Doubt) => {
            let area = under_head(app);
            let lines = doubts::page(app, area, true).map_or(0, |page| page.lines.len());
            app.screens.records.doubt_scroll + usize::from(area.height) < lines
        }
        _ => return None,
    })
}

/// The Records screen.
pub(crate) struct Records;

impl Screen for Records {
    fn zone(&self, app: &App) -> Zone {
        match app.screens.records.tab {
            Tab::Ledger if app.screens.records.opened => Zone::Batch,
            Tab::Ledger => Zone::Ledger,
            Tab::Coverage => Zone::Coverage,
            Tab::Doubts if app.screens.records.doubt_opened => Zone::Doubt,
            Tab::Doubts => Zone::Doubts,
        }
    }

    fn hinted(&self, zone: Zone) -> &'static [Command] {
        use Command as C;
        match zone {
            Zone::Batch => &[
                C::Back,
                C::ExportRefused,
                C::TakeBack,
                C::PaneNext,
                C::PageDown,
            ],
            Zone::Doubts => &[C::Open, C::AddTerm, C::PaneNext, C::EditFilter, C::Back],
            Zone::Doubt => &[C::Open, C::AddTerm, C::Back, C::PageDown],
            Zone::Coverage => &[
                C::Open,
                C::SortNext,
                C::PaneNext,
                C::EditFilter,
                C::DropTerm,
                C::Back,
            ],
            _ => &[C::Open, C::Import, C::TakeBack, C::PaneNext, C::Back],
        }
    }

    fn hint(&self, zone: Zone, command: Command) -> Option<&'static str> {
        match (zone, command) {
            (Zone::Batch, Command::Back) => Some("to the ledger"),
            (Zone::Coverage, Command::Open) => Some("draws without it"),
            (Zone::Doubt, Command::Open) => Some("the draw"),
            (Zone::Doubt | Zone::Doubts, Command::AddTerm) => Some("all its draws"),
            (Zone::Doubt, Command::Back) => Some("to the list"),
            (Zone::Batch, Command::PaneNext) => Some("sheets or rows"),
            (_, Command::PaneNext) => Some("next view"),
            _ => None,
        }
    }

    fn works(&self, app: &App, command: Command) -> Option<bool> {
        works(app, self.zone(app), command)
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>) {
        view::view(app, frame);
    }

    fn ask(&self, app: &mut App, effects: &mut Vec<Effect>) {
        match app.screens.records.tab {
            Tab::Ledger => {}
            Tab::Coverage => return exam::ask(app, exam::Exam::Coverage, effects),
            Tab::Doubts => return exam::ask(app, exam::Exam::Doubts, effects),
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
            Command::ExportRefused => {
                asked::export(app);
                return true;
            }
            Command::TakeBack => {
                asked::take_back(app);
                return true;
            }
            Command::PaneNext | Command::PaneBack if self.zone(app) == Zone::Batch => {
                app.screens.records.in_sheets ^= true;
                self.settle(app);
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
            Command::Open | Command::AddTerm if self.zone(app) == Zone::Coverage => {
                match coverage::narrower(app) {
                    Some(narrower) => to_draws(app, Some(narrower)),
                    None => app.message = coverage::why_no_narrower(app),
                }
                return true;
            }
            _ if app.screens.records.tab == Tab::Doubts => return obey_doubts(app, command),
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
        let nothing_refused = refused(app).is_some_and(<[Refused]>::is_empty);
        let state = &mut app.screens.records;
        state.refused = ListPlace::default();
        state.sheets_scroll = 0;
        // Where nothing was refused there is only what is said of the sheets.
        state.in_sheets = nothing_refused;
        true
    }

    fn step(&self, app: &mut App, command: Command) {
        if self.zone(app) == Zone::Doubt {
            return step_doubt(app, command);
        }
        if self.zone(app) == Zone::Batch && app.screens.records.in_sheets {
            let page = usize::from(batch::areas(app).0.height);
            let by = moves::distance(command, page);
            return scroll_sheets(app, by.unwrap_or(0));
        }
        let (len, height) = list_size(app);
        if let Some(by) = moves::distance(command, height) {
            list(app).step(by, len, height);
        }
    }

    fn command_line(&self, app: &App) -> Option<CommandLine> {
        Some(match app.screens.records.tab {
            Tab::Ledger if app.screens.records.opened => {
                let number = chosen(app)?.import.number;
                CommandLine::of("ledger show").and(&number.to_string())
            }
            Tab::Ledger => CommandLine::of("ledger"),
            Tab::Coverage => CommandLine::of("coverage").on(&app.filter),
            Tab::Doubts => CommandLine::of("doubts").on(&app.filter),
        })
    }

    fn choose(&self, app: &mut App, row: usize) {
        if self.zone(app) == Zone::Doubt {
            let last = doubts::chosen(app).map_or(0, |doubt| doubt.examples.len());
            app.screens.records.evidence = row.min(last.saturating_sub(1));
            return;
        }
        let (len, height) = list_size(app);
        list(app).choose(row, len, height);
    }

    fn click(&self, app: &mut App, at: Position) -> Option<Command> {
        if at.y == tabs_area(app).y {
            if let Some(tab) = view::tab_at(app, at.x) {
                app.screens.records.tab = tab;
            }
            return None;
        }
        if self.zone(app) == Zone::Doubt {
            let area = under_head(app);
            let page = doubts::page(app, area, true)?;
            let line = usize::from(at.y.checked_sub(area.y)?) + app.screens.records.doubt_scroll;
            let found = page
                .evidence
                .iter()
                .position(|lines| lines.contains(&line))?;
            let was = std::mem::replace(&mut app.screens.records.evidence, found);
            return (was == found).then_some(Command::Open);
        }
        if self.zone(app) == Zone::Batch {
            // A click gives the keys to what is said of the sheets, or to the rows.
            let in_sheets = batch::areas(app).0.contains(at);
            let has_rows = refused(app).is_some_and(|rows| !rows.is_empty());
            app.screens.records.in_sheets = in_sheets || !has_rows;
            self.settle(app);
        }
        let (area, (len, height)) = (list_area(app), list_size(app));
        if self.zone(app) == Zone::Coverage && at.y == area.y {
            if let Some(order) = coverage::heading_at(area, at.x) {
                app.screens.records.order = order;
                app.screens.records.columns = ListPlace::default();
            }
            return None;
        }
        list(app).click(area, (at.x, at.y), len, height)
    }

    fn wheel(&self, app: &mut App, at: Position, by: isize) {
        if self.zone(app) == Zone::Doubt {
            let area = under_head(app);
            let lines = doubts::page(app, area, true).map_or(0, |page| page.lines.len());
            let most = lines.saturating_sub(usize::from(area.height));
            let state = &mut app.screens.records;
            state.doubt_scroll = state.doubt_scroll.saturating_add_signed(by).min(most);
            return;
        }
        if self.zone(app) == Zone::Batch && batch::areas(app).0.contains(at) {
            return scroll_sheets(app, by);
        }
        let (len, height) = list_size(app);
        list(app).scroll(by, len, height);
    }

    fn settle(&self, app: &mut App) {
        let is_known = match app.screens.records.tab {
            Tab::Ledger => app.figures.records.ledger.is_some(),
            Tab::Coverage => coverage::figures(app).is_some(),
            Tab::Doubts => doubts::figures(app).is_some(),
        };
        if is_known {
            let (len, height) = list_size(app);
            list(app).settle(len, height);
        }
    }
}

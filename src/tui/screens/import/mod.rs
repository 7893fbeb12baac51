//! Taking a table in: choose it, see how it is read and what would be stored, change what is
//! not right, take it in, see what came of it.
//!
//! ```text
//! choosing → looking → looked at → taking in → done
//!                         ↓ ↑
//!                      tried out
//! ```
//!
//! Esc goes back a step; while something is under way it stops it, and nothing is changed.

pub(crate) mod choices;
pub(crate) mod edit;
pub(crate) mod how;
pub mod look;
pub(crate) mod map_rows;
pub(crate) mod map_view;
pub mod order;
pub(crate) mod picker;
pub(crate) mod report;
pub(crate) mod rows_view;
pub(crate) mod view;

use std::sync::Arc;

use ratatui::Frame;
use ratatui::layout::{Position, Rect};

use how::ReadHow;
use look::{Looked, Through};
use map_rows::{At, MapRow};
use order::{IntakeAnswer, IntakeOrder, Outcome, Seen};
use picker::{Picker, Row};

use crate::programme::folder::{What, path_of};
use crate::programme::{ImportReport, ImportRequest};
use crate::tui::action::Command;
use crate::tui::app::{App, Loading, Place};
use crate::tui::command_line::CommandLine;
use crate::tui::effect::Effect;
use crate::tui::frame::Screen;
use crate::tui::keymap::Zone;
use crate::tui::layout::{self, Pair};
use crate::tui::line_edit::LineEdit;
use crate::tui::list::ListPlace;
use crate::tui::screens::records::asked;
use crate::tui::screens::refused_list;
use crate::tui::undo::{self, Deed};
use crate::tui::{moves, steps};

/// How far taking in has come.
#[derive(Clone, Default)]
pub(crate) enum Stage {
    /// A file or folder is being chosen.
    #[default]
    Choosing,
    /// Its beginning is read, and a map proposed where it needs one.
    Looking,
    /// How it is read, and what would be stored.
    Looked,
    /// All of it is read and judged without being stored.
    Trying,
    /// What would come of it.
    Tried(Arc<ImportReport>),
    /// It is being taken in.
    Taking,
    /// What came of it.
    Done(Arc<ImportReport>),
    /// What went wrong, in words.
    Failed(String),
}

/// What is shown of a table that was looked at.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Tab {
    #[default]
    Map,
    Rows,
    Refused,
}

impl Tab {
    pub(crate) const ALL: [Tab; 3] = [Tab::Map, Tab::Rows, Tab::Refused];

    /// The name at the top of the screen.
    pub(crate) const fn title(self) -> &'static str {
        match self {
            Tab::Map => " How it is read ",
            Tab::Rows => " As it would be stored ",
            Tab::Refused => " Refused ",
        }
    }
}

/// What is changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Edit {
    /// A line of the map.
    Line(At),
    /// A column that is kept aside: the sheet, and its place there.
    Aside(usize, usize),
    /// How a file is read.
    How(ReadHow),
}

/// What the screen holds. It stays when the user looks elsewhere.
#[derive(Clone, Default)]
pub(crate) struct ImportState {
    pub(crate) stage: Stage,
    pub(crate) picker: Picker,
    /// What was chosen.
    pub(crate) request: ImportRequest,
    /// What was seen when it was looked at.
    pub(crate) looked: Looked,
    pub(crate) tab: Tab,
    /// The chosen row of the map.
    pub(crate) map: ListPlace,
    /// The chosen column of the rows as they would be stored.
    pub(crate) columns: ListPlace,
    /// The first of these rows on screen.
    pub(crate) across: usize,
    /// The sheet in view.
    pub(crate) sheet: usize,
    /// Something was changed while it was being looked at: it is looked at again.
    pub(crate) again: bool,
    /// The place among what is refused.
    pub(crate) refused: ListPlace,
    /// How far what is under way has come.
    pub(crate) progress: Loading,
    /// What is under way was asked to stop.
    pub(crate) stopping: bool,
}

impl ImportState {
    /// Offers tables of this folder.
    pub(crate) fn at(folder: &str) -> Self {
        ImportState {
            picker: Picker::at(folder),
            ..ImportState::default()
        }
    }

    pub(crate) const fn is_busy(&self) -> bool {
        matches!(self.stage, Stage::Looking | Stage::Trying | Stage::Taking)
    }

    fn report(&self) -> Option<&ImportReport> {
        match &self.stage {
            Stage::Tried(report) | Stage::Done(report) => Some(report),
            _ => None,
        }
    }
}

/// Something came from the thread that takes tables in.
pub(crate) fn answered(app: &mut App, answer: IntakeAnswer, effects: &mut Vec<Effect>) {
    app.waiting.intake = false;
    app.import.stopping = false;
    let answer = match answer {
        IntakeAnswer::TakenBack(batch, told) => {
            return asked::taken_back(app, batch, told, effects);
        }
        IntakeAnswer::Exported(batch, told) => return asked::exported(app, batch, told),
        IntakeAnswer::SheetsListed(folder, listing) => {
            app.sheet_entry.listed = Some((folder, listing));
            return;
        }
        IntakeAnswer::SheetRead(path, read) => {
            app.sheet_entry.read = Some((path, read));
            return;
        }
        other => other,
    };
    let state = &mut app.import;
    match answer {
        IntakeAnswer::TakenBack(..)
        | IntakeAnswer::Exported(..)
        | IntakeAnswer::SheetsListed(..)
        | IntakeAnswer::SheetRead(..) => {}
        IntakeAnswer::Listed(folder, listing) => {
            state.picker.keep(folder, listing);
            if state.picker.enters && state.picker.entries().is_some() {
                state.picker.enters = false;
                pick(app, effects);
            }
        }
        IntakeAnswer::Looked(_) if matches!(state.stage, Stage::Choosing) => {}
        IntakeAnswer::Looked(_) if std::mem::take(&mut state.again) => look_again(app, effects),
        IntakeAnswer::Looked(seen) => match seen {
            Seen::Looked(looked) => {
                let is_first = matches!(state.stage, Stage::Looking);
                state.looked = *looked;
                state.stage = Stage::Looked;
                if is_first {
                    begin_with_what_matters(app);
                }
            }
            Seen::Stopped => state.stage = Stage::Choosing,
            Seen::Failed(words) if matches!(state.stage, Stage::Looked) => {
                state.looked.problems = vec![words];
            }
            Seen::Failed(words) => state.stage = Stage::Failed(words),
        },
        IntakeAnswer::Saved(told) => asked::saved(app, told),
        IntakeAnswer::Tried(outcome) => {
            state.stage = match outcome {
                Outcome::Done(report) => Stage::Tried(report),
                Outcome::Stopped => Stage::Looked,
                Outcome::Failed(words) => Stage::Failed(words),
            };
        }
        IntakeAnswer::Taken(outcome) => {
            app.import.stage = match outcome {
                Outcome::Done(report) => {
                    undo::note(app, Deed::TakenIn(report.batch));
                    let stage = Stage::Done(report);
                    app.reload_quietly(effects);
                    stage
                }
                Outcome::Stopped => {
                    app.message = Some("Stopped; nothing was changed.".to_owned());
                    Stage::Looked
                }
                Outcome::Failed(words) => Stage::Failed(words),
            };
        }
    }
    moves::settle(app);
}

fn begin(app: &mut App, order: IntakeOrder, effects: &mut Vec<Effect>) {
    app.waiting.intake = true;
    app.import.progress = Loading::default();
    app.import.refused = ListPlace::default();
    effects.push(Effect::Intake(order));
}

/// Enter on a row of the picker.
fn pick(app: &mut App, effects: &mut Vec<Effect>) {
    let picker = &mut app.import.picker;
    picker.enters = picker.entries().is_none();
    let rows = picker.rows();
    let folder = picker.parts().0.to_owned();
    let chosen = match rows.get(picker.list.cursor) {
        Some(Row::Up) => return picker.go_up(),
        Some(Row::All(..)) => folder,
        Some(Row::Entry(entry)) if entry.what == What::Folder => {
            let name = entry.name.clone();
            return picker.enter(&name);
        }
        Some(Row::Entry(entry)) => {
            let path = format!("{folder}{}", entry.name);
            picker.set(&path);
            path
        }
        None => return,
    };
    app.import.request = ImportRequest {
        sheets: vec![path_of(&chosen)],
        who: app.who.clone(),
        ..ImportRequest::default()
    };
    look(app, effects);
}

/// Looks at what was chosen from the beginning.
fn look(app: &mut App, effects: &mut Vec<Effect>) {
    let state = &mut app.import;
    state.stage = Stage::Looking;
    state.looked = Looked::default();
    state.tab = Tab::Map;
    (state.map, state.columns) = (ListPlace::default(), ListPlace::default());
    (state.across, state.sheet, state.again) = (0, 0, false);
    let request = state.request.clone();
    begin(
        app,
        IntakeOrder::Look(request, Through::WhatItNeeds),
        effects,
    );
}

/// Looks again after a change of the map; what is under way is stopped first.
pub(crate) fn look_again(app: &mut App, effects: &mut Vec<Effect>) {
    if app.waiting.intake {
        if !std::mem::replace(&mut app.import.again, true) {
            effects.push(Effect::StopIntake);
        }
        return;
    }
    let through = match &app.import.looked.proposal {
        Some(proposal) => Through::Map(Arc::clone(proposal)),
        None => Through::WhatItNeeds,
    };
    let request = app.import.request.clone();
    begin(app, IntakeOrder::Look(request, through), effects);
}

/// A map that needs answers, or one that is new, is shown first; else the rows are.
fn begin_with_what_matters(app: &mut App) {
    let needs_map = app.import.looked.proposal.is_some();
    let previews = &app.import.looked.previews;
    let is_refused_whole = !previews.is_empty() && previews.iter().all(|it| it.rows.is_empty());
    app.import.tab = match needs_map {
        true => Tab::Map,
        false if is_refused_whole => Tab::Refused,
        false => Tab::Rows,
    };
    to_what_is_refused(app);
    // The first row is a title.
    app.import.map = ListPlace::default();
    step_map(app, 1);
}

/// What is refused is shown from the first sheet on of which something is.
fn to_what_is_refused(app: &mut App) {
    let state = &mut app.import;
    let previews = &state.looked.previews;
    let is_refused = |at: usize| previews.get(at).is_some_and(|it| !it.refusals.is_empty());
    if state.tab != Tab::Refused || is_refused(state.sheet) {
        return;
    }
    if let Some(first) = (0..previews.len()).find(|at| is_refused(*at)) {
        to_sheet(app, first);
    }
}

/// Shows another sheet from its beginning.
fn to_sheet(app: &mut App, sheet: usize) {
    let state = &mut app.import;
    state.sheet = sheet;
    (state.columns, state.refused) = (ListPlace::default(), ListPlace::default());
    state.across = 0;
}

/// The request with the map that was made for it.
fn whole_request(app: &App) -> ImportRequest {
    ImportRequest {
        map: app.import.looked.map.clone(),
        ..app.import.request.clone()
    }
}

/// Why it can't be taken in yet, if it can't.
fn what_lacks(app: &App) -> Option<String> {
    let state = &app.import;
    let open = state.looked.proposal.as_ref();
    let open = open.map_or(0, |proposal| proposal.questions().len());
    if open > 0 {
        Some(rows_view::counted(app))
    } else if !state.looked.problems.is_empty() {
        Some("Something is wrong with the map; it stands beside it.".to_owned())
    } else if app.waiting.intake {
        Some("It is still being looked at.".to_owned())
    } else {
        None
    }
}

/// Whether it can be taken in; says why not.
fn is_ready(app: &mut App) -> bool {
    app.message = what_lacks(app);
    app.message.is_none()
}

fn works(app: &App, command: Command) -> Option<bool> {
    use Command as C;
    let state = &app.import;
    let is_looked = matches!(state.stage, Stage::Looked);
    Some(match command {
        C::Back if !matches!(state.stage, Stage::Choosing) => true,
        C::TakeIn | C::TryAll if is_looked => what_lacks(app).is_none(),
        C::Open if matches!(state.stage, Stage::Choosing) => !state.picker.rows().is_empty(),
        C::Open if is_looked && state.tab == Tab::Map => !map_view::rows(app).is_empty(),
        C::Complete => {
            let mut completed = state.picker.clone();
            completed.complete();
            completed.line.text() != state.picker.line.text()
        }
        C::LeaveOut => edit::can_leave_out(app),
        C::SheetNext => state.sheet + 1 < state.looked.previews.len(),
        C::RowsNext => {
            let len = rows_view::shown(app).map_or(0, |preview| preview.rows.len());
            state.tab == Tab::Rows && state.across + rows_view::columns(app) < len
        }
        C::PageDown => {
            let (len, height) = list_size(app);
            state.refused.offset + height < len
        }
        _ => return None,
    })
}

/// Moves in the map; titles are passed over.
fn step_map(app: &mut App, by: isize) {
    let rows = map_view::rows(app);
    let height = layout::rows_of(panes(app).list);
    let list = &mut app.import.map;
    list.step(by, rows.len(), height);
    let on_title = |list: &ListPlace| rows.get(list.cursor).is_some_and(map_view::is_title);
    if on_title(list) {
        let by = if by > 0 || list.cursor == 0 { 1 } else { -1 };
        list.step(by, rows.len(), height);
    }
    // The title above the first row stays in view.
    if list.cursor == 1 {
        list.offset = 0;
    }
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

/// Where the map and what stands beside it are drawn.
pub(crate) fn panes(app: &App) -> Pair {
    layout::pair(below(app), 58)
}

/// The list that the keys act on: how long it is and how many rows are on screen.
fn list_size(app: &App) -> (usize, usize) {
    let state = &app.import;
    match state.report() {
        Some(report) => {
            let area = report::list_area(app, report);
            (report.first_refusals.len(), layout::rows_of(area))
        }
        None if matches!(state.stage, Stage::Looked) => match state.tab {
            Tab::Map => (map_view::rows(app).len(), layout::rows_of(panes(app).list)),
            Tab::Rows => (
                rows_view::columns_shown(app),
                layout::rows_of(rows_view::area(app)),
            ),
            Tab::Refused => (
                rows_view::shown(app).map_or(0, |preview| preview.refusals.len()),
                layout::rows_of(refused_list::list_area(rows_view::area(app))),
            ),
        },
        None => {
            let area = picker::list_area(app.size);
            (state.picker.rows().len(), layout::rows_of(area))
        }
    }
}

fn list(app: &mut App) -> &mut ListPlace {
    let state = &app.import;
    if state.report().is_some() {
        &mut app.import.refused
    } else if matches!(state.stage, Stage::Looked) {
        match state.tab {
            Tab::Map => &mut app.import.map,
            Tab::Rows => &mut app.import.columns,
            Tab::Refused => &mut app.import.refused,
        }
    } else {
        &mut app.import.picker.list
    }
}

/// Goes to the ledger, where the batch just taken in stands first.
fn to_ledger(app: &mut App) {
    steps::back(app);
    app.message = None;
    let records = &mut app.screens.records;
    records.tab = super::records::Tab::Ledger;
    records.opened = false;
    records.batches = ListPlace::default();
    steps::go(app, Place::Records);
}

/// Does what a key asked for where a table was looked at.
fn looked(app: &mut App, command: Command, effects: &mut Vec<Effect>) -> bool {
    match command {
        Command::Back => {
            if app.waiting.intake {
                effects.push(Effect::StopIntake);
            }
            app.import.stage = Stage::Choosing;
        }
        Command::PaneNext | Command::PaneBack => {
            let by = if command == Command::PaneNext {
                1
            } else {
                Tab::ALL.len() - 1
            };
            app.import.tab = Tab::ALL[(app.import.tab as usize + by) % Tab::ALL.len()];
            to_what_is_refused(app);
            moves::settle(app);
        }
        Command::Open if app.import.tab == Tab::Map => edit::begin(app),
        Command::LeaveOut if app.import.tab == Tab::Map => {
            if let Some(MapRow::Line(at)) = map_view::chosen(app) {
                edit::leave_out(app, &at, effects);
            }
        }
        Command::TakeIn if is_ready(app) => {
            app.import.stage = Stage::Taking;
            let request = whole_request(app);
            begin(app, IntakeOrder::Take(request), effects);
        }
        Command::TryAll if is_ready(app) => {
            app.import.stage = Stage::Trying;
            let request = whole_request(app);
            begin(app, IntakeOrder::Try(request), effects);
        }
        Command::TakeIn | Command::TryAll | Command::Open => {}
        Command::SaveMap => asked::save_map(app),
        Command::RowsNext | Command::RowsBack => {
            let len = rows_view::shown(app).map_or(0, |preview| preview.rows.len());
            let most = len.saturating_sub(rows_view::columns(app));
            let by = if command == Command::RowsNext { 1 } else { -1 };
            app.import.across = app.import.across.saturating_add_signed(by).min(most);
        }
        Command::SheetNext | Command::SheetBack => {
            let last = app.import.looked.previews.len().saturating_sub(1);
            let by = if command == Command::SheetNext { 1 } else { -1 };
            let sheet = app.import.sheet.saturating_add_signed(by).min(last);
            to_sheet(app, sheet);
        }
        _ => return false,
    }
    true
}

/// Taking a table in.
pub(crate) struct Import;

impl Screen for Import {
    fn zone(&self, app: &App) -> Zone {
        match app.import.stage {
            Stage::Choosing => Zone::ImportFile,
            Stage::Looking | Stage::Trying | Stage::Taking => Zone::ImportBusy,
            Stage::Looked if app.import.tab == Tab::Map => Zone::ImportMap,
            Stage::Looked => Zone::ImportRows,
            Stage::Tried(_) => Zone::ImportTried,
            Stage::Done(_) | Stage::Failed(_) => Zone::ImportDone,
        }
    }

    fn hinted(&self, zone: Zone) -> &'static [Command] {
        use Command as C;
        match zone {
            Zone::ImportFile => &[C::Open, C::Complete, C::Back, C::DeletePart],
            Zone::ImportMap => &[
                C::Open,
                C::TakeIn,
                C::PaneNext,
                C::LeaveOut,
                C::SaveMap,
                C::TryAll,
                C::Back,
            ],
            Zone::ImportRows => &[
                C::TakeIn,
                C::PaneNext,
                C::TryAll,
                C::SheetNext,
                C::RowsNext,
                C::Back,
            ],
            Zone::ImportTried => &[C::TakeIn, C::Back, C::PageDown],
            _ => &[C::Back],
        }
    }

    fn hint(&self, zone: Zone, command: Command) -> Option<&'static str> {
        match (zone, command) {
            (Zone::ImportFile, Command::Open) => Some("choose"),
            (Zone::ImportFile, Command::Back) => Some("leave it"),
            (Zone::ImportMap, Command::Open) => Some("change"),
            (Zone::ImportMap | Zone::ImportRows, Command::PaneNext) => Some("next view"),
            (Zone::ImportMap | Zone::ImportRows, Command::Back) => Some("choose another"),
            (Zone::ImportBusy, Command::Back) => Some("stop"),
            (Zone::ImportTried, Command::Back) => Some("one step back"),
            (Zone::ImportDone, Command::Back) => Some("go on"),
            _ => None,
        }
    }

    fn works(&self, app: &App, command: Command) -> Option<bool> {
        works(app, command)
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>) {
        view::view(app, frame);
    }

    fn ask(&self, app: &mut App, effects: &mut Vec<Effect>) {
        if !matches!(app.import.stage, Stage::Choosing) || app.waiting.intake {
            return;
        }
        if app.import.picker.entries().is_none() {
            let folder = app.import.picker.parts().0.to_owned();
            app.waiting.intake = true;
            effects.push(Effect::Intake(IntakeOrder::List(folder)));
        }
    }

    fn obey(&self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> bool {
        // Whoever goes on writing meant another path.
        app.import.picker.enters = false;
        match (&app.import.stage, command) {
            (Stage::Choosing, Command::Open) => pick(app, effects),
            (Stage::Choosing, Command::Complete) => app.import.picker.complete(),
            (Stage::Choosing, Command::DeletePart) => app.import.picker.cut_part(),
            (Stage::Choosing, Command::Back) => return false,
            (Stage::Choosing, other) if moves::distance(other, 1).is_none() => {
                app.import.picker.line.obey(other);
                app.import.picker.begin_anew();
            }
            (Stage::Looked, _) => return looked(app, command, effects),
            (Stage::Looking | Stage::Trying | Stage::Taking, Command::Back) => {
                app.import.stopping = true;
                effects.push(Effect::StopIntake);
            }
            (Stage::Tried(_), Command::TakeIn) => {
                app.import.stage = Stage::Taking;
                let request = whole_request(app);
                begin(app, IntakeOrder::Take(request), effects);
            }
            (Stage::Tried(_), Command::Back) => app.import.stage = Stage::Looked,
            (Stage::Failed(_), Command::Back | Command::Open) => {
                // What was said about the table is not lost.
                let is_known = !app.import.looked.previews.is_empty();
                app.import.stage = if is_known {
                    Stage::Looked
                } else {
                    Stage::Choosing
                };
            }
            (Stage::Done(_), Command::Back | Command::Open) => {
                app.import.stage = Stage::Choosing;
                to_ledger(app);
            }
            _ => return false,
        }
        true
    }

    fn insert(&self, app: &mut App, text: &str) {
        if matches!(app.import.stage, Stage::Choosing) {
            app.import.picker.enters = false;
            app.import.picker.line.insert(text);
            app.import.picker.begin_anew();
        }
    }

    fn line<'a>(&self, app: &'a App) -> Option<(&'static str, &'a LineEdit)> {
        let is_choosing = matches!(app.import.stage, Stage::Choosing);
        is_choosing.then_some((" table    ", &app.import.picker.line))
    }

    fn step(&self, app: &mut App, command: Command) {
        let (len, height) = list_size(app);
        if let Some(by) = moves::distance(command, height) {
            if self.zone(app) == Zone::ImportMap {
                return step_map(app, by);
            }
            list(app).step(by, len, height);
        }
    }

    /// A map that was changed here is known to no command line; it can be saved and named there.
    fn command_line(&self, app: &App) -> Option<CommandLine> {
        let state = &app.import;
        if matches!(state.stage, Stage::Choosing) {
            return None;
        }
        let sheet = state.request.sheets.first()?.to_str()?;
        let import = CommandLine::of("import").and(sheet);
        Some(match state.looked.proposal {
            Some(_) => import.and("--propose-map"),
            None => import.and("--dry-run"),
        })
    }

    fn choose(&self, app: &mut App, row: usize) {
        let (len, height) = list_size(app);
        let row = if self.zone(app) == Zone::ImportMap {
            let rows = map_view::rows(app);
            let mut own = (0..rows.len()).filter(|at| !map_view::is_title(&rows[*at]));
            own.nth(row).unwrap_or(len)
        } else {
            row
        };
        list(app).choose(row, len, height);
    }

    fn click(&self, app: &mut App, at: Position) -> Option<Command> {
        let is_looked = matches!(app.import.stage, Stage::Looked);
        if is_looked && at.y == tabs_area(app).y {
            if let Some(tab) = view::tab_at(app, at.x) {
                app.import.tab = tab;
                to_what_is_refused(app);
                self.settle(app);
            }
            return None;
        }
        let area = match (&app.import.stage, app.import.tab) {
            (Stage::Choosing, _) => picker::list_area(app.size),
            (Stage::Looked, Tab::Map) => panes(app).list,
            (Stage::Looked, Tab::Rows) => rows_view::area(app),
            (Stage::Looked, Tab::Refused) => refused_list::list_area(rows_view::area(app)),
            _ => report::list_area(app, app.import.report()?),
        };
        let (len, height) = list_size(app);
        let opens = list(app).click(area, (at.x, at.y), len, height);
        if is_looked && app.import.tab == Tab::Map {
            step_map(app, 0);
        }
        opens.filter(|_| matches!(self.zone(app), Zone::ImportFile | Zone::ImportMap))
    }

    fn wheel(&self, app: &mut App, _at: Position, by: isize) {
        let (len, height) = list_size(app);
        list(app).scroll(by, len, height);
    }

    fn settle(&self, app: &mut App) {
        let (len, height) = list_size(app);
        list(app).settle(len, height);
    }
}

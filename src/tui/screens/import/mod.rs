//! Taking a table in: choose it, see what would come of it, take it in, see what came of it.
//!
//! ```text
//! choosing → trying out → tried out → taking in → done
//! ```
//!
//! Esc goes back a step; while something is under way it stops it, and nothing is changed.

pub mod order;
pub(crate) mod picker;
pub(crate) mod report;
pub(crate) mod view;

use std::sync::Arc;

use ratatui::Frame;
use ratatui::layout::Position;

use order::{IntakeAnswer, IntakeOrder, Outcome};
use picker::{Picker, Row};

use crate::programme::folder::{What, path_of};
use crate::programme::{ImportReport, ImportRequest};
use crate::tui::action::Command;
use crate::tui::app::{App, Loading};
use crate::tui::effect::Effect;
use crate::tui::frame::Screen;
use crate::tui::keymap::Zone;
use crate::tui::layout;
use crate::tui::line_edit::LineEdit;
use crate::tui::list::ListPlace;
use crate::tui::screens::records::asked;
use crate::tui::{moves, steps};

/// How far taking in has come.
#[derive(Clone, Default)]
pub(crate) enum Stage {
    /// A file or folder is being chosen.
    #[default]
    Choosing,
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

/// What the screen holds. It stays when the user looks elsewhere.
#[derive(Clone, Default)]
pub(crate) struct ImportState {
    pub(crate) stage: Stage,
    pub(crate) picker: Picker,
    /// What was chosen.
    pub(crate) request: ImportRequest,
    /// The place among the refusals of a report.
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
        matches!(self.stage, Stage::Trying | Stage::Taking)
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
        other => other,
    };
    let state = &mut app.import;
    match answer {
        IntakeAnswer::TakenBack(..) | IntakeAnswer::Exported(..) => {}
        IntakeAnswer::Listed(folder, listing) => {
            state.picker.listed = Some((folder, listing));
        }
        IntakeAnswer::Tried(outcome) => {
            state.stage = match outcome {
                Outcome::Done(report) => Stage::Tried(report),
                Outcome::Stopped => Stage::Choosing,
                Outcome::Failed(words) => Stage::Failed(words),
            };
        }
        IntakeAnswer::Taken(outcome) => {
            app.import.stage = match outcome {
                Outcome::Done(report) => {
                    let stage = Stage::Done(report);
                    app.reload_quietly(effects);
                    stage
                }
                Outcome::Stopped => {
                    app.message = Some("Stopped; nothing was changed.".to_owned());
                    Stage::Choosing
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
    let rows = picker.rows();
    let folder = picker.parts().0.to_owned();
    let chosen = match rows.get(picker.list.cursor) {
        Some(Row::Up) => return picker.go_up(),
        Some(Row::All(_)) => folder,
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
    app.import.stage = Stage::Trying;
    let request = app.import.request.clone();
    begin(app, IntakeOrder::Try(request), effects);
}

/// The list that the keys act on: how long it is and how many rows are on screen.
fn list_size(app: &App) -> (usize, usize) {
    let state = &app.import;
    match state.report() {
        Some(report) => {
            let area = report::list_area(app, report);
            (report.first_refusals.len(), layout::rows_of(area))
        }
        None => {
            let area = picker::list_area(app);
            (state.picker.rows().len(), layout::rows_of(area))
        }
    }
}

fn list(app: &mut App) -> &mut ListPlace {
    if app.import.report().is_some() {
        &mut app.import.refused
    } else {
        &mut app.import.picker.list
    }
}

/// Taking a table in.
pub(crate) struct Import;

impl Screen for Import {
    fn zone(&self, app: &App) -> Zone {
        match app.import.stage {
            Stage::Choosing => Zone::ImportFile,
            Stage::Trying | Stage::Taking => Zone::ImportBusy,
            Stage::Tried(_) => Zone::ImportTried,
            Stage::Done(_) | Stage::Failed(_) => Zone::ImportDone,
        }
    }

    fn hinted(&self, zone: Zone) -> &'static [Command] {
        use Command as C;
        match zone {
            Zone::ImportFile => &[C::Open, C::Complete, C::Back, C::DeletePart],
            Zone::ImportTried => &[C::TakeIn, C::Back, C::PageDown],
            _ => &[C::Back],
        }
    }

    fn hint(&self, zone: Zone, command: Command) -> Option<&'static str> {
        match (zone, command) {
            (Zone::ImportFile, Command::Open) => Some("choose"),
            (Zone::ImportFile, Command::Back) => Some("leave it"),
            (Zone::ImportBusy, Command::Back) => Some("stop"),
            (Zone::ImportTried, Command::Back) => Some("choose another"),
            (Zone::ImportDone, Command::Back) => Some("to the ledger"),
            _ => None,
        }
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
        match (&app.import.stage, command) {
            (Stage::Choosing, Command::Open) => pick(app, effects),
            (Stage::Choosing, Command::Complete) => app.import.picker.complete(),
            (Stage::Choosing, Command::DeletePart) => app.import.picker.cut_part(),
            (Stage::Choosing, Command::Back) => return false,
            (Stage::Choosing, other) if moves::distance(other, 1).is_none() => {
                app.import.picker.line.obey(other);
                app.import.picker.list = ListPlace::default();
            }
            (Stage::Trying | Stage::Taking, Command::Back) => {
                app.import.stopping = true;
                effects.push(Effect::StopIntake);
            }
            (Stage::Tried(_), Command::TakeIn) => {
                app.import.stage = Stage::Taking;
                let request = app.import.request.clone();
                begin(app, IntakeOrder::Take(request), effects);
            }
            (Stage::Tried(_) | Stage::Failed(_), Command::Back) => {
                app.import.stage = Stage::Choosing;
            }
            (Stage::Done(_), Command::Back | Command::Open) => {
                app.import.stage = Stage::Choosing;
                steps::back(app);
            }
            _ => return false,
        }
        true
    }

    fn insert(&self, app: &mut App, text: &str) {
        if matches!(app.import.stage, Stage::Choosing) {
            app.import.picker.line.insert(text);
            app.import.picker.list = ListPlace::default();
        }
    }

    fn line<'a>(&self, app: &'a App) -> Option<(&'static str, &'a LineEdit)> {
        let is_choosing = matches!(app.import.stage, Stage::Choosing);
        is_choosing.then_some((" table    ", &app.import.picker.line))
    }

    fn step(&self, app: &mut App, command: Command) {
        let (len, height) = list_size(app);
        if let Some(by) = moves::distance(command, height) {
            list(app).step(by, len, height);
        }
    }

    fn click(&self, app: &mut App, at: Position) -> Option<Command> {
        let area = match &app.import.stage {
            Stage::Choosing => picker::list_area(app),
            _ => report::list_area(app, app.import.report()?),
        };
        let (len, height) = list_size(app);
        let opens = list(app).click(area, (at.x, at.y), len, height);
        opens.filter(|_| matches!(app.import.stage, Stage::Choosing))
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

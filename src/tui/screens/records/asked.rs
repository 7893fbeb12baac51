//! A line that is asked for before something is done: why a batch is taken back, where its
//! refused rows are written to.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::chosen;
use crate::programme::Batch;
use crate::tui::action::Command;
use crate::tui::app::{App, Loading, Over};
use crate::tui::effect::Effect;
use crate::tui::line_edit::LineEdit;
use crate::tui::screens::import::choices::Choices;
use crate::tui::screens::import::edit;
use crate::tui::screens::import::order::{IntakeOrder, TakeBack, Told};
use crate::tui::undo::{self, Deed};
use crate::tui::widgets::progress_bar;
use crate::tui::{forms, panels, text};

/// What the line is for.
#[derive(Clone, Debug)]
pub(crate) enum For {
    /// Why the batch of this number is taken back.
    TakeBack(i64),
    /// Where the refused rows of the batch of this number are written to.
    Export(i64),
    /// A value of how a table is read.
    Value(Box<Choices>),
    /// Where the map is written to.
    SaveMap,
}

/// The line while it is written.
#[derive(Clone, Debug)]
pub(crate) struct Asked {
    pub(crate) what: For,
    pub(crate) line: LineEdit,
    /// It was read once; the next time it is done.
    pub(crate) sure: bool,
    /// It is under way.
    pub(crate) busy: bool,
    /// It was done; nothing more is asked.
    pub(crate) done: bool,
    /// What went wrong.
    pub(crate) said: Option<String>,
}

impl Asked {
    fn new(what: For, text: &str) -> Self {
        Asked {
            what,
            line: LineEdit::new(text),
            sure: false,
            busy: false,
            done: false,
            said: None,
        }
    }

    /// What stands before the line.
    pub(crate) const fn title(&self) -> &'static str {
        match self.what {
            For::TakeBack(_) => " because  ",
            For::Export(_) | For::SaveMap => " file     ",
            For::Value(_) => " value    ",
        }
    }

    /// Takes typed or pasted text in.
    pub(crate) fn insert(&mut self, text: &str) {
        if !self.busy {
            self.line.insert(text);
            self.sure = false;
            self.said = None;
        }
    }
}

/// Asks why the chosen batch is to be taken back, if it can be.
pub(crate) fn take_back(app: &mut App) {
    let Some(batch) = chosen(app) else { return };
    let import = &batch.import;
    let number = import.number;
    let is_back = import.taken_back_in.is_some() || import.takes_back.is_some();
    if !is_back && !forms::is_named(app) {
        return;
    }
    let Some(batch) = chosen(app) else { return };
    let import = &batch.import;
    app.message = if let Some(by) = import.taken_back_in {
        Some(format!(
            "Batch {number} was taken back already, by batch {by}."
        ))
    } else if let Some(other) = import.takes_back {
        Some(format!(
            "Batch {number} took batch {other} back; to have that again, take its sheets in again."
        ))
    } else if app.waiting.intake {
        Some("A table is being taken in; wait until that is done.".to_owned())
    } else {
        app.over = Some(Over::Asked(Asked::new(For::TakeBack(number), "")));
        None
    };
}

/// Asks where the open refused rows of the chosen batch are to be written to.
pub(crate) fn export(app: &mut App) {
    let Some(batch) = chosen(app) else { return };
    let number = batch.import.number;
    if batch.open_rows() == 0 {
        app.message = Some(format!("Batch {number} has no refused row left to mend."));
        return;
    }
    let name = format!("{}refused-{number}.csv", app.beside);
    app.over = Some(Over::Asked(Asked::new(For::Export(number), &name)));
}

/// Does what a key asked for in the line.
pub(crate) fn obey(app: &mut App, mut asked: Asked, command: Command, effects: &mut Vec<Effect>) {
    match command {
        Command::Back if asked.busy => {
            app.import.stopping = true;
            effects.push(Effect::StopIntake);
        }
        Command::Back => return,
        Command::GoOn if asked.busy => {}
        Command::GoOn => {
            go_on(app, &mut asked, effects);
            if asked.done {
                return;
            }
        }
        other if !asked.busy => {
            let before = asked.line.clone();
            asked.line.obey(other);
            if asked.line.text() != before.text() {
                asked.sure = false;
                asked.said = None;
            }
        }
        _ => {}
    }
    app.over = Some(Over::Asked(asked));
}

fn go_on(app: &mut App, asked: &mut Asked, effects: &mut Vec<Effect>) {
    let batch = match &asked.what {
        For::TakeBack(batch) => *batch,
        For::Value(choices) => {
            let edit = choices.edit.clone();
            let value = edit::as_value(app, &edit, asked.line.text());
            match edit::apply(app, &edit, &value, effects) {
                Ok(()) => asked.done = true,
                Err(words) => asked.said = Some(words),
            }
            return;
        }
        For::SaveMap => {
            let to = asked.line.text().trim().to_owned();
            let yaml = app.import.looked.proposal.as_ref().map(|of| of.yaml());
            if to.is_empty() {
                asked.said = Some("Please name a file.".to_owned());
            } else if app.waiting.intake {
                asked.said = Some("It is still being looked at.".to_owned());
            } else if let Some(yaml) = yaml {
                asked.busy = true;
                app.waiting.intake = true;
                effects.push(Effect::Intake(IntakeOrder::SaveMap(yaml, to)));
            }
            return;
        }
        For::Export(batch) => {
            let batch = *batch;
            let to = asked.line.text().trim().to_owned();
            if to.is_empty() {
                asked.said = Some("Please name a file.".to_owned());
            } else if !app.waiting.intake {
                asked.busy = true;
                asked.said = None;
                app.waiting.intake = true;
                effects.push(Effect::Intake(IntakeOrder::Export(batch, to)));
            }
            return;
        }
    };
    let because = asked.line.text().trim().to_owned();
    if because.is_empty() {
        asked.said = Some("Please say why, in a few words.".to_owned());
    } else if !asked.sure {
        asked.sure = true;
    } else if let Some(who) = app.who.clone() {
        asked.busy = true;
        asked.said = None;
        app.waiting.intake = true;
        app.import.progress = Loading::default();
        effects.push(Effect::Intake(IntakeOrder::TakeBack(TakeBack {
            batch,
            who,
            because,
        })));
    }
}

/// Asks for a value that is written, instead of one that is chosen.
pub(crate) fn write(app: &mut App, choices: Choices) {
    let written = choices.written.clone();
    app.over = Some(Over::Asked(Asked::new(
        For::Value(Box::new(choices)),
        &written,
    )));
}

/// Asks where the map is to be written to.
pub(crate) fn save_map(app: &mut App) {
    if app.import.looked.proposal.is_none() {
        app.message = Some("Its columns are ours; it needs no map.".to_owned());
        return;
    }
    let name = format!("{}columns.yaml", app.beside);
    app.over = Some(Over::Asked(Asked::new(For::SaveMap, &name)));
}

/// The map was written, or not.
pub(crate) fn saved(app: &mut App, told: Told) {
    match (told, &mut app.over) {
        (Told::Failed(words), Some(Over::Asked(asked))) => {
            asked.busy = false;
            asked.said = Some(words);
        }
        (Told::Done(words) | Told::Failed(words), over) => {
            *over = None;
            app.message = Some(words);
        }
        (Told::Stopped, over) => *over = None,
    }
}

/// The refused rows of a batch were written, or not.
pub(crate) fn exported(app: &mut App, batch: i64, told: Told) {
    let said = match told {
        Told::Done(words) => {
            app.over = None;
            app.message = Some(words);
            return;
        }
        Told::Stopped => "Stopped.".to_owned(),
        Told::Failed(words) => words,
    };
    match &mut app.over {
        Some(Over::Asked(asked)) if matches!(asked.what, For::Export(of) if of == batch) => {
            asked.busy = false;
            asked.said = Some(said);
        }
        _ => app.message = Some(said),
    }
}

/// The batch was taken back, or not.
pub(crate) fn taken_back(app: &mut App, batch: i64, told: Told, effects: &mut Vec<Effect>) {
    let said = match told {
        Told::Done(words) => {
            app.over = None;
            undo::note(app, Deed::TakenBack(batch));
            app.reload_quietly(effects);
            app.message = Some(words);
            return;
        }
        Told::Stopped => "Stopped; nothing was changed.".to_owned(),
        Told::Failed(words) => words,
    };
    match &mut app.over {
        Some(Over::Asked(asked)) if matches!(asked.what, For::TakeBack(of) if of == batch) => {
            asked.busy = false;
            asked.sure = false;
            asked.said = Some(said);
        }
        _ => app.message = Some(said),
    }
}

fn batch_of(app: &App, number: i64) -> Option<&Batch> {
    let mut batches = super::ledger(app).iter();
    batches.find(|batch| batch.import.number == number)
}

/// What taking it back means.
fn meaning(batch: &Batch) -> String {
    let number = batch.import.number;
    let counts = format!(
        "It brought {}",
        text::plural(batch.sum(|sheet| sheet.taken), "new row", "new rows")
    );
    let changed = match batch.sum(|sheet| sheet.changed) {
        0 => String::new(),
        some => format!(" and changed {}", text::count(some)),
    };
    format!(
        "Takes batch {number} back. {counts}{changed}. Rows that later batches said too will \
         stand. Nothing is erased: the ledger and the trail keep what was done, by whom and why."
    )
}

/// What becomes of rows that are written out.
fn export_meaning(batch: &Batch) -> String {
    let rows = batch.open_rows();
    let rows = text::plural(rows, "refused row", "refused rows");
    format!(
        "Writes {rows} of batch {} as they stood, each with the reason before it. Mend them in a \
         spreadsheet and take the file in: the ledger then shows which were mended.",
        batch.import.number
    )
}

/// What the line is about, a title first where it has one; and what went wrong, is under way,
/// or comes next.
pub(crate) fn said(app: &App, asked: &Asked) -> (Vec<String>, String) {
    let batch = |number: i64, words: fn(&Batch) -> String| {
        batch_of(app, number).map(words).into_iter().collect()
    };
    let about: Vec<String> = match &asked.what {
        For::Value(choices) => vec![choices.title.clone(), choices.about.clone()],
        For::SaveMap => vec![
            "Writes the map as it stands, to be used again: fairdraw import --map FILE.".to_owned(),
        ],
        For::TakeBack(number) => batch(*number, meaning),
        For::Export(number) => batch(*number, export_meaning),
    };
    let is_export = matches!(asked.what, For::Export(_) | For::SaveMap);
    let state = match (&asked.said, asked.busy, asked.sure) {
        (Some(words), _, _) => words.clone(),
        (_, true, _) if is_export => "Writing.".to_owned(),
        (_, true, _) if app.import.stopping => "Stopping.".to_owned(),
        (_, true, _) => "Esc stops it; everything then stays as it was.".to_owned(),
        (_, _, true) => {
            let number = match &asked.what {
                For::TakeBack(number) | For::Export(number) => *number,
                For::Value(_) | For::SaveMap => 0,
            };
            let who = app.who.as_ref();
            let who = who.map_or_else(String::new, ToString::to_string);
            format!("Take batch {number} back, as {who}? Enter does it, Esc leaves it.")
        }
        _ if matches!(asked.what, For::Value(_)) => {
            "Enter puts it in; what would come of it is then looked at.".to_owned()
        }
        _ if is_export => {
            "Enter writes it. A file that is there already is never overwritten.".to_owned()
        }
        _ => "Say why; Enter asks once more before anything is done.".to_owned(),
    };
    (about, state)
}

/// Draws what stands below the line.
pub(crate) fn view(app: &App, asked: &Asked, frame: &mut Frame<'_>, body: Rect) {
    let theme = app.theme;
    let width = usize::from(body.width).saturating_sub(2);
    let mut lines: Vec<Line<'static>> = Vec::new();
    let mut say = |words: &str, style: Style| {
        let wrapped = text::wrap(words, width).into_iter().take(4);
        lines.extend(wrapped.map(|part| Line::from(Span::styled(format!(" {part}"), style))));
    };
    let (about, state) = said(app, asked);
    let is_titled = about.len() > 1;
    for (at, words) in about.iter().enumerate() {
        let is_title = is_titled && at == 0;
        let style = if is_title {
            theme.strong()
        } else {
            theme.plain()
        };
        say(words, style);
    }
    let is_export = matches!(asked.what, For::Export(_) | For::SaveMap);
    match (&asked.said, asked.busy, asked.sure) {
        (Some(_), _, _) => say(&state, theme.warning()),
        (_, true, _) if !is_export && !app.import.stopping => {
            let bar = progress_bar::lines(theme, app.import.progress, width.min(50));
            lines.extend(bar.into_iter().map(|mut line| {
                line.spans.insert(0, Span::raw(" "));
                line
            }));
            lines.push(Line::from(Span::styled(format!(" {state}"), theme.faint())));
        }
        (_, true, _) | (_, _, true) => say(&state, theme.strong()),
        _ => say(&state, theme.faint()),
    }
    panels::below(app, &mut lines, theme.faint(), frame, body);
}

//! How what happens changes the state before a programme is open.

use ratatui::layout::Position;

use super::{Effect, Happened, Stage, Start, naming, view};
use crate::programme::Unopened;
use crate::tui::action::{Action, Command};
use crate::tui::app::Loading;
use crate::tui::screens::help;
use crate::tui::screens::import::picker;
use crate::tui::{layout, moves};

/// Changes the state; what it hands back is to be done outside.
pub fn update(start: &mut Start, happened: Happened) -> Vec<Effect> {
    let mut effects = match happened {
        Happened::Action(action) => act(start, action),
        Happened::Unopened(wish, unopened) => {
            if start.awaits(wish) {
                unopened_is(start, unopened);
            }
            Vec::new()
        }
        Happened::NoDemo(told) => no_demo(start, told),
        Happened::CantFill(words) => {
            start.message = Some(words);
            Vec::new()
        }
        Happened::Listed(folder, listing) => {
            start.looking = false;
            start.picker.keep(folder, listing);
            Vec::new()
        }
    };
    effects.extend(naming::ask(start));
    effects
}

fn unopened_is(start: &mut Start, unopened: Unopened) {
    start.chosen = 0;
    start.stage = if unopened.is_nothing_yet {
        Stage::Welcome
    } else {
        Stage::Failed(unopened)
    };
}

/// The invented programme was not made.
fn no_demo(start: &mut Start, told: Option<String>) -> Vec<Effect> {
    if start.wants_demo {
        let stopped = "stopped; the demo was not made".to_owned();
        return vec![Effect::Quit(Some(told.unwrap_or(stopped)))];
    }
    start.stage = Stage::Welcome;
    start.message = Some(told.unwrap_or_else(|| "Stopped; nothing is kept of it.".to_owned()));
    // What kept the file from being opened is told again.
    if start.wish > 0 {
        start.open()
    } else {
        Vec::new()
    }
}

fn act(start: &mut Start, action: Action) -> Vec<Effect> {
    match action {
        Action::Command(command) => {
            start.message = None;
            obey(start, command)
        }
        Action::Type(sign) => insert(start, sign.encode_utf8(&mut [0; 4])),
        Action::Paste(text) => insert(start, &text),
        Action::Click(x, y) => click(start, Position { x, y }),
        Action::Wheel(_, _, lines) => wheel(start, lines as isize),
        Action::Resize(size) => {
            start.size = size;
            Vec::new()
        }
        Action::Progress(stage, done, total) => {
            start.progress = Loading { stage, done, total };
            if let Stage::Opening { long } = &mut start.stage {
                *long = true;
            }
            Vec::new()
        }
        _ => Vec::new(),
    }
}

fn insert(start: &mut Start, text: &str) -> Vec<Effect> {
    if start.stage == Stage::Naming && start.help.is_none() {
        start.picker.line.insert(text);
        start.picker.begin_anew();
    }
    Vec::new()
}

fn obey(start: &mut Start, command: Command) -> Vec<Effect> {
    match command {
        Command::Quit => return vec![leave(start)],
        Command::Suspend => return vec![Effect::Suspend],
        _ => {}
    }
    if start.help.is_some() {
        helping(start, command);
        return Vec::new();
    }
    if command == Command::Help {
        start.help = Some((0, start.zone()));
        return Vec::new();
    }
    match &start.stage {
        Stage::Naming if command == Command::Back => start.open(),
        Stage::Naming => naming::obey(start, command),
        Stage::Opening { .. } if command == Command::Back => vec![leave(start)],
        Stage::Making { stopping: false } if command == Command::Back => {
            start.stage = Stage::Making { stopping: true };
            vec![Effect::StopDemo]
        }
        Stage::Opening { .. } | Stage::Making { .. } => Vec::new(),
        Stage::Welcome | Stage::Failed(_) => choose(start, command),
    }
}

/// Leaving tells the shell what could not be opened, where that was all that was wanted.
fn leave(start: &Start) -> Effect {
    Effect::Quit(match &start.stage {
        Stage::Failed(unopened) => Some(unopened.words.clone()),
        _ => None,
    })
}

/// A key where something is on offer: the choice it stands for, or a move among them.
fn choose(start: &mut Start, command: Command) -> Vec<Effect> {
    let choices = start.choices();
    let command = match command {
        Command::Open => choices[start.chosen.min(choices.len() - 1)].command,
        other => other,
    };
    if let Some(by) = moves::distance(command, choices.len()) {
        let chosen = start.chosen.saturating_add_signed(by);
        start.chosen = chosen.min(choices.len() - 1);
        return Vec::new();
    }
    if command == Command::Back {
        start.message = Some("This is where you began; q leaves.".to_owned());
        return Vec::new();
    }
    let Some(at) = choices.iter().position(|choice| choice.command == command) else {
        return Vec::new();
    };
    start.chosen = at;
    match command {
        Command::MakeDemo => start.begin_demo(),
        Command::OtherFile => {
            naming::begin(start);
            Vec::new()
        }
        Command::Reload => start.open(),
        _ => vec![Effect::Fill(start.file.clone())],
    }
}

fn helping(start: &mut Start, command: Command) {
    let Some((scroll, zone)) = start.help else {
        return;
    };
    let page = usize::from(layout::body(start.size).height);
    start.help = match command {
        Command::Back | Command::Help => None,
        other => {
            let by = moves::distance(other, page).unwrap_or(0);
            Some((scrolled(start, scroll, by), zone))
        }
    };
}

/// The help page scrolled by so many lines.
fn scrolled(start: &Start, scroll: usize, by: isize) -> usize {
    let body = layout::body(start.size);
    let zone = start.help.map_or(start.zone(), |(_, zone)| zone);
    let width = usize::from(body.width).saturating_sub(3);
    let len = help::lines(start.theme, zone, width).len();
    let most = len.saturating_sub(usize::from(body.height));
    scroll.saturating_add_signed(by).min(most)
}

fn click(start: &mut Start, at: Position) -> Vec<Effect> {
    if start.help.is_some() {
        return Vec::new();
    }
    if start.stage == Stage::Naming {
        let area = picker::list_area(start.size);
        let (len, height) = (start.picker.rows().len(), layout::rows_of(area));
        let opens = start.picker.list.click(area, (at.x, at.y), len, height);
        return opens.map_or_else(Vec::new, |command| obey(start, command));
    }
    let Some(choice) = view::choice_at(start, at) else {
        return Vec::new();
    };
    if std::mem::replace(&mut start.chosen, choice) == choice {
        return obey(start, Command::Open);
    }
    Vec::new()
}

fn wheel(start: &mut Start, by: isize) -> Vec<Effect> {
    if let Some((scroll, zone)) = start.help {
        start.help = Some((scrolled(start, scroll, by), zone));
    } else if start.stage == Stage::Naming {
        let len = start.picker.rows().len();
        let height = layout::rows_of(picker::list_area(start.size));
        start.picker.list.scroll(by, len, height);
    }
    Vec::new()
}

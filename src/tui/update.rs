//! How actions change the state. No clock, no store: what has to be done outside is handed
//! back as effects.

use super::action::{Action, Command};
use super::app::{App, Loading, Over, Place};
use super::effect::Effect;
use super::idle::Idle;
use super::narrower::Narrower;
use super::screens::builder;
use super::screens::help::Help;
use super::screens::narrow::Narrow;
use super::screens::records::{asked, exam};
use super::screens::{
    adjust, copy, find, findings, help, import, page, people, period, picture, points, saved,
    share, topics, undo,
};
use super::steps::{back, change, forward, go, list_place};
use super::{
    answers, choose, filter_line, folder_line, forms, frame, keymap, loading, mouse, moves, panel,
    wants,
};
use crate::analysis::{Filter, FilterKey};
use crate::model::Colours;

/// Changes the state; what it hands back is to be done outside.
pub fn update(app: &mut App, action: Action) -> Vec<Effect> {
    let mut effects = Vec::new();
    match action {
        // What is typed while a draw is read is meant for the form that then comes.
        Action::Command(command) if app.then_set_aside.is_some() => {
            if command == Command::Back {
                app.then_set_aside = None;
                app.message = None;
            }
        }
        Action::Command(command) => {
            app.message = None;
            let idle = Idle::of(app, command);
            if !idle.as_ref().is_some_and(Idle::is_instead) {
                obey(app, command, &mut effects);
            }
            if let Some(idle) = idle {
                idle.say(app);
            }
        }
        Action::Unbound(sign) => app.message = Some(keymap::unbound(sign)),
        Action::Type(sign) => insert(app, sign.encode_utf8(&mut [0; 4])),
        Action::Paste(text) => insert(app, &text),
        Action::Row(row) => choose::row(app, row),
        Action::Filter(filter) => {
            app.message = None;
            change(app, filter, list_place(app.place));
        }
        Action::Click(x, y) => {
            app.then_set_aside = None;
            let said = app.message.take().is_some();
            // A message stands where the keys would; a click on it takes it away.
            let on_message = said && y + 1 == app.size.height;
            let command = if on_message {
                None
            } else {
                mouse::click(app, x, y)
            };
            if let Some(command) = command {
                obey(app, command, &mut effects);
            }
        }
        Action::Wheel(x, y, lines) => mouse::wheel(app, x, y, lines),
        Action::Resize(size) => {
            app.size = size;
            moves::settle(app);
        }
        Action::Progress(stage, done, total) => {
            app.loading.stage = stage;
            app.loading.done = done;
            app.loading.total = total;
        }
        Action::Loaded(assessed) => answers::loaded(app, assessed),
        Action::Failed(words) => answers::failed(app, words),
        Action::Answered(answer) => answers::answered(app, answer, &mut effects),
        Action::Examined(answer) => exam::answered(app, answer),
        Action::ExamProgress(stage, done, total) => {
            app.examined.progress = Loading { stage, done, total };
        }
        Action::PackProgress(stage, done, total) => {
            if let Some(packing) = &mut app.packing {
                packing.progress = Loading { stage, done, total };
            }
        }
        Action::Intake(answer) => import::answered(app, answer, &mut effects),
        Action::IntakeProgress(stage, done, total) => {
            app.import.progress = Loading { stage, done, total };
        }
        Action::Background(ground) => app.theme = app.theme.on(Some(ground)),
        // What was said last makes room for what is to be known of the file.
        Action::ChangedElsewhere => {
            app.message = None;
            app.changed_elsewhere = true;
        }
        Action::OutOfPlace(standing) => {
            app.message = None;
            app.out_of_place = Some(standing);
        }
        Action::Reopened(read_only) => {
            app.read_only = read_only;
            app.new_file = false;
        }
        Action::WriteProgress(stage, done, total) => {
            app.writing = Loading { stage, done, total };
        }
        Action::StillWaiting => app.slow = true,
    }
    match app.place {
        Place::People => people::keep_order(app),
        Place::Points => points::keep_order(app),
        _ => {}
    }
    wants::ask(app, &mut effects);
    app.slow &= app.is_waiting();
    effects
}

/// The next colours. The message says which, for those whose terminal shows none.
fn turn_colours(app: &mut App) {
    app.theme = app.theme.turned();
    app.colours_turned = true;
    let words = match app.theme.colours() {
        Colours::Dark => "Colours for a dark background; F2 goes on.",
        Colours::Light => "Colours for a light background; F2 goes on.",
        Colours::None | Colours::Auto => "No colours; F2 brings them back.",
    };
    app.message = Some(words.to_owned());
}

/// Takes typed or pasted text in.
fn insert(app: &mut App, text: &str) {
    match &mut app.over {
        Some(Over::Folder(edit)) => folder_line::insert(edit, text),
        Some(Over::Form(form)) => form.insert(text),
        Some(Over::Asked(edit)) => edit.insert(text),
        Some(Over::Panel(_)) => {
            if let Some(panel) = panel::take(app) {
                panel.insert(app, text);
            }
        }
        None => {
            if let Some(screen) = frame::screen(app.place).filter(|_| app.data.is_some()) {
                screen.insert(app, text);
            }
        }
        Some(_) => {}
    }
}

/// Does what a key asked for.
pub(crate) fn obey(app: &mut App, command: Command, effects: &mut Vec<Effect>) {
    match command {
        Command::Quit => return effects.push(Effect::Quit),
        Command::Suspend => return effects.push(Effect::Suspend),
        Command::Colours => return turn_colours(app),
        Command::Help if !matches!(app.over, Some(Over::Help(..))) => {
            let zone = app.zone();
            let under = app.over.take().map(Box::new);
            app.over = Some(Over::Help(Help {
                zone,
                page: help::Page::Here,
                scroll: 0,
                under,
            }));
            return;
        }
        _ => {}
    }
    match app.over.take() {
        Some(Over::Folder(edit)) => folder_line::obey(app, edit, command, effects),
        Some(Over::Form(form)) => forms::obey(app, form, command, effects),
        Some(Over::Asked(line)) => asked::obey(app, line, command, effects),
        Some(Over::Choices(choices)) => import::edit::obey(app, choices, command, effects),
        Some(Over::Panel(panel)) => panel.obey(app, command, effects),
        Some(Over::Help(page)) => help::act(app, page, command, effects),
        None if app.data.is_none() => loading::obey(app, command, effects),
        None => at_place(app, command, effects),
    }
}

/// Does what a key asked for at the place itself.
pub(crate) fn at_place(app: &mut App, command: Command, effects: &mut Vec<Effect>) {
    if let Some(place) = frame::place_of(command) {
        return go(app, place);
    }
    if picture::obey(app, command) {
        return;
    }
    if frame::screen(app.place).is_some_and(|screen| screen.obey(app, command, effects)) {
        return;
    }
    match command {
        Command::ByRegained => {
            let state = &mut app.screens.topics;
            state.by_id = !state.by_id;
            state.units = super::list::ListPlace::default();
        }
        Command::Tick => topics::tick(app),
        Command::Plans => folder_line::ask(app),
        Command::PersonNext => topics::step_units(app, 1),
        Command::PersonBack => topics::step_units(app, -1),
        Command::Crews if app.place == Place::Topics => {
            let state = &mut app.screens.topics;
            state.crews = !state.crews;
            state.units = super::list::ListPlace::default();
            state.rules = super::list::ListPlace::default();
        }
        Command::Back => back(app),
        Command::Forward => forward(app),
        Command::Find => find::begin(app),
        Command::Period => period::choose(app),
        Command::PeriodBefore => period::shift(app, false),
        Command::PeriodAfter => period::shift(app, true),
        Command::Copy => copy::open(app),
        Command::SavedFilters => saved::open(app),
        Command::Undo => undo::open(app),
        Command::EditFilter => filter_line::open(app),
        Command::BuildFilter => builder::open(app),
        Command::DropTerm => drop_term(app),
        Command::Reload if !app.waiting.reload => {
            app.waiting.reload = true;
            app.message = Some("Reading the programme again.".to_owned());
            effects.push(Effect::Reload);
        }
        Command::Import => go(app, Place::Import),
        Command::Open => open(app),
        Command::AddTerm => add_term(app),
        Command::Compartment => compartment(app),
        Command::SetAside => findings::set_aside_chosen(app),
        Command::Raise => findings::raise_about_chosen(app),
        Command::Periods => app.screens.share.other_periods(),
        Command::Columns => columns(app),
        Command::AdjustFor => adjust::open(app),
        Command::Whole => page::open(app),
        Command::Picture => {
            picture::turn(app);
            moves::settle(app);
        }
        Command::Crews => {
            let people = &mut app.screens.people;
            people.crews = !people.crews;
            people.list = super::list::ListPlace::default();
            if people.crews && people.by == people::By::Crew {
                people.by = people::By::Name;
            }
        }
        Command::SortNext => sort_next(app),
        Command::SortTurn => sort_turn(app),
        Command::PaneNext | Command::PaneBack => moves::pane(app, command),
        Command::DrawNext => moves::draw(app, 1),
        Command::DrawBack => moves::draw(app, -1),
        other => moves::step(app, other),
    }
}

fn drop_term(app: &mut App) {
    match app.filter.terms().len().checked_sub(1) {
        Some(last) => {
            let term = app.filter.terms()[last].to_string();
            let filter = app.filter.without_term(last);
            change(app, filter, list_place(app.place));
            app.message = Some(format!("Taken out: {term}. Esc brings it back."));
        }
        None => app.message = Some("There is no filter to widen.".to_owned()),
    }
}

/// Narrows the filter and goes to a place; says so where the value can't be a term.
pub(crate) fn narrow_to(app: &mut App, narrower: &Narrower, place: Place) {
    let filter = app.filter.clone();
    narrow_within(app, &filter, narrower, place);
}

/// The same beginning with another filter.
pub(crate) fn narrow_within(app: &mut App, filter: &Filter, narrower: &Narrower, place: Place) {
    match narrower.narrow(filter) {
        Ok(filter) => change(app, filter, place),
        Err(error) => app.message = Some(error.message),
    }
}

/// What the chosen line narrows to, on screens where a line is one value.
pub(crate) fn chosen_narrower(app: &App) -> Option<Narrower> {
    let assessed = app.data.as_ref()?;
    match app.place {
        Place::Share => share::chosen(app),
        Place::People => Some(people::chosen(app)?.subject.narrower(assessed)),
        Place::Points => {
            let id = &points::chosen(app)?.id;
            Some(Narrower::one(FilterKey::Point, id))
        }
        Place::Opened => moves::chosen_rule(app),
        Place::Topics => topics::narrower(app),
        Place::Draws => None,
        other => frame::screen(other)?.narrower(app),
    }
}

fn open(app: &mut App) {
    match app.place {
        Place::Share if share::is_resample_chosen(app) => go(app, Place::Resample),
        Place::Draws if app.chosen_row().is_some() => {
            app.ahead.clear();
            app.place = Place::Opened;
            moves::settle(app);
        }
        Place::Draws | Place::Opened => {}
        Place::Topics => {
            if let Some(narrower) = topics::draws_behind(app) {
                narrow_to(app, &narrower, Place::Draws);
            }
        }
        _ => {
            if let Some(narrower) = chosen_narrower(app) {
                narrow_to(app, &narrower, Place::Draws);
            }
        }
    }
}

fn add_term(app: &mut App) {
    if app.place == Place::Draws {
        if let (Some(assessed), Some(row)) = (&app.data, app.chosen_row()) {
            let narrow = Narrow::of_draw(assessed, row as usize);
            panel::lay(app, Box::new(narrow));
        }
        return;
    }
    if let Some(narrower) = chosen_narrower(app) {
        narrow_to(app, &narrower, list_place(app.place));
    }
}

fn compartment(app: &mut App) {
    let (Some(assessed), Some(row)) = (&app.data, app.chosen_row()) else {
        return;
    };
    let point = assessed.judged.point[row as usize] as usize;
    let name = assessed.points[point].compartment.clone();
    let narrowed = app.filter.with(FilterKey::Compartment, &name);
    match narrowed {
        Ok(filter) => change(app, filter, Place::Draws),
        Err(error) => app.message = Some(error.message),
    }
}

/// Shares in the columns, or observed against expected.
fn columns(app: &mut App) {
    match app.place {
        Place::People => app.screens.people.shares ^= true,
        Place::Points => app.screens.points.shares ^= true,
        _ => {}
    }
}

fn sort_next(app: &mut App) {
    match app.place {
        Place::Draws => {
            let next = app.screens.draws.column.next();
            app.screens.draws.sort(next);
        }
        Place::People => app.screens.people.sort_next(),
        Place::Points => app.screens.points.sort_next(),
        Place::Share => app.screens.share.sort_rules(),
        _ => {}
    }
    to_top(app);
}

fn sort_turn(app: &mut App) {
    let descending = match app.place {
        Place::Draws => &mut app.screens.draws.descending,
        Place::People => &mut app.screens.people.descending,
        Place::Points => &mut app.screens.points.descending,
        _ => return,
    };
    *descending = !*descending;
    to_top(app);
}

pub(crate) fn to_top(app: &mut App) {
    moves::step(app, Command::First);
}

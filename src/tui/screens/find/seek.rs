//! Going to what was found. Its row is known only once the list it stands in has come, so that
//! it is kept in mind until then.

use super::finds::Find;
use super::goal::Goal;
use crate::analysis::Filter;
use crate::tui::app::{App, Place};
use crate::tui::narrower::Narrower;
use crate::tui::screens::draws::columns::Column;
use crate::tui::screens::{draws, people, points};
use crate::tui::steps::{change, go, jump, list_place, refilter};
use crate::tui::subject::Subject;
use crate::tui::update::narrow_to;

/// What is to be chosen in a list that is under way.
#[derive(Clone, Debug)]
pub(crate) struct Seek {
    goal: Goal,
    /// What it is called.
    name: String,
    /// The number of the filter it is sought with; with another one it is given up.
    turn: u64,
    place: Place,
}

/// Where a goal lies in a list.
enum Found {
    /// The list has not come yet.
    NotYet,
    /// No such row is in view.
    Hidden,
    /// In this row.
    At(usize),
}

/// Goes to what was found.
pub(super) fn go_to(app: &mut App, find: &Find) {
    let place = match &find.goal {
        Goal::Screen(place) => return go(app, *place),
        Goal::Step(place, filter) => return change(app, filter.clone(), list_place(*place)),
        Goal::Rule(_) => return narrow(app, find, Place::Draws),
        Goal::Compartment(_) | Goal::Value(..) => {
            narrow(app, find, Place::Draws);
            Place::Draws
        }
        Goal::Subject(Subject::Point(_)) => {
            jump(app, Place::Points, false);
            app.screens.points.picture = false;
            Place::Points
        }
        Goal::Subject(subject) => {
            jump(app, Place::People, false);
            app.screens.people.picture = false;
            show_crews(app, matches!(subject, Subject::Crew(_)));
            Place::People
        }
        Goal::Draw(_) => {
            jump(app, Place::Draws, true);
            app.screens.draws.picture = false;
            Place::Draws
        }
    };
    app.find.seek = Some(Seek {
        goal: find.goal.clone(),
        name: find.name().to_owned(),
        turn: app.turn,
        place,
    });
}

/// Narrows the filter to the draws of what was found and goes to a place.
pub(super) fn narrow(app: &mut App, find: &Find, place: Place) {
    if let Some(narrower) = narrower(app, find) {
        narrow_to(app, &narrower, place);
    }
}

fn narrower(app: &App, find: &Find) -> Option<Narrower> {
    find.goal.narrower(app.data.as_ref()?)
}

fn show_crews(app: &mut App, crews: bool) {
    let state = &mut app.screens.people;
    state.crews = crews;
    if crews && state.by == people::By::Crew {
        state.by = people::By::Name;
    }
}

/// Chooses what is sought, if the list has come; called after every action.
pub(crate) fn arrive(app: &mut App) {
    let Some(seek) = app.find.seek.take() else {
        return;
    };
    if seek.turn != app.turn || seek.place != app.place {
        return;
    }
    match look(app, &seek) {
        Found::NotYet => app.find.seek = Some(seek),
        Found::Hidden => unhide(app, seek),
        Found::At(at) => choose(app, &seek.goal, at),
    }
}

fn look(app: &App, seek: &Seek) -> Found {
    let known = |of: Option<u64>| of == Some(app.turn);
    let found = |at: Option<usize>| at.map_or(Found::Hidden, Found::At);
    match &seek.goal {
        Goal::Subject(own @ Subject::Point(_)) => {
            if !known(app.figures.points.as_ref().map(|(of, _)| *of)) {
                return Found::NotYet;
            }
            let lines = points::lines(app);
            found(lines.iter().position(|line| line.subject == *own))
        }
        Goal::Subject(own) => {
            if !known(app.figures.people.as_ref().map(|(of, _)| *of)) {
                return Found::NotYet;
            }
            let lines = people::lines(app);
            found(lines.iter().position(|person| person.subject == *own))
        }
        Goal::Compartment(_) | Goal::Value(..) => match app.selected_turn == app.turn {
            false => Found::NotYet,
            true => found((!app.selection.is_empty()).then_some(0)),
        },
        Goal::Draw(row) => match app.is_in_order() {
            false => Found::NotYet,
            true => found(place_of(app, *row)),
        },
        _ => Found::At(0),
    }
}

/// The place of a row in the list of draws, in the order in which it is shown.
fn place_of(app: &App, row: u32) -> Option<usize> {
    let rows = &app.order.rows;
    let at = match app.order.column {
        // In order of time rows stand by their numbers.
        Column::Date => rows.binary_search(&row).ok()?,
        _ => rows.iter().position(|other| *other == row)?,
    };
    match app.screens.draws.descending {
        true => Some(rows.len() - 1 - at),
        false => Some(at),
    }
}

fn choose(app: &mut App, goal: &Goal, at: usize) {
    match goal {
        Goal::Subject(Subject::Point(_)) => {
            let (len, height) = (points::lines(app).len(), points::height(app));
            app.screens.points.list.choose(at, len, height);
        }
        Goal::Subject(_) => {
            let (len, height) = (people::lines(app).len(), people::height(app));
            app.screens.people.list.choose(at, len, height);
        }
        Goal::Draw(_) => {
            app.place = Place::Opened;
            let (len, height) = (app.list_len(), draws::height(app));
            app.screens.draws.list.choose(at, len, height);
            app.screens.draws.reopen();
        }
        _ => {}
    }
}

/// Takes away the filter that hides what is sought, and says so.
fn unhide(app: &mut App, seek: Seek) {
    let own = match &seek.goal {
        Goal::Compartment(_) | Goal::Value(..) => {
            let find = Find::named(seek.goal.clone(), &seek.name);
            narrower(app, &find).and_then(|it| it.narrow(&Filter::default()).ok())
        }
        _ => None,
    }
    .unwrap_or_default();
    if app.filter == own {
        app.message = Some(format!("{} has no draws yet.", seek.name));
        return;
    }
    refilter(app, own);
    if let Goal::Subject(Subject::Crew(_)) = seek.goal {
        show_crews(app, true);
    }
    app.message = Some(format!(
        "The filter hid {}; it is shown without. Esc brings the filter back.",
        seek.name
    ));
    app.find.seek = Some(Seek {
        turn: app.turn,
        ..seek
    });
}

//! What the screen in view still lacks. Asked after every action: each question is put
//! once at a time, and only for what is shown.

use std::sync::Arc;

use super::app::{App, Order, Place};
use super::effect::{Effect, Fetch, Question};
use super::frame;
use super::screens::draws::columns::Column;
use super::screens::records::exam;
use super::screens::{draws, find, people, picture, points, resample, topics};
use super::subject::Subject;
use super::{moves, panel};
use crate::analysis::{Filter, FilterKey, Offers};

/// Records of more rows than this are not kept.
const MOST_RECORDS: usize = 4000;

/// Asks for what is missing.
pub(crate) fn ask(app: &mut App, effects: &mut Vec<Effect>) {
    if app.data.is_none() {
        return;
    }
    find::seek::arrive(app);
    if let Some(panel) = panel::take(app) {
        panel.ask(app, effects);
    }
    // Forms offer a day, wherever they are called up. What the first screen is for comes before.
    let is_shown = app.place != Place::Share || app.figures.share.is_some();
    if is_shown && app.figures.docket.is_none() && !app.waiting.docket && !app.unreadable {
        app.waiting.docket = true;
        effects.push(Effect::Fetch(Fetch::Docket));
    }
    let is_stale = |(of, adjust): &(u64, _)| *of != app.turn || *adjust != app.adjust;
    if app.fitting.as_ref().is_some_and(is_stale) && !app.stopping {
        app.stopping = true;
        effects.push(Effect::StopLong);
    }
    exam::stop_stale(app, effects);
    if app.selected_turn != app.turn {
        if !app.waiting.select {
            app.waiting.select = true;
            effects.push(Effect::Reckon(Question::Select {
                turn: app.turn,
                filter: app.filter.clone(),
            }));
        }
        return;
    }
    match app.place {
        Place::Share => {
            figures(app, effects);
            // What is due comes after what the screen is for: both would share the processor.
            let known = app.figures.share.as_ref().map(|(of, _)| *of);
            if known == Some(app.turn) {
                resample::ask_for_list(app, effects);
            }
        }
        Place::Draws | Place::Opened => list(app, effects),
        Place::People => {
            figures(app, effects);
            let subject = people::chosen(app).map(|person| person.subject.clone());
            subject_figures(app, subject, effects);
            fit(app, effects);
        }
        Place::Points => {
            figures(app, effects);
            let subject = points::chosen(app).map(|line| Subject::Point(line.place));
            subject_figures(app, subject, effects);
            fit(app, effects);
        }
        Place::Topics => figures(app, effects),
        other => {
            if let Some(screen) = frame::screen(other) {
                screen.ask(app, effects);
            }
        }
    }
}

/// How many draws would pass a filter, once that is reckoned; asked for where it is not yet.
pub(crate) fn count(app: &mut App, filter: &Filter, effects: &mut Vec<Effect>) -> Option<u64> {
    let known = app.figures.count.as_ref();
    let known = known
        .filter(|(of, _)| of == filter)
        .map(|(_, draws)| *draws);
    if known.is_none() && !app.waiting.count {
        app.waiting.count = true;
        effects.push(Effect::Reckon(Question::Count {
            loaded: app.loaded_turn,
            filter: filter.clone(),
        }));
    }
    known
}

/// The values of a key within a filter, once they are counted; asked for where they are not yet.
pub(crate) fn offers(
    app: &mut App,
    within: &Filter,
    key: FilterKey,
    effects: &mut Vec<Effect>,
) -> Option<Arc<Offers>> {
    let known = app.figures.offers.as_ref();
    let known = known
        .filter(|(filter, of, _)| filter == within && *of == key)
        .map(|(_, _, offers)| Arc::clone(offers));
    if known.is_none() && !app.waiting.offers {
        app.waiting.offers = true;
        effects.push(Effect::Reckon(Question::Offers {
            loaded: app.loaded_turn,
            within: within.clone(),
            key,
        }));
    }
    known
}

fn figures(app: &mut App, effects: &mut Vec<Effect>) {
    let turn = app.turn;
    let selection = Arc::clone(&app.selection);
    let part = topics::part(app, app.screens.topics.tab);
    let (known, waiting) = match app.place {
        Place::Share => (
            app.figures.share.as_ref().map(|(of, _)| *of),
            &mut app.waiting.share,
        ),
        Place::People => (
            app.figures.people.as_ref().map(|(of, _)| *of),
            &mut app.waiting.people,
        ),
        Place::Points => (
            app.figures.points.as_ref().map(|(of, _)| *of),
            &mut app.waiting.points,
        ),
        Place::Topics => {
            let known = app.figures.topics.as_ref();
            let known = known.filter(|(_, figures)| figures.has(part));
            (known.map(|(of, _)| *of), &mut app.waiting.topics)
        }
        _ => return,
    };
    if known == Some(turn) || *waiting {
        return;
    }
    *waiting = true;
    effects.push(Effect::Reckon(match app.place {
        Place::People => Question::People { turn, selection },
        Place::Points => Question::Points { turn, selection },
        Place::Topics => Question::Topics {
            turn,
            filter: app.filter.clone(),
            selection,
            part,
        },
        _ => Question::Share { turn, selection },
    }));
}

/// The model that tells people and points apart, once for each filter and adjustment.
fn fit(app: &mut App, effects: &mut Vec<Effect>) {
    if app.fitted().is_some() || app.fitting.is_some() {
        return;
    }
    app.fitting = Some((app.turn, app.adjust.clone()));
    effects.push(Effect::Reckon(Question::Attribution {
        turn: app.turn,
        filter: app.filter.clone(),
        adjust: app.adjust.clone(),
        selection: Arc::clone(&app.selection),
    }));
}

fn subject_figures(app: &mut App, subject: Option<Subject>, effects: &mut Vec<Effect>) {
    let Some(subject) = subject else { return };
    let known = app.figures.subject.as_ref();
    let same = known.is_some_and(|(of, shown, _)| *of == app.turn && *shown == subject);
    if same || app.waiting.subject {
        return;
    }
    app.waiting.subject = true;
    effects.push(Effect::Reckon(Question::Subject {
        turn: app.turn,
        selection: Arc::clone(&app.selection),
        subject,
    }));
}

fn list(app: &mut App, effects: &mut Vec<Effect>) {
    if !app.is_in_order() {
        let column = app.screens.draws.column;
        if column == Column::Date {
            // Rows of a selection stand in order of time as they are.
            app.order = Order {
                turn: app.turn,
                column,
                rows: Arc::clone(&app.selection),
            };
            moves::settle(app);
        } else if !app.waiting.order {
            app.waiting.order = true;
            effects.push(Effect::Reckon(Question::Order {
                turn: app.turn,
                selection: Arc::clone(&app.selection),
                column,
            }));
        }
    }
    if app.unreadable {
        return;
    }
    records(app, effects);
    let wanted = app
        .chosen_row()
        .filter(|_| picture::wants_draw(app) || app.then_set_aside.is_some());
    let known = app.opened.as_ref().map(|(row, _)| *row);
    if let Some(row) = wanted
        && known != wanted
        && !app.waiting.draw
    {
        app.waiting.draw = true;
        effects.push(Effect::Fetch(Fetch::Draw(row)));
    }
}

fn records(app: &mut App, effects: &mut Vec<Effect>) {
    if app.waiting.records {
        return;
    }
    let height = draws::height(app);
    let offset = app.screens.draws.list.offset;
    let missing: Vec<u32> = (offset..offset + height)
        .filter_map(|place| app.row_at(place))
        .filter(|row| !app.records.contains_key(row))
        .collect();
    if missing.is_empty() {
        return;
    }
    if app.records.len() > MOST_RECORDS {
        app.records.clear();
    }
    app.waiting.records = true;
    effects.push(Effect::Fetch(Fetch::Records(missing)));
}

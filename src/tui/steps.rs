//! Steps from place to place and from filter to filter, back again and forward again: Esc
//! never loses either.
//!
//! ```text
//! steps (behind)  <- where one is ->  ahead (taken back, newest last)
//! ```
//!
//! An opened draw lies within its list: going back from it leads to the list, unless the draw
//! was reached straight from elsewhere, as by finding it.

use super::app::{App, MOST_STEPS, Place, Screens, Step};
use super::moves;
use crate::analysis::Filter;

/// The place where a changed filter is seen: an opened draw may no longer pass.
pub(crate) const fn list_place(place: Place) -> Place {
    match place {
        Place::Opened => Place::Draws,
        other => other,
    }
}

/// Filters that were applied longer ago are forgotten.
const MOST_HISTORY: usize = 100;

fn step_of(app: &App, straight: bool) -> Step {
    Step {
        place: app.place,
        filter: app.filter.clone(),
        screens: app.screens.clone(),
        straight,
    }
}

fn push(app: &mut App, straight: bool) {
    if app.steps.len() == MOST_STEPS {
        app.steps.remove(0);
    }
    app.steps.push(step_of(app, straight));
}

/// Keeps where one is before something new is done; what was taken back is then given up.
fn remember(app: &mut App) {
    push(app, false);
    app.ahead.clear();
}

/// Goes to a screen even from itself; Esc leads back to where one was, in one step even from
/// an opened draw where `straight`.
pub(crate) fn jump(app: &mut App, place: Place, straight: bool) {
    push(app, straight);
    app.ahead.clear();
    app.place = place;
    moves::settle(app);
}

/// Puts another filter in place of the present one as a part of the step that was just taken,
/// so that Esc leads back to what was before both.
pub(crate) fn refilter(app: &mut App, filter: Filter) {
    set_filter(app, filter);
    app.screens = fresh(&app.screens);
}

/// Whether going back leads from the opened draw to its list.
pub(crate) fn is_within(app: &App) -> bool {
    app.place == Place::Opened && !app.steps.last().is_some_and(|step| step.straight)
}

/// Goes to a screen; Esc leads back.
pub(crate) fn go(app: &mut App, place: Place) {
    if list_place(app.place) != place {
        remember(app);
        app.place = place;
        moves::settle(app);
    }
}

/// Changes the filter and perhaps the place; Esc leads back to both.
pub(crate) fn change(app: &mut App, filter: Filter, place: Place) {
    if filter == app.filter && place == app.place {
        return;
    }
    remember(app);
    app.place = place;
    if filter == app.filter {
        return moves::settle(app);
    }
    set_filter(app, filter);
    app.screens = fresh(&app.screens);
    if let Some(assessed) = &app.data {
        let unknown = app.filter.unknown_values(assessed);
        app.message = unknown.first().map(ToString::to_string);
    }
}

/// Where one stands after the filter has changed: at the top of every list, with the columns,
/// orders and views that were chosen.
fn fresh(screens: &Screens) -> Screens {
    let mut fresh = Screens::default();
    fresh.draws.column = screens.draws.column;
    fresh.draws.descending = screens.draws.descending;
    fresh.share.section = screens.share.section;
    fresh.share.every = screens.share.every;
    fresh.share.picture = screens.share.picture;
    fresh.people.crews = screens.people.crews;
    fresh.people.shares = screens.people.shares;
    fresh.people.picture = screens.people.picture;
    fresh.people.bars = screens.people.bars;
    fresh.points.shares = screens.points.shares;
    fresh.points.picture = screens.points.picture;
    fresh.points.bars = screens.points.bars;
    // Records are shown whatever the filter.
    fresh.records = screens.records.clone();
    fresh.findings = screens.findings.clone();
    fresh.resample.strict = screens.resample.strict;
    fresh.resample.by = screens.resample.by;
    fresh.resample.descending = screens.resample.descending;
    fresh.topics.tab = screens.topics.tab;
    fresh.topics.picture = screens.topics.picture;
    fresh.topics.crews = screens.topics.crews;
    fresh.topics.by_id = screens.topics.by_id;
    fresh.people.by = screens.people.by;
    fresh.people.descending = screens.people.descending;
    fresh.points.by = screens.points.by;
    fresh.points.descending = screens.points.descending;
    fresh
}

fn set_filter(app: &mut App, filter: Filter) {
    let written = filter.to_string();
    if !written.is_empty() {
        // Each once, where it was applied last.
        app.history.retain(|known| *known != written);
        if app.history.len() == MOST_HISTORY {
            app.history.remove(0);
        }
        app.history.push(written);
    }
    app.filter = filter;
    app.turn += 1;
}

/// Goes back one step; says where that is, and which filter came or went with it.
pub(crate) fn back(app: &mut App) {
    if is_within(app) {
        let step = step_of(app, false);
        app.ahead.push(step);
        app.place = Place::Draws;
        return moves::settle(app);
    }
    let Some(step) = app.steps.pop() else {
        app.message = Some("This is where you began; q leaves.".to_owned());
        return;
    };
    let left = step_of(app, step.straight);
    app.ahead.push(left);
    restore(app, step, "Back");
}

/// Takes the last step back anew; says where that is, and which filter came or went with it.
pub(crate) fn forward(app: &mut App) {
    let Some(step) = app.ahead.pop() else {
        app.message = Some("There is nothing ahead: no step was taken back.".to_owned());
        return;
    };
    // From the list into its opened draw is no step, as the way back is none.
    let is_into = step.place == Place::Opened && !step.straight && app.place == Place::Draws;
    if !is_into || step.filter != app.filter {
        push(app, step.straight);
    }
    restore(app, step, "Forward");
}

fn restore(app: &mut App, step: Step, way: &str) {
    app.message = said(app, &step, way);
    app.place = step.place;
    app.screens = step.screens;
    if step.filter == app.filter {
        moves::settle(app);
    } else {
        set_filter(app, step.filter);
    }
}

/// Where a step leads and which filter comes or goes with it.
fn said(app: &App, step: &Step, way: &str) -> Option<String> {
    let place = match step.place == app.place {
        true => String::new(),
        false => format!(" in {}", step.place.name()),
    };
    if step.filter == app.filter {
        return (!place.is_empty()).then(|| format!("{way}{place}."));
    }
    let filter = match (step.filter.is_empty(), app.filter.is_empty()) {
        (false, _) => format!("with the filter {}", step.filter),
        (true, false) => format!("without the filter {}", app.filter),
        (true, true) => "without a filter".to_owned(),
    };
    let comma = if place.is_empty() { "" } else { "," };
    Some(format!("{way}{place}{comma} {filter}."))
}

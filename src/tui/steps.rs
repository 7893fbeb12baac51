//! Steps from place to place and from filter to filter, and back again: Esc never loses
//! either.

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

fn step_of(app: &App) -> Step {
    Step {
        place: app.place,
        filter: app.filter.clone(),
        screens: app.screens.clone(),
    }
}

fn remember(app: &mut App) {
    if app.steps.len() == MOST_STEPS {
        app.steps.remove(0);
    }
    app.steps.push(step_of(app));
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
    let draws = &app.screens.draws;
    let mut fresh = Screens::default();
    fresh.draws.column = draws.column;
    fresh.draws.descending = draws.descending;
    fresh.share.section = app.screens.share.section;
    fresh.share.every = app.screens.share.every;
    fresh.share.picture = app.screens.share.picture;
    fresh.people.crews = app.screens.people.crews;
    fresh.people.shares = app.screens.people.shares;
    fresh.people.picture = app.screens.people.picture;
    fresh.people.bars = app.screens.people.bars;
    fresh.points.shares = app.screens.points.shares;
    fresh.points.picture = app.screens.points.picture;
    fresh.points.bars = app.screens.points.bars;
    // Records are shown whatever the filter.
    fresh.records = app.screens.records.clone();
    fresh.findings = app.screens.findings.clone();
    fresh.resample.strict = app.screens.resample.strict;
    fresh.resample.by = app.screens.resample.by;
    fresh.resample.descending = app.screens.resample.descending;
    fresh.topics.tab = app.screens.topics.tab;
    fresh.topics.picture = app.screens.topics.picture;
    fresh.topics.crews = app.screens.topics.crews;
    fresh.topics.by_id = app.screens.topics.by_id;
    fresh.people.by = app.screens.people.by;
    fresh.people.descending = app.screens.people.descending;
    fresh.points.by = app.screens.points.by;
    fresh.points.descending = app.screens.points.descending;
    app.screens = fresh;
    if let Some(assessed) = &app.data {
        let unknown = app.filter.unknown_values(assessed);
        app.message = unknown.first().map(ToString::to_string);
    }
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

/// Goes back one step; says so where the filter changes with it.
pub(crate) fn back(app: &mut App) {
    if app.place == Place::Opened {
        app.place = Place::Draws;
        return moves::settle(app);
    }
    let Some(step) = app.steps.pop() else {
        app.message = Some("This is where you began; q leaves.".to_owned());
        return;
    };
    let moved = step.place != app.place;
    app.place = step.place;
    app.screens = step.screens;
    let name = step.place.name();
    if step.filter != app.filter {
        let words = if step.filter.is_empty() {
            "without a filter".to_owned()
        } else {
            format!("with the filter {}", step.filter)
        };
        app.message = Some(if moved {
            format!("Back in {name}, {words}.")
        } else {
            format!("Back {words}.")
        });
        set_filter(app, step.filter);
    } else {
        moves::settle(app);
    }
}

//! Choosing a row by its number in the list that the keys act on.

use super::app::{App, Over, Place};
use super::screens::topics::{self, Tab};
use super::screens::{draws, people, points, share};
use super::{frame, moves, panel};

/// Chooses the row of this number, from 0; past the end the last one.
pub(crate) fn row(app: &mut App, row: usize) {
    if let Some(Over::Choices(choices)) = &mut app.over {
        let len = choices.offers.len();
        return choices.list.choose(row, len, len);
    }
    if let Some(mut panel) = panel::take(app) {
        panel.choose(app, row);
        return panel::lay(app, panel);
    }
    if app.over.is_some() || app.data.is_none() {
        return;
    }
    match app.place {
        Place::Share => {
            let section = app.screens.share.section;
            let len = share::len(app, section);
            app.screens.share.lists[section as usize].choose(row, len, 1);
        }
        Place::Draws => {
            let (len, height) = (app.list_len(), draws::height(app));
            app.screens.draws.list.choose(row, len, height);
            app.screens.draws.reopen();
        }
        Place::Opened => {
            app.screens.draws.rule = row.min(crate::rules::COUNT - 1);
            moves::show_rule(app);
        }
        Place::People => {
            let (len, height) = (people::lines(app).len(), people::height(app));
            app.screens.people.list.choose(row, len, height);
        }
        Place::Points => {
            let (len, height) = (points::lines(app).len(), points::height(app));
            app.screens.points.list.choose(row, len, height);
        }
        Place::Topics if app.screens.topics.tab == Tab::Heat => {
            let now = app.screens.topics.units.cursor;
            let by = isize::try_from(row.abs_diff(now)).unwrap_or(isize::MAX);
            topics::step_units(app, if row < now { -by } else { by });
        }
        Place::Topics => {
            let (len, height) = topics::list_size(app);
            topics::list(app).choose(row, len, height);
        }
        other => {
            if let Some(screen) = frame::screen(other) {
                screen.choose(app, row);
            }
        }
    }
}

//! Moving about in lists, panes and the opened draw.

use super::action::Command;
use super::app::{App, Place};
use super::frame;
use super::narrower::Narrower;
use super::screens::draws::opened::rules_in_order;
use super::screens::share::Section;
use super::screens::{draws, people, points, share, topics};
use crate::analysis::FilterKey;
use crate::model::Outcome;
use crate::rules;

/// How many rows a command moves by in a list of which `page` rows are on screen.
pub(crate) fn distance(command: Command, page: usize) -> Option<isize> {
    let page = isize::try_from(page.saturating_sub(1).max(1)).unwrap_or(isize::MAX);
    match command {
        Command::Up => Some(-1),
        Command::Down => Some(1),
        Command::PageUp => Some(-page),
        Command::PageDown => Some(page),
        Command::First => Some(isize::MIN / 2),
        Command::Last => Some(isize::MAX / 2),
        _ => None,
    }
}

/// Moves in the list the keys act on.
pub(crate) fn step(app: &mut App, command: Command) {
    match app.place {
        Place::Share => step_share(app, command),
        Place::Draws => {
            let height = draws::height(app);
            if let Some(by) = distance(command, height) {
                draws_list(app, by);
            }
        }
        Place::Opened => step_opened(app, command),
        Place::People => {
            let (len, height) = (people::lines(app).len(), people::height(app));
            if let Some(by) = distance(command, height) {
                app.screens.people.list.step(by, len, height);
            }
        }
        Place::Points => {
            let (len, height) = (points::lines(app).len(), points::height(app));
            if let Some(by) = distance(command, height) {
                app.screens.points.list.step(by, len, height);
            }
        }
        Place::Topics => step_topics(app, command),
        other => {
            if let Some(screen) = frame::screen(other) {
                screen.step(app, command);
            }
        }
    }
}

/// In the heat table arrows go from rule to rule, pages from person to person.
fn step_topics(app: &mut App, command: Command) {
    let (len, height) = topics::list_size(app);
    let is_arrow = matches!(command, Command::Up | Command::Down);
    if app.screens.topics.tab == topics::Tab::Heat && !is_arrow {
        if let Some(by) = distance(command, topics::heat::columns(app)) {
            topics::step_units(app, by);
        }
    } else if let Some(by) = distance(command, height) {
        topics::list(app).step(by, len, height);
    }
}

/// Moves in the list of draws; another draw is shown from its beginning.
fn draws_list(app: &mut App, by: isize) {
    let (len, height) = (app.list_len(), draws::height(app));
    let before = app.screens.draws.list.cursor;
    app.screens.draws.list.step(by, len, height);
    if app.screens.draws.list.cursor != before {
        app.screens.draws.reopen();
    }
}

/// To the next or the former draw of the list, from inside an opened one.
pub(crate) fn draw(app: &mut App, by: isize) {
    draws_list(app, by);
}

fn step_share(app: &mut App, command: Command) {
    let section = app.screens.share.section;
    let height = share_height(app, section);
    let len = share::len(app, section);
    let Some(by) = distance(command, height) else {
        return;
    };
    let list = &mut app.screens.share.lists[section as usize];
    let before = list.cursor;
    list.step(by, len, height);
    if list.cursor != before || !matches!(command, Command::Up | Command::Down) {
        return;
    }
    // Past the end of a pane the next one begins.
    let panes = if by > 0 { 1 } else { -1 };
    if let Some(next) = beyond(section, panes) {
        app.screens.share.section = next;
        let (len, height) = (share::len(app, next), share_height(app, next));
        let row = if by > 0 { 0 } else { len.saturating_sub(1) };
        app.screens.share.lists[next as usize].choose(row, len, height);
    }
}

fn beyond(section: Section, by: isize) -> Option<Section> {
    let at = (section as usize).checked_add_signed(by)?;
    Section::ALL.get(at).copied()
}

fn share_height(app: &App, section: Section) -> usize {
    let area = share::panes(app).sections[section as usize];
    usize::from(area.height).saturating_sub(1)
}

/// To the next pane, or the one before.
pub(crate) fn pane(app: &mut App, command: Command) {
    match app.place {
        Place::Share => {
            let count = Section::ALL.len();
            let at = app.screens.share.section as usize;
            let by = if command == Command::PaneNext {
                1
            } else {
                count - 1
            };
            app.screens.share.section = Section::ALL[(at + by) % count];
        }
        Place::Opened => app.place = Place::Draws,
        Place::Topics if command == Command::PaneNext => app.screens.topics.turn(1),
        Place::Topics => app.screens.topics.turn(topics::Tab::ALL.len() - 1),
        _ => {}
    }
}

/// In the opened draw arrows go from rule to rule, pages scroll.
fn step_opened(app: &mut App, command: Command) {
    let Some(text) = draws::view::opened_text(app) else {
        return;
    };
    let height = draws::opened_height(app);
    let most = text.lines.len().saturating_sub(height);
    let last = text.rules.len().saturating_sub(1);
    let Some(by) = distance(command, height) else {
        return;
    };
    if !matches!(command, Command::Up | Command::Down) {
        let scroll = app.screens.draws.scroll.saturating_add_signed(by);
        app.screens.draws.scroll = scroll.min(most);
        return;
    }
    let before = app.screens.draws.rule;
    app.screens.draws.rule = before.saturating_add_signed(by).min(last);
    if before == app.screens.draws.rule {
        let scroll = app.screens.draws.scroll.saturating_add_signed(by * 3);
        app.screens.draws.scroll = scroll.min(most);
        return;
    }
    show_rule(app);
}

/// Scrolls so that the chosen rule and what is said of it are on screen.
pub(crate) fn show_rule(app: &mut App) {
    let Some(text) = draws::view::opened_text(app) else {
        return;
    };
    let height = draws::opened_height(app);
    let state = &mut app.screens.draws;
    let Some((_, lines)) = text.rules.get(state.rule) else {
        return;
    };
    if state.rule == 0 && lines.end <= height {
        state.scroll = 0;
    } else if lines.end > state.scroll + height {
        state.scroll = (lines.end - height).min(lines.start);
    }
    // The heading of the group stays in view where it is near.
    if lines.start < state.scroll + 1 {
        state.scroll = lines.start.saturating_sub(1);
    }
    state.scroll = state.scroll.min(text.lines.len().saturating_sub(height));
}

/// What the chosen rule of the opened draw narrows to: draws on which it is as it is here.
pub(crate) fn chosen_rule(app: &App) -> Option<Narrower> {
    let opened = app.opened_draw()?;
    let place = *rules_in_order(opened).get(app.screens.draws.rule)?;
    let key = match opened.explained.answers[place].outcome {
        Outcome::Broken => FilterKey::Broken,
        Outcome::Unrecorded => FilterKey::Unrecorded,
        Outcome::Met | Outcome::NotApplicable => return None,
    };
    Some(Narrower::one(key, rules::cards()[place].id))
}

/// Brings every place into its list and on screen, after a list or the size has changed.
/// Lists whose figures are still under way keep their place.
pub(crate) fn settle(app: &mut App) {
    if let Some(screen) = frame::screen(app.place) {
        screen.settle(app);
    }
    if app.is_in_order() {
        let (len, height) = (app.list_len(), draws::height(app));
        app.screens.draws.list.settle(len, height);
    }
    let turn = app.turn;
    if app
        .figures
        .people
        .as_ref()
        .is_some_and(|(of, _)| *of == turn)
    {
        let (len, height) = (people::lines(app).len(), people::height(app));
        app.screens.people.list.settle(len, height);
    }
    if app
        .figures
        .points
        .as_ref()
        .is_some_and(|(of, _)| *of == turn)
    {
        let (len, height) = (points::lines(app).len(), points::height(app));
        app.screens.points.list.settle(len, height);
    }
    if app
        .figures
        .topics
        .as_ref()
        .is_some_and(|(of, _)| *of == turn)
    {
        topics::settle(app);
    }
    if app
        .figures
        .share
        .as_ref()
        .is_some_and(|(of, _)| *of == turn)
    {
        for section in Section::ALL {
            let (len, height) = (share::len(app, section), share_height(app, section));
            app.screens.share.lists[section as usize].settle(len, height);
        }
    }
}

//! What a click and the wheel mean where they happen.

use ratatui::layout::Position;

use super::action::Command;
use super::app::{App, Over, Place};
use super::screens::{compared_list, draws, help, people, picture, points, share, topics};
use super::{frame, hints, layout, moves, panel, update};

/// A click chooses what is under it; where it was chosen already, it opens it.
pub(crate) fn click(app: &mut App, x: u16, y: u16) -> Option<Command> {
    app.data.as_ref()?;
    if y == 0 {
        let current = frame::tab_of(app.place).map(|tab| tab.command);
        let tabs = frame::header(app.size, current).tabs;
        let tab = tabs
            .into_iter()
            .find(|(start, name, _)| x >= *start && x < start + name.len() as u16);
        return tab.map(|(_, _, command)| command);
    }
    if y + 1 == app.size.height {
        // News stand where the keys would.
        return hints::command_at(app, x).filter(|_| app.news().is_none());
    }
    let is_text = app.zone().is_text();
    let (at, body) = (Position { x, y }, layout::body(app.size));
    match &mut app.over {
        Some(Over::Folder(_) | Over::Asked(_) | Over::Form(_)) => return None,
        Some(Over::Help(help)) => {
            help::click(help, body, (x, y));
            return None;
        }
        Some(Over::Choices(choices)) => {
            if !choices.area(body).contains(at) {
                return Some(Command::Back);
            }
            choices.list.cursor = choices.offer_at(body, x, y)?;
            return Some(Command::Open);
        }
        Some(Over::Panel(panel)) => {
            let is_beside = panel.area(body).is_some_and(|area| !area.contains(at));
            if is_beside {
                return Some(Command::Back);
            }
            return panel::take(app)?.click(app, at);
        }
        None if y == 1 && !is_text => return Some(Command::BuildFilter),
        None => {}
    }
    if let Some(picture) = picture::open(app) {
        return picture.click(app, Position { x, y });
    }
    match app.place {
        Place::Share => click_share(app, x, y),
        Place::Draws | Place::Opened => click_draws(app, x, y),
        Place::People => {
            let area = compared_list::table_area(people::panes(app).list);
            if at.y == area.y {
                let by = people::view::heading_at(app, x)?;
                app.screens.people.sort_or_turn(by);
                return to_top(app);
            }
            let (len, height) = (people::lines(app).len(), people::height(app));
            app.screens.people.list.click(area, (x, y), len, height)
        }
        Place::Points => {
            let area = compared_list::table_area(points::panes(app).list);
            if at.y == area.y {
                let by = points::view::heading_at(app, x)?;
                app.screens.points.sort_or_turn(by);
                return to_top(app);
            }
            let (len, height) = (points::lines(app).len(), points::height(app));
            app.screens.points.list.click(area, (x, y), len, height)
        }
        Place::Topics => click_topics(app, x, y),
        other => frame::screen(other)?.click(app, Position { x, y }),
    }
}

/// A list that was sorted anew is shown from its beginning.
fn to_top(app: &mut App) -> Option<Command> {
    update::to_top(app);
    None
}

fn click_topics(app: &mut App, x: u16, y: u16) -> Option<Command> {
    if y == topics::tabs_area(app).y {
        if let Some(tab) = topics::view::tab_at(app, x) {
            app.screens.topics.tab = tab;
        }
        return None;
    }
    let area = topics::panes(app).list;
    let (len, height) = topics::list_size(app);
    if app.screens.topics.tab != topics::Tab::Heat {
        return topics::list(app).click(area, (x, y), len, height);
    }
    if let Some(column) = topics::heat::heading_at(app, x, y) {
        let state = &app.screens.topics;
        let by = (column + state.units.offset) as isize - state.units.cursor as isize;
        topics::step_units(app, by);
        return None;
    }
    if y < area.y + 2 {
        return Some(Command::ByRegained);
    }
    let (row, column) = topics::heat::cell_at(app, x, y)?;
    let state = &mut app.screens.topics;
    let row = row + state.rules.offset;
    let by = (column + state.units.offset) as isize - state.units.cursor as isize;
    if row >= len {
        return None;
    }
    let was = (state.rules.cursor, state.units.cursor);
    state.rules.choose(row, len, height);
    topics::step_units(app, by);
    let state = &app.screens.topics;
    (was == (state.rules.cursor, state.units.cursor)).then_some(Command::Open)
}

fn click_share(app: &mut App, x: u16, y: u16) -> Option<Command> {
    let panes = share::panes(app);
    let on_chart = panes
        .chart
        .and_then(|area| share::chart::row_at(app, area, Position { x, y }));
    if let Some(row) = on_chart {
        return click_chart(app, row);
    }
    for section in share::Section::ALL {
        let area = panes.sections[section as usize];
        if !area.contains(Position { x, y }) {
            continue;
        }
        let was = app.screens.share.section;
        app.screens.share.section = section;
        let len = share::len(app, section);
        let height = layout::rows_of(area);
        let list = &mut app.screens.share.lists[section as usize];
        let opens = list.click(area, (x, y), len, height);
        return opens.filter(|_| was == section);
    }
    None
}

/// A click on a period of the control chart chooses its row, as a click on that would.
fn click_chart(app: &mut App, row: usize) -> Option<Command> {
    let months = share::Section::Months;
    let area = share::panes(app).sections[months as usize];
    let (len, height) = (share::len(app, months), layout::rows_of(area));
    let state = &mut app.screens.share;
    let list = &mut state.lists[months as usize];
    let was = (state.section, list.cursor);
    list.choose(row, len, height);
    state.section = months;
    (was == (months, row)).then_some(Command::Open)
}

fn click_draws(app: &mut App, x: u16, y: u16) -> Option<Command> {
    let panes = draws::panes(app);
    if let Some(area) = panes.list.filter(|area| area.contains(Position { x, y })) {
        let was = app.place;
        app.place = Place::Draws;
        if y == area.y {
            let column = draws::view::heading_at(app, x)?;
            app.screens.draws.sort_or_turn(column);
            app.screens.draws.reopen();
            return to_top(app);
        }
        let before = app.screens.draws.list.cursor;
        let (len, height) = (app.list_len(), draws::height(app));
        let opens = app.screens.draws.list.click(area, (x, y), len, height);
        if app.screens.draws.list.cursor != before {
            app.screens.draws.reopen();
        }
        return opens.filter(|_| was == Place::Draws);
    }
    let area = panes.opened?;
    if !area.contains(Position { x, y }) {
        return None;
    }
    if app.place != Place::Opened {
        app.ahead.clear();
        app.place = Place::Opened;
    }
    let text = draws::view::opened_text(app)?;
    let line = usize::from(y - area.y) + app.screens.draws.scroll;
    let rule = text
        .rules
        .iter()
        .position(|(_, lines)| lines.contains(&line))?;
    app.screens.draws.rule = rule;
    moves::show_rule(app);
    None
}

/// The wheel scrolls what is under it.
pub(crate) fn wheel(app: &mut App, x: u16, y: u16, lines: i32) {
    let by = lines as isize;
    let at = Position { x, y };
    match &mut app.over {
        Some(Over::Help(page)) => {
            return help::scroll(page, app.theme, layout::body(app.size), by);
        }
        Some(Over::Choices(choices)) => {
            let height = choices.list_area(layout::body(app.size)).height;
            let len = choices.offers.len();
            return choices.list.scroll(by, len, usize::from(height));
        }
        Some(Over::Panel(_)) => {
            if let Some(panel) = panel::take(app) {
                panel.wheel(app, at, by);
            }
            return;
        }
        Some(_) => return,
        None => {}
    }
    if let Some(picture) = picture::open(app) {
        return picture.wheel(app, by);
    }
    match app.place {
        Place::Share => {
            let panes = share::panes(app);
            for section in share::Section::ALL {
                let area = panes.sections[section as usize];
                if area.contains(at) {
                    let (len, height) = (share::len(app, section), layout::rows_of(area));
                    app.screens.share.lists[section as usize].scroll(by, len, height);
                }
            }
        }
        Place::Draws | Place::Opened => wheel_draws(app, at, by),
        Place::People => {
            let (len, height) = (people::lines(app).len(), people::height(app));
            app.screens.people.list.scroll(by, len, height);
        }
        Place::Points => {
            let (len, height) = (points::lines(app).len(), points::height(app));
            app.screens.points.list.scroll(by, len, height);
        }
        Place::Topics => {
            let (len, height) = topics::list_size(app);
            topics::list(app).scroll(by, len, height);
        }
        other => {
            if let Some(screen) = frame::screen(other) {
                screen.wheel(app, at, by);
            }
        }
    }
}

fn wheel_draws(app: &mut App, at: Position, by: isize) {
    let panes = draws::panes(app);
    if panes.opened.is_some_and(|area| area.contains(at)) {
        let Some(text) = draws::view::opened_text(app) else {
            return;
        };
        let most = text.lines.len().saturating_sub(draws::opened_height(app));
        let scroll = app.screens.draws.scroll.saturating_add_signed(by);
        app.screens.draws.scroll = scroll.min(most);
    } else {
        let (len, height) = (app.list_len(), draws::height(app));
        let before = app.screens.draws.list.cursor;
        app.screens.draws.list.scroll(by, len, height);
        if app.screens.draws.list.cursor != before {
            app.screens.draws.reopen();
        }
    }
}

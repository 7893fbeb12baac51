//! Topics: whom to retrain in what, what to ask of others, and what came after trainings.
//!
//! ```text
//! By person │ To ask of others │ After training
//! rule            all   T001   T002 …  │ the chosen person's topics,
//! flush-met      40.2  █12.4*  ░1.2    │ the chosen one in words
//! ```

pub(crate) mod asks;
pub(crate) mod figures;
pub(crate) mod heat;
pub(crate) mod person;
pub(crate) mod trainings;
pub(crate) mod view;

use std::collections::BTreeSet;

pub use figures::{Heat, Part, TopicsFigures, UnitTopics};
use ratatui::layout::Rect;

use crate::analysis::topics::Ask;
use crate::analysis::training::Trained;
use crate::analysis::{BLANK, FilterKey};
use crate::rules;
use crate::tui::app::App;
use crate::tui::layout::{self, Pair};
use crate::tui::list::ListPlace;
use crate::tui::narrower::Narrower;
use crate::tui::undo::{self, Deed};

/// What the screen shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Tab {
    #[default]
    Heat,
    Asks,
    Trainings,
}

impl Tab {
    pub(crate) const ALL: [Tab; 3] = [Tab::Heat, Tab::Asks, Tab::Trainings];

    /// The name at the top of a screen this wide.
    pub(crate) const fn title(self, width: u16) -> &'static str {
        match self {
            Tab::Heat if width < 68 => " Whom to train ",
            Tab::Asks if width < 68 => " What to ask ",
            Tab::Heat => " Whom to train in what ",
            Tab::Asks => " What to ask of others ",
            Tab::Trainings => " After training ",
        }
    }
}

/// Where the user stands.
#[derive(Clone, Debug, Default)]
pub(crate) struct TopicsState {
    pub(crate) tab: Tab,
    pub(crate) crews: bool,
    /// The heat table takes all of the body.
    pub(crate) picture: bool,
    /// By id or name, not those with most to regain first.
    pub(crate) by_id: bool,
    /// The chosen rule.
    pub(crate) rules: ListPlace,
    /// The chosen person or crew.
    pub(crate) units: ListPlace,
    pub(crate) asks: ListPlace,
    pub(crate) trainings: ListPlace,
}

impl TopicsState {
    /// To the next view, or by -1 to the one before.
    pub(crate) fn turn(&mut self, by: usize) {
        let at = self.tab as usize;
        self.tab = Tab::ALL[(at + by) % Tab::ALL.len()];
    }
}

pub(crate) fn figures(app: &App) -> Option<&TopicsFigures> {
    app.figures
        .topics
        .as_ref()
        .map(|(_, figures)| figures.as_ref())
}

/// The heat table in view.
pub(crate) fn heat(app: &App) -> Option<&Heat> {
    let figures = figures(app)?;
    if app.screens.topics.crews {
        figures.crews.as_deref()
    } else {
        figures.technicians.as_deref()
    }
}

/// What there is to ask of others.
pub(crate) fn asks(app: &App) -> Option<&[Ask]> {
    figures(app)?.asks.as_ref().map(|asks| asks.as_slice())
}

/// What came after trainings.
pub(crate) fn trainings(app: &App) -> Option<&[Trained]> {
    figures(app)?
        .trainings
        .as_ref()
        .map(|found| found.as_slice())
}

/// The part that a view of the screen needs.
pub(crate) const fn part(app: &App, tab: Tab) -> Part {
    match tab {
        Tab::Heat if app.screens.topics.crews => Part::Crews,
        Tab::Heat => Part::Technicians,
        Tab::Asks => Part::Asks,
        Tab::Trainings => Part::Trainings,
    }
}

/// The persons or crews in the order of the table.
pub(crate) fn units(app: &App) -> Vec<&UnitTopics> {
    let Some(heat) = heat(app) else {
        return Vec::new();
    };
    if app.screens.topics.by_id {
        return heat.units.iter().collect();
    }
    let place = |place: &usize| &heat.units[*place];
    heat.by_regained.iter().map(place).collect()
}

/// The chosen person or crew.
pub(crate) fn chosen_unit(app: &App) -> Option<&UnitTopics> {
    units(app).get(app.screens.topics.units.cursor).copied()
}

/// The chosen rule, by its place in the contract's order.
pub(crate) fn chosen_rule(app: &App) -> Option<usize> {
    let rules = &heat(app)?.rules;
    rules
        .get(app.screens.topics.rules.cursor)
        .map(|(rule, _)| *rule)
}

pub(crate) fn chosen_ask(app: &App) -> Option<&Ask> {
    asks(app)?.get(app.screens.topics.asks.cursor)
}

pub(crate) fn chosen_training(app: &App) -> Option<&Trained> {
    let cursor = app.screens.topics.trainings.cursor;
    trainings(app)?.get(cursor)
}

/// What narrows to the chosen person, crew or place.
pub(crate) fn narrower(app: &App) -> Option<Narrower> {
    let assessed = app.data.as_ref()?;
    match app.screens.topics.tab {
        Tab::Heat => {
            let key = if app.screens.topics.crews {
                FilterKey::Crew
            } else {
                FilterKey::Technician
            };
            Some(Narrower::one(key, &chosen_unit(app)?.topics.key))
        }
        Tab::Asks => {
            let ask = chosen_ask(app)?;
            Some(match ask.point {
                Some(point) => Narrower::one(FilterKey::Point, &assessed.points[point].id),
                None => Narrower::one(FilterKey::Site, ask.site.as_deref().unwrap_or(BLANK)),
            })
        }
        Tab::Trainings => {
            let technician = chosen_training(app)?.technician;
            let id = &assessed.technicians[technician].id;
            Some(Narrower::one(FilterKey::Technician, id))
        }
    }
}

/// What leads to the draws behind the chosen cell or line.
pub(crate) fn draws_behind(app: &App) -> Option<Narrower> {
    let narrower = narrower(app)?;
    let broken = |rule: usize| (FilterKey::Broken, rules::cards()[rule].id);
    match app.screens.topics.tab {
        Tab::Heat => {
            let (key, id) = broken(chosen_rule(app)?);
            let narrower = narrower.and(key, id);
            Some(narrower.and(FilterKey::Verdict, "unrepresentative"))
        }
        Tab::Asks => {
            let ask = chosen_ask(app)?;
            let (mut key, id) = broken(ask.rule);
            if ask.broken == 0 {
                key = FilterKey::Unrecorded;
            }
            Some(narrower.and(key, id))
        }
        Tab::Trainings => {
            let (key, id) = broken(chosen_training(app)?.rule);
            Some(narrower.and(key, id))
        }
    }
}

/// Ticks the chosen person or all of the chosen crew for a plan, or takes the ticks away.
pub(crate) fn tick(app: &mut App) {
    let Some(members) = chosen_unit(app).map(|unit| unit.members.clone()) else {
        return;
    };
    let Some(assessed) = app.data.clone() else {
        return;
    };
    let ids: BTreeSet<String> = members
        .into_iter()
        .map(|place| assessed.technicians[place as usize].id.clone())
        .collect();
    let before = app.ticked.clone();
    if ids.iter().all(|id| app.ticked.contains(id)) {
        app.ticked.retain(|id| !ids.contains(id));
    } else {
        app.ticked.extend(ids);
    }
    undo::note(app, Deed::Ticked(before, app.ticked.clone()));
}

/// Whether all technicians behind it are ticked.
pub(crate) fn is_ticked(app: &App, unit: &UnitTopics) -> bool {
    let Some(assessed) = &app.data else {
        return false;
    };
    let ticked = |place: &u32| {
        app.ticked
            .contains(&assessed.technicians[*place as usize].id)
    };
    !unit.members.is_empty() && unit.members.iter().all(ticked)
}

/// The line with the names of the views.
pub(crate) fn tabs_area(app: &App) -> Rect {
    Rect {
        height: 1,
        ..layout::body(app.size)
    }
}

/// Where table and what stands beside it are drawn.
pub(crate) fn panes(app: &App) -> Pair {
    let body = layout::body(app.size);
    let gap = if body.height >= 24 { 2 } else { 1 };
    let below = Rect {
        y: body.y + gap,
        height: body.height.saturating_sub(gap),
        ..body
    };
    if app.screens.topics.picture && app.screens.topics.tab == Tab::Heat {
        let beside = Rect {
            x: below.right(),
            width: 0,
            ..below
        };
        return Pair {
            list: below,
            beside,
        };
    }
    // Words beside the table need no more than some 60 cells; persons take the rest.
    let share = if below.width < 150 { 64 } else { 72 };
    let least = match app.screens.topics.tab {
        Tab::Heat => 0,
        Tab::Asks => 73,
        Tab::Trainings => 74,
    };
    let mut pair = layout::pair_of(below, share, least);
    if app.screens.topics.tab == Tab::Asks {
        // The sums of the owners stand above the list.
        pair.list.y += 1;
        pair.list.height = pair.list.height.saturating_sub(1);
    }
    pair
}

/// How many lines and how many rows of them are on screen.
pub(crate) fn list_size(app: &App) -> (usize, usize) {
    let rows = layout::rows_of(panes(app).list);
    match app.screens.topics.tab {
        Tab::Heat => (
            heat(app).map_or(0, |heat| heat.rules.len()),
            heat::rows(panes(app).list),
        ),
        Tab::Asks => (asks(app).map_or(0, <[Ask]>::len), rows),
        Tab::Trainings => (trainings(app).map_or(0, <[Trained]>::len), rows),
    }
}

/// The place in the list that the up and down keys act on.
pub(crate) fn list(app: &mut App) -> &mut ListPlace {
    let state = &mut app.screens.topics;
    match state.tab {
        Tab::Heat => &mut state.rules,
        Tab::Asks => &mut state.asks,
        Tab::Trainings => &mut state.trainings,
    }
}

/// Brings all places into their lists.
pub(crate) fn settle(app: &mut App) {
    let tab = app.screens.topics.tab;
    for other in Tab::ALL {
        // What is not worked out yet keeps its place.
        if !figures(app).is_some_and(|figures| figures.has(part(app, other))) {
            continue;
        }
        app.screens.topics.tab = other;
        let (len, height) = list_size(app);
        list(app).settle(len, height);
    }
    app.screens.topics.tab = tab;
    if heat(app).is_some() {
        step_units(app, 0);
    }
}

/// Moves to other persons or crews.
pub(crate) fn step_units(app: &mut App, by: isize) {
    let len = heat(app).map_or(0, |heat| heat.units.len());
    let columns = heat::columns(app);
    app.screens.topics.units.step(by, len, columns);
}

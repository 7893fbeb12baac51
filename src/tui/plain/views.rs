//! The views of a place, by name.

use crate::tui::action::Command;
use crate::tui::app::{App, Place};
use crate::tui::screens::import::Stage;

/// The views of a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Views {
    pub(crate) names: &'static [&'static str],
    /// The one in view.
    pub(crate) at: usize,
    /// What turns to the next one.
    pub(crate) turn: Command,
}

const NONE: Views = Views {
    names: &[],
    at: 0,
    turn: Command::PaneNext,
};

/// The views of the place that the user is in; none where there is one only.
pub(crate) fn of(app: &App) -> Views {
    let tabs = |names, at| Views {
        names,
        at,
        turn: Command::PaneNext,
    };
    if app.over.is_some() || app.data.is_none() {
        return NONE;
    }
    let screens = &app.screens;
    match app.place {
        Place::Share => tabs(
            &["verdicts", "rules", "periods", "waiting"],
            screens.share.section as usize,
        ),
        Place::People => Views {
            names: &["technicians", "crews"],
            at: usize::from(screens.people.crews),
            turn: Command::Crews,
        },
        Place::Topics => tabs(
            &["training", "asks", "trainings"],
            screens.topics.tab as usize,
        ),
        Place::Findings if !screens.findings.opened => {
            tabs(&["findings", "picks"], screens.findings.tab as usize)
        }
        Place::Records if !screens.records.opened && !screens.records.doubt_opened => tabs(
            &["ledger", "columns", "doubts"],
            screens.records.tab as usize,
        ),
        Place::Import if matches!(app.import.stage, Stage::Looked) => {
            tabs(&["map", "rows", "refused"], app.import.tab as usize)
        }
        _ => NONE,
    }
}

/// The views in a sentence; nothing where there is one only.
pub(crate) fn sentence(app: &App) -> String {
    let views = of(app);
    if views.names.is_empty() {
        return String::new();
    }
    let others: Vec<&str> = (views.names.iter().enumerate())
        .filter(|(at, _)| *at != views.at)
        .map(|(_, name)| *name)
        .collect();
    format!(
        "View {}; others: {}.",
        views.names[views.at],
        others.join(", ")
    )
}

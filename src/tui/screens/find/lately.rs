//! What stands below the line while nothing is typed: what was found before, and where one
//! has been.

use super::Find;
use super::finds::{Finds, Group, Kind, Part};
use super::goal::Goal;
use crate::analysis::Filter;
use crate::tui::app::{App, Place};
use crate::tui::steps::list_place;

/// So many things are kept, and so many places shown.
const MOST: usize = 6;

/// Keeps what was gone to, the latest first and each thing once.
pub(super) fn keep(app: &mut App, find: &Find) {
    if matches!(find.goal, Goal::Step(..)) {
        return;
    }
    let mut kept = find.clone();
    for part in &mut kept.parts {
        part.marks.clear();
    }
    let lately = &mut app.find.lately;
    lately.retain(|other| other.goal != kept.goal);
    lately.insert(0, kept);
    lately.truncate(MOST);
}

/// What was found lately and where one was.
pub(super) fn lately(app: &App) -> Finds {
    let groups = [
        (Kind::Lately, app.find.lately.clone()),
        (Kind::Step, steps(app)),
    ];
    Finds {
        groups: groups
            .into_iter()
            .filter(|(_, finds)| !finds.is_empty())
            .map(|(kind, finds)| Group {
                kind,
                count: finds.len(),
                finds,
            })
            .collect(),
        ..Finds::default()
    }
}

/// Places and filters of the steps before this one, the latest first and each once.
fn steps(app: &App) -> Vec<Find> {
    let mut seen: Vec<(Place, &Filter)> = vec![(list_place(app.place), &app.filter)];
    for step in app.steps.iter().rev() {
        let own = (list_place(step.place), &step.filter);
        if !seen.contains(&own) {
            seen.push(own);
        }
    }
    let found = |(place, filter): &(Place, &Filter)| {
        let words = match filter.is_empty() {
            true => "no filter".to_owned(),
            false => filter.to_string(),
        };
        Find {
            goal: Goal::Step(*place, (*filter).clone()),
            parts: vec![Part::plain(place.name()), Part::plain(&words)],
        }
    };
    seen.iter().skip(1).take(MOST).map(found).collect()
}

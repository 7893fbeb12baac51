//! The heat table of topics, what to ask of others, and what came after trainings.

use super::super::listing::Listing;
use crate::report::Cell;
use crate::report::topic_rows::{ASKS, ask};
use crate::report::training_rows::{TRAININGS, trained};
use crate::rules;
use crate::tui::app::App;
use crate::tui::screens::topics::{Tab, asks, heat, trainings, units};

pub(super) fn of(app: &App) -> Option<Listing<'_>> {
    let assessed = app.data.as_ref()?;
    let state = &app.screens.topics;
    Some(match state.tab {
        Tab::Heat => heat_table(app)?,
        Tab::Asks => {
            let asked = asks(app)?;
            let size = (asked.len(), state.asks.cursor);
            Listing::of_report(ASKS, size, move |at| ask(assessed, &asked[at]))
        }
        Tab::Trainings => {
            let held = trainings(app)?;
            let size = (held.len(), state.trainings.cursor);
            Listing::of_report(TRAININGS, size, move |at| {
                trained(assessed, &held[at], true)
            })
        }
    })
}

/// A row a rule, a column a person or crew: the draws to be regained.
fn heat_table(app: &App) -> Option<Listing<'_>> {
    let table = heat(app)?;
    let columns = units(app);
    let state = &app.screens.topics;
    let mut headings = vec!["rule", "all"];
    headings.extend(columns.iter().map(|unit| unit.topics.key.as_str()));
    let size = (table.rules.len(), state.rules.cursor);
    let chosen_column = state.units.cursor + 2;
    let shown = columns.clone();
    let mut listing = Listing::new(&headings, size, move |at| {
        let (rule, sum) = table.rules[at];
        let mut cells = vec![Cell::text(rules::cards()[rule].id), Cell::Rounded(sum, 1)];
        let regained = |unit: &&_| topic_cell(unit, rule);
        cells.extend(shown.iter().map(regained));
        cells
    });
    listing.first_cell = chosen_column.min(columns.len() + 1);
    Some(listing)
}

fn topic_cell(unit: &crate::tui::screens::topics::UnitTopics, rule: usize) -> Cell<'static> {
    let topic = unit.topic(rule);
    topic.map_or(Cell::Blank, |topic| Cell::Rounded(topic.regained(), 1))
}

//! Topics in words: whom to train in what, what to ask of others, what came of trainings.

use super::rows::Rows;
use super::told::{Told, WIDE};
use super::voice::{self, labelled};
use super::{rows, sorted, views};
use crate::analysis::topics::Topic;
use crate::rules;
use crate::tui::app::App;
use crate::tui::screens::topics::{self, Tab, UnitTopics, asks, heat, person, trainings};
use crate::tui::text;

pub(super) fn told(app: &App) -> Told {
    let mut told = Told::new("Topics");
    if topics::figures(app).is_none() {
        return told;
    }
    told.say(&views::sentence(app));
    match app.screens.topics.tab {
        Tab::Heat => whom(app, &mut told),
        Tab::Asks => {
            let sums = asks::sums(topics::asks(app).unwrap_or_default());
            if let Some(longest) = sums.first() {
                told.say(&format!("{}.", longest.replace(" · ", ", ")));
            }
            told.rows = Some(others(app));
        }
        Tab::Trainings => told.rows = Some(after(app)),
    }
    told
}

/// Whom to train in what: a person or crew a row, with what most could be regained by.
fn whom(app: &App, told: &mut Told) {
    let (units, state) = (topics::units(app), &app.screens.topics);
    told.say(&sorted::sentence(app));
    if !app.ticked.is_empty() {
        told.say(&format!(
            "{}.",
            heat::ticks(app).replace("w writes plans", "plans writes plans")
        ));
    }
    let noun = rows::noun(state.crews);
    let empty = "no draws pass the filter";
    told.rows = Some(Rows::of(
        noun,
        units.len(),
        state.units.cursor,
        empty,
        |at| unit(app, units[at]),
    ));
    if let (Some(chosen), Some(rule)) = (topics::chosen_unit(app), topics::chosen_rule(app)) {
        let id = rules::cards()[rule].id;
        told.say(&format!("Chosen: {}, topic {id}.", chosen.name));
    }
}

fn unit(app: &App, unit: &UnitTopics) -> String {
    let mut name = vec![unit.name.clone()];
    if unit.topics.key != unit.name {
        name.push(unit.topics.key.clone());
    }
    if !unit.crew.is_empty() {
        name.push(super::people::crew(&unit.crew));
    }
    if topics::is_ticked(app, unit) {
        name.push("ticked".to_owned());
    }
    let count = unit.topics.topics.len() as u64;
    let most = unit.topics.topics.first();
    let most = most.map_or_else(String::new, |topic| {
        format!(
            ", most by {} ({})",
            topic.id(),
            heat::number(topic.regained())
        )
    });
    format!(
        "{}: {} draws to regain by {}{most}",
        name.join(", "),
        heat::number(unit.regained()),
        text::plural(count, "topic", "topics")
    )
}

fn others(app: &App) -> Rows {
    let asked = topics::asks(app).unwrap_or_default();
    let cursor = app.screens.topics.asks.cursor;
    let noun = ("thing to ask of others", "things to ask of others");
    Rows::of(noun, asked.len(), cursor, asks::EMPTY, |at| {
        let cells =
            asks::COLUMNS.map(|column| (column.title, asks::cell(app, &asked[at], column.id)));
        labelled(&cells)
    })
}

fn after(app: &App) -> Rows {
    let held = topics::trainings(app).unwrap_or_default();
    let cursor = app.screens.topics.trainings.cursor;
    Rows::of(
        ("training", "trainings"),
        held.len(),
        cursor,
        trainings::EMPTY,
        |at| {
            let cells = trainings::COLUMNS.map(|column| {
                let value = trainings::cell(app, &held[at], &(column, usize::from(WIDE)));
                (column.title, value)
            });
            labelled(&cells)
        },
    )
}

pub(super) fn more(app: &App) -> Vec<String> {
    match app.screens.topics.tab {
        Tab::Heat => of_unit(app),
        Tab::Asks => topics::chosen_ask(app).map_or_else(Vec::new, |ask| {
            let card = rules::cards()[ask.rule];
            let mut lines = vec![asks::counts(ask)];
            lines.extend(of_card(&[
                ("What it asks", card.asks),
                ("Why", card.why),
                ("Next time", card.next_time),
                ("Caution", card.caution),
            ]));
            lines
        }),
        Tab::Trainings => topics::chosen_training(app).map_or_else(Vec::new, |trained| {
            let mut lines = vec![text::sentence(&trained.effect.to_string())];
            let facts = trainings::facts(app, trained).into_iter();
            lines.extend(facts.map(|(label, words)| format!("{label}: {words}.")));
            lines.push(trainings::meaning());
            lines
        }),
    }
}

fn of_card(parts: &[(&str, &str)]) -> Vec<String> {
    let said = parts.iter().filter(|(_, words)| !words.is_empty());
    said.map(|(label, words)| format!("{label}: {words}"))
        .collect()
}

/// The chosen person's or crew's topics, and the chosen one in full.
fn of_unit(app: &App) -> Vec<String> {
    let Some(unit) = topics::chosen_unit(app) else {
        return Vec::new();
    };
    let mut lines = vec![format!("{}: {}", unit.name, person::standing(unit))];
    let topics = unit.topics.topics.iter();
    lines.extend(topics.map(|topic| format!("{}.", topic_words(topic))));
    if let Some(rule) = topics::chosen_rule(app) {
        let said = person::said(app, unit, rule, usize::from(WIDE));
        lines.extend(voice::all_words(&said));
    }
    lines
}

fn topic_words(topic: &Topic) -> String {
    let peers = topic
        .expected
        .map_or_else(|| "none".to_owned(), heat::number);
    let range = topic.over_peers.map_or_else(String::new, |over| {
        format!(
            " (95 % interval {} to {})",
            heat::number(over.low),
            heat::number(over.high)
        )
    });
    format!(
        "{} costs {} draws, peers {peers}, regains {}{range}: {}",
        topic.id(),
        heat::number(topic.cost),
        heat::number(topic.regained()),
        topic.says.as_str()
    )
}

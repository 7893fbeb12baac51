//! Changes of how a table is read: what can be chosen for a row of the map, and what choosing
//! it does.

use std::sync::Arc;

use super::choices::{Choices, Means, Offer};
use super::map_rows::{self, At, MapRow, line};
use super::{Edit, look, look_again, map_view};
use crate::programme::maps::{Proposal, Value, mappable, scalar};
use crate::tui::action::Command;
use crate::tui::app::{App, Over};
use crate::tui::effect::Effect;
use crate::tui::layout;
use crate::tui::list::ListPlace;
use crate::tui::moves;
use crate::tui::screens::records::asked;
use crate::tui::text;

/// Offers what the chosen row could be.
pub(crate) fn begin(app: &mut App) {
    let choices = match map_view::chosen(app) {
        Some(MapRow::How(how)) => Some(Choices {
            title: how.name().to_owned(),
            about: how.about().to_owned(),
            offers: how.offers(),
            written: how.said(&app.import.request).unwrap_or_default(),
            edit: Edit::How(how),
            list: ListPlace::default(),
        }),
        Some(MapRow::Line(at)) => of_line(app, &at),
        Some(MapRow::Aside(sheet, place)) => of_aside(app, sheet, place),
        Some(MapRow::Title(_)) | None => None,
    };
    app.over = choices.map(Over::Choices);
}

fn offer(label: String, note: &str, means: Means) -> Offer {
    Offer {
        label,
        note: note.to_owned(),
        means,
    }
}

fn of_line(app: &App, at: &At) -> Option<Choices> {
    let proposal = map_view::proposal(app)?;
    let keys = map_rows::keys(proposal, at);
    let title = keys.join(", ");
    let choices = |about: &str, offers: Vec<Offer>, written: String, at: &At| Choices {
        title: title.clone(),
        about: about.to_owned(),
        offers,
        edit: Edit::Line(at.clone()),
        written,
        list: ListPlace::default(),
    };
    if let Some(question) = map_rows::question(proposal, at) {
        let mut offers: Vec<Offer> = (question.choices.iter())
            .map(|choice| {
                let note = if choice.label == choice.yaml {
                    ""
                } else {
                    choice.yaml.as_str()
                };
                offer(
                    choice.label.clone(),
                    note,
                    Means::Value(choice.yaml.clone()),
                )
            })
            .collect();
        if question.is_free || offers.is_empty() {
            offers.push(offer("another".to_owned(), "written by hand", Means::Write));
        }
        if at.in_columns {
            let required = is_required(proposal, at, &keys);
            if !required {
                let words = "leave the column out".to_owned();
                offers.push(offer(words, "it is then blank", Means::LeaveOut));
            }
        }
        return Some(choices(
            &text::sentence(&question.text),
            offers,
            String::new(),
            at,
        ));
    }
    let sheet = proposal.sheets.get(at.sheet)?;
    let ours = mappable(sheet.kind);
    let column = ours
        .iter()
        .find(|ours| Some(ours.name) == keys.first().map(String::as_str));
    // A column is changed by what it is made of.
    let from = if at.in_columns && at.path.len() == 1 {
        map_rows::from_line(proposal, at)
    } else {
        at.clone()
    };
    let written = match &line(proposal, &from)?.value {
        Value::Yaml(yaml) => yaml.clone(),
        Value::Open(_) | Value::Lines(_) => return None,
    };
    let key = line(proposal, &from)?.key.clone();
    let mut offers = Vec::new();
    let mut about = String::new();
    if at.in_columns && (from.path.len() == 1 || key == "from") {
        about = column.map_or_else(String::new, |ours| {
            format!(
                "Which of their columns says {}: {}?",
                ours.name, ours.meaning
            )
        });
        offers.extend(map_rows::theirs(sheet).into_iter().map(|name| {
            let yaml = scalar(&name);
            let note = if yaml == written || name == written {
                "as it is now"
            } else {
                ""
            };
            offer(name, note, Means::Value(yaml))
        }));
    } else if key == "unit"
        && let Some(ours) = column
    {
        about = "In which unit are their numbers?".to_owned();
        offers.extend(ours.units.iter().map(|unit| {
            let note = if *unit == ours.unit { "ours" } else { "" };
            offer((*unit).to_owned(), note, Means::Value(scalar(unit)))
        }));
    } else if keys.iter().any(|key| key == "words")
        && let Some(ours) = column
    {
        about = format!("What is {key} in our words? Known are: {}.", ours.values);
    }
    offers.push(offer(
        "another".to_owned(),
        "written by hand, as in a map",
        Means::Write,
    ));
    if at.in_columns && at.path.len() == 1 && !is_required(proposal, at, &keys) {
        let words = "leave the column out".to_owned();
        offers.push(offer(words, "it is then blank", Means::LeaveOut));
    }
    Some(choices(&about, offers, written, &from))
}

fn is_required(proposal: &Proposal, at: &At, keys: &[String]) -> bool {
    let Some(sheet) = proposal.sheets.get(at.sheet) else {
        return false;
    };
    let ours = mappable(sheet.kind);
    ours.iter()
        .any(|ours| ours.required && keys.first().is_some_and(|key| key == ours.name))
}

/// Which of our columns one of theirs could be.
fn of_aside(app: &App, sheet: usize, place: usize) -> Option<Choices> {
    let (name, _) = map_view::aside(app, sheet, place)?;
    let of = map_view::proposal(app)?.sheets.get(sheet)?;
    let is_free = |ours: &&str| !of.columns.iter().any(|line| line.key == **ours);
    let ours = mappable(of.kind);
    let offers: Vec<Offer> = (ours.iter())
        .filter(|ours| is_free(&ours.name))
        .map(|ours| {
            let name = ours.name.to_owned();
            offer(name.clone(), ours.meaning, Means::Value(name))
        })
        .collect();
    Some(Choices {
        title: name.to_owned(),
        about: "Which of our columns is it?".to_owned(),
        offers,
        edit: Edit::Aside(sheet, place),
        written: String::new(),
        list: ListPlace::default(),
    })
}

/// Does what a key asked for in the choices.
pub(crate) fn obey(
    app: &mut App,
    mut choices: Choices,
    command: Command,
    effects: &mut Vec<Effect>,
) {
    let height = usize::from(choices.list_area(layout::body(app.size)).height);
    let len = choices.offers.len();
    match command {
        Command::Back => {}
        Command::Open => {
            let Some(offer) = choices.offers.get(choices.list.cursor).cloned() else {
                return;
            };
            match offer.means {
                Means::Value(value) => {
                    if let Err(words) = apply(app, &choices.edit, &value, effects) {
                        app.message = Some(words);
                    }
                }
                Means::LeaveOut => {
                    if let Edit::Line(at) = &choices.edit {
                        leave_out(app, at, effects);
                    }
                }
                Means::Write => asked::write(app, choices),
            }
        }
        other => {
            if let Some(by) = moves::distance(other, height) {
                choices.list.step(by, len, height);
            }
            app.over = Some(Over::Choices(choices));
        }
    }
}

/// Puts a value in and has the table looked at again.
///
/// # Errors
/// It can't be that; in words.
pub(crate) fn apply(
    app: &mut App,
    edit: &Edit,
    value: &str,
    effects: &mut Vec<Effect>,
) -> Result<(), String> {
    match edit {
        Edit::How(how) => {
            how.say(&mut app.import.request, value)?;
            let tab = app.import.tab;
            if app.waiting.intake {
                return Err("It is still being looked at; say so once more.".to_owned());
            }
            look(app, effects);
            app.import.tab = tab;
        }
        Edit::Line(at) => change(app, effects, |proposal| map_rows::set(proposal, at, value)),
        Edit::Aside(sheet, place) => change(app, effects, |proposal| {
            map_rows::take_up(proposal, *sheet, *place, value);
        }),
    }
    Ok(())
}

/// What a written text is as a value: an answer is a text, all else is written as in a map.
pub(crate) fn as_value(app: &App, edit: &Edit, written: &str) -> String {
    let is_answer = match edit {
        Edit::Line(at) => {
            map_view::proposal(app).is_some_and(|of| map_rows::question(of, at).is_some())
        }
        Edit::Aside(..) | Edit::How(_) => false,
    };
    if is_answer {
        scalar(written.trim())
    } else {
        written.trim().to_owned()
    }
}

/// Whether the chosen row is a column that can be left out.
pub(crate) fn can_leave_out(app: &App) -> bool {
    let (Some(proposal), Some(MapRow::Line(at))) = (map_view::proposal(app), map_view::chosen(app))
    else {
        return false;
    };
    let keys = map_rows::keys(proposal, &at);
    at.in_columns && !is_required(proposal, &at, &keys)
}

/// Takes a column of ours out of the map, or says why it can't be.
pub(crate) fn leave_out(app: &mut App, at: &At, effects: &mut Vec<Effect>) {
    let Some(proposal) = map_view::proposal(app) else {
        return;
    };
    let keys = map_rows::keys(proposal, at);
    if !at.in_columns {
        app.message = Some("Only columns can be left out.".to_owned());
    } else if is_required(proposal, at, &keys) {
        app.message = Some(format!("A row needs {}; it can't be left out.", keys[0]));
    } else {
        let whole = At {
            path: at.path[..1].to_vec(),
            ..at.clone()
        };
        change(app, effects, |proposal| {
            map_rows::leave_out(proposal, &whole);
        });
        app.message = keys.first().map(|key| format!("Left out: {key}."));
    }
}

fn change(app: &mut App, effects: &mut Vec<Effect>, with: impl FnOnce(&mut Proposal)) {
    let Some(proposal) = &mut app.import.looked.proposal else {
        return;
    };
    with(Arc::make_mut(proposal));
    // What was seen is about the map as it was.
    app.import.looked.map = None;
    app.import.looked.problems.clear();
    look_again(app, effects);
    moves::settle(app);
}

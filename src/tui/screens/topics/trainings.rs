//! What came after each training, beside those who had none.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use super::chosen_training;
use crate::analysis::training::{BeforeAfter, Effect, Record, Trained, WINDOW_DAYS};
use crate::model::Technician;
use crate::rules;
use crate::tui::app::App;
use crate::tui::screens::beside;
use crate::tui::text;
use crate::tui::widgets::table::{self, Column as TableColumn, Look};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shown {
    Held,
    Technician,
    Rule,
    Before,
    After,
    Change,
    Interval,
    Says,
}

/// Room for the longest verdict.
const FULL: usize = 63;

/// The columns of the list.
pub(crate) const COLUMNS: [TableColumn<Shown>; 8] = [
    TableColumn::new(Shown::Held, "held on", 10, 3),
    TableColumn::new(Shown::Technician, "technician", 10, 0).grows(3, 26),
    TableColumn::new(Shown::Rule, "in", 15, 0),
    TableColumn::new(Shown::Before, "before", 7, 1).right(),
    TableColumn::new(Shown::After, "after", 7, 1).right(),
    TableColumn::new(Shown::Change, "change", 7, 0).right(),
    TableColumn::new(Shown::Interval, "95 %", 16, 4).right(),
    TableColumn::new(Shown::Says, "since then", 10, 0).grows(4, FULL),
];

/// What is said where there is none.
pub(crate) const EMPTY: &str =
    "no training on record for anyone in view; a table of trainings is taken in with i";

pub(crate) fn list(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let Some(trainings) = super::trainings(app) else {
        return;
    };
    let width = usize::from(area.width).saturating_sub(2);
    let columns = table::fit(&COLUMNS, width, |_| false);
    let headings = table::headings(&columns, theme, |_| None);
    let look = Look {
        theme,
        place: app.screens.topics.trainings,
        len: trainings.len(),
        focused: true,
        marked: true,
        empty: EMPTY,
    };
    table::view(frame, area, headings, &look, |at| {
        let trained = &trainings[at];
        let mut spans = Vec::new();
        for column in &columns {
            let value = cell(app, trained, column);
            spans.extend(table::cell(column, &value, theme.plain()));
            spans.push(Span::raw(" "));
        }
        Line::from(spans)
    });
}

fn technician<'a>(app: &'a App, trained: &Trained) -> Option<&'a Technician> {
    let assessed = app.data.as_ref()?;
    assessed.technicians.get(trained.technician)
}

/// A difference of shares in percentage points, with its sign.
pub(crate) fn points(difference: f64) -> String {
    format!("{:+.1}", difference * 100.0).replace('-', "−")
}

fn range(low: f64, high: f64) -> String {
    format!("{} to {}", points(low), points(high))
}

/// The verdict in a word or two.
const fn brief(effect: Effect) -> &'static str {
    match effect {
        Effect::TooFew => "too few",
        Effect::NoChange => "no change",
        Effect::Fewer(_) => "fewer",
        Effect::More(_) => "more",
    }
}

/// One value of a row.
pub(crate) fn cell(app: &App, trained: &Trained, column: &(TableColumn<Shown>, usize)) -> String {
    let change = trained.own.change();
    match column.0.id {
        Shown::Held => trained.held_on.to_string(),
        Shown::Technician => technician(app, trained).map_or_else(String::new, |technician| {
            let name = technician.name.as_ref();
            name.unwrap_or(&technician.id).clone()
        }),
        Shown::Rule => rules::cards()[trained.rule].id.to_owned(),
        Shown::Before => text::percent(trained.own.before.share()),
        Shown::After => text::percent(trained.own.after.share()),
        Shown::Change => change.map_or_else(|| "–".to_owned(), |change| points(change.difference)),
        Shown::Interval => {
            change.map_or_else(|| "–".to_owned(), |change| range(change.low, change.high))
        }
        Shown::Says => {
            let full = trained.effect.to_string();
            if text::width(&full) <= column.1 {
                full
            } else {
                brief(trained.effect).to_owned()
            }
        }
    }
}

fn record(record: &Record) -> String {
    let unrecorded = if record.unrecorded > 0 {
        format!(", {} unrecorded", text::count(record.unrecorded))
    } else {
        String::new()
    };
    format!(
        "{} of {} broken ({}){unrecorded}",
        text::count(record.broken),
        text::count(record.recorded),
        text::percent(record.share())
    )
}

fn changed(it: &BeforeAfter) -> String {
    it.change().map_or_else(
        || "nothing recorded on one side".to_owned(),
        |change| {
            format!(
                "{} points ({})",
                points(change.difference),
                range(change.low, change.high)
            )
        },
    )
}

/// The chosen training in full.
pub(crate) fn lines(app: &App, area: Rect) -> Option<Vec<Line<'static>>> {
    let theme = app.theme;
    let trained = chosen_training(app)?;
    let technician = technician(app, trained)?;
    let width = usize::from(area.width).saturating_sub(1);
    let name = technician.name.as_ref().unwrap_or(&technician.id);
    let about = format!("{} · {}", rules::cards()[trained.rule].id, trained.held_on);
    let mut lines = vec![beside::heading(app, name, &about, area)];
    let verdict = sentence(&trained.effect.to_string());
    let strong = |line| Line::from(Span::styled(line, theme.strong()));
    lines.extend(text::wrap(&verdict, width).into_iter().map(strong));
    for (label, words) in facts(app, trained) {
        for (at, part) in text::wrap(&words, width.saturating_sub(8))
            .into_iter()
            .enumerate()
        {
            let head = if at == 0 { label } else { "" };
            lines.push(Line::from(vec![
                Span::styled(text::left(head, 8), theme.faint()),
                Span::raw(part),
            ]));
        }
    }
    if area.height >= 16 {
        lines.push(Line::default());
    }
    let faint = |line| Line::from(Span::styled(line, theme.faint()));
    lines.extend(text::wrap(&meaning(), width).into_iter().map(faint));
    Some(lines)
}

/// How before and after are compared, and what it does not show.
pub(crate) fn meaning() -> String {
    format!(
        "{WINDOW_DAYS} days before and after, in percentage points with 95 % intervals. \
         Peers are technicians without a training in this rule in these days. It is no \
         experiment: who is sent to a training had a bad spell, and bad spells pass by \
         themselves."
    )
}

/// Before, after and the peers, each with its label.
pub(crate) fn facts(app: &App, trained: &Trained) -> Vec<(&'static str, String)> {
    let peers = text::plural(trained.peer_count as u64, "peer", "peers");
    let beyond = trained.beyond_peers.map_or_else(
        || "can't be told".to_owned(),
        |beyond| {
            format!(
                "{} points ({})",
                points(beyond.difference),
                range(beyond.low, beyond.high)
            )
        },
    );
    let mut facts = vec![
        ("before", record(&trained.own.before)),
        ("after", record(&trained.own.after)),
        ("change", changed(&trained.own)),
        ("peers", format!("{peers}: {}", changed(&trained.peers))),
        ("beyond", beyond),
    ];
    let trainings = app.data.as_ref().map(|assessed| &assessed.trainings);
    let also: Vec<String> = (trained.also.iter())
        .filter_map(|place| trainings?.get(*place))
        .map(|other| format!("{} on {}", other.topic, other.held_on))
        .collect();
    if !also.is_empty() {
        facts.push(("also", format!("trained in {}", also.join(", "))));
    }
    if !trained.is_over {
        facts.push(("open", "the days after are not over yet".to_owned()));
    }
    facts
}

/// The words with a capital and a full stop.
fn sentence(words: &str) -> String {
    let mut signs = words.chars();
    let first = signs.next().map(|sign| sign.to_uppercase().to_string());
    format!("{}{}.", first.unwrap_or_default(), signs.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn differences_are_percentage_points_with_their_sign() {
        assert_eq!(points(-0.1234), "−12.3");
        assert_eq!(range(-0.2, 0.05), "−20.0 to +5.0");
        assert_eq!(sentence("no change"), "No change.");
    }
}

//! An opened draw in words: why it has its verdict, every rule with the value seen and the
//! value wanted, the compartment's other draws, the record.

use super::rows::Rows;
use super::told::{Told, WIDE};
use super::voice;
use crate::analysis::{Assessed, BLANK};
use crate::model::{Method, time};
use crate::programme::OpenedDraw;
use crate::rules;
use crate::tui::app::App;
use crate::tui::screens::draws::opened::{self, Look, ground, record_pairs, rules_in_order};

/// The title above the compartment's draws, up to its name.
const STRIP: &str = "Draws of compartment ";

pub(super) fn told(app: &App) -> Told {
    let Some((assessed, draw, row)) = shown(app) else {
        return Told::new("The opened draw");
    };
    let mut told = Told::new(&format!("Draw {}", draw.record.identity()));
    told.say(&format!("It is {}.", draw.explained.verdict));
    told.say_all(head(app, assessed, draw, row));
    let places = rules_in_order(draw);
    let chosen = app.screens.draws.rule;
    told.rows = Some(Rows::of(
        ("rule", "rules"),
        places.len(),
        chosen,
        "",
        |at| {
            let (card, answer) = (
                rules::cards()[places[at]],
                draw.explained.answers[places[at]],
            );
            let decisive = if draw.explained.decisive.has(places[at]) {
                ", decisive"
            } else {
                ""
            };
            let ground = ground(answer.seen, answer.wanted, answer.outcome);
            let ground = match ground.as_str() {
                "" => String::new(),
                ground => format!(": {ground}"),
            };
            format!("{} {}{decisive}{ground}", card.id, answer.outcome)
        },
    ));
    told
}

fn shown(app: &App) -> Option<(&Assessed, &OpenedDraw, u32)> {
    Some((app.data.as_ref()?, app.opened_draw()?, app.chosen_row()?))
}

/// The sentences above the compartment's draws, as the screen has them.
fn head(app: &App, assessed: &Assessed, draw: &OpenedDraw, row: u32) -> Vec<String> {
    let look = Look {
        theme: app.theme,
        width: usize::from(WIDE),
        height: usize::from(app.size.height),
        chosen: 0,
        focused: false,
    };
    let text = opened::write(assessed, draw, row, &look);
    let said = voice::all_words(&text.lines).into_iter().skip(1);
    said.take_while(|words| !words.starts_with(STRIP)).collect()
}

/// What the chosen rule asks and why, the compartment's draws, the record.
pub(super) fn more(app: &App) -> Vec<String> {
    let Some((assessed, draw, row)) = shown(app) else {
        return Vec::new();
    };
    let mut lines = rule(app, draw);
    lines.extend(strip(assessed, draw, row));
    lines.push("The record:".to_owned());
    let pairs = record_pairs(assessed, &draw.record);
    let (blank, filled): (Vec<_>, Vec<_>) =
        pairs.into_iter().partition(|(_, value)| value == BLANK);
    let filled: Vec<String> = filled
        .iter()
        .map(|(name, value)| format!("{name} {value}"))
        .collect();
    lines.push(format!("{}.", filled.join(", ")));
    let blank: Vec<&str> = blank.iter().map(|(name, _)| *name).collect();
    if !blank.is_empty() {
        lines.push(format!("Blank: {}.", blank.join(", ")));
    }
    for (name, words) in [
        ("Remarks", &draw.record.remarks),
        ("Kept aside", &draw.record.kept_aside),
    ] {
        if !words.is_empty() {
            lines.push(format!("{name}: {words}"));
        }
    }
    lines
}

/// The card of the chosen rule.
fn rule(app: &App, draw: &OpenedDraw) -> Vec<String> {
    let places = rules_in_order(draw);
    let Some(place) = places.get(app.screens.draws.rule).copied() else {
        return Vec::new();
    };
    let card = rules::cards()[place];
    let mut lines = vec![
        format!("{}: {}", card.id, card.asks),
        format!("Why: {}", card.why),
        format!("Next time: {}", card.next_time),
    ];
    if !card.caution.is_empty() {
        lines.push(format!("Caution: {}", card.caution));
    }
    let weight = draw.explained.weights[place];
    lines.push(format!(
        "Answers to {}, class {}, weight {weight}.",
        card.owner, card.class
    ));
    lines.push(format!("Source: {}", card.source));
    lines
}

/// Draws of the compartment told before and after the opened one.
const AROUND: (usize, usize) = (5, 2);

/// The compartment's draws around the opened one, oldest first; a change of point or method
/// against the one before is said.
fn strip(assessed: &Assessed, draw: &OpenedDraw, row: u32) -> Vec<String> {
    let rows: Vec<usize> = draw.strip.iter().map(|(row, _)| *row as usize).collect();
    let own = rows
        .iter()
        .position(|other| *other == row as usize)
        .unwrap_or(0);
    let point = |row: usize| &assessed.points[assessed.judged.point[row] as usize];
    let method = |row: usize| Method::from_index(assessed.judged.method[row]);
    let to = rows.len().min(own + AROUND.1 + 1);
    let mut lines = vec![format!("{STRIP}{}:", point(row as usize).compartment)];
    for at in own.saturating_sub(AROUND.0)..to {
        let here = rows[at];
        let mut words = format!(
            "{}, {}, point {}, {}",
            time::local_text(assessed.judged.drawn_at[here], assessed.zone),
            assessed.judged.verdict[here],
            point(here).id,
            method(here).map_or("no method on record", Method::as_str)
        );
        if at > 0 && point(rows[at - 1]).id != point(here).id {
            words.push_str("; another point than before");
        }
        // A blank is no change: the last method on record counts.
        let before = rows[..at].iter().rev().find_map(|row| method(*row));
        if before
            .zip(method(here))
            .is_some_and(|(before, now)| before != now)
        {
            words.push_str("; another method than before");
        }
        if at == own {
            words.push_str("; this one");
        }
        lines.push(format!("{words}."));
    }
    lines
}

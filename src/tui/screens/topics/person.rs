//! Beside the heat table: the chosen person's or crew's topics, and the chosen one in words.

use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use super::heat::{number, sign};
use super::{UnitTopics, chosen_rule, chosen_unit, is_ticked};
use crate::analysis::topics::{Says, Topic};
use crate::rules;
use crate::tui::app::App;
use crate::tui::screens::beside;
use crate::tui::screens::page::Written;
use crate::tui::text;

/// Everything that stands there; with `whole` for a page of its own, else for an area so high.
pub(crate) fn written(app: &App, area: Rect, whole: bool) -> Option<Written> {
    let unit = chosen_unit(app)?;
    let theme = app.theme;
    let width = usize::from(area.width).saturating_sub(1);
    let height = match whole {
        true => usize::MAX / 2,
        false => usize::from(area.height),
    };
    let tick = if is_ticked(app, unit) {
        theme.pick("✓ ", "x ")
    } else {
        ""
    };
    let about = if unit.topics.technician.is_some() {
        format!("{tick}{} · {}", unit.topics.key, unit.crew)
    } else {
        let members = unit.members.len() as u64;
        format!(
            "{tick}crew of {}",
            text::plural(members, "technician", "technicians")
        )
    };
    let mut lines = vec![beside::heading(app, &unit.name, &about, area)];
    let chosen = chosen_rule(app);
    let words = chosen.map_or_else(Vec::new, |rule| said(app, unit, rule, width));
    if height >= 16 {
        lines.extend(
            text::wrap(&standing(unit), width)
                .into_iter()
                .map(Line::from),
        );
        lines.push(Line::default());
    }
    // What is said of the chosen topic stands below the list, with room kept for it.
    let kept = words.len().min(height.saturating_sub(lines.len()) / 2);
    let room = height.saturating_sub(lines.len() + kept + 1);
    lines.push(Line::from(Span::styled(heading(width), theme.faint())));
    if unit.topics.topics.is_empty() {
        lines.push(Line::from(Span::styled(
            text::cut(
                "no topic: no rule costs more draws than it costs peers",
                width,
            ),
            theme.faint(),
        )));
    }
    let topics = &unit.topics.topics;
    let most = room.saturating_sub(1).max(1);
    for topic in topics.iter().take(most) {
        let line = topic_line(topic, width);
        lines.push(if Some(topic.rule) == chosen {
            Line::from(Span::styled(line, theme.strong()))
        } else {
            Line::from(line)
        });
    }
    if height >= 16 {
        lines.push(Line::default());
    }
    lines.extend(words);
    Some(Written {
        lines,
        left_out: topics.len().saturating_sub(most),
    })
}

/// How many draws the person or crew lost, of how many.
pub(crate) fn standing(unit: &UnitTopics) -> String {
    let topics = &unit.topics;
    format!(
        "{} of {} judged draws unrepresentative; {} at points where others drew too.",
        text::count(topics.unrepresentative),
        text::count(topics.judged),
        text::count(topics.at_shared_points)
    )
}

/// How wide the rules are.
const NAMES: usize = 14;

/// Whether interval and words fit beside the numbers.
const fn is_wide(width: usize) -> bool {
    width >= NAMES + 3 * 9 + 16 + 16
}

fn heading(width: usize) -> String {
    let mut words = text::left("topic", NAMES);
    for word in ["costs", "peers", "regain"] {
        words.push_str(&text::right(word, cells(width)));
    }
    if is_wide(width) {
        words.push_str(&text::right("95 %", 16));
    }
    words
}

const fn cells(width: usize) -> usize {
    match width {
        _ if width >= NAMES + 3 * 9 + 2 => 9,
        _ if width >= NAMES + 3 * 7 + 2 => 7,
        // The sign behind the numbers stays.
        _ => 6,
    }
}

fn topic_line(topic: &Topic, width: usize) -> String {
    let peers = topic.expected.map_or_else(|| "–".to_owned(), number);
    let mut words = text::left(topic.id(), NAMES);
    for value in [number(topic.cost), peers, number(topic.regained())] {
        words.push_str(&text::right(&value, cells(width)));
    }
    if is_wide(width) {
        let range = topic.over_peers.map_or_else(
            || "–".to_owned(),
            |over| format!("{} to {}", number(over.low), number(over.high)),
        );
        words.push_str(&text::right(&range, 16));
        words.push_str("  ");
        words.push_str(topic.says.as_str());
    } else {
        words.push(' ');
        words.push_str(sign(topic.says));
    }
    text::cut(&words, width)
}

/// The chosen topic in words, and what to do next time.
pub(crate) fn said(app: &App, unit: &UnitTopics, rule: usize, width: usize) -> Vec<Line<'static>> {
    let theme = app.theme;
    let card = rules::cards()[rule];
    let words = match unit.topic(rule) {
        None => format!(
            "{}: no topic here, it costs no more draws than it costs peers.",
            card.id
        ),
        Some(topic) => {
            let range = topic.over_peers.map_or_else(String::new, |over| {
                format!(" ({} to {} at 95 %)", number(over.low), number(over.high))
            });
            let peers = topic.expected.map_or_else(
                || "nobody else drew anything to compare with".to_owned(),
                |expected| format!("peers would lose {} at the same points", number(expected)),
            );
            let verdict = match topic.says {
                Says::MoreThanPeers => "more than chance explains",
                Says::MayBeChance => "chance alone could explain it",
                Says::Few => "too few draws to say more",
                Says::NoPeers => "so all of the cost stands there",
            };
            format!(
                "{}: broken on {} of {}, costs {} draws; {peers}; regains {}{range}: {verdict}.",
                card.id,
                text::count(topic.broken),
                text::count(topic.applies),
                number(topic.cost),
                number(topic.regained())
            )
        }
    };
    let mut lines: Vec<Line<'static>> = text::wrap(&words, width)
        .into_iter()
        .map(Line::from)
        .collect();
    if unit.topic(rule).is_none() {
        return lines;
    }
    for (label, words, style) in [
        ("Next time", card.next_time, theme.strong()),
        ("Caution", card.caution, theme.caution()),
    ] {
        if words.is_empty() {
            continue;
        }
        lines.extend(beside::labelled(label, words, style, width));
    }
    lines
}

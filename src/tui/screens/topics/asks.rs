//! What to ask of those who don't draw: the plant, the planner, dispatch, the desk.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::chosen_ask;
use super::heat::number;
use crate::analysis::BLANK;
use crate::analysis::topics::{ASKED, Ask};
use crate::model::Owner;
use crate::rules;
use crate::tui::app::App;
use crate::tui::screens::beside;
use crate::tui::text;
use crate::tui::widgets::table::{self, Column as TableColumn, Look};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shown {
    Owner,
    Rule,
    Site,
    Point,
    Draws,
    Broken,
    Unrecorded,
    Cost,
}

/// The columns of the list.
pub(crate) const COLUMNS: [TableColumn<Shown>; 8] = [
    TableColumn::new(Shown::Owner, "ask", 10, 0),
    TableColumn::new(Shown::Rule, "about", 16, 0),
    TableColumn::new(Shown::Site, "site", 10, 1).grows(3, 24),
    TableColumn::new(Shown::Point, "point", 9, 0).grows(2, 20),
    TableColumn::new(Shown::Draws, "draws", 7, 2).right(),
    TableColumn::new(Shown::Broken, "broken", 7, 0).right(),
    TableColumn::new(Shown::Unrecorded, "blank", 6, 0).right(),
    TableColumn::new(Shown::Cost, "costs", 7, 0).right(),
];

/// What is said where there is nothing to ask.
pub(crate) const EMPTY: &str =
    "nothing to ask of others: none of their rules is broken or unrecorded";

pub(crate) fn list(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let Some(asks) = super::asks(app) else {
        return;
    };
    let width = usize::from(area.width).saturating_sub(2);
    let sums = text::first_to_fit(&sums(asks), width, 1).into_iter();
    let sums: Vec<Line<'_>> = sums
        .map(|line| Line::from(Span::styled(line, theme.faint())))
        .collect();
    let above = Rect {
        y: area.y.saturating_sub(1),
        height: 1,
        ..area
    };
    frame.render_widget(Paragraph::new(sums), above);
    let columns = table::fit(&COLUMNS, width, |_| false);
    let headings = table::headings(&columns, theme, |_| None);
    let look = Look {
        theme,
        place: app.screens.topics.asks,
        len: asks.len(),
        focused: true,
        marked: true,
        empty: EMPTY,
    };
    table::view(frame, area, headings, &look, |at| {
        let ask = &asks[at];
        let mut spans = Vec::new();
        for column in &columns {
            spans.extend(table::cell(
                column,
                &cell(app, ask, column.0.id),
                theme.plain(),
            ));
            spans.push(Span::raw(" "));
        }
        Line::from(spans)
    });
}

/// What the lines of each owner cost together, and how many there are; the longest way to say it
/// first.
pub(crate) fn sums(asks: &[Ask]) -> Vec<String> {
    let of = |owner: Owner| {
        let theirs = asks.iter().filter(|ask| ask.owner == owner);
        let (lines, cost) =
            theirs.fold((0, 0.0), |(lines, cost), ask| (lines + 1, cost + ask.cost));
        (owner, lines, cost)
    };
    let sums: Vec<(Owner, u64, f64)> = ASKED
        .map(of)
        .into_iter()
        .filter(|(_, lines, _)| *lines > 0)
        .collect();
    let join = |each: &dyn Fn(&(Owner, u64, f64)) -> String| {
        sums.iter().map(each).collect::<Vec<_>>().join(" · ")
    };
    if sums.is_empty() {
        return Vec::new();
    }
    vec![
        join(&|(owner, lines, cost)| {
            let lines = text::plural(*lines, "line", "lines");
            format!("{owner}: {} draws in {lines}", number(*cost))
        }),
        join(&|(owner, _, cost)| format!("{owner}: {} draws", number(*cost))),
        join(&|(owner, _, cost)| format!("{owner} {}", number(*cost))),
    ]
}

fn point(app: &App, ask: &Ask) -> Option<String> {
    let assessed = app.data.as_ref()?;
    ask.point.map(|place| assessed.points[place].id.clone())
}

/// One value of a row.
pub(crate) fn cell(app: &App, ask: &Ask, column: Shown) -> String {
    match column {
        Shown::Owner => ask.owner.to_string(),
        Shown::Rule => ask.id().to_owned(),
        Shown::Site => ask.site.clone().unwrap_or_else(|| BLANK.to_owned()),
        Shown::Point => point(app, ask).unwrap_or_default(),
        Shown::Draws => text::count(ask.draws),
        Shown::Broken => text::count(ask.broken),
        Shown::Unrecorded => text::count(ask.unrecorded),
        Shown::Cost => number(ask.cost),
    }
}

/// How often it is broken and what it costs, in words.
pub(crate) fn counts(ask: &Ask) -> String {
    format!(
        "{}: broken on {} and unrecorded on {} of {} there; it costs {}. What is unrecorded is \
         neither pass nor fail.",
        ask.id(),
        text::count(ask.broken),
        text::count(ask.unrecorded),
        text::plural(ask.draws, "draw", "draws"),
        number(ask.cost)
    )
}

/// The chosen line in words.
pub(crate) fn lines(app: &App, area: Rect) -> Option<Vec<Line<'static>>> {
    let theme = app.theme;
    let ask = chosen_ask(app)?;
    let width = usize::from(area.width).saturating_sub(1);
    let card = rules::cards()[ask.rule];
    let place = point(app, ask).or_else(|| ask.site.clone());
    let place = place.unwrap_or_else(|| BLANK.to_owned());
    let title = format!("To ask of: {}", ask.owner);
    let mut lines = vec![beside::heading(app, &title, &place, area)];
    lines.extend(text::wrap(&counts(ask), width).into_iter().map(Line::from));
    let roomy = area.height >= 16;
    for (label, words) in [
        ("What it asks", card.asks),
        ("Why", card.why),
        ("Next time", card.next_time),
        ("Caution", card.caution),
    ] {
        if words.is_empty() {
            continue;
        }
        let style = if label == "Caution" {
            theme.caution()
        } else {
            theme.strong()
        };
        if roomy {
            lines.push(Line::default());
            lines.push(Line::from(Span::styled(label, style)));
            lines.extend(text::wrap(words, width).into_iter().map(Line::from));
        } else {
            lines.extend(beside::labelled(label, words, style, width));
        }
    }
    Some(lines)
}

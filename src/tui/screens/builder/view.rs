//! Draws the filter builder.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::fields::{Entry, entries};
use super::places::{Places, places};
use super::{Builder, Side};
use crate::analysis::{Filter, Offer};
use crate::tui::app::App;
use crate::tui::text;
use crate::tui::theme::Theme;
use crate::tui::widgets::boxed;

/// Draws it over the body.
pub(crate) fn view(builder: &Builder, app: &App, frame: &mut Frame<'_>, body: Rect) {
    let theme = app.theme;
    let places = places(body);
    boxed::view(frame, places.frame, "filter", Vec::new(), theme);
    fields(builder, theme, frame, places.fields);
    divider(theme, frame, places);
    head(builder, theme, frame, places.head);
    values(builder, theme, frame, places.values);
    foot(builder, app, frame, places.foot);
}

fn divider(theme: Theme, frame: &mut Frame<'_>, places: Places) {
    let area = Rect {
        x: places.fields.right() + 1,
        width: 1,
        ..places.fields
    };
    let bar = Span::styled(theme.pick("│", "|"), theme.faint());
    let lines: Vec<Line<'_>> = (0..area.height).map(|_| Line::from(bar.clone())).collect();
    frame.render_widget(Paragraph::new(lines), area);
}

/// The terms in force and the fields.
fn fields(builder: &Builder, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let width = usize::from(area.width);
    let has_keys = builder.side == Side::Fields;
    let filter = &builder.draft.filter;
    let line = |entry: &Entry| {
        let line = match entry {
            Entry::Heading(words) => {
                return Line::from(Span::styled(text::left(words, width), theme.title()));
            }
            Entry::Term(place) => {
                let said = filter.terms()[*place].said();
                let mark = theme.pick("▪", "*");
                Line::from(text::left(&format!("{mark} {said}"), width))
            }
            Entry::Field(key) => Line::from(text::left(&format!("  {}", key.title()), width)),
        };
        match *entry == builder.fields.chosen {
            true if has_keys => theme.choose(line),
            true => line.style(theme.resting()),
            false => line,
        }
    };
    let entries = entries(filter);
    let height = usize::from(area.height);
    let shown = entries.iter().skip(builder.fields.offset).take(height);
    frame.render_widget(Paragraph::new(shown.map(line).collect::<Vec<_>>()), area);
}

/// What the open field is, and what is typed to narrow its values.
fn head(builder: &Builder, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let width = usize::from(area.width);
    let key = builder.draft.key;
    let about = format!("{}: {}", key.title(), key.about());
    let first = Line::from(Span::styled(text::left(&about, width), theme.title()));
    let sought = &builder.values.sought;
    let has_keys = builder.side == Side::Values;
    let order = match builder.values.in_own_order {
        _ if key.is_day() => "newest first",
        true => "in their order",
        false => "most draws first",
    };
    let order = if width >= 44 { order } else { "" };
    let room = width.saturating_sub(order.len() + 1);
    let second = if sought.text().is_empty() {
        let words = match (has_keys, key.is_day()) {
            (false, _) => "",
            (true, true) => "type a day as 2026-03-04, or choose",
            (true, false) => "type to narrow the list",
        };
        Span::styled(text::left(words, room), theme.faint())
    } else {
        Span::raw(text::left(&format!("> {}", sought.text()), room))
    };
    let second = Line::from(vec![
        second,
        Span::raw(" "),
        Span::styled(order, theme.faint()),
    ]);
    frame.render_widget(Paragraph::new(vec![first, second]), area);
    if has_keys {
        let typed = match sought.text().is_empty() {
            true => 0,
            false => 2 + text::width(sought.before_cursor()),
        };
        let x = area.x + (typed.min(room) as u16);
        frame.set_cursor_position(Position { x, y: area.y + 1 });
    }
}

/// The values with the draws behind each.
fn values(builder: &Builder, theme: Theme, frame: &mut Frame<'_>, area: Rect) {
    let list = &builder.values;
    let lines = if list.len() == 0 {
        no_values(builder, theme, usize::from(area.width))
    } else {
        let most = list.shown().map(|offer| offer.draws).max().unwrap_or(0);
        let rows = list.shown().enumerate();
        let height = usize::from(area.height);
        rows.skip(list.list.offset)
            .take(height)
            .map(|(row, offer)| value(builder, theme, offer, most, row, area.width))
            .collect()
    };
    frame.render_widget(Paragraph::new(lines), area);
}

/// Cells of the bar behind a count, where there is room for one.
const BAR: usize = 10;

fn value(
    builder: &Builder,
    theme: Theme,
    offer: &Offer,
    most: u64,
    row: usize,
    width: u16,
) -> Line<'static> {
    let width = usize::from(width);
    let list = &builder.values;
    let is_ticked = builder.draft.ticked().contains(&offer.value);
    let tick = match (is_ticked, builder.draft.excludes()) {
        (true, true) => "[-] ",
        (true, false) => "[x] ",
        (false, _) => "[ ] ",
    };
    let count = match list.counted {
        true => text::count(offer.draws),
        false => theme.pick("…", "~").to_owned(),
    };
    let bar = if width >= 44 { BAR + 1 } else { 0 };
    let room = width.saturating_sub(4 + 10 + bar);
    let name = match &offer.name {
        Some(name) => format!("{}  {name}", offer.text),
        None => offer.text.clone(),
    };
    let style = match (list.counted, offer.draws) {
        (true, 0) => theme.faint(),
        _ => theme.plain(),
    };
    let mut spans = vec![
        Span::styled(tick, theme.strong()),
        Span::styled(text::left(&name, room), style),
        Span::styled(text::right(&count, 10), style),
    ];
    if bar > 0 && list.counted {
        let full = (offer.draws * BAR as u64).div_ceil(most.max(1)) as usize;
        let bar = theme.pick("▪", "=").repeat(full);
        spans.push(Span::styled(
            text::left(&format!(" {bar}"), BAR + 1),
            theme.faint(),
        ));
    }
    let line = Line::from(spans);
    match row == list.list.cursor {
        true if builder.side == Side::Values => theme.choose(line),
        _ => line,
    }
}

/// In place of values that there are none of.
fn no_values(builder: &Builder, theme: Theme, width: usize) -> Vec<Line<'static>> {
    let words = match builder.typed_day() {
        Some(Ok(day)) => format!(
            "{} {}. Enter applies it.",
            builder.draft.key.title(),
            day.shown(builder.draft.key)
        ),
        Some(Err(error)) => text::sentence(&error.message),
        None if builder.values.sought.text().is_empty() => {
            "No draw is left to choose by this.".to_owned()
        }
        None => "No value has these letters. Backspace takes one back, Esc all.".to_owned(),
    };
    let style = match builder.typed_day() {
        Some(Err(_)) => theme.warning(),
        _ => theme.plain(),
    };
    let lines = text::wrap(&words, width).into_iter();
    lines
        .map(|part| Line::from(Span::styled(part, style)))
        .collect()
}

/// How many draws would be in view, and the filter as it is typed.
fn foot(builder: &Builder, app: &App, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let width = usize::from(area.width);
    let rule = theme.pick("─", "-").repeat(width);
    let filter = builder.would_be();
    let mut lines = vec![
        Line::from(Span::styled(rule, theme.faint())),
        count(builder, app, &filter),
    ];
    let written = match filter.is_empty() {
        true => "no filter".to_owned(),
        false => filter.to_string(),
    };
    let room = usize::from(area.height).saturating_sub(lines.len());
    let label = "typed:  ";
    let mut parts = text::wrap(&written, width.saturating_sub(label.len()));
    if parts.len() > room {
        parts.truncate(room);
        if let Some(last) = parts.last_mut() {
            last.push_str(theme.pick("…", "~"));
        }
    }
    for (row, part) in parts.into_iter().enumerate() {
        let label = if row == 0 { label } else { "        " };
        lines.push(Line::from(vec![
            Span::styled(label, theme.faint()),
            Span::styled(part, theme.strong()),
        ]));
    }
    frame.render_widget(Paragraph::new(lines), area);
}

fn count(builder: &Builder, app: &App, filter: &Filter) -> Line<'static> {
    let theme = app.theme;
    if filter.days_cross() {
        let words = "The first day is after the last: no draw can pass.";
        return Line::from(Span::styled(words, theme.warning()));
    }
    let all = app.data.as_ref().map_or(0, |it| it.judged.len() as u64);
    let words = match builder.count {
        Some(count) => format!(
            "{} of {} would be in view",
            text::count(count),
            text::plural(all, "draw", "draws")
        ),
        None => "counting".to_owned(),
    };
    Line::from(Span::styled(words, theme.strong()))
}

//! The heat table: rules by technicians or crews, in each cell the draws to regain.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{Heat, UnitTopics, chosen_rule, chosen_unit, heat, is_ticked, panes, units};
use crate::analysis::topics::{Says, Topic};
use crate::rules;
use crate::tui::app::App;
use crate::tui::list::ListPlace;
use crate::tui::text;
use crate::tui::theme::Theme;
use crate::tui::widgets::chart::legend::{self, Entry};
use crate::tui::widgets::chart::shades;

/// How wide the rules on the left and their sums are.
const NAMES: usize = 16;
const SUMS: usize = 7;

/// No id or name takes more cells than this, whatever the room.
const MOST: usize = 16;

/// Lines of a table beside those of its rules: two of headings, the sums.
const AROUND: usize = 3;

/// Lines below the tables: a blank one, what the chosen cell says, the legend.
const BELOW: usize = 5;

/// The columns of persons or crews: as many as there is room for, then as wide as that
/// leaves room for. Where one table can't hold all and there is room below it, the next persons
/// stand in another one below.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Columns {
    /// In each table.
    count: usize,
    /// How many tables stand one below the other.
    tables: usize,
    /// With the blank that parts a column from the one before.
    width: usize,
    /// The cells of the largest number.
    number: usize,
}

impl Columns {
    fn of(app: &App) -> Self {
        let list = panes(app).list;
        let room = usize::from(list.width).saturating_sub(NAMES + SUMS + 1);
        let Some(heat) = heat(app) else {
            return Columns::within(room, 1, 1, 4, 4);
        };
        // Tables stand below one another with a blank line between.
        let each = heat.rules.len() + AROUND + 1;
        let tables = (usize::from(list.height) + 1).saturating_sub(BELOW) / each;
        // A sign of ASCII beside a digit reads as a part of the number.
        let gap = usize::from(!app.theme.is_unicode());
        let number = text::width(&number(heat.most)) + gap;
        Columns::within(room, tables.max(1), heat.units.len(), heat.widest, number)
    }

    /// `most` is how many tables there is room for, `widest` the longest id, `number` the
    /// largest number.
    fn within(room: usize, most: usize, len: usize, widest: usize, number: usize) -> Self {
        // A tick before the id; a density before the number and a sign behind it.
        let least = 1 + (widest + 1).min(MOST).max(number + 2);
        let count = (room / least).clamp(1, len.max(1));
        let tables = len.div_ceil(count).clamp(1, most);
        // Persons are spread over the tables evenly.
        let count = count.min(len.max(1).div_ceil(tables));
        Columns {
            count,
            tables,
            width: (room / count).min(1 + MOST).max(least),
            number,
        }
    }
}

/// How many persons or crews are on screen.
pub(crate) fn columns(app: &App) -> usize {
    let columns = Columns::of(app);
    columns.count * columns.tables
}

/// How many rules are on screen: two lines of headings, sums below, a line about signs or
/// ticks.
pub(crate) fn rows(list: Rect) -> usize {
    usize::from(list.height).saturating_sub(4)
}

/// Where the pointer is over the tables: the line within its table, and the person, counted from
/// the first on screen.
fn at(app: &App, x: u16, y: u16) -> Option<(usize, usize)> {
    let area = panes(app).list;
    let columns = Columns::of(app);
    let line = usize::from(y.checked_sub(area.y)?);
    let from_first = usize::from(x.checked_sub(area.x)?).checked_sub(NAMES + SUMS)?;
    let column = from_first / columns.width;
    let (table, line) = match columns.tables {
        1 => (0, line),
        _ => {
            let each = heat(app)?.rules.len() + AROUND + 1;
            (line / each, line % each)
        }
    };
    let is_over = column < columns.count && table < columns.tables;
    is_over.then_some((line, table * columns.count + column))
}

/// The cell under a place on the screen: rule and person, counted from the first on screen.
pub(crate) fn cell_at(app: &App, x: u16, y: u16) -> Option<(usize, usize)> {
    let (line, person) = at(app, x, y)?;
    let row = line.checked_sub(2)?;
    (row < rows(panes(app).list)).then_some((row, person))
}

/// The person whose heading stands at this place, counted from the first shown; `None` over the
/// names and sums of the rules.
pub(crate) fn heading_at(app: &App, x: u16, y: u16) -> Option<usize> {
    let (line, person) = at(app, x, y)?;
    (line < 2).then_some(person)
}

/// What is said of a topic, as a sign behind its number.
pub(crate) const fn sign(says: Says) -> &'static str {
    match says {
        Says::MoreThanPeers => "*",
        Says::MayBeChance => " ",
        Says::Few | Says::NoPeers => "?",
    }
}

/// Draws with one decimal, or whole ones where there are many.
pub(crate) fn number(draws: f64) -> String {
    if draws.abs() < 0.05 {
        "0.0".to_owned()
    } else if draws.abs() < 999.5 {
        format!("{draws:.1}").replace('-', "−")
    } else {
        text::count(draws.round().max(0.0) as u64)
    }
}

pub(crate) fn view(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let (Some(heat), state) = (heat(app), &app.screens.topics) else {
        return;
    };
    let units = units(app);
    if heat.rules.is_empty() || units.is_empty() {
        let words = if units.is_empty() {
            "no draws pass the filter"
        } else {
            "nothing to regain by training: no one loses more draws than peers do"
        };
        let line = Line::from(Span::styled(words, theme.faint()));
        return frame.render_widget(Paragraph::new(line), area);
    }
    let settled = |mut place: ListPlace, len, height| {
        place.settle(len, height);
        place
    };
    let columns = Columns::of(app);
    let across = settled(state.units, units.len(), columns.count * columns.tables);
    let down = settled(state.rules, heat.rules.len(), rows(area));
    let shown: Vec<(usize, &UnitTopics)> = (units.iter().copied().enumerate())
        .skip(across.offset)
        .take(columns.count * columns.tables)
        .collect();
    let mut lines = Vec::new();
    for (table, persons) in shown.chunks(columns.count).enumerate() {
        if table > 0 {
            lines.push(Line::default());
        }
        lines.extend(headings(
            app,
            persons,
            across,
            (table, shown.len()),
            units.len(),
        ));
        table_lines(
            app,
            heat,
            persons,
            (across, down),
            table,
            &mut lines,
            rows(area),
        );
    }
    let width = usize::from(area.width);
    let legend = legend::lines(&entries(heat.most, theme), width, theme);
    let room = usize::from(area.height).saturating_sub(lines.len());
    let ticks_line = usize::from(!app.ticked.is_empty());
    // The reading stands first, the legend where all of it fits.
    let has_legend = room > legend.len() + ticks_line;
    if room > legend.len() + ticks_line + 2 {
        lines.push(Line::default());
    }
    let most = room.saturating_sub(ticks_line + if has_legend { legend.len() } else { 0 });
    let bold = |line| Line::from(Span::styled(line, theme.strong()));
    let said = text::first_to_fit(&readings(app), width, most.min(2));
    lines.extend(said.into_iter().map(bold));
    if has_legend {
        lines.extend(legend);
    }
    if !app.ticked.is_empty() {
        let words = text::cut(&ticks(app), width);
        lines.push(Line::from(Span::styled(words, theme.strong())));
    }
    frame.render_widget(Paragraph::new(lines), area);
}

/// The rules of one table and their sums; those over all persons stand in the first.
fn table_lines(
    app: &App,
    heat: &Heat,
    persons: &[(usize, &UnitTopics)],
    (across, down): (ListPlace, ListPlace),
    table: usize,
    lines: &mut Vec<Line<'static>>,
    rows: usize,
) {
    let theme = app.theme;
    let columns = Columns::of(app);
    let sum_of_all = |sum: f64| match table {
        0 => number(sum),
        _ => String::new(),
    };
    let rules = heat.rules.iter().enumerate().skip(down.offset).take(rows);
    for (at, (rule, sum)) in rules {
        let is_row = at == down.cursor;
        let name = text::left(rules::cards()[*rule].id, NAMES);
        let style = match is_row {
            true => theme.strong(),
            false => theme.plain(),
        };
        let mut spans = vec![
            Span::styled(name, style),
            Span::styled(text::right(&sum_of_all(*sum), SUMS), theme.faint()),
        ];
        for (column, unit) in persons {
            let is_cell = is_row && *column == across.cursor;
            spans.extend(cell(unit.topic(*rule), heat.most, columns, is_cell, theme));
        }
        lines.push(Line::from(spans));
    }
    let all: f64 = heat.rules.iter().map(|(_, sum)| sum).sum();
    let mut sums = vec![
        Span::styled(text::left("all topics", NAMES), theme.faint()),
        Span::styled(text::right(&sum_of_all(all), SUMS), theme.faint()),
    ];
    for (_, unit) in persons {
        let sum = match unit.topics.topics.is_empty() {
            true => theme.pick("·", ".").to_owned(),
            false => number(unit.regained()),
        };
        let sum = format!("{sum} ");
        sums.push(Span::styled(
            text::right(&sum, columns.width),
            theme.faint(),
        ));
    }
    lines.push(Line::from(sums));
}

/// Two lines: ids with their ticks; names, and in the first table how many of all persons are on
/// screen, in which order.
fn headings(
    app: &App,
    persons: &[(usize, &UnitTopics)],
    across: ListPlace,
    (table, shown): (usize, usize),
    len: usize,
) -> Vec<Line<'static>> {
    let theme = app.theme;
    let width = Columns::of(app).width;
    let last = across.offset + shown;
    let title = if table == 0 { "draws to regain" } else { "" };
    let all = if table == 0 { "all" } else { "" };
    let mut first = vec![
        Span::styled(text::left(title, NAMES), theme.title()),
        Span::styled(text::right(all, SUMS), theme.faint()),
    ];
    let place = format!("{}-{last} of {len}", across.offset + 1);
    let order = if app.screens.topics.by_id {
        "by id"
    } else {
        "most first"
    };
    let mut place = format!("{place}, {order}");
    if text::width(&place) > NAMES + SUMS {
        place = place.replace(" of ", "/").replace(", ", " ");
    }
    if table > 0 {
        place.clear();
    }
    let mut second = vec![Span::styled(
        text::left(&place, NAMES + SUMS),
        theme.faint(),
    )];
    for (column, unit) in persons {
        let style = if *column == across.cursor {
            theme.title()
        } else {
            theme.faint()
        };
        let tick = if is_ticked(app, unit) {
            theme.pick("✓", "x")
        } else {
            ""
        };
        let id = text::cut(&unit.topics.key, width - 2);
        first.push(Span::styled(
            text::right(&format!("{tick}{id}"), width),
            style,
        ));
        let name = text::right(&short_name(unit, width - 1), width);
        second.push(Span::styled(name, style));
    }
    vec![Line::from(first), Line::from(second)]
}

/// The name as far as there is room; what precedes its first blank rather than a part of a
/// word. Nothing where the id is the name.
fn short_name(unit: &UnitTopics, width: usize) -> String {
    if unit.name == unit.topics.key {
        return String::new();
    }
    if text::width(&unit.name) <= width {
        return unit.name.clone();
    }
    let first = unit.name.split_whitespace().next().unwrap_or_default();
    text::cut(first, width)
}

/// ` ░12.4*`, reversed where it is the chosen one.
fn cell(
    topic: Option<&Topic>,
    most: f64,
    columns: Columns,
    is_chosen: bool,
    theme: Theme,
) -> Vec<Span<'static>> {
    let Some(topic) = topic else {
        let blank = format!("{} ", text::right(theme.pick("·", "."), columns.width - 1));
        let style = if is_chosen {
            theme.chosen()
        } else {
            theme.faint()
        };
        return vec![Span::styled(blank, style)];
    };
    let regained = topic.regained();
    let style = match topic.says {
        _ if is_chosen => theme.chosen(),
        Says::MoreThanPeers => theme.strong(),
        Says::MayBeChance => theme.plain(),
        Says::Few | Says::NoPeers => theme.faint(),
    };
    let heat = if is_chosen { style } else { theme.chart_mark() };
    let number = text::right(&number(regained), columns.number);
    // The shade fills what the number leaves of the cell, with a blank on either side.
    let room = columns.width - columns.number - 1;
    let cells = room.saturating_sub(2).max(1);
    let shade = shades::shade(regained, most, theme).repeat(cells);
    let shade = text::left(&text::right(&shade, (cells + 1).min(room)), room);
    vec![
        Span::styled(shade, heat),
        Span::styled(format!("{number}{}", sign(topic.says)), style),
    ]
}

/// What shades and signs mean, the shades in draws.
fn entries(most: f64, theme: Theme) -> Vec<Entry> {
    let mut entries = shades::legend(most, number, theme);
    if let Some(last) = entries.last_mut() {
        last.1.push_str(" draws to regain");
    }
    entries.push(("*", "more than peers".to_owned()));
    entries.push(("?", "few draws or no peers".to_owned()));
    entries
}

/// What the chosen cell says, the longest first.
fn readings(app: &App) -> Vec<String> {
    let (Some(unit), Some(rule)) = (chosen_unit(app), chosen_rule(app)) else {
        return Vec::new();
    };
    let (key, id) = (&unit.topics.key, rules::cards()[rule].id);
    let who = match unit.name == *key {
        true => key.clone(),
        false => format!("{key} {}", unit.name),
    };
    let Some(topic) = unit.topic(rule) else {
        return vec![
            format!("{who}, {id}: no topic, no more draws are lost by it than peers lose"),
            format!("{key}, {id}: no topic, peers lose as many"),
            format!("{key}, {id}: no topic"),
        ];
    };
    let (regained, cost) = (number(topic.regained()), number(topic.cost));
    let says = topic.says.as_str();
    vec![
        format!("{who}, {id}: {regained} draws to regain of {cost} lost, {says}"),
        format!("{key}, {id}: {regained} to regain of {cost} lost, {says}"),
        format!("{key}, {id}: {regained} to regain of {cost} lost"),
    ]
}

/// The shortlist in words.
pub(crate) fn ticks(app: &App) -> String {
    let ids: Vec<&str> = app.ticked.iter().map(String::as_str).collect();
    format!("{} ticked, w writes plans: {}", ids.len(), ids.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_as_many_as_fit_then_as_wide_as_that_allows() {
        let columns = |count, width| Columns {
            count,
            tables: 1,
            width,
            number: 4,
        };
        assert_eq!(Columns::within(50, 1, 30, 4, 4), columns(7, 7));
        assert_eq!(Columns::within(50, 1, 4, 4, 4), columns(4, 12));
        assert_eq!(Columns::within(50, 1, 2, 4, 4), columns(2, 17));
        assert_eq!(Columns::within(3, 1, 0, 40, 4), columns(1, 17));
    }

    #[test]
    fn persons_that_one_table_can_not_hold_stand_in_others_below_evenly() {
        let tables = |most, len| {
            let columns = Columns::within(50, most, len, 4, 4);
            (columns.tables, columns.count)
        };
        assert_eq!(tables(3, 7), (1, 7));
        assert_eq!(tables(3, 8), (2, 4));
        assert_eq!(tables(3, 30), (3, 7));
        assert_eq!(tables(9, 30), (5, 6));
    }

    #[test]
    fn numbers_stay_within_their_cells() {
        assert_eq!(number(12.44), "12.4");
        assert_eq!(number(-0.26), "−0.3");
        assert_eq!(number(-0.0), "0.0");
        assert_eq!(number(1234.5), "1,235");
    }
}

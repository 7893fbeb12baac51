//! Draws the Draws screen.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::columns::Column;
use super::opened::{self, Text};
use super::panes;
use crate::analysis::{Assessed, row_score};
use crate::model::{Method, RuleSet, time};
use crate::rules;
use crate::tui::app::{App, Place};
use crate::tui::text;
use crate::tui::widgets::table::{self, Column as TableColumn, Look};

/// A column of the table: one that sorts, or one that only shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shown {
    Sorting(Column),
    /// The sign of a result that is set aside.
    SetAside,
    Method,
    Site,
    Bottle,
}

const COLUMNS: [TableColumn<Shown>; 10] = [
    TableColumn::new(Shown::Sorting(Column::Verdict), "verdict", 18, 0),
    TableColumn::new(Shown::SetAside, "", 1, 0),
    TableColumn::new(Shown::Sorting(Column::Date), "drawn", 16, 0),
    TableColumn::new(Shown::Sorting(Column::Point), "point", 9, 0).grows(1, 24),
    TableColumn::new(Shown::Sorting(Column::Technician), "technician", 14, 3).grows(4, 26),
    TableColumn::new(Shown::Method, "method", 12, 5),
    TableColumn::new(Shown::Site, "site", 10, 6).grows(1, 20),
    TableColumn::new(Shown::Bottle, "bottle", 9, 7).grows(1, 16),
    TableColumn::new(Shown::Sorting(Column::Score), "score", 6, 1).right(),
    TableColumn::new(Shown::Sorting(Column::Broken), "broken", 14, 2).grows(4, 60),
];

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    let Some(assessed) = &app.data else {
        return;
    };
    let panes = panes(app);
    if let Some(area) = panes.list {
        list(app, assessed, frame, area);
    }
    if let Some(area) = panes.opened {
        if panes.list.is_some() {
            divider(app, frame, area);
        }
        opened_view(app, assessed, frame, area);
    }
}

/// A line between list and opened draw: to the left of it, or above it.
pub(crate) fn divider(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let style = app.theme.line();
    let buffer = frame.buffer_mut();
    if area.x > 1 {
        let glyph = app.theme.pick("│", "|");
        for y in area.top()..area.bottom() {
            buffer.set_string(area.x - 2, y, glyph, style);
        }
    } else if area.y > 0 {
        let line = app.theme.pick("─", "-").repeat(usize::from(area.width));
        buffer.set_string(area.x, area.y - 1, line, style);
    }
}

/// The columns that there is room for.
fn fitted(app: &App, width: usize) -> Vec<(TableColumn<Shown>, usize)> {
    let sorted = Shown::Sorting(app.screens.draws.column);
    let docket = app.figures.docket.as_ref();
    let any_aside = docket.is_some_and(|docket| !docket.set_aside.is_empty());
    let columns = COLUMNS.into_iter();
    let columns: Vec<TableColumn<Shown>> = columns
        .filter(|column| column.id != Shown::SetAside || any_aside)
        .collect();
    table::fit(&columns, width, |id| id == sorted)
}

/// What stands in the row of a draw whose result is set aside; nothing in that of another.
fn aside_sign(app: &App, row: u32) -> &'static str {
    let docket = app.figures.docket.as_ref();
    match docket.is_some_and(|docket| docket.set_aside.contains(&row)) {
        true => app.theme.pick("⊘", "/"),
        false => "",
    }
}

/// The column that a click on this cell of the headings sorts by.
pub(crate) fn heading_at(app: &App, x: u16) -> Option<Column> {
    let area = panes(app).list?;
    let columns = fitted(app, usize::from(area.width).saturating_sub(2));
    match table::column_at(&columns, usize::from(x.checked_sub(area.x)?))? {
        Shown::Sorting(column) => Some(column),
        Shown::SetAside | Shown::Method | Shown::Site | Shown::Bottle => None,
    }
}

fn list(app: &App, assessed: &Assessed, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let state = &app.screens.draws;
    let width = usize::from(area.width).saturating_sub(2);
    let columns = fitted(app, width);
    let headings = table::headings(&columns, theme, |id| {
        (id == Shown::Sorting(state.column)).then_some(state.descending)
    });
    let look = Look {
        theme,
        place: state.list,
        len: app.list_len(),
        focused: app.place == Place::Draws,
        marked: true,
        empty: "no draws pass the filter",
    };
    table::view(frame, area, headings, &look, |at| {
        let Some(row) = app.row_at(at) else {
            return Line::default();
        };
        let mut spans = Vec::new();
        for column in &columns {
            spans.extend(cell(app, assessed, row, column));
            spans.push(Span::raw(" "));
        }
        Line::from(spans)
    });
}

fn cell(
    app: &App,
    assessed: &Assessed,
    row: u32,
    column: &(TableColumn<Shown>, usize),
) -> Vec<Span<'static>> {
    let theme = app.theme;
    let plain = theme.plain();
    let judged = &assessed.judged;
    let at = row as usize;
    let point = &assessed.points[judged.point[at] as usize];
    match column.0.id {
        Shown::Sorting(Column::Verdict) => {
            let verdict = judged.verdict[at];
            let style = theme.verdict(verdict).add_modifier(Modifier::BOLD);
            vec![
                Span::styled(format!("{} ", theme.verdict_glyph(verdict)), style),
                Span::raw(text::left(verdict.as_str(), column.1 - 2)),
            ]
        }
        Shown::Sorting(Column::Date) => {
            let drawn = time::local_text(judged.drawn_at[at], assessed.zone);
            table::cell(column, &drawn, plain)
        }
        Shown::Sorting(Column::Point) => table::cell(column, &point.id, plain),
        Shown::Sorting(Column::Technician) => {
            let technician = &assessed.technicians[judged.technician[at] as usize];
            table::cell(
                column,
                technician.name.as_ref().unwrap_or(&technician.id),
                plain,
            )
        }
        Shown::Sorting(Column::Score) => {
            let score = text::score(row_score(assessed, at).score);
            table::cell(column, &score, plain)
        }
        Shown::Sorting(Column::Broken) => {
            let rules = broken(judged.broken[at], column.1);
            table::cell(column, &rules, plain)
        }
        Shown::SetAside => table::cell(column, aside_sign(app, row), theme.caution()),
        Shown::Method => {
            let method = Method::from_index(judged.method[at]);
            table::cell(column, method.map_or("", Method::as_str), plain)
        }
        Shown::Site => table::cell(column, point.site.as_deref().unwrap_or(""), plain),
        Shown::Bottle => {
            let record = app.records.get(&row);
            let bottle = record.map_or("", |record| record.bottle_id.as_str());
            table::cell(column, bottle, plain)
        }
    }
}

/// The ids of broken rules as far as they fit, and how many more there are.
fn broken(set: RuleSet, width: usize) -> String {
    let ids: Vec<&str> = set.iter().map(|place| rules::cards()[place].id).collect();
    for shown in (1..=ids.len()).rev() {
        let mut line = ids[..shown].join(" ");
        if shown < ids.len() {
            line.push_str(&format!(" +{}", ids.len() - shown));
        }
        if text::width(&line) <= width {
            return line;
        }
    }
    match ids.as_slice() {
        [] => String::new(),
        [only] => (*only).to_owned(),
        many => {
            let more = format!(" +{}", many.len() - 1);
            let room = width.saturating_sub(more.len());
            format!("{}{more}", text::cut(many[0], room))
        }
    }
}

/// The lines of the opened draw as they stand in its pane; `None` while it is fetched.
pub(crate) fn opened_text(app: &App) -> Option<Text> {
    let area = panes(app).opened?;
    let row = app.chosen_row()?;
    let draw = app.opened_draw()?;
    let look = opened::Look {
        theme: app.theme,
        // The bar, and a blank before it.
        width: usize::from(area.width).saturating_sub(2),
        height: usize::from(area.height),
        chosen: app.screens.draws.rule,
        focused: app.place == Place::Opened,
    };
    Some(opened::write(app.data.as_ref()?, draw, row, &look))
}

fn opened_view(app: &App, assessed: &Assessed, frame: &mut Frame<'_>, area: Rect) {
    let inner = Rect {
        width: area.width.saturating_sub(1),
        ..area
    };
    let Some(text) = opened_text(app) else {
        if app.chosen_row().is_some() && !assessed.judged.is_empty() {
            let line = Line::from(Span::styled("opening", app.theme.faint()));
            frame.render_widget(Paragraph::new(line), inner);
        }
        return;
    };
    let height = usize::from(area.height);
    let most = text.lines.len().saturating_sub(height);
    let scroll = app.screens.draws.scroll.min(most);
    let len = text.lines.len();
    let lines: Vec<Line<'static>> = text.lines.into_iter().skip(scroll).take(height).collect();
    frame.render_widget(Paragraph::new(lines), inner);
    // The bar counts the lines below the first, as it does below the headings of a list.
    table::scrollbar(frame, area, app.theme, scroll, len.saturating_sub(1));
}

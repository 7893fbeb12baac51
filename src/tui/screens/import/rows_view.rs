//! Draws the first rows as they would be stored, a column of ours a line; and what would be
//! refused.

use std::path::PathBuf;

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::below;
use crate::programme::SheetPreview;
use crate::tui::app::App;
use crate::tui::screens::refused_list::{self, RefusedList, RefusedRow};
use crate::tui::text;
use crate::tui::widgets::table::{self, Look};

/// The sheet in view.
pub(crate) fn shown(app: &App) -> Option<&SheetPreview> {
    let previews = &app.import.looked.previews;
    previews.get(app.import.sheet.min(previews.len().saturating_sub(1)))
}

/// What would come of the sheets as far as they were looked at.
pub(crate) fn counted(app: &App) -> String {
    let looked = &app.import.looked;
    let open = looked
        .proposal
        .as_ref()
        .map_or(0, |of| of.questions().len());
    if open > 0 {
        return match open {
            1 => "One question waits for an answer first.".to_owned(),
            many => format!("{many} questions wait for an answer first."),
        };
    }
    if !looked.problems.is_empty() {
        return "The map can't be used yet.".to_owned();
    }
    let sum = |of: fn(&SheetPreview) -> u64| looked.previews.iter().map(of).sum::<u64>();
    let is_whole = looked.previews.iter().all(|preview| preview.is_whole);
    let rows = text::plural(sum(|it| it.looked_at), "row", "rows");
    let which = if is_whole {
        format!("Of all {rows}")
    } else {
        format!("Of the first {rows}")
    };
    let values = match sum(|it| it.refused_values) {
        0 => String::new(),
        some => format!(", {} left out", text::plural(some, "value", "values")),
    };
    let lacks = match looked.previews.iter().any(|it| it.lacks_points) {
        true => {
            "No point is known yet: take points and technicians in first, or all of them together. "
        }
        false => "",
    };
    format!(
        "{lacks}{which}, {} would be taken and {} refused{values}.",
        text::count(sum(|it| it.taken)),
        text::count(sum(|it| it.refused_rows))
    )
}

/// The tables that are left aside, each with the reason.
pub(crate) fn left_aside(paths: &[PathBuf]) -> Option<String> {
    let name = |path: &PathBuf| text::file_name(&path.to_string_lossy()).to_owned();
    let names: Vec<String> = paths.iter().map(name).collect();
    let why = match names.len() {
        0 => return None,
        1 => "its name does not say what it holds; choose it by itself",
        _ => "their names do not say what they hold; choose each by itself",
    };
    Some(format!("Left aside: {}: {why}.", names.join(", ")))
}

/// How many columns of ours are shown; none where no row would be stored.
pub(crate) fn columns_shown(app: &App) -> usize {
    shown(app)
        .filter(|preview| !preview.rows.is_empty())
        .map_or(0, |preview| preview.columns.len())
}

fn title(app: &App, width: usize) -> Vec<Line<'static>> {
    let theme = app.theme;
    let Some(preview) = shown(app) else {
        return Vec::new();
    };
    let count = app.import.looked.previews.len();
    let name = text::file_name(&preview.sheet).to_owned();
    let of = match count {
        1 => preview.kind.as_str().to_owned(),
        many => format!(
            "{}, {} of {many}; n and p show the others",
            preview.kind.as_str(),
            app.import.sheet + 1
        ),
    };
    let gap = width.saturating_sub(text::width(&name));
    let mut lines = vec![Line::from(vec![
        Span::styled(text::cut(&name, width), theme.strong()),
        Span::styled(text::right(&format!("  {of}"), gap), theme.faint()),
    ])];
    let counted = text::wrap(&counted(app), width);
    lines.extend(counted.into_iter().map(Line::from));
    if let Some(words) = left_aside(&app.import.looked.left_aside) {
        let words = text::wrap(&words, width).into_iter();
        lines.extend(words.map(|part| Line::from(Span::styled(part, theme.faint()))));
    }
    lines.push(Line::default());
    lines
}

pub(crate) fn area(app: &App) -> Rect {
    let below = below(app);
    let above = title(app, usize::from(below.width).saturating_sub(2))
        .len()
        .max(3) as u16;
    Rect {
        y: below.y + above.min(below.height),
        height: below.height.saturating_sub(above),
        ..below
    }
}

/// A time to the minute where it is a whole one.
pub(crate) fn brief(cell: &str) -> String {
    match cell
        .strip_suffix(":00Z")
        .and_then(|rest| rest.split_once('T'))
    {
        Some((day, time)) => format!("{day} {time}Z"),
        None => cell.to_owned(),
    }
}

/// How many cells a value takes, and how many rows fit beside each other.
fn across(width: usize) -> (usize, usize) {
    let names = NAME + UNIT + 2;
    let room = width.saturating_sub(names);
    let count = (room / 18).clamp(1, 10);
    (room / count, count)
}

const NAME: usize = 17;
const UNIT: usize = 6;

/// How many rows of data stand beside each other.
pub(crate) fn columns(app: &App) -> usize {
    across(usize::from(area(app).width).saturating_sub(2)).1
}

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    let theme = app.theme;
    let below = below(app);
    let width = usize::from(below.width).saturating_sub(2);
    let Some(preview) = shown(app) else {
        return nothing(app, frame, below);
    };
    frame.render_widget(Paragraph::new(title(app, width)), below);
    let (cells, count) = across(width);
    let from = app
        .import
        .across
        .min(preview.rows.len().saturating_sub(count));
    let rows = &preview.rows[from..preview.rows.len().min(from + count)];
    let mut head = vec![Span::styled(
        text::left("as stored", NAME + UNIT + 2),
        theme.faint(),
    )];
    for row in rows {
        let title = format!("line {}", row.line);
        head.push(Span::styled(text::left(&title, cells), theme.faint()));
    }
    let look = Look {
        theme,
        place: app.import.columns,
        len: columns_shown(app),
        focused: true,
        marked: true,
        empty: match preview.columns.is_empty() {
            true => "none of its columns is taken",
            false => "no row of it would be stored; the next view, Tab, says why",
        },
    };
    table::view(frame, area(app), Line::from(head), &look, |at| {
        let column = &preview.columns[at];
        let mut spans = vec![
            Span::styled(text::left(column.ours, NAME), theme.strong()),
            Span::raw(" "),
            Span::styled(text::left(column.unit, UNIT), theme.faint()),
            Span::raw(" "),
        ];
        for row in rows {
            let cell = row.cells.get(at).map_or("", String::as_str);
            let (cell, style) = match cell {
                "" => (theme.pick("·", "."), theme.faint()),
                some => (some, theme.plain()),
            };
            let cell = text::left(&brief(cell), cells.saturating_sub(1));
            spans.push(Span::styled(cell, style));
            spans.push(Span::raw(" "));
        }
        Line::from(spans)
    });
}

pub(crate) fn refused(app: &App, frame: &mut Frame<'_>) {
    let below = below(app);
    let width = usize::from(below.width).saturating_sub(2);
    let Some(preview) = shown(app) else {
        return nothing(app, frame, below);
    };
    frame.render_widget(Paragraph::new(title(app, width)), below);
    let note = match preview.is_whole {
        true => String::new(),
        false => "d reads all of it and tells what would be refused.".to_owned(),
    };
    let list = RefusedList {
        rows: (preview.refusals.iter())
            .map(|refusal| RefusedRow::from((preview.sheet.as_str(), refusal)))
            .collect(),
        place: app.import.refused,
        focused: true,
        empty: "nothing would be refused",
        note,
    };
    refused_list::view(app, &list, frame, area(app));
}

fn nothing(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let width = usize::from(area.width).saturating_sub(2);
    let words = text::cut(&counted(app), width);
    frame.render_widget(Paragraph::new(Line::from(words)), area);
}

//! The compartment's draws around the opened one, so that a change of point or method
//! jumps out: it is marked with a glyph and stands out, whatever the colours.

use ratatui::style::{Modifier, Style};
use ratatui::text::{Line, Span};

use crate::analysis::{Assessed, BLANK};
use crate::model::{Method, time};
use crate::programme::OpenedDraw;
use crate::tui::text;
use crate::tui::theme::Theme;

/// Lines of at most `width` cells, oldest first. `row` is the opened draw; of the draws
/// before it at most `before` are shown.
pub(crate) fn lines(
    assessed: &Assessed,
    opened: &OpenedDraw,
    row: u32,
    theme: Theme,
    width: usize,
    before: usize,
) -> Vec<Line<'static>> {
    let own = opened.strip.iter().position(|(other, _)| *other == row);
    let own = own.unwrap_or(opened.strip.len().saturating_sub(1));
    let from = own.saturating_sub(before);
    let to = (own + 3).min(opened.strip.len());
    let name = |at: usize| {
        let point = assessed.judged.point[opened.strip[at].0 as usize];
        text::width(&assessed.points[point as usize].id)
    };
    let widest = (from..to).map(name).max().unwrap_or(0);
    (from..to)
        .map(|at| {
            let rows: Vec<u32> = opened.strip[..=at].iter().map(|(row, _)| *row).collect();
            line(assessed, &rows, row, theme, (width, widest))
        })
        .collect()
}

/// Less room than this for point and person, and neither would be told.
const LEAST_FREE: usize = 12;

fn line(
    assessed: &Assessed,
    rows: &[u32],
    own_row: u32,
    theme: Theme,
    (width, widest): (usize, usize),
) -> Line<'static> {
    let judged = &assessed.judged;
    let Some((row, earlier)) = rows.split_last() else {
        return Line::default();
    };
    let (place, is_own) = (*row as usize, *row == own_row);
    let before = earlier.iter().rev().map(|row| *row as usize);
    let point_changed = before
        .clone()
        .next()
        .is_some_and(|other| judged.point[other] != judged.point[place]);
    // A blank is no change: the last method on record counts.
    let known = |row: &usize| Method::from_index(judged.method[*row]).is_some();
    let method_changed = known(&place)
        && before
            .clone()
            .find(known)
            .is_some_and(|other| judged.method[other] != judged.method[place]);
    let verdict = judged.verdict[place];
    let technician = &assessed.technicians[judged.technician[place] as usize];
    let person = technician.name.as_ref().unwrap_or(&technician.id);
    let point = &assessed.points[judged.point[place] as usize];
    let method = Method::from_index(judged.method[place]).map_or(BLANK, Method::as_str);
    // Two marks, date, method and the gaps between them are of fixed width.
    let free = width.saturating_sub(2 + 16 + 2 + 2 + 14 + 1 + 2);
    let mut point_width = widest.clamp(6, (free * 11 / 20).max(6));
    let mut person_width = free.saturating_sub(point_width);
    let mut method_width = 13;
    let mut when = time::local_text(judged.drawn_at[place], assessed.zone);
    if free < LEAST_FREE {
        // The day, point and method say what changed; who drew stands in the opened draw.
        when.truncate(10);
        let rest = width.saturating_sub(2 + 2 + 10 + 2 + 2);
        point_width = widest.clamp(6, (rest / 2).max(6));
        method_width = rest.saturating_sub(point_width).min(13);
        person_width = 0;
    }
    let own = if is_own {
        theme.pick("▸ ", "> ")
    } else {
        "  "
    };
    let weight = if is_own {
        theme.strong()
    } else {
        theme.plain()
    };
    let mark = |changed: bool| if changed { theme.pick("◆", "#") } else { " " };
    let style = |changed: bool| -> Style {
        if changed {
            theme.strong().add_modifier(Modifier::REVERSED)
        } else {
            weight
        }
    };
    let mut spans = vec![
        Span::styled(own, theme.strong()),
        Span::styled(
            theme.verdict_glyph(verdict),
            theme.verdict(verdict).add_modifier(Modifier::BOLD),
        ),
        Span::styled(format!(" {when} "), weight),
    ];
    for (changed, value, cells) in [
        (point_changed, point.id.as_str(), point_width),
        (method_changed, method, method_width),
    ] {
        let value = text::cut(value, cells);
        let rest = cells - text::width(&value);
        spans.push(Span::styled(
            format!("{}{value}", mark(changed)),
            style(changed),
        ));
        spans.push(Span::raw(" ".repeat(rest + 1)));
    }
    spans.push(Span::styled(text::cut(person, person_width), weight));
    Line::from(spans)
}

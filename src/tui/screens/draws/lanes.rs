//! The draws of a compartment as lanes on an axis of time: a lane for each point and method by
//! which it was drawn, so that a draw taken another way leaves its lane.

use ratatui::style::Modifier;

use crate::analysis::{Assessed, BLANK};
use crate::model::{Method, Verdict, time};
use crate::tui::text;
use crate::tui::theme::Theme;
use crate::tui::widgets::chart::lanes::{Event, Lanes};
use crate::tui::widgets::chart::legend::Entry;

/// What changed from the draw before.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Changed {
    pub(crate) point: bool,
    pub(crate) method: bool,
}

/// What changed with the draw at a place among those of its compartment, oldest first. A blank
/// is no change: the last method on record counts.
pub(crate) fn changed(assessed: &Assessed, rows: &[u32], at: usize) -> Changed {
    let judged = &assessed.judged;
    let known = |row: &usize| Method::from_index(judged.method[*row]).is_some();
    let place = rows[at] as usize;
    let mut before = rows[..at].iter().rev().map(|row| *row as usize);
    let last = before.clone().next();
    Changed {
        point: last.is_some_and(|other| judged.point[other] != judged.point[place]),
        method: known(&place)
            && before
                .find(known)
                .is_some_and(|other| judged.method[other] != judged.method[place]),
    }
}

fn method(assessed: &Assessed, row: u32) -> &'static str {
    Method::from_index(assessed.judged.method[row as usize]).map_or(BLANK, Method::as_str)
}

fn point(assessed: &Assessed, row: u32) -> &str {
    &assessed.points[assessed.judged.point[row as usize] as usize].id
}

/// The chart of these draws, for an area so wide.
pub(crate) fn drawn(assessed: &Assessed, rows: &[u32], width: u16, theme: Theme) -> Lanes {
    let judged = &assessed.judged;
    let mut ways: Vec<(u32, u8)> = Vec::new();
    let events = (0..rows.len()).map(|at| {
        let row = rows[at] as usize;
        let way = (judged.point[row], judged.method[row]);
        let lane = ways.iter().position(|other| *other == way);
        let lane = lane.unwrap_or_else(|| {
            ways.push(way);
            ways.len() - 1
        });
        let verdict = judged.verdict[row];
        let changed = changed(assessed, rows, at);
        Event {
            at: judged.drawn_at[row],
            lane,
            glyph: theme.verdict_glyph(verdict),
            style: theme.verdict(verdict).add_modifier(Modifier::BOLD),
            changed: changed.point || changed.method,
        }
    });
    let events: Vec<Event> = events.collect();
    let one_point = ways.iter().all(|way| way.0 == ways[0].0);
    let names = ways.iter().map(|(point, method)| {
        let method = Method::from_index(*method).map_or("method blank", Method::as_str);
        match one_point {
            true => method.to_owned(),
            false => format!("{} {method}", assessed.points[*point as usize].id),
        }
    });
    Lanes {
        names: names.collect(),
        moments: moments(assessed, rows, width),
        events,
    }
}

/// Beginnings of months, as many as fit below so wide a chart.
fn moments(assessed: &Assessed, rows: &[u32], width: u16) -> Vec<(i64, String)> {
    let month =
        |row: &u32| time::month_number(assessed.judged.drawn_at[*row as usize], assessed.zone);
    let (Some(first), Some(last)) = (rows.first().map(month), rows.last().map(month)) else {
        return Vec::new();
    };
    // A name of a month takes seven cells; some of the width are the lanes' names.
    let most = (i32::from(width) * 2 / 3 / 10).max(1);
    let steps = [1, 2, 3, 6, 12, 24, 60, 120];
    let fits = |step: &i32| (last - first) / step < most;
    let step = steps.into_iter().find(fits).unwrap_or(1200);
    let months = (first..=last + 1).filter(|month| month.rem_euclid(step) == 0);
    let labelled = months.filter_map(|month| {
        let day = chrono::NaiveDate::from_ymd_opt(
            month.div_euclid(12),
            month.rem_euclid(12).unsigned_abs() + 1,
            1,
        )?;
        let at = time::day_start(day, assessed.zone)?;
        Some((at, time::month_text(month)))
    });
    labelled.collect()
}

/// What the signs mean.
pub(crate) fn legend(theme: Theme) -> Vec<Entry> {
    let verdicts = Verdict::ALL.into_iter();
    let mut entries: Vec<Entry> = verdicts
        .map(|verdict| (theme.verdict_glyph(verdict), verdict.as_str().to_owned()))
        .collect();
    entries.push((theme.pick("◆", "#"), "point or method changed".to_owned()));
    entries
}

/// What the crosshair reads: when, by whom, how, with which verdict, and what changed.
pub(crate) fn reading(assessed: &Assessed, rows: &[u32], at: usize) -> String {
    let judged = &assessed.judged;
    let row = rows[at];
    let technician = &assessed.technicians[judged.technician[row as usize] as usize];
    let person = technician.name.as_ref().unwrap_or(&technician.id);
    let mut said = format!(
        "{}: {}, by {person} at {}, {}",
        time::local_text(judged.drawn_at[row as usize], assessed.zone),
        judged.verdict[row as usize],
        point(assessed, row),
        method(assessed, row)
    );
    if let Some(change) = change(assessed, rows, at) {
        said = format!("{said}; {change}");
    }
    said
}

/// `method drain after tube-pump`, where something changed.
fn change(assessed: &Assessed, rows: &[u32], at: usize) -> Option<String> {
    let changed = changed(assessed, rows, at);
    let mut said = Vec::new();
    if changed.point {
        let before = point(assessed, rows[at - 1]);
        said.push(format!(
            "point {} after {before}",
            point(assessed, rows[at])
        ));
    }
    if changed.method {
        let earlier = rows[..at].iter().rev();
        let before = earlier
            .map(|row| method(assessed, *row))
            .find(|it| *it != BLANK);
        let before = before.unwrap_or(BLANK);
        said.push(format!(
            "method {} after {before}",
            method(assessed, rows[at])
        ));
    }
    (!said.is_empty()).then(|| said.join(", "))
}

/// How often point or method changed, and the latest changes in words, as many as `room` cells
/// hold.
pub(crate) fn changes(assessed: &Assessed, rows: &[u32], room: usize) -> String {
    let all = (1..rows.len()).filter_map(|at| Some((at, change(assessed, rows, at)?)));
    let all: Vec<(usize, String)> = all.collect();
    if all.is_empty() {
        return "Always at the same point by the same method, as far as recorded.".to_owned();
    }
    let mut words = text::plural(all.len() as u64, "change", "changes, latest first");
    for (which, (at, said)) in all.iter().rev().enumerate() {
        let day = time::day_of(assessed.judged.drawn_at[rows[*at] as usize], assessed.zone);
        let sign = if which == 0 { ':' } else { ';' };
        let more = format!("{sign} {day} {said}");
        if text::width(&words) + text::width(&more) > room {
            break;
        }
        words.push_str(&more);
    }
    words + "."
}

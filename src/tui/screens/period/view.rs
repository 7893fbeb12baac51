//! Draws the list of periods, and what days of one's own come to.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use super::offers::Offer;
use super::{Period, own};
use crate::analysis::Days;
use crate::tui::app::App;
use crate::tui::line_edit::LineEdit;
use crate::tui::text;
use crate::tui::theme::Theme;
use crate::tui::widgets::boxed;

/// Cells within the box.
pub(super) const WIDTH: u16 = 68;
/// Lines above the offers.
pub(super) const ABOVE: usize = 2;
/// Lines above and below them.
pub(super) const AROUND: u16 = 4;

pub(super) fn view(period: &Period, app: &App, frame: &mut Frame<'_>, body: Rect) {
    let theme = app.theme;
    let area = period.area(body);
    let width = usize::from(area.width.saturating_sub(4));
    let newest = format!("The newest draw is of {}.", period.newest);
    let mut lines = vec![
        Line::from(Span::styled(newest, theme.faint())),
        Line::default(),
    ];
    match &period.line {
        Some(line) => lines.extend(written(period, app, line, width)),
        None => {
            let counts = period.draws(app);
            for (at, offer) in period.offers.iter().enumerate() {
                let draws = counts.and_then(|counts| counts.get(at)).copied();
                let line = offered(theme, offer, draws, width);
                let is_chosen = at == period.list.cursor;
                lines.push(if is_chosen { theme.choose(line) } else { line });
            }
            lines.push(Line::default());
            let words = "\"This\" and \"last\" are told from that day, not from today's.";
            lines.push(Line::from(Span::styled(words, theme.faint())));
        }
    }
    boxed::view(frame, area, "period", lines, theme);
}

/// Letter, name, days and how many draws.
fn offered(theme: Theme, offer: &Offer, draws: Option<usize>, width: usize) -> Line<'static> {
    let key = crate::tui::keymap::label(crate::tui::keymap::Zone::Period, offer.command, true);
    let days = match offer.days {
        Some(days) if days.is_open() => "no first and no last day".to_owned(),
        Some(days) => span(&days),
        None => "days that you write".to_owned(),
    };
    let count = draws.map_or_else(String::new, |draws| {
        text::plural(draws as u64, "draw", "draws")
    });
    let used = 4 + 16 + 26;
    Line::from(vec![
        Span::styled(text::left(&key.unwrap_or_default(), 4), theme.strong()),
        Span::raw(text::left(offer.name, 16)),
        Span::styled(text::left(&days, 26), theme.faint()),
        Span::raw(text::right(&count, width.saturating_sub(used))),
    ])
}

/// An offer in words: its name, its days, and how many draws.
pub(super) fn said(offer: &Offer, draws: Option<usize>) -> String {
    let days = match offer.days {
        Some(days) if days.is_open() => "no first and no last day".to_owned(),
        Some(days) => span(&days).replace(" – ", " to "),
        None => "write the first and the last day".to_owned(),
    };
    let count = draws.map_or_else(String::new, |draws| {
        format!(", {}", text::plural(draws as u64, "draw", "draws"))
    });
    format!("{}: {days}{count}", offer.name)
}

fn span(days: &Days) -> String {
    let end = |day: Option<chrono::NaiveDate>| day.map_or_else(String::new, |it| it.to_string());
    format!("{} – {}", end(days.first), end(days.last))
}

/// What the written days come to, or what is wrong with them and where.
fn written(period: &Period, app: &App, line: &LineEdit, width: usize) -> Vec<Line<'static>> {
    let theme = app.theme;
    let read = own::read(line.text());
    let mut lines: Vec<Line<'static>> = match &read {
        Ok(Some(days)) => {
            let draws = period.draws(app).and_then(|counts| counts.first());
            let count = draws.map_or_else(String::new, |draws| {
                format!(": {}", text::plural(*draws as u64, "draw", "draws"))
            });
            let words = format!("{}{count}", span(days));
            vec![Line::from(Span::styled(words, theme.strong()))]
        }
        Ok(None) => {
            let words = if period.tried {
                "Nothing is written yet."
            } else {
                ""
            };
            vec![Line::from(Span::styled(words, theme.warning()))]
        }
        Err(wrong) => {
            // Half a word is no mistake yet; Enter asks for a verdict.
            let style = if period.tried {
                theme.warning()
            } else {
                theme.plain()
            };
            let before: String = line.text().chars().take(wrong.at).collect();
            let indent = text::width(&before).min(width.saturating_sub(1));
            let mut lines = vec![
                Line::from(text::cut(line.text(), width)),
                Line::from(Span::styled(format!("{}^", " ".repeat(indent)), style)),
            ];
            let words = text::wrap(&wrong.message, width).into_iter();
            lines.extend(words.map(|part| Line::from(Span::styled(part, style))));
            lines
        }
    };
    lines.push(Line::default());
    let how = text::wrap(own::HOW, width).into_iter();
    lines.extend(how.map(|part| Line::from(Span::styled(part, theme.faint()))));
    lines
}

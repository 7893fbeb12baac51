//! The control chart of the share: from the periods of the trend to marks and limits, and what
//! one of them says.

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::periods::{is_few, limits};
use super::{Section, ShareFigures};
use crate::analysis::Every;
use crate::analysis::trend::{Kind, Period, Signal, Trend};
use crate::tui::app::App;
use crate::tui::text;
use crate::tui::widgets::chart::control::{Control, Mark, Slot};

/// The chart of a trend whose newest period comes first.
pub(crate) fn control(trend: &Trend, every: Every) -> Control {
    let slots = trend.periods.iter().rev().map(|period| Slot {
        key: period.key.clone(),
        ordinal: ordinal(&period.key),
        share: period.share.share,
        limits: period.point.as_ref().map(limits),
        mark: mark(period, trend.chart),
    });
    Control {
        slots: slots.collect(),
        in_a_year: every.in_a_year(),
        centre: trend.chart.map(|chart| chart.centre),
    }
}

/// Which of its year's periods a key names: 3 for `2026-03`, 10 for `2026-W10`.
fn ordinal(key: &str) -> u32 {
    let rest = key.rsplit_once('-').map_or("", |(_, rest)| rest);
    let number = rest.trim_start_matches(['W', 'Q']);
    number.parse().unwrap_or(1)
}

fn mark(period: &Period, chart: Option<Kind>) -> Mark {
    let centre = chart.map_or(1.0, |chart| chart.centre);
    let is_above = period.share.share.is_some_and(|share| share > centre);
    match (period.point.and_then(|point| point.signal), is_above) {
        (Some(Signal::Outside(_)), true) => Mark::High,
        (Some(Signal::Outside(_)), false) => Mark::Low,
        (Some(Signal::Run(_)), true) => Mark::RunHigh,
        (Some(Signal::Run(_)), false) => Mark::RunLow,
        (None, _) if is_few(period) => Mark::Few,
        (None, _) => Mark::Inside,
    }
}

/// A period as it is spoken of: `March 2026`, `Quarter 1 of 2026`, `Week 10 of 2026`.
fn spoken(key: &str) -> String {
    let Some((year, rest)) = key.rsplit_once('-') else {
        return key.to_owned();
    };
    let number = ordinal(key);
    match rest.chars().next() {
        Some('W') => format!("Week {number} of {year}"),
        Some('Q') => format!("Quarter {number} of {year}"),
        _ => month_name(number).map_or(key.to_owned(), |name| format!("{name} {year}")),
    }
}

fn month_name(number: u32) -> Option<&'static str> {
    let month = chrono::Month::try_from(u8::try_from(number).ok()?).ok()?;
    Some(month.name())
}

/// What the crosshair reads of a period: its share of how many, and where its limits are.
pub(crate) fn reading(period: &Period, chart: Option<Kind>) -> String {
    let name = spoken(&period.key);
    let judged = period.tally.judged();
    let Some(point) = period.point else {
        let draws = text::plural(period.tally.draws, "draw", "draws");
        return format!("{name}: {draws}, none of them judged");
    };
    let (low, high) = limits(&point);
    let range = text::percent_range(Some(low), Some(high));
    let said = match (mark(period, chart), point.signal) {
        _ if high - low < 0.001 => "all judged draws are alike, so there are no limits".to_owned(),
        (Mark::High, _) => format!("above the upper limit {}", text::percent(Some(high))),
        (Mark::Low, _) => format!("below the lower limit {}", text::percent(Some(low))),
        (_, Some(signal)) => format!("{}, within its limits {range}", signal.as_str()),
        (Mark::Few, _) => format!("few draws, so wide limits {range}"),
        _ => format!("within its limits {range}"),
    };
    format!(
        "{name}: {} of {} judged, {said}",
        text::percent(period.share.share),
        text::count(judged)
    )
}

/// The chart among the other panes of the screen, under a heading of its own.
pub(super) fn small(app: &App, figures: &ShareFigures, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let state = &app.screens.share;
    let Some(trend) = figures.trend(state.every) else {
        return;
    };
    let drawn = control(trend, state.every);
    let heading = "Control chart";
    let width = usize::from(area.width).saturating_sub(1);
    let about = format!(
        "unrepresentative, % of judged; limits {}",
        theme.pick("⠤⠤", "--")
    );
    let gap = width.saturating_sub(text::width(heading) + 2);
    let line = Line::from(vec![
        Span::styled(format!("{heading}  "), theme.title()),
        Span::styled(text::right(&about, gap), theme.faint()),
    ]);
    let top = Rect { height: 1, ..area };
    frame.render_widget(Paragraph::new(line), top);
    let plot = below_heading(area);
    let chosen = (state.section == Section::Months && !drawn.slots.is_empty()).then(|| {
        let cursor = state.list(Section::Months).cursor;
        (drawn.slots.len() - 1).saturating_sub(cursor)
    });
    drawn.draw(frame.buffer_mut(), plot, chosen, theme);
}

fn below_heading(area: Rect) -> Rect {
    Rect {
        y: area.y + 1,
        width: area.width.saturating_sub(1),
        height: area.height.saturating_sub(1),
        ..area
    }
}

/// The row of the periods that stands under a cell of the chart among the panes.
pub(crate) fn row_at(app: &App, area: Rect, at: Position) -> Option<usize> {
    let state = &app.screens.share;
    let (_, figures) = app.figures.share.as_ref()?;
    let drawn = control(figures.trend(state.every)?, state.every);
    let last = drawn.slots.len().checked_sub(1)?;
    let chosen = last.saturating_sub(state.list(Section::Months).cursor);
    let chosen = (state.section == Section::Months).then_some(chosen);
    Some(last - drawn.at(below_heading(area), chosen, at)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn periods_are_spoken_of_by_their_names() {
        for (key, words, number) in [
            ("2026-03", "March 2026", 3),
            ("2026-Q1", "Quarter 1 of 2026", 1),
            ("2026-W10", "Week 10 of 2026", 10),
            ("2026", "2026", 1),
            ("once", "once", 1),
        ] {
            assert_eq!(spoken(key), words);
            assert_eq!(ordinal(key), number);
        }
    }
}

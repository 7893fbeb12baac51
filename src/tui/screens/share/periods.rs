//! The trend: each period's share between its control limits, and what the chosen one says.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::view::FEW;
use super::{Section, ShareFigures, Wait, panes};
use crate::analysis::Every;
use crate::analysis::trend::{Kind, P_OF_DISPERSION, Period, Point, Signal, Trend};
use crate::tui::app::App;
use crate::tui::text;
use crate::tui::theme::Theme;
use crate::tui::widgets::control_line;

/// The heading of the section.
pub(super) const fn title(every: Every) -> &'static str {
    match every {
        Every::Week => "Week by week",
        Every::Month => "Month by month",
        Every::Quarter => "Quarter by quarter",
    }
}

/// The shares at both ends of the lines: the tenths below and above all shares and the
/// limits of periods that are not small.
pub(super) fn ends(trend: &Trend) -> (f64, f64) {
    let mut all = Vec::new();
    for period in &trend.periods {
        all.extend(period.share.share.filter(|_| !is_few(period)));
        let point = period.point.as_ref().filter(|_| !is_few(period));
        all.extend(
            point
                .map(limits)
                .map(<[f64; 2]>::from)
                .into_iter()
                .flatten(),
        );
    }
    if all.is_empty() {
        return (0.0, 1.0);
    }
    let least = all.iter().copied().fold(1.0, f64::min);
    let most = all.iter().copied().fold(0.0, f64::max);
    let bottom = (least * 10.0).floor() / 10.0;
    (bottom, ((most * 10.0).ceil() / 10.0).max(bottom + 0.1))
}

/// The part of all that a share must not leave, as it is drawn.
pub(super) fn limits(point: &Point) -> (f64, f64) {
    (point.low.clamp(0.0, 1.0), point.high.clamp(0.0, 1.0))
}

/// A glyph and a word for what the chart says of a period.
fn remark(period: &Period, centre: f64, theme: Theme) -> String {
    let is_above = period.share.share.is_some_and(|share| share > centre);
    let word = match (period.point.and_then(|point| point.signal), is_above) {
        (Some(Signal::Outside(_)), true) => theme.pick("▲ high", "^ high"),
        (Some(Signal::Outside(_)), false) => theme.pick("▼ low", "v low"),
        (Some(Signal::Run(_)), true) => theme.pick("△ run", "' run"),
        (Some(Signal::Run(_)), false) => theme.pick("▽ run", ", run"),
        (None, _) if is_few(period) => "  few",
        (None, _) => "",
    };
    text::left(word, 6)
}

pub(super) fn is_few(period: &Period) -> bool {
    period.tally.judged() > 0
        && (period.tally.judged() < FEW || period.point.is_some_and(|point| point.is_small))
}

/// How wide the column of judged draws is: it goes first where there is no room.
pub(super) const fn counts(width: usize) -> usize {
    if width < 44 { 0 } else { 8 }
}

/// One period: judged draws, share, remark, and the share between its limits.
pub(super) fn line(app: &App, trend: &Trend, period: &Period, width: usize) -> Line<'static> {
    let theme = app.theme;
    let signals = period.point.is_some_and(|point| point.signal.is_some());
    let style = if signals {
        theme.strong()
    } else {
        theme.faint()
    };
    let centre = trend.chart.map(|chart| chart.centre);
    let shown = control_line::Shown {
        share: period.share.share,
        limits: period.point.as_ref().map(limits),
        centre,
        ends: ends(trend),
    };
    let mut spans = vec![
        Span::raw(text::left(&period.key, 8)),
        Span::raw(text::right(
            &text::count(period.tally.judged()),
            counts(width),
        )),
        Span::raw(text::right(&text::percent(period.share.share), 8)),
        Span::raw(" "),
        Span::styled(remark(period, centre.unwrap_or(1.0), theme), style),
        Span::raw(" "),
    ];
    let line = width.saturating_sub(8 + counts(width) + 8 + 8);
    spans.extend(control_line::spans(shown, line, theme));
    Line::from(spans)
}

/// The period in words.
pub(super) fn words(period: &Period) -> String {
    let judged = period.tally.judged();
    let Some(point) = period.point else {
        let draws = text::plural(period.tally.draws, "draw", "draws");
        return format!("{}: {draws}, none of them judged.", period.key);
    };
    let (low, high) = limits(&point);
    let range = text::percent_range(Some(low), Some(high));
    let said = match point.signal {
        Some(signal @ Signal::Outside(_)) => {
            format!("{}, {range}: look for its cause", signal.as_str())
        }
        Some(signal @ Signal::Run(_)) => {
            format!("{}: a lasting shift, look for its cause", signal.as_str())
        }
        None if high - low < 0.001 => {
            "all judged draws are alike, so there are no limits".to_owned()
        }
        None if is_few(period) => format!("few draws, so wide limits, {range}"),
        None if is_beyond_plain(period, &point) => format!(
            "within the widened limits, {range}, but not within the plain ones, {}",
            text::percent_range(
                Some(point.plain_low.clamp(0.0, 1.0)),
                Some(point.plain_high.clamp(0.0, 1.0))
            )
        ),
        None => format!("within its limits, {range}"),
    };
    format!("{}: {said} ({} judged).", period.key, text::count(judged))
}

/// The period's share, then what the chart says of it, in a sentence.
pub(crate) fn said(period: &Period) -> String {
    let words = words(period);
    match words.split_once(": ").filter(|_| period.point.is_some()) {
        Some((key, rest)) => format!("{key}: {}, {rest}", text::percent(period.share.share)),
        None => words,
    }
}

/// Which chart it is and why; nothing without one.
pub(crate) fn of_chart(figures: &ShareFigures, every: Every) -> Option<String> {
    let trend = figures.trend(every)?;
    Some(chart_words(trend, &trend.chart?, every))
}

fn is_beyond_plain(period: &Period, point: &Point) -> bool {
    let share = period.share.share;
    share.is_some_and(|share| share < point.plain_low || share > point.plain_high)
}

/// Which chart it is and why, in a line or two.
pub(crate) fn chart_words(trend: &Trend, chart: &Kind, every: Every) -> String {
    let judged = || trend.periods.iter().filter(|period| period.point.is_some());
    if every != Every::Quarter && 2 * judged().filter(|it| is_few(it)).count() > judged().count() {
        let chart = if chart.is_widened() {
            "p-prime chart"
        } else {
            "p chart"
        };
        return format!(
            "{chart}; few draws in most {}s: t turns to longer ones.",
            every.as_str()
        );
    }
    let signals = judged().any(|period| period.point.is_some_and(|point| point.signal.is_some()));
    let every = every.as_str();
    if chart.is_widened() {
        return format!(
            "p-prime chart: limits {:.1} times as wide, since {every}s vary more than chance.",
            chart.widened
        );
    }
    match chart.dispersion {
        Some(test) if test.p < P_OF_DISPERSION => {
            format!("p chart: {every}s vary more than chance, but not from one to the next.")
        }
        _ if signals => {
            format!("p chart: but for those marked, the {every}s vary no more than chance could.")
        }
        _ => format!("p chart: the {every}s vary no more than chance could."),
    }
}

/// Below the periods: what a chosen rule costs or a chosen wait means; else the chosen
/// period, then the chart.
pub(super) fn note(app: &App, figures: &ShareFigures, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let state = &app.screens.share;
    let width = usize::from(area.width).saturating_sub(1);
    let height = usize::from(area.height);
    let Some(trend) = figures.trend(state.every) else {
        return;
    };
    if let Some(words) = of_another_pane(app, figures) {
        let lines = text::wrap(&words, width).into_iter().map(Line::from);
        let lines: Vec<Line<'_>> = lines.take(height).collect();
        return frame.render_widget(Paragraph::new(lines), area);
    }
    let Some((period, chart)) = trend
        .periods
        .get(state.list(Section::Months).cursor)
        .zip(trend.chart)
    else {
        return;
    };
    let mut lines: Vec<Line<'_>> = text::wrap(&words(period), width)
        .into_iter()
        .map(Line::from)
        .collect();
    let about = text::wrap(&chart_words(trend, &chart, state.every), width);
    // The chart is named in any case; the chosen period says as much as there is room for.
    let kept = about.len().min(height.saturating_sub(1)).min(2);
    lines.truncate(height.saturating_sub(kept).max(1));
    let faint = |line: String| Line::from(Span::styled(line, theme.faint()));
    lines.extend(about.into_iter().map(faint));
    lines.truncate(height);
    frame.render_widget(Paragraph::new(lines), area);
}

/// What the chosen line of another pane says, where there is no pane of its own for that.
fn of_another_pane(app: &App, figures: &ShareFigures) -> Option<String> {
    let state = &app.screens.share;
    if panes(app).about.is_some() {
        return None;
    }
    let cursor = state.list(state.section).cursor;
    match state.section {
        Section::Rules => figures.rules.get(cursor).map(|cost| {
            format!(
                "{} broken: {} of {} unrepresentative; {} would not be, had it alone been met (regains).",
                cost.id(),
                text::count(cost.unrepresentative),
                text::plural(cost.broken, "draw", "draws"),
                text::count(cost.regained),
            )
        }),
        Section::Waiting => Wait::ALL.get(cursor).map(|wait| wait.about().to_owned()),
        Section::Verdicts | Section::Months => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::Tally;

    fn period(judged: u64, unrepresentative: u64, point: Option<Point>) -> Period {
        let tally = Tally {
            draws: judged,
            unrepresentative,
            representative: judged - unrepresentative,
            ..Tally::default()
        };
        Period {
            key: "2026-03".to_owned(),
            tally,
            share: tally.share(),
            point,
        }
    }

    fn point(low: f64, high: f64) -> Point {
        Point {
            low,
            high,
            plain_low: low,
            plain_high: high,
            signal: None,
            is_small: false,
        }
    }

    #[test]
    fn a_period_is_put_in_words() {
        let inside = period(100, 20, Some(point(-0.1, 0.32)));
        assert_eq!(
            words(&inside),
            "2026-03: within its limits, 0.0–32.0 % (100 judged)."
        );
        let widened = Point {
            plain_high: 0.15,
            ..point(0.0, 0.32)
        };
        assert!(
            words(&period(100, 20, Some(widened)))
                .contains("not within the plain ones, 0.0–15.0 %")
        );
        let few = Point {
            is_small: true,
            ..point(0.0, 0.9)
        };
        assert!(words(&period(9, 2, Some(few))).contains("few draws, so wide limits"));
        let alike = words(&period(6, 6, Some(point(1.0, 1.0))));
        assert_eq!(
            alike,
            "2026-03: all judged draws are alike, so there are no limits (6 judged)."
        );
        assert!(words(&period(0, 0, None)).contains("none of them judged"));
    }

    #[test]
    fn the_line_reaches_to_the_tenths_around_all() {
        let trend = |periods| Trend {
            periods,
            chart: None,
        };
        let inside = period(100, 20, Some(point(0.12, 0.32)));
        let (bottom, top) = ends(&trend(vec![inside]));
        assert!((bottom - 0.1).abs() < 1e-9 && (top - 0.4).abs() < 1e-9);
        assert_eq!(ends(&trend(Vec::new())), (0.0, 1.0));
    }
}

//! The trend: each period's share between its control limits, and what the chosen one says.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::view::FEW;
use super::{Section, ShareFigures, Wait, panes};
use crate::analysis::Every;
use crate::analysis::trend::{P_OF_DISPERSION, Period, Point, Signal, Trend};
use crate::tui::app::App;
use crate::tui::text;
use crate::tui::theme::Theme;
use crate::tui::widgets::control_line;

/// The heading of the section.
pub(crate) const fn title(every: Every) -> &'static str {
    match every {
        Every::Week => "Week by week",
        Every::Month => "Month by month",
        Every::Quarter => "Quarter by quarter",
        Every::Year => "Year by year",
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
    // Where all are alike the line still has a tenth, within what a share can be.
    let bottom = ((least * 10.0).floor() / 10.0).clamp(0.0, 0.9);
    let top = ((most * 10.0).ceil() / 10.0).max(bottom + 0.1);
    (bottom, top.min(1.0))
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
        None if is_alike(&point) => "all judged draws are alike, so there are no limits".to_owned(),
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

/// The period in fewer words and without figures, for where there is no room for more.
fn short_words(period: &Period) -> String {
    let said = match period.point {
        None => "no judged draw",
        Some(point) => match point.signal {
            Some(Signal::Outside(_)) => "outside its limits",
            Some(Signal::Run(_)) => "a lasting shift",
            None if is_alike(&point) => "all alike, no limits",
            None if is_few(period) => "few draws",
            None if is_beyond_plain(period, &point) => "within widened limits",
            None => "within its limits",
        },
    };
    format!("{}: {said}.", period.key)
}

/// Limits without any width say nothing.
fn is_alike(point: &Point) -> bool {
    let (low, high) = limits(point);
    high - low < 0.001
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
    chart_words(trend, every)
}

fn is_beyond_plain(period: &Period, point: &Point) -> bool {
    let share = period.share.share;
    share.is_some_and(|share| share < point.plain_low || share > point.plain_high)
}

/// A chart of fewer judged periods than this says nothing of them.
const LEAST_PERIODS: usize = 3;

/// Which chart it is and why, in a line or two; nothing where there are too few periods for one.
pub(crate) fn chart_words(trend: &Trend, every: Every) -> Option<String> {
    Some(chart_in_words(trend, every)?.0)
}

/// The same, and what of it is said where there is little room.
fn chart_in_words(trend: &Trend, every: Every) -> Option<(String, String)> {
    let chart = &trend.chart?;
    let judged = || trend.periods.iter().filter(|period| period.point.is_some());
    // Where all or none are unrepresentative, as a filter can have it, nothing could vary.
    let can_vary = chart.centre > 0.0 && chart.centre < 1.0;
    if judged().count() < LEAST_PERIODS || !can_vary {
        return None;
    }
    let name = if chart.is_widened() {
        "p-prime chart"
    } else {
        "p chart"
    };
    if every != Every::Year && 2 * judged().filter(|it| is_few(it)).count() > judged().count() {
        let words = format!(
            "{name}; few draws in most {}s: t turns to longer ones.",
            every.as_str()
        );
        return Some((words, format!("{name}; t for longer periods.")));
    }
    let signals = judged().any(|period| period.point.is_some_and(|point| point.signal.is_some()));
    let every = every.as_str();
    if chart.is_widened() {
        let words = format!(
            "{name}: limits {:.1} times as wide, since {every}s vary more than chance.",
            chart.widened
        );
        return Some((words, format!("{name}: limits widened.")));
    }
    let (words, short) = match chart.dispersion {
        Some(test) if test.p < P_OF_DISPERSION => (
            format!("{every}s vary more than chance, but not from one to the next."),
            "more than by chance.",
        ),
        _ if signals => (
            format!("but for those marked, the {every}s vary no more than chance could."),
            "the rest may be chance.",
        ),
        _ => (
            format!("the {every}s vary no more than chance could."),
            "no more than by chance.",
        ),
    };
    Some((format!("{name}: {words}"), format!("{name}: {short}")))
}

/// What is said of a period and of the chart, as whole sentences within so many lines: the
/// longest that fit, the chart's cut down first. The period keeps its word in any case.
fn within(
    (period, short): (&str, &str),
    chart: Option<&(String, String)>,
    width: usize,
    height: usize,
) -> (Vec<String>, Vec<String>) {
    let lines = |words: &str| match words {
        "" => Vec::new(),
        words => text::wrap(words, width),
    };
    let (long, brief) = chart.map_or(("", ""), |(long, brief)| (long, brief));
    [
        (period, long),
        (period, brief),
        (short, long),
        (short, brief),
        (period, ""),
        (short, ""),
    ]
    .into_iter()
    .map(|(period, chart)| (lines(period), lines(chart)))
    .find(|(period, chart)| period.len() + chart.len() <= height)
    .unwrap_or_default()
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
    if let Some((words, short)) = of_another_pane(app, figures) {
        let (said, _) = within((&words, &short), None, width, height);
        let lines: Vec<Line<'_>> = said.into_iter().map(Line::from).collect();
        return frame.render_widget(Paragraph::new(lines), area);
    }
    let Some(period) = trend.periods.get(state.list(Section::Months).cursor) else {
        return;
    };
    let chart = chart_in_words(trend, state.every);
    let (full, short) = (words(period), short_words(period));
    let (said, about) = within((&full, &short), chart.as_ref(), width, height);
    let faint = |line: String| Line::from(Span::styled(line, theme.faint()));
    let mut lines: Vec<Line<'_>> = said.into_iter().map(Line::from).collect();
    lines.extend(about.into_iter().map(faint));
    frame.render_widget(Paragraph::new(lines), area);
}

/// What the chosen line of another pane says, and the same in fewer words; where there is no
/// pane of its own for that.
fn of_another_pane(app: &App, figures: &ShareFigures) -> Option<(String, String)> {
    let state = &app.screens.share;
    if panes(app).about.is_some() {
        return None;
    }
    let cursor = state.list(state.section).cursor;
    match state.section {
        Section::Rules => figures.rules(state.rules_by).get(cursor).map(|cost| {
            let unrepresentative = text::count(cost.unrepresentative);
            let regained = text::count(cost.regained);
            let full = format!(
                "{} broken: {unrepresentative} of {} unrepresentative; {regained} would not be, had it alone been met (regains).",
                cost.id(),
                text::plural(cost.broken, "draw", "draws"),
            );
            let id = cost.id();
            let short = format!("{id} alone regains {regained} of {unrepresentative} unrepresentative.");
            (full, short)
        }),
        Section::Waiting => Wait::ALL
            .get(cursor)
            .map(|wait| (wait.about().to_owned(), wait.short().to_owned())),
        Section::Verdicts | Section::Months => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::Tally;
    use crate::analysis::trend::Kind;

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
        let all = period(20, 20, Some(point(1.0, 1.0)));
        let (bottom, top) = ends(&trend(vec![all]));
        assert!((bottom - 0.9).abs() < 1e-9 && (top - 1.0).abs() < 1e-9);
    }

    #[test]
    fn what_is_said_ends_with_a_sentence_however_little_room_there_is() {
        let full = "2026-10: within its limits, 12.0–32.0 % (100 judged).";
        let short = "2026-10: within its limits.";
        let chart = (
            "p chart: the months vary no more than chance could.".to_owned(),
            "p chart: no more than by chance.".to_owned(),
        );
        for width in 20..120 {
            for height in 0..5 {
                let (period, about) = within((full, short), Some(&chart), width, height);
                assert!(period.len() + about.len() <= height);
                for said in [period, about].iter().filter(|said| !said.is_empty()) {
                    assert!(said.join(" ").ends_with('.'), "{said:?}");
                }
            }
        }
        let (period, about) = within((full, short), Some(&chart), 37, 3);
        assert_eq!(period.join(" "), full);
        assert_eq!(about.join(" "), chart.1);
        assert_eq!(within((full, short), None, 37, 1).0, [short]);
    }

    #[test]
    fn two_periods_or_such_as_can_not_vary_make_no_chart() {
        let periods = |count, centre| Trend {
            periods: vec![period(100, 20, Some(point(0.12, 0.32))); count],
            chart: Some(Kind {
                centre,
                dispersion: None,
                widened: 1.0,
            }),
        };
        assert_eq!(chart_words(&periods(2, 0.2), Every::Month), None);
        assert!(chart_words(&periods(3, 0.2), Every::Month).is_some());
        assert_eq!(chart_words(&periods(3, 1.0), Every::Month), None);
        assert_eq!(chart_words(&periods(3, 0.0), Every::Month), None);
    }
}

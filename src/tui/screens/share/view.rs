//! Draws the Share screen.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{RulesBy, Section, ShareFigures, Wait, chart, panes, periods};
use crate::analysis::trend::Trend;
use crate::analysis::{Cost, FilterKey, Tally};
use crate::model::Verdict;
use crate::rules;
use crate::tui::app::App;
use crate::tui::screens::help::meaning;
use crate::tui::text;
use crate::tui::widgets::table::{self, Look};
use crate::tui::widgets::{big_figure, verdict_bar};

/// Whether the share stands there in figures three rows high.
pub(crate) fn has_large_figure(app: &App) -> bool {
    app.size.height >= 36 && app.size.width >= 90 && app.theme.pick("u", "a") == "u"
}

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    let Some((_, figures)) = &app.figures.share else {
        return;
    };
    let panes = panes(app);
    let head = head_lines(app, figures, usize::from(panes.head.width));
    frame.render_widget(Paragraph::new(head), panes.head);
    if let Some(area) = panes.about {
        about_view(app, figures, frame, area);
    }
    if let Some(area) = panes.chart {
        chart::small(app, figures, frame, area);
    }
    periods::note(app, figures, frame, panes.note);
    for section in Section::ALL {
        let area = panes.sections[section as usize];
        if area.height > 1 {
            section_view(app, figures, section, frame, area);
        }
    }
}

/// The share in words, with its interval and its bounds.
pub(crate) fn sentences(tally: &Tally) -> (String, String) {
    let share = tally.share();
    if tally.draws == 0 {
        return ("No draws in view.".to_owned(), String::new());
    }
    let first = if tally.judged() == 0 {
        format!(
            "None of {} can be judged by its record.",
            text::plural(tally.draws, "draw", "draws")
        )
    } else {
        let few = if tally.judged() < FEW {
            ", few to go by"
        } else {
            ""
        };
        format!(
            "{} of {} unrepresentative ({} at 95 %{few})",
            text::percent(share.share),
            text::plural(tally.judged(), "judged draw is", "judged draws are"),
            text::percent_range(share.low, share.high),
        )
    };
    let second = if tally.unproven == 0 {
        "Every draw in view is judged; nothing is left open.".to_owned()
    } else {
        format!(
            "At least {}, at most {} of all {}: {} left open by the record.",
            text::percent(share.least),
            text::percent(share.most),
            text::count(tally.draws),
            text::plural(tally.unproven, "is", "are"),
        )
    };
    (first, second)
}

/// The same of all draws in view. Where the filter chose them by their verdict, the share is
/// what the filter makes it.
pub(crate) fn sentences_in_view(app: &App, tally: &Tally) -> (String, String) {
    let (first, second) = sentences(tally);
    let mut terms = app.filter.terms().iter();
    if tally.draws > 0 && terms.any(|term| term.key() == FilterKey::Verdict) {
        let words = "The filter chose these draws by their verdict: their share tells nothing.";
        return (first, words.to_owned());
    }
    (first, second)
}

/// Fewer judged draws than this are said to be few (a convention of ours, no source).
pub(crate) const FEW: u64 = 20;

/// The lines above the panes, and with them how high they stand.
pub(crate) fn head_lines(app: &App, figures: &ShareFigures, width: usize) -> Vec<Line<'static>> {
    let theme = app.theme;
    let (first, second) = sentences_in_view(app, &figures.tally);
    let share = figures.tally.share();
    let mut lines = Vec::new();
    if has_large_figure(app) {
        let figure = share
            .share
            .map_or("–".to_owned(), |share| format!("{:.1} %", share * 100.0));
        let mut rows = big_figure::rows(&figure).into_iter();
        let style = theme
            .verdict(Verdict::Unrepresentative)
            .add_modifier(Modifier::BOLD);
        let said = first
            .split_once(" % of ")
            .map_or(first.clone(), |(_, rest)| format!("of {rest}"));
        lines.push(Line::default());
        for beside in [said, second, String::new()] {
            lines.push(Line::from(vec![
                Span::styled(rows.next().unwrap_or_default(), style),
                Span::raw("   "),
                Span::raw(text::cut(&beside, width.saturating_sub(30))),
            ]));
        }
        lines.push(Line::default());
    } else {
        let bold = |line| Line::from(Span::styled(line, theme.strong()));
        lines.extend(text::wrap(&first, width).into_iter().map(bold));
        lines.extend(text::wrap(&second, width).into_iter().map(Line::from));
    }
    lines.push(Line::from(verdict_bar::spans(&figures.tally, width, theme)));
    lines
}

fn section_view(
    app: &App,
    figures: &ShareFigures,
    section: Section,
    frame: &mut Frame<'_>,
    area: Rect,
) {
    let theme = app.theme;
    let state = &app.screens.share;
    let width = usize::from(area.width).saturating_sub(1);
    let trend = figures.trend(state.every);
    let (title, about) = match section {
        Section::Verdicts => ("Verdicts", "draws".to_owned()),
        Section::Rules => (
            match state.rules_by {
                RulesBy::Broken => "Broken most",
                RulesBy::Regains => "Regain most",
            },
            rule_headings(width),
        ),
        Section::Months => (periods::title(state.every), period_headings(trend, width)),
        Section::Waiting => ("Waiting", String::new()),
    };
    let gap = width.saturating_sub(text::width(title) + 2);
    let headings = Line::from(vec![
        Span::styled(format!("{title}  "), theme.title()),
        Span::styled(text::right(&about, gap), theme.faint()),
    ]);
    let look = Look {
        theme,
        place: state.list(section),
        len: super::len(app, section),
        focused: true,
        // A pane that the keys don't act on shows no chosen row: four marks would confuse.
        marked: state.section == section,
        empty: match section {
            Section::Rules => "no rule is broken",
            _ => "no draws in view",
        },
    };
    table::view(frame, area, headings, &look, |at| match section {
        Section::Verdicts => verdict_line(app, &figures.tally, Verdict::ALL[at], width),
        Section::Rules => rule_line(app, &figures.rules(state.rules_by)[at], width),
        Section::Months => trend.map_or_else(Line::default, |trend| {
            periods::line(app, trend, &trend.periods[at], width)
        }),
        Section::Waiting => {
            let wait = Wait::ALL[at];
            let count = match wait {
                Wait::ResamplesDue => super::resamples_due(app),
                _ => Some(figures.waiting[at]),
            };
            waiting_line(app, wait, count, width)
        }
    });
}

fn verdict_line(app: &App, tally: &Tally, verdict: Verdict, width: usize) -> Line<'static> {
    let theme = app.theme;
    let count = verdict_bar::count_of(tally, verdict);
    let part = (tally.draws > 0).then(|| count as f64 / tally.draws as f64);
    let style = theme.verdict(verdict).add_modifier(Modifier::BOLD);
    let parts = if width >= 36 { 8 } else { 0 };
    let name = width.saturating_sub(2 + 9 + parts);
    let mut spans = vec![
        Span::styled(format!("{} ", theme.verdict_glyph(verdict)), style),
        Span::raw(text::left(verdict.as_str(), name)),
        Span::raw(text::right(&text::count(count), 9)),
    ];
    if parts > 0 {
        let part = text::right(&text::percent(part), parts);
        spans.push(Span::styled(part, theme.faint()));
    }
    Line::from(spans)
}

/// The columns of the rules: how wide count, part, regained draws and bar are.
struct RuleColumns {
    broken: usize,
    part: usize,
    regains: usize,
    bar: usize,
}

impl RuleColumns {
    const ID: usize = 16;

    fn within(width: usize) -> Self {
        let regains = if width >= Self::ID + 21 { 8 } else { 0 };
        let part = match width {
            _ if regains > 0 => 6,
            28.. => 5,
            _ => 0,
        };
        let broken = if width >= Self::ID + 24 { 9 } else { 7 };
        let spare = width.saturating_sub(Self::ID + broken + part + regains);
        let bar = if spare >= 12 { spare - 2 } else { 0 };
        RuleColumns {
            broken: broken + if bar == 0 { spare } else { 0 },
            part,
            regains,
            bar: bar.min(30),
        }
    }
}

/// What stands over the columns of the periods: the line's ends where there is room.
fn period_headings(trend: Option<&Trend>, width: usize) -> String {
    let words = match width {
        _ if periods::counts(width) > 0 => "judged, share, ",
        32.. => "share, ",
        _ => "",
    };
    let ends = trend.map_or((0.0, 1.0), periods::ends);
    format!("{words}{:.0} to {:.0} %", ends.0 * 100.0, ends.1 * 100.0)
}

/// What stands over the columns of the rules.
fn rule_headings(width: usize) -> String {
    let columns = RuleColumns::within(width);
    if columns.regains == 0 {
        return "draws".to_owned();
    }
    let mut words = text::right("broken", columns.broken + 2);
    words.push_str(&text::right("share", columns.part));
    words.push_str(&text::right("regains", columns.regains));
    if columns.bar > 0 {
        words.push_str(&text::left("", columns.bar + 2));
    }
    words
}

/// `21 %`, or a dash where there is no share.
pub(crate) fn whole_percent(part: Option<f64>) -> String {
    part.map_or_else(|| "–".to_owned(), |part| format!("{:.0} %", part * 100.0))
}

fn rule_line(app: &App, cost: &Cost, width: usize) -> Line<'static> {
    let theme = app.theme;
    let columns = RuleColumns::within(width);
    let part = cost.share();
    let mut spans = vec![
        Span::raw(text::left(cost.id(), RuleColumns::ID)),
        Span::raw(text::right(&text::count(cost.broken), columns.broken)),
    ];
    if columns.part > 0 {
        let percent = whole_percent(part);
        spans.push(Span::styled(
            text::right(&percent, columns.part),
            theme.faint(),
        ));
    }
    if columns.regains > 0 {
        let regained = text::count(cost.regained);
        spans.push(Span::raw(text::right(&regained, columns.regains)));
    }
    if columns.bar > 0 {
        let filled = ((part.unwrap_or(0.0) * columns.bar as f64).round() as usize).min(columns.bar);
        spans.push(Span::raw("  "));
        spans.push(Span::raw(theme.pick("━", "=").repeat(filled)));
        spans.push(Span::styled(
            theme.pick("·", ".").repeat(columns.bar - filled),
            theme.faint(),
        ));
    }
    Line::from(spans)
}

/// What the chosen line means, for screens with room to spare.
pub(crate) fn about(app: &App, figures: &ShareFigures) -> Vec<(&'static str, String)> {
    let state = &app.screens.share;
    let cursor = state.list(state.section).cursor;
    match state.section {
        Section::Verdicts => Verdict::ALL
            .get(cursor)
            .map(|verdict| vec![("", meaning(*verdict).to_owned())]),
        Section::Waiting => Wait::ALL
            .get(cursor)
            .map(|wait| vec![("", wait.about().to_owned())]),
        Section::Months => figures.trend(state.every).and_then(|trend| {
            let period = trend.periods.get(cursor)?;
            let (first, second) = sentences(&period.tally);
            let mut said = vec![("", first), ("", second)];
            said.extend(trend.chart.map(|chart| ("The chart", chart.words() + ".")));
            Some(said)
        }),
        Section::Rules => figures.rules(state.rules_by).get(cursor).map(|cost| {
            let card = rules::cards()[cost.rule];
            let behind = format!(
                "Broken on {} of {} recorded, of {} it applies to; {} of them unrepresentative; {} would not be, had it alone been met (regains).",
                text::count(cost.broken),
                text::count(cost.recorded()),
                text::plural(cost.draws, "draw", "draws"),
                text::count(cost.unrepresentative),
                text::count(cost.regained)
            );
            vec![
                ("", card.asks.to_owned()),
                ("", behind),
                ("Why", card.why.to_owned()),
                ("Next time", card.next_time.to_owned()),
                ("Caution", card.caution.to_owned()),
                ("Answers to", card.owner.to_string()),
            ]
        }),
    }
    .unwrap_or_default()
}

fn about_view(app: &App, figures: &ShareFigures, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let width = usize::from(area.width).saturating_sub(1);
    let mut lines = vec![Line::from(Span::styled("The chosen line", theme.title()))];
    for (label, words) in about(app, figures) {
        if words.is_empty() {
            continue;
        }
        if !label.is_empty() {
            let style = if label == "Caution" {
                theme.caution()
            } else {
                theme.strong()
            };
            lines.push(Line::default());
            lines.push(Line::from(Span::styled(label, style)));
        }
        lines.extend(text::wrap(&words, width).into_iter().map(Line::from));
    }
    frame.render_widget(Paragraph::new(lines), area);
}

fn waiting_line(app: &App, wait: Wait, count: Option<u64>, width: usize) -> Line<'static> {
    let theme = app.theme;
    let style = if count.is_some_and(|count| count > 0) {
        theme.plain()
    } else {
        theme.faint()
    };
    let counts = if width < 30 { 7 } else { 9 };
    let shown = count.map_or_else(|| theme.pick("·", ".").to_owned(), text::count);
    Line::from(vec![
        Span::styled(text::left(wait.text(), width.saturating_sub(counts)), style),
        Span::styled(text::right(&shown, counts), style),
    ])
}

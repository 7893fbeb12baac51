//! What stands beside a technician, a crew or a point: the share in words, what breaks
//! most, the months, and the points served or the people who serve.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::funnel::FunnelFigures;
use super::share::view::{FEW, sentences};
use super::{against, funnel};
use crate::analysis::trend::Period;
use crate::analysis::{Every, Group, Tally};
use crate::rules;
use crate::tui::app::App;
use crate::tui::subject::{Subject, SubjectFigures};
use crate::tui::text;
use crate::tui::widgets::interval_bar;

/// A name in bold, with what belongs to it on the right.
pub(crate) fn heading(app: &App, name: &str, about: &str, area: Rect) -> Line<'static> {
    let width = inner(area).width as usize;
    let name = text::cut(name, width);
    let gap = width.saturating_sub(text::width(&name));
    // A blank keeps them apart where there is no room for all.
    let about = text::right(&format!("  {about}"), gap);
    Line::from(vec![
        Span::styled(name, app.theme.strong()),
        Span::styled(about, app.theme.faint()),
    ])
}

fn inner(area: Rect) -> Rect {
    Rect {
        width: area.width.saturating_sub(1),
        ..area
    }
}

/// What stands beside a line of a list.
pub(crate) struct Beside<'a> {
    pub(crate) subject: &'a Subject,
    pub(crate) tally: Tally,
    /// The share of all draws in view.
    pub(crate) all: Option<f64>,
    /// The name, and what is said of it before all else.
    pub(crate) head: Vec<Line<'static>>,
    pub(crate) funnel: &'a FunnelFigures,
}

/// Draws the head, the comparison, then as many sections as there is room for.
pub(crate) fn view(app: &App, beside: Beside<'_>, frame: &mut Frame<'_>, area: Rect) {
    let area = inner(area);
    let width = usize::from(area.width);
    let height = usize::from(area.height);
    let Beside {
        subject,
        tally,
        all,
        head: mut lines,
        funnel,
    } = beside;
    let compared = against::words(app, subject, width);
    let room = |lines: &[Line<'_>]| height.saturating_sub(lines.len());
    // What is compared says the share itself.
    if height >= 16 && !against::says_share(app, subject) {
        let (first, _) = sentences(&tally);
        lines.extend(text::wrap(&first, width).into_iter().map(Line::from));
    }
    lines.extend(compared);
    if height >= 30 {
        let tall = (height * 2 / 5).min(room(&lines).saturating_sub(8)).min(22);
        lines.push(Line::default());
        lines.extend(funnel::block(app, funnel, &tally, (width, tall)));
    }
    let known = app.figures.subject.as_ref();
    let figures = known
        .filter(|(turn, shown, _)| *turn == app.selected_turn && shown == subject)
        .map(|(_, _, figures)| figures);
    if let Some(figures) = figures {
        sections(app, (subject, figures), all, &mut lines, width, height);
    }
    frame.render_widget(Paragraph::new(lines), area);
}

fn sections(
    app: &App,
    (subject, figures): (&Subject, &SubjectFigures),
    all: Option<f64>,
    lines: &mut Vec<Line<'static>>,
    width: usize,
    height: usize,
) {
    let room = height.saturating_sub(lines.len());
    let partner_title = match subject {
        Subject::Point(_) => "Technicians who serve it",
        _ => "Points served",
    };
    let roomy = height >= 16;
    // As many sections as have a few lines each; the first ones first.
    let count = if roomy { (room / 5).clamp(1, 3) } else { 1 };
    let part = room / count;
    let mut left = count;
    // Only the rows that are shown are made: a technician may serve thousands of points.
    let mut section = |title: &str,
                       about: &str,
                       rows: &mut dyn ExactSizeIterator<Item = Line<'static>>,
                       most: usize| {
        if most < 2 || rows.len() == 0 || left == 0 {
            return;
        }
        left -= 1;
        if roomy {
            lines.push(Line::default());
        }
        let gap = width.saturating_sub(text::width(title));
        lines.push(Line::from(vec![
            Span::styled(title.to_owned(), app.theme.title()),
            Span::styled(text::right(about, gap), app.theme.faint()),
        ]));
        lines.extend(rows.take(most - 1 - usize::from(roomy)));
    };
    let rules = figures.rules.iter();
    let mut rules = rules.map(|(place, tally)| rule_line(app, *place, tally, width));
    section("Breaks most", "of draws it applies to", &mut rules, part);
    if roomy {
        let periods = figures.periods.iter();
        let mut periods = periods.map(|period| period_line(app, period, all, width));
        let title = match figures.every {
            Some(Every::Quarter) => "Quarter by quarter",
            _ => "Month by month",
        };
        section(title, "judged, share", &mut periods, part);
        let partners = figures.partners.iter();
        let mut partners = partners.map(|group| partner_line(app, subject, group, width));
        section(partner_title, "draws, share", &mut partners, part);
    }
}

fn rule_line(app: &App, place: usize, tally: &Tally, width: usize) -> Line<'static> {
    let counts = format!(
        "{} of {}",
        text::count(tally.unrepresentative),
        text::count(tally.draws)
    );
    let part = tally.unrepresentative as f64 / tally.draws.max(1) as f64;
    let card = rules::cards()[place];
    let owner = format!("answers to {}", card.owner);
    let mut spans = vec![
        Span::raw(text::left(card.id, 17)),
        Span::raw(text::right(&counts, 16)),
        Span::raw(text::right(&text::percent(Some(part)), 9)),
    ];
    let room = width.saturating_sub(17 + 16 + 9);
    if room >= 24 {
        spans.push(Span::styled(text::right(&owner, room), app.theme.faint()));
    }
    Line::from(spans)
}

/// A period with its share and interval against the share of all.
fn period_line(app: &App, period: &Period, all: Option<f64>, width: usize) -> Line<'static> {
    let theme = app.theme;
    let (judged, share) = (period.tally.judged(), &period.share);
    let remark = if judged > 0 && judged < FEW {
        " few"
    } else {
        "    "
    };
    let bar = width.saturating_sub(7 + 8 + 8 + 4 + 1);
    let mut spans = vec![
        Span::raw(text::left(&period.key, 7)),
        Span::raw(text::right(&text::count(judged), 8)),
        Span::raw(text::right(&text::percent(share.share), 8)),
        Span::styled(remark, theme.faint()),
        Span::raw(" "),
    ];
    let shown = interval_bar::Shown {
        share: share.share,
        low: share.low,
        high: share.high,
        all,
    };
    spans.extend(interval_bar::spans(shown, bar, theme));
    Line::from(spans)
}

/// The name of a point served, or of a technician who serves.
pub(crate) fn partner_name(app: &App, subject: &Subject, group: &Group) -> String {
    let name = match (subject, &app.data) {
        (Subject::Point(_), Some(assessed)) => {
            let same = |technician: &&crate::model::Technician| technician.id == group.key;
            let technician = assessed.technicians.iter().find(same);
            technician.and_then(|technician| technician.name.clone())
        }
        _ => None,
    };
    name.unwrap_or_else(|| group.key.clone())
}

fn partner_line(app: &App, subject: &Subject, group: &Group, width: usize) -> Line<'static> {
    let share = group.tally.share();
    let name = partner_name(app, subject, group);
    let few = super::compared_list::share_with_few(share.share, group.tally.judged());
    let cells = width.saturating_sub(8 + 12 + 14);
    Line::from(vec![
        Span::raw(text::left(&name, cells)),
        Span::raw(text::right(&text::count(group.tally.draws), 8)),
        Span::raw(text::right(&few, 12)),
        Span::styled(
            text::right(&text::percent_range(share.low, share.high), 14),
            app.theme.faint(),
        ),
    ])
}

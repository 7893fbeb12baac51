//! What stands beside a technician, a crew or a point: the share in words, what breaks
//! most, the months, and the points served or the people who serve.

use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::funnel::FunnelFigures;
use super::page::Written;
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

/// A label and what it says, in as many lines as that takes.
pub(crate) fn labelled(label: &str, words: &str, style: Style, width: usize) -> Vec<Line<'static>> {
    let label = format!("{label}:");
    let parts = text::wrap(&format!("{label} {words}"), width).into_iter();
    let line = |(at, part): (usize, String)| match part.strip_prefix(&label) {
        Some(rest) if at == 0 => Line::from(vec![
            Span::styled(label.clone(), style),
            Span::raw(rest.to_owned()),
        ]),
        _ => Line::from(part),
    };
    parts.enumerate().map(line).collect()
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

/// No section of a page has more rows than this: a technician may serve thousands of points.
const MOST_ROWS: usize = 200;

/// The head, the comparison, then as many sections as there is room for; on a page of its own
/// all of them.
pub(crate) fn written(app: &App, beside: Beside<'_>, area: Rect, whole: bool) -> Written {
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
    let roomy = whole || height >= ROOMY;
    // What is compared says the share itself.
    if roomy && !against::says_share(app, subject) {
        let (first, _) = sentences(&tally);
        lines.extend(text::wrap(&first, width).into_iter().map(Line::from));
    }
    lines.extend(compared);
    if height >= 30 && !whole {
        let tall = (height * 2 / 5).min(room(&lines).saturating_sub(8)).min(22);
        lines.push(Line::default());
        lines.extend(funnel::block(app, funnel, &tally, (width, tall)));
    }
    let mut written = Written::all(lines);
    let known = app.figures.subject.as_ref();
    let figures = known
        .filter(|(turn, shown, _)| *turn == app.selected_turn && shown == subject)
        .map(|(_, _, figures)| figures);
    if let Some(figures) = figures {
        let room = height.saturating_sub(written.lines.len());
        let room = match (whole, roomy) {
            (true, _) => Room::Whole,
            (_, true) => Room::Parts(room),
            _ => Room::Rows(room),
        };
        sections(app, (subject, figures), all, &mut written, width, room);
    }
    written
}

/// From this height on sections stand apart, each with a part of the room.
const ROOMY: usize = 16;

/// A title, a row, and the line that says how many more there are.
const LEAST_SECTION: usize = 3;

/// How much room the sections have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Room {
    /// As much as they want.
    Whole,
    /// So many lines, of which each takes a part.
    Parts(usize),
    /// So many lines, one section after the other.
    Rows(usize),
}

fn sections(
    app: &App,
    (subject, figures): (&Subject, &SubjectFigures),
    all: Option<f64>,
    written: &mut Written,
    width: usize,
    room: Room,
) {
    let partner_title = match subject {
        Subject::Point(_) => "Technicians who serve it",
        _ => "Points served",
    };
    // As many sections as have a few lines each; the first ones first.
    let (mut left, most) = match room {
        Room::Whole => (3, MOST_ROWS),
        Room::Parts(room) => {
            let count = (room / 5).clamp(1, 3);
            (count, (room / count).saturating_sub(2))
        }
        Room::Rows(room) => (3, room),
    };
    let apart = !matches!(room, Room::Rows(_));
    let begun = written.lines.len();
    let mut section =
        |title: &str, about: &str, rows: &mut dyn ExactSizeIterator<Item = Line<'static>>| {
            let len = rows.len();
            if len == 0 {
                return;
            }
            // A title without rows says nothing.
            let taken = written.lines.len() - begun;
            let is_full = matches!(room, Room::Rows(room) if taken + LEAST_SECTION > room);
            if left == 0 || most == 0 || is_full {
                written.left_out += len + 1;
                return;
            }
            left -= 1;
            if apart {
                written.lines.push(Line::default());
            }
            let gap = width.saturating_sub(text::width(title));
            written.lines.push(Line::from(vec![
                Span::styled(title.to_owned(), app.theme.title()),
                Span::styled(text::right(about, gap), app.theme.faint()),
            ]));
            // Only the rows that are shown are made.
            written.lines.extend(rows.take(most));
            let more = len.saturating_sub(most);
            match room {
                Room::Whole if more > 0 => {
                    let words = format!(
                        "{} {} more",
                        app.theme.pick("…", "..."),
                        text::count(more as u64)
                    );
                    let line = Line::from(Span::styled(words, app.theme.faint()));
                    written.lines.push(line);
                }
                _ => written.left_out += more,
            }
        };
    let rules = figures.rules.iter();
    let mut rules = rules.map(|(place, tally)| rule_line(app, *place, tally, width));
    section("Breaks most", "of draws recorded", &mut rules);
    let periods = figures.periods.iter();
    let mut periods = periods.map(|period| period_line(app, period, all, width));
    let title = match figures.every {
        Some(Every::Quarter) => "Quarter by quarter",
        Some(Every::Year) => "Year by year",
        _ => "Month by month",
    };
    section(title, "judged, share", &mut periods);
    let partners = figures.partners.iter();
    let mut partners = partners.map(|group| partner_line(app, subject, group, width));
    section(partner_title, "draws, share", &mut partners);
}

fn rule_line(app: &App, place: usize, tally: &Tally, width: usize) -> Line<'static> {
    let counts = format!(
        "{} of {}",
        text::count(tally.unrepresentative),
        text::count(tally.judged())
    );
    let card = rules::cards()[place];
    let owner = format!("answers to {}", card.owner);
    let part_width = if width < 42 { 8 } else { 9 };
    let counts_width = width.saturating_sub(17 + part_width).min(16);
    // A number that is cut says something else; how many it is broken on stays.
    let counts = match text::width(&counts) < counts_width {
        true => counts,
        false => text::count(tally.unrepresentative),
    };
    let mut spans = vec![
        Span::raw(text::left(card.id, 17)),
        Span::raw(text::right(&counts, counts_width)),
        Span::raw(text::right(&text::percent(tally.share().share), part_width)),
    ];
    let room = width.saturating_sub(17 + counts_width + part_width);
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
    // The name goes before the interval.
    let interval = if width >= 8 + 12 + 14 + 16 { 14 } else { 0 };
    let cells = width.saturating_sub(8 + 12 + interval);
    let mut spans = vec![
        Span::raw(text::left(&name, cells)),
        Span::raw(text::right(&text::count(group.tally.draws), 8)),
        Span::raw(text::right(&few, 12)),
    ];
    if interval > 0 {
        let range = text::percent_range(share.low, share.high);
        spans.push(Span::styled(
            text::right(&range, interval),
            app.theme.faint(),
        ));
    }
    Line::from(spans)
}

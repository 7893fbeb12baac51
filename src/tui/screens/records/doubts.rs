//! Doubts: records that are hard to believe, each with its evidence, the chance of seeing it
//! by accident, and what else explains it.

use std::ops::Range;

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::exam;
use super::ledger::when;
use crate::analysis::doubts::{About, Doubt, Evidence};
use crate::analysis::{Assessed, Doubts, FilterKey};
use crate::model::time;
use crate::report::doubt_rows::odds;
use crate::tui::app::App;
use crate::tui::narrower::Narrower;
use crate::tui::screens::beside;
use crate::tui::text;
use crate::tui::widgets::table::{self, Column as TableColumn, Look};

pub(crate) fn figures(app: &App) -> Option<&Doubts> {
    exam::known(app, &app.examined.doubts).map(AsRef::as_ref)
}

pub(crate) fn list_of(app: &App) -> &[Doubt] {
    figures(app).map_or(&[], |found| &found.list)
}

pub(crate) fn chosen(app: &App) -> Option<&Doubt> {
    list_of(app).get(app.screens.records.doubts.cursor)
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Shown {
    Title,
    About,
    Column,
    Counted,
    Usual,
    Chance,
}

/// The columns of the list.
pub(crate) const COLUMNS: [TableColumn<Shown>; 6] = [
    TableColumn::new(Shown::Title, "worth asking about", 26, 0).grows(3, 60),
    TableColumn::new(Shown::About, "who or what", 14, 0).grows(2, 30),
    TableColumn::new(Shown::Column, "column", 14, 3),
    TableColumn::new(Shown::Counted, "counted", 14, 1).right(),
    TableColumn::new(Shown::Usual, "usual", 7, 2).right(),
    TableColumn::new(Shown::Chance, "by accident", 20, 0).right(),
];

/// What the list means, above it.
pub(crate) fn head(app: &App, width: usize) -> Vec<Line<'static>> {
    let Some(found) = figures(app) else {
        return Vec::new();
    };
    let comparisons = text::plural(found.comparisons(), "comparison", "comparisons");
    let words = if found.list.is_empty() {
        format!(
            "Nothing here is hard to believe: {comparisons} over the whole programme show no \
             more than chance would."
        )
    } else {
        format!(
            "A doubt is a reason to ask, never a charge. By accident: the chance that any of \
             {comparisons} would show as much if all were as others are."
        )
    };
    let mut lines: Vec<Line<'static>> = text::wrap(&words, width)
        .into_iter()
        .map(Line::from)
        .collect();
    lines.push(Line::default());
    lines
}

pub(crate) fn list(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let doubts = list_of(app);
    let width = usize::from(area.width).saturating_sub(2);
    let columns = table::fit(&COLUMNS, width, |_| false);
    let headings = table::headings(&columns, theme, |_| None);
    let look = Look {
        theme,
        place: app.screens.records.doubts,
        len: doubts.len(),
        focused: true,
        marked: true,
        empty: "",
    };
    table::view(frame, area, headings, &look, |at| {
        let mut spans = Vec::new();
        for column in &columns {
            let (value, style) = cell(app, &doubts[at], column.0.id);
            spans.extend(table::cell(column, &value, style));
            spans.push(Span::raw(" "));
        }
        Line::from(spans)
    });
}

/// One value of a doubt's row.
pub(crate) fn cell(app: &App, doubt: &Doubt, column: Shown) -> (String, Style) {
    let theme = app.theme;
    let value = match column {
        Shown::Title => doubt.signal.title.to_owned(),
        Shown::About => about(app, doubt.about),
        Shown::Column => doubt.column.unwrap_or_default().to_owned(),
        Shown::Counted => format!("{} of {}", text::count(doubt.events), text::count(doubt.of)),
        Shown::Usual => usual(doubt.expected),
        Shown::Chance => return (odds(doubt.adjusted), theme.strong()),
    };
    (value, theme.plain())
}

fn usual(expected: f64) -> String {
    match expected {
        few if few < 0.1 => "<0.1".to_owned(),
        few if few < 9.95 => format!("{few:.1}"),
        many => text::count(many.round() as u64),
    }
}

/// Whom or what it is about, as people call it.
fn about(app: &App, about: About) -> String {
    let Some(assessed) = &app.data else {
        return String::new();
    };
    match about {
        About::Technician(place) => {
            let technician = &assessed.technicians[place as usize];
            technician.name.as_ref().unwrap_or(&technician.id).clone()
        }
        About::SiteOf(_) => about.name(assessed).to_owned(),
    }
}

/// What each signal looked at, where no doubt is listed.
pub(crate) fn reach(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let theme = app.theme;
    let Some(found) = figures(app) else {
        return;
    };
    let width = usize::from(area.width).saturating_sub(1);
    let name = width.saturating_sub(12 + 14).min(70);
    let mut lines = vec![Line::from(Span::styled(
        format!(
            "{}{}{}",
            text::left("what was looked for", name),
            text::right("compared", 12),
            text::right("too little", 14)
        ),
        theme.faint(),
    ))];
    for reach in &found.reach {
        lines.push(Line::from(vec![
            Span::raw(text::left(reach.signal.title, name)),
            Span::raw(text::right(&text::count(reach.comparisons), 12)),
            Span::styled(text::right(&text::count(reach.silent), 14), theme.faint()),
        ]));
    }
    frame.render_widget(Paragraph::new(lines), area);
}

/// A doubt in full: the lines, and those of each draw of its evidence.
pub(crate) struct Page {
    pub(crate) lines: Vec<Line<'static>>,
    pub(crate) evidence: Vec<Range<usize>>,
}

/// Writes the chosen doubt; the chosen draw of its evidence is marked where `marked`.
pub(crate) fn page(app: &App, area: Rect, marked: bool) -> Option<Page> {
    let theme = app.theme;
    let doubt = chosen(app)?;
    let width = usize::from(area.width).saturating_sub(1);
    let mut page = Page {
        lines: vec![beside::heading(
            app,
            doubt.signal.title,
            &about(app, doubt.about),
            area,
        )],
        evidence: Vec::new(),
    };
    let lines = &mut page.lines;
    say(
        lines,
        &text::sentence(&doubt.says()),
        theme.plain(),
        width,
        "",
    );
    let words = format!(
        "By accident: {}, with all comparisons taken into account.",
        odds(doubt.adjusted)
    );
    say(lines, &words, theme.plain(), width, "");
    lines.push(Line::default());
    let shown = doubt.examples.len();
    let title = match doubt.evidence.len() {
        all if all > shown => format!("What was seen, on the first {shown} of {all} draws"),
        _ => "What was seen".to_owned(),
    };
    lines.push(Line::from(Span::styled(title, theme.title())));
    for (at, (seen, tells)) in doubt.examples.iter().enumerate() {
        let from = page.lines.len();
        let is_chosen = marked && at == app.screens.records.evidence;
        let lines = &mut page.lines;
        evidence(app, lines, *seen, tells, (width, is_chosen));
        page.evidence.push(from..page.lines.len());
    }
    let lines = &mut page.lines;
    for (title, points) in [
        ("What else explains it", doubt.signal.explanations),
        ("What to do next", doubt.signal.next),
    ] {
        lines.push(Line::default());
        lines.push(Line::from(Span::styled(title, theme.title())));
        for point in points {
            say(lines, point, theme.plain(), width, theme.pick("· ", "- "));
        }
    }
    lines.push(Line::default());
    lines.push(Line::from(Span::styled(
        "What is looked at, and how the chance is worked out",
        theme.title(),
    )));
    for words in [
        doubt.signal.looks_at,
        doubt.signal.chance,
        doubt.signal.source,
    ] {
        say(lines, words, theme.faint(), width, "");
    }
    Some(page)
}

fn say(
    lines: &mut Vec<Line<'static>>,
    words: &str,
    style: Style,
    width: usize,
    before: &'static str,
) {
    let cells = text::width(before);
    for (at, part) in text::wrap(words, width.saturating_sub(cells))
        .into_iter()
        .enumerate()
    {
        let before = if at == 0 {
            before
        } else {
            &"  "[..cells.min(2)]
        };
        lines.push(Line::from(vec![
            Span::raw(before),
            Span::styled(part, style),
        ]));
    }
}

/// When and where, and what is to be seen there.
fn evidence(
    app: &App,
    lines: &mut Vec<Line<'static>>,
    seen: Evidence,
    tells: &str,
    (width, is_chosen): (usize, bool),
) {
    let theme = app.theme;
    let Some(assessed) = &app.data else { return };
    let row = seen.row as usize;
    let point = &assessed.points[assessed.judged.point[row] as usize];
    let drawn = when(app, assessed.judged.drawn_at[row]);
    let mut head = Line::from(vec![
        Span::raw(format!("{drawn}  ")),
        Span::styled(
            text::left(&point.id, width.saturating_sub(18)),
            theme.strong(),
        ),
    ]);
    if is_chosen {
        head = theme.choose(head);
    }
    lines.push(head);
    say(lines, tells, theme.plain(), width, "  ");
}

/// Draws the chosen doubt from this line on.
pub(crate) fn view_page(app: &App, frame: &mut Frame<'_>, area: Rect, opened: bool) {
    let Some(page) = page(app, area, opened) else {
        return;
    };
    let height = usize::from(area.height);
    let len = page.lines.len();
    let most = len.saturating_sub(height);
    let scroll = if opened {
        app.screens.records.doubt_scroll.min(most)
    } else {
        0
    };
    let lines: Vec<Line<'static>> = page.lines.into_iter().skip(scroll).take(height).collect();
    let inner = Rect {
        width: area.width.saturating_sub(1),
        ..area
    };
    frame.render_widget(Paragraph::new(lines), inner);
    if opened {
        table::scrollbar(frame, area, app.theme, scroll, len.saturating_sub(1));
    }
}

/// What leads to the draws of a doubt: whose or where they are, and the days between the first
/// and the last.
pub(crate) fn narrower(app: &App) -> Option<Narrower> {
    let (assessed, doubt) = (app.data.as_ref()?, chosen(app)?);
    let (first, last) = (doubt.evidence.first()?, doubt.evidence.last()?);
    let days = (day(assessed, first.row), day(assessed, last.row));
    let narrower = match doubt.about {
        About::Technician(place) => {
            let id = &assessed.technicians[place as usize].id;
            Narrower::one(FilterKey::Technician, id)
        }
        About::SiteOf(_) => Narrower::one(FilterKey::Site, doubt.about.name(assessed)),
    };
    Some(
        narrower
            .and(FilterKey::From, &days.0)
            .and(FilterKey::To, &days.1),
    )
}

/// What leads to the chosen draw of the evidence, and to the one it is set against.
pub(crate) fn narrower_of_evidence(app: &App) -> Option<Narrower> {
    let (assessed, doubt) = (app.data.as_ref()?, chosen(app)?);
    let (seen, _) = doubt.examples.get(app.screens.records.evidence)?;
    let rows: Vec<u32> = [Some(seen.row), seen.other].into_iter().flatten().collect();
    Some(of_draws(assessed, &rows))
}

/// The points of these draws, and the days between them.
fn of_draws(assessed: &Assessed, rows: &[u32]) -> Narrower {
    let judged = &assessed.judged;
    let mut points: Vec<&str> = rows
        .iter()
        .map(|row| {
            assessed.points[judged.point[*row as usize] as usize]
                .id
                .as_str()
        })
        .collect();
    points.sort_unstable();
    points.dedup();
    let mut days: Vec<String> = rows.iter().map(|row| day(assessed, *row)).collect();
    days.sort_unstable();
    let (from, to) = (days[0].clone(), days[days.len() - 1].clone());
    Narrower::any(FilterKey::Point, &points)
        .and(FilterKey::From, &from)
        .and(FilterKey::To, &to)
}

fn day(assessed: &Assessed, row: u32) -> String {
    let at = assessed.judged.drawn_at[row as usize];
    time::local_text(at, assessed.zone)
        .chars()
        .take(10)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_usual_keeps_a_decimal_where_it_is_small() {
        assert_eq!(usual(0.01), "<0.1");
        assert_eq!(usual(3.24), "3.2");
        assert_eq!(usual(1234.4), "1,234");
    }
}

//! Draws what was found, with the letters it was found by.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use unicode_segmentation::UnicodeSegmentation;

use super::Finder;
use super::finds::{FEW, Find, Finds, Group, Kind, Part};
use crate::model::printable::printable;
use crate::tui::app::App;
use crate::tui::text;
use crate::tui::theme::Theme;
use crate::tui::widgets::boxed;

/// A wider or higher box is harder to read, not easier; a strip of the screen that is left beside
/// it says something from this width on only.
const WIDEST: u16 = 112;
const HIGHEST: u16 = 40;
const STRIP: u16 = 30;
/// Names are given at most this many cells of their own.
const LONGEST_NAME: usize = 26;
/// With fewer cells left, nothing more is begun.
const LEAST_ROOM: usize = 8;
/// Lines at the foot: a blank, and what Enter does.
const FOOT: usize = 2;

/// Right below the line; always of the same size, so that nothing jumps while one types.
pub(super) fn area(body: Rect) -> Rect {
    let whole = body.width + body.x;
    Rect {
        x: 0,
        width: match whole < WIDEST + STRIP {
            true => whole,
            false => WIDEST,
        },
        height: body.height.min(HIGHEST),
        ..body
    }
}

/// A line of the box: a heading, or the find at this place over all kinds.
enum Row<'a> {
    Heading(&'a Group),
    Found(usize, &'a Find, usize),
}

fn rows(finds: &Finds) -> Vec<Row<'_>> {
    let mut rows = Vec::new();
    let mut place = 0;
    for group in &finds.groups {
        rows.push(Row::Heading(group));
        let names = group.finds.iter().map(|find| text::width(find.name()));
        let widest = names.max().unwrap_or(0).min(LONGEST_NAME);
        for find in &group.finds {
            rows.push(Row::Found(place, find, widest));
            place += 1;
        }
    }
    rows
}

/// How many lines the box has for what was found.
pub(super) fn height(area: Rect) -> usize {
    usize::from(boxed::inner(area).height).saturating_sub(FOOT)
}

/// The first line on screen, so that the chosen find and the heading above it are there.
pub(super) fn offset(finder: &Finder, app: &App, area: Rect) -> usize {
    let Some(finds) = finder.shown(app) else {
        return 0;
    };
    let rows = rows(finds);
    let height = height(area).max(1);
    let is_chosen = |row: &Row<'_>| matches!(row, Row::Found(place, ..) if *place == finder.cursor);
    let at = rows.iter().position(is_chosen).unwrap_or(0);
    let above = match at.checked_sub(1).map(|before| &rows[before]) {
        Some(Row::Heading(_)) => at - 1,
        _ => at,
    };
    let most = rows.len().saturating_sub(height);
    let offset = finder.offset.min(above).min(most);
    offset.max((at + 1).saturating_sub(height))
}

/// The find in this line of the box.
pub(super) fn find_at(finder: &Finder, app: &App, area: Rect, line: usize) -> Option<usize> {
    if line >= height(area) {
        return None;
    }
    match rows(finder.shown(app)?).get(offset(finder, app, area) + line)? {
        Row::Found(place, ..) => Some(*place),
        Row::Heading(_) => None,
    }
}

pub(super) fn view(finder: &Finder, app: &App, frame: &mut Frame<'_>, body: Rect) {
    let theme = app.theme;
    let area = area(body);
    let width = usize::from(boxed::inner(area).width);
    let height = height(area);
    let empty = Finds::default();
    let finds = finder.shown(app).unwrap_or(&empty);
    let mut lines: Vec<Line<'static>> = rows(finds)
        .into_iter()
        .skip(offset(finder, app, area))
        .map(|row| match row {
            Row::Heading(group) => heading(theme, group),
            Row::Found(place, find, widest) => {
                let line = found(theme, find, widest, width);
                match place == finder.cursor {
                    true => theme.choose(line),
                    false => line,
                }
            }
        })
        .collect();
    let words = |lines: &mut Vec<Line<'static>>, words: &str, style: Style| {
        let parts = text::wrap(words, width).into_iter();
        lines.extend(parts.map(|part| Line::from(Span::styled(part, style))));
    };
    if finder.query().is_empty() {
        if !lines.is_empty() {
            lines.push(Line::default());
        }
        words(&mut lines, HOW, theme.faint());
    } else if finds.len() == 0 && finder.is_complete(app) {
        let none = format!("Nothing is called \"{}\".", finder.query());
        words(&mut lines, &none, theme.strong());
        words(&mut lines, ELSEWHERE, theme.faint());
    }
    if !finder.query().is_empty() {
        match &app.find.names {
            None => words(
                &mut lines,
                "Bottles and draws: their codes are being read.",
                theme.faint(),
            ),
            Some(Err(reason)) => {
                let said = format!("Bottles and draws are not looked through: {reason}");
                words(&mut lines, &said, theme.warning());
            }
            Some(Ok(_)) => {}
        }
    }
    lines.truncate(height);
    lines.resize(height + 1, Line::default());
    lines.push(foot(finder, finds, theme, width));
    boxed::view(frame, area, "find", lines, theme);
}

/// How to begin.
const HOW: &str = "Type any letters of a name: of a technician, crew, point, machine, area, \
    site, compartment, bottle, draw, rule or screen. Several words must all fit. Letters may be left \
    out, but their order counts.";

/// What to do where nothing was found.
const ELSEWHERE: &str = "Fewer letters find more (Ctrl-W takes a word away). What a draw is \
    like, its verdict, method or the rules it breaks, is chosen by the filter (Esc, then :).";

fn heading(theme: Theme, group: &Group) -> Line<'static> {
    let shown = group.finds.len();
    let mut spans = vec![Span::styled(group.kind.name(), theme.title())];
    if !matches!(group.kind, Kind::Lately | Kind::Step) {
        let count = match group.count > shown.max(FEW) {
            true => format!("  {shown} of {}", text::count(group.count as u64)),
            false => format!("  {shown}"),
        };
        spans.push(Span::styled(count, theme.faint()));
    }
    Line::from(spans)
}

/// The name, then what else is said, as far as there is room.
fn found(theme: Theme, find: &Find, widest: usize, width: usize) -> Line<'static> {
    let mut line = Writer {
        theme,
        spans: vec![Span::raw("  ")],
        left: width.saturating_sub(2),
    };
    let mut parts = find.parts.iter();
    if let Some(name) = parts.next() {
        let used = line.part(name, widest.min(line.left), theme.plain());
        line.blanks(widest.saturating_sub(used) + 2);
    }
    for (at, part) in parts.enumerate() {
        if line.left < LEAST_ROOM {
            break;
        }
        if at > 0 {
            line.write(theme.pick(" · ", " . "), theme.faint());
        }
        let room = line.left;
        line.part(part, room, theme.faint());
    }
    let rest = line.left;
    line.blanks(rest);
    Line::from(line.spans)
}

/// Writes a line from left to right until its cells are used up.
struct Writer {
    theme: Theme,
    spans: Vec<Span<'static>>,
    left: usize,
}

impl Writer {
    fn write(&mut self, words: &str, style: Style) {
        let wide = text::width(words);
        if wide <= self.left {
            self.left -= wide;
            self.spans.push(Span::styled(words.to_owned(), style));
        } else {
            self.left = 0;
        }
    }

    fn blanks(&mut self, count: usize) {
        let count = count.min(self.left);
        self.write(&" ".repeat(count), Style::new());
    }

    /// Writes a part into so many cells, cut with a sign where it is longer; how many it took.
    fn part(&mut self, part: &Part, room: usize, style: Style) -> usize {
        let whole: usize = text::width(&printable(&part.text));
        let most = if whole > room {
            room.saturating_sub(1)
        } else {
            room
        };
        let mut used = 0;
        for (place, grapheme) in (0..).zip(part.text.graphemes(true)) {
            let shown = printable(grapheme);
            let wide = text::width(&shown);
            if used + wide > most {
                break;
            }
            let style = match part.marks.binary_search(&place) {
                Ok(_) => self.theme.resting(),
                Err(_) => style,
            };
            self.write(&shown, style);
            used += wide;
        }
        if whole > room && room > 0 {
            self.write("…", style);
            used += 1;
        }
        used
    }
}

/// What Enter and Tab do with what is chosen.
fn foot(finder: &Finder, finds: &Finds, theme: Theme, width: usize) -> Line<'static> {
    let chosen = finds.get(finder.cursor);
    match (finder.said, chosen) {
        (Some(words), _) => Line::from(Span::styled(text::cut(words, width), theme.warning())),
        (None, Some(find)) => {
            let words = text::cut(find.goal.about(), width);
            Line::from(Span::styled(words, theme.faint()))
        }
        (None, None) => Line::default(),
    }
}
